"""Which unit a weight, a volume, a length or an area is said in: the one place that decides.

Whoever weighs in grams is answered in g and kg, whoever weighs in ounces in oz and lb.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.definitions.units import BASE_UNIT, SPELLINGS, Measure, Unit, unit_key

__all__ = ["amount_unit", "price_unit"]


@dataclass(frozen=True, slots=True)
class _Family:
    """Units that are used together, and those that amounts and prices are said in.

    Where no ``large`` one is named, both are said in what the person wrote.
    """

    members: tuple[str, ...]
    small: str = ""
    large: str = ""


_FAMILIES: Final = (
    _Family(("mg", "g", "kg"), "g", "kg"),
    _Family(("oz", "lb"), "oz", "lb"),
    _Family(("ml", "cl", "dl", "l", "metric tsp", "metric tbsp", "metric cup"), "ml", "l"),
    _Family(("tsp", "Tbsp", "fl oz", "cup", "pt", "qt", "gal")),
    _Family(("imperial fl oz", "imperial pt", "imperial qt", "imperial gal")),
    _Family(("mm", "cm", "m"), "cm", "m"),
    _Family(("in", "ft", "yd"), "in", "ft"),
    _Family(("sq cm", "sq m"), "sq cm", "sq m"),
    _Family(("sq in", "sq ft"), "sq in", "sq ft"),
)


def amount_unit(amount: Decimal, measure: Measure, like: Sequence[Unit]) -> Unit:
    """The unit to say an amount in [base units of the measure], like those the person wrote."""
    if measure is Measure.PIECE:
        return _EACH
    first = _first(measure, like)
    family = _family(first)
    if not family.large:
        return first
    large = _named(family.large)
    return large if abs(amount) >= large.factor else _named(family.small)


def price_unit(measure: Measure, like: Sequence[Unit]) -> Unit:
    """The unit that a price is said for: kg or lb; of cups and quarts the last of the person's."""
    if measure is Measure.PIECE:
        return _EACH
    first = _first(measure, like)
    family = _family(first)
    if family.large:
        return _named(family.large)
    return [first, *(unit for unit in like if unit.name in family.members)][-1]


def _named(name: str) -> Unit:
    return SPELLINGS[unit_key(name)]


_EACH: Final = _named(BASE_UNIT[Measure.PIECE])


def _first(measure: Measure, like: Sequence[Unit]) -> Unit:
    """The first of the person's units that is of a measure; else its base unit."""
    return next((unit for unit in like if unit.measure is measure), _named(BASE_UNIT[measure]))


def _family(unit: Unit) -> _Family:
    """The family of a unit; one of its own for a unit that is used alone."""
    return next((each for each in _FAMILIES if unit.name in each.members), _Family((unit.name,)))
