"""Draft labels: what a pack is made of, which allergens are in it, what it holds, when it was made.

A label is a draft and never more. What isn't known of it stands in it, loudly; the order of its
ingredients is as of the run.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from typing import Any, Final

from costbook.book import Value, one_line
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.allergens_within import AllergensWithin, allergens_within
from costbook.deciding.by_rule import by_rule
from costbook.deciding.ingredients import (
    Ingredient,
    MadeOf,
    Recipes,
    label_name,
    listed,
    recipe_name,
)
from costbook.deciding.label_gaps import gaps_of
from costbook.definitions import label_rules
from costbook.definitions.amounts import amount_in_words
from costbook.definitions.units import SPELLINGS, Measure
from costbook.problems import Problem

__all__ = ["DRAFT", "ORDER_AS_OF_RUN", "DraftLabel", "NetContents", "labels"]

DRAFT: Final = "Draft: verify against local law"
ORDER_AS_OF_RUN: Final = (
    "Ingredients stand in descending order by the weight put in, as of this run. Water stands "
    "among them where a recipe line names it, and what of it cooks off is not guessed."
)
_NO_ADDRESS: Final = "[NAME AND ADDRESS MISSING]"
_METRIC: Final = ("g", "kg", "mg", "ml", "cl", "dl", "l")
_OTHER_SYSTEM: Final = {Measure.WEIGHT: ("kg", "lb"), Measure.VOLUME: ("l", "qt")}
"""The metric unit, and the other, that a weight or volume is said in."""


@dataclass(frozen=True, slots=True)
class NetContents:
    """What a pack holds: a weight [g] or a volume [ml], and the unit that it was typed in."""

    amount: Decimal
    measure: Measure
    typed: str

    def in_words(self) -> str:
        """In both systems: as typed, and the other rounded down, so that nothing is overstated."""
        metric, other = _OTHER_SYSTEM[self.measure]
        beside = other if self.typed.rpartition(" ")[2] in _METRIC else metric
        name = "Net Wt" if self.measure is Measure.WEIGHT else "Net"
        said = amount_in_words(self.amount, beside, ROUND_FLOOR, whole_ounces=False)
        return f"{name} {self.typed} ({said})"

    def as_data(self) -> dict[str, Decimal]:
        """As JSON has it, by the exact sizes of the units (NIST Handbook 44, Appendix C)."""
        weight = self.measure is Measure.WEIGHT
        units = ("g", "oz") if weight else ("ml", "fl oz")
        return {name.replace(" ", "_"): self.amount / SPELLINGS[name].factor for name in units}


@dataclass(frozen=True, slots=True)
class DraftLabel:
    """The draft of a product's label, and what is to be put right before it is more."""

    product: str
    ingredients: tuple[Ingredient, ...]
    allergens: AllergensWithin
    unknown_weights: tuple[str, ...]
    is_too_long: bool
    net: NetContents | None
    batch_code: str
    day: date
    packed: str
    """The day of packing, as the workbook writes its days."""
    business: str
    address: str
    problems: tuple[Problem, ...]

    @property
    def unfinished(self) -> str:
        """What keeps the label from being used, in capitals; empty where all is known."""
        open_ends = (
            (self.allergens.unknown, "ALLERGENS UNKNOWN"),
            (self.unknown_weights, "WEIGHT UNKNOWN"),
        )
        said = [f"{what}: {'; '.join(names)}." for names, what in open_ends if names]
        said += [] if self.ingredients else ["INGREDIENTS UNKNOWN."]
        said += ["TOO LONG: recipes in it are not opened."] if self.is_too_long else []
        said += [] if self.net else ["NET WEIGHT UNKNOWN."]
        return f"NOT FINISHED. {' '.join(said)}" if said else ""

    @property
    def statement(self) -> str:
        """The list of ingredients."""
        return f"Ingredients: {listed(self.ingredients) or '[UNKNOWN]'}."

    @property
    def net_said(self) -> str:
        """What the pack holds."""
        return self.net.in_words() if self.net else "[NET WEIGHT UNKNOWN]"

    @property
    def batch_said(self) -> str:
        """The code of the batch, and the day on which it was packed."""
        return f"Batch {self.batch_code}. Packed {self.packed}."

    @property
    def maker(self) -> str:
        """Who made it, and where."""
        return ", ".join(filter(None, (self.business, self.address))) or _NO_ADDRESS

    def in_words(self) -> Iterator[str]:
        """The label, line by line."""
        yield f"{self.product}   [{DRAFT}]"
        if self.unfinished:
            yield self.unfinished
        yield from (self.statement, self.allergens.in_words(), self.net_said)
        yield from (self.batch_said, self.maker)

    def as_data(self) -> dict[str, Any]:
        """As JSON has it; `finished` says only that no weight and no allergen is unknown."""
        return {
            "product": self.product,
            "ingredients": [each.as_data() for each in self.ingredients],
            "statement": self.statement,
            "allergens": list(self.allergens.contains),
            "may_contain": list(self.allergens.may_contain),
            "unknown_allergens": list(self.allergens.unknown),
            "unknown_weights": list(self.unknown_weights),
            "net_weight": self.net.as_data() if self.net else None,
            "batch_code": self.batch_code,
            "packed_on": self.day.isoformat(),
            "business": self.business,
            "address": self.address,
            "unfinished": self.unfinished,
            "draft": True,
        }


def labels(costing: Costing, code: str = "") -> tuple[DraftLabel, ...]:
    """The draft of each product's label; ``code`` stands in for the batch code by the day."""
    maker = _Maker(costing, one_line(code) or batch_code(costing.structure.costed_on))
    return tuple(map(maker.label, costing.structure.rows["products"]))


def batch_code(day: date) -> str:
    """The year and the day of the year, as ISO 8601's ordinal dates count them.

    >>> batch_code(date(2026, 11, 26))
    '26-330'
    """
    return f"{day:%y-%j}"


class _Maker:
    """Makes labels, of recipes that are opened once."""

    def __init__(self, costing: Costing, code: str) -> None:
        self.costing, self.code = costing, code
        self.recipes = Recipes(costing)
        book = costing.structure.book
        self.packed = book.written(costing.structure.costed_on)
        self.settings = next(iter(book.records("Settings")), None)

    def label(self, product: Row) -> DraftLabel:
        """The draft of one product's label."""
        recipe = product.links.get("recipes")
        made_of = self.recipes.made_of(recipe) if recipe is not None else NOTHING
        net = self._net(product)
        return DraftLabel(
            one_line(str(product.fixed["product"])),
            made_of.shown,
            allergens_within(made_of),
            tuple(dict.fromkeys(self._unknown_weights(made_of))),
            made_of.is_too_long,
            net,
            self.code,
            self.costing.structure.costed_on,
            self.packed,
            self._setting("business"),
            self._setting("address"),
            tuple(gaps_of(self.costing, self.recipes, product, made_of, net is not None)),
        )

    def _setting(self, name: str) -> str:
        return one_line(self.settings.text(name)) if self.settings else ""

    def _unknown_weights(self, made_of: MadeOf) -> Iterator[str]:
        for line in made_of.lines.values():
            if not self.recipes.is_weighed(line):
                yield label_name(line)
        for use in made_of.uses.values():
            if self.recipes.used_grams(use) is None:
                yield recipe_name(use)

    def _net(self, product: Row) -> NetContents | None:
        pack = product.links["packs"]
        figures = self.costing.of(pack)
        amount = by_rule(label_rules.held_in_pack, figures)
        measure = by_rule(label_rules.measure_of_pack, figures)
        if amount is None or measure not in (Measure.WEIGHT, Measure.VOLUME):
            return None
        return NetContents(amount, Measure(int(measure)), self._typed(figures, amount))

    def _typed(self, figures: dict[str, Value], amount: Decimal) -> str:
        """What a pack holds, in the unit that the person typed."""
        net = figures["net_weight"] is not None
        at = figures["net_unit_row" if net else "pack_unit_row"]
        units = self.costing.figures["units"]
        unit = units[int(at) - 1] if isinstance(at, Decimal) else units[0]
        factor = unit["factor"]
        number = amount / factor if isinstance(factor, Decimal) else amount
        return f"{number.normalize():f} {unit['unit']}"


NOTHING: Final = MadeOf((), {}, {}, 0)
"""What a product is made of whose recipe is nobody's."""
