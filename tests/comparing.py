"""Two costings side by side: every figure of `cost --json` under a name of its own."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

__all__ = ["MONEY", "differences", "figures"]

Figures = dict[tuple[str, ...], Any]

# The figures that are money, by the last part of their name.
MONEY = frozenset(
    {
        *("ingredients", "packaging", "labour", "kitchen", "overhead", "selling", "total", "known"),
        *("at_target_margin", "on_step", "current", "profit"),
        *("batch_cost", "unit_cost", "price_per_base_unit", "shelf_price", "shelf_price_with_tax"),
    }
)


_ALONE = (
    "break_even_units_per_day",
    "break_even_units_per_day_without_own_pay",
    "shelf_price",
    "shelf_price_with_tax",
)


def figures(answer: Mapping[str, Any]) -> Figures:
    """Each figure by product and outlet, by recipe, or by item; what is text is left out."""
    found: Figures = {}
    for row in answer["products"]:
        name = ("product", row["product"], row["outlet"] or "")
        for group in ("cost", "price", "at_step", "at_current"):
            found |= {(*name, group, part): value for part, value in row[group].items()}
        for part in _ALONE:
            found[*name, part] = row[part]
    for row in answer["recipes"]:
        for part in ("batch_cost", "unit_cost", "labour_minutes"):
            found["recipe", row["recipe"], part] = row[part]
    for row in answer["items"]:
        for part in ("price_per_base_unit", "usable_share", "change"):
            found["item", row["item"], part] = row[part]
    return found


def differences(
    found: Figures, wanted: Mapping[tuple[str, ...], Any], ignore: tuple[str, ...] = ()
) -> list[str]:
    """What is not the same to 1e-9 (relative above 1), one readable line each."""
    lines = []
    for name in sorted(found.keys() | wanted.keys()):
        here, there = found.get(name, "not there"), wanted.get(name, "not there")
        if name[-1] not in ignore and not _same(here, there):
            lines.append(f"{' / '.join(name)}: {_shown(here)}, wanted {_shown(there)}")
    return lines


def _same(here: Any, there: Any) -> bool:
    if here is None or there is None or isinstance(here, str) or isinstance(there, str):
        return bool(here == there)
    one, other = Fraction(str(here)), Fraction(str(there))
    return abs(one - other) <= Fraction(1, 10**9) * max(Fraction(1), abs(other))


def _shown(figure: Any) -> str:
    return f"{float(figure):.12g}" if isinstance(figure, Fraction) else str(figure)
