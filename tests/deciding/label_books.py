"""A workbook of two recipes, one in the other, and what its labels say."""

from __future__ import annotations

from collections.abc import Mapping

from costbook.deciding.ingredients import Ingredient
from costbook.deciding.labels import DraftLabel, labels
from tests.deciding.asking import costed

__all__ = ["ROLL", "changed", "drafted", "names", "problems"]

ROLL = """
Settings
Setting  | Value
Currency | USD
Business | Hill stall
Address  | 1 Mill Lane, Ourtown

Items
Item    | Kind | Usable % | Grams per piece | Grams per ml | Allergens | Label name
Flour   |      |          |                 |              | wheat     | wheat flour
Leek    |      | 0.5      |                 |              | none      | leek
Cheddar |      |          |                 |              | milk      | cheddar (milk, salt)
Egg     |      | 0.88     | 57              |              | egg       | egg
Cream   |      |          |                 | 1.01         | milk      | cream (milk)
Salt    |      |          |                 |              | none      | salt

Recipes
Recipe  | Uses    | Amount | Unit | Measured
Roll    | Salt    | 18     | g    |
Roll    | Flour   | 900    | g    |
Roll    | Egg     | 2      | ea   |
Roll    | Filling | 1.2    | kg   |
Filling | Salt    | 5      | g    |
Filling | Cream   | 300    | ml   |
Filling | Leek    | 1200   | g    | as bought
Filling | Cheddar | 500    | g    |

Batches
Recipe  | Makes | Unit
Roll    | 24    | ea
Filling | 1.3   | kg

Products
Product   | Recipe | Units per pack | Net weight | Net weight unit
Leek roll | Roll   | 1              | 12         | oz
"""
"""By hand, as put in. The filling: leek 1200 × 0.5 = 600 g, cheddar 500, cream 300 × 1.01 = 303,
salt 5. The roll: filling 1200 g, flour 900, egg 2 × 57 × 0.88 = 100.32, salt 18."""


def changed(changes: Mapping[str, str]) -> str:
    """The workbook with lines of it changed: each begins as its key does, once."""
    lines = ROLL.splitlines()
    for begins, new in changes.items():
        (at,) = [n for n, line in enumerate(lines) if line.startswith(begins)]
        lines[at : at + 1] = [new] if new else []
    return "\n".join(lines)


def drafted(changes: Mapping[str, str] | None = None, code: str = "") -> DraftLabel:
    """The label of the one product, after changes."""
    (label,) = labels(costed(changed(changes or {})), code)
    return label


def names(ingredients: tuple[Ingredient, ...]) -> list[str]:
    """The names of a list, without what is within."""
    return [each.words for each in ingredients]


def problems(changes: Mapping[str, str]) -> list[str]:
    """What is to be put right before the label is more than a draft."""
    return [f"{each.severity}: {each}" for each in drafted(changes).problems]
