"""A figure as a cook says it: money to the coin, an amount with its unit, a share in per cent."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final, assert_never

from costbook.costing.rows import Row
from costbook.costing.trail import Trail
from costbook.definitions.amounts import amount_in_words, read_in_like
from costbook.definitions.columns import UNIT_AS_WRITTEN, UNIT_NAMED, Show
from costbook.definitions.rounding import in_money, rounded
from costbook.definitions.told import AsTyped, AsWorth, InKitchenUnits, Measured
from costbook.definitions.units import BASE_UNIT, Measure, Unit, find_unit

__all__ = ["NOT_KNOWN", "Spoken"]

NOT_KNOWN: Final = "?"

_SAID: Final = {"l": "litre", "m": "metre", "sq m": "square metre"}
"""Units of one letter, which read badly behind an "a"."""

_CENTIMETRES: Final = [unit for unit in [find_unit(BASE_UNIT[Measure.LENGTH])] if unit]

_DIGITS: Final = 3
"""Digits of a small figure that are said, so that it can be reckoned with."""


class Spoken:
    """Says the figures of a costing."""

    def __init__(self, trail: Trail, places: int) -> None:
        self.trail, self.places = trail, places

    def figure(self, row: Row, name: str) -> str:
        """A figure by how it is shown, without a unit; a question mark for what isn't known."""
        value = self.trail.value(row, name)
        if not isinstance(value, Decimal):
            return value or NOT_KNOWN
        match self.trail.column(row, name).show:
            case Show.MONEY:
                return self.money(value)
            case Show.FINE_MONEY | Show.UNIT_PRICE:
                return self.fine_money(value)
            case Show.SHARE:
                return f"{_number(value * 100, 1)} %"
            case Show.MINUTES:
                return f"{_number(value)} min"
            case Show.DATE:
                return self.trail.costing.structure.book.written(value)
            case Show.NUMBER | Show.WHOLE | Show.TEXT:
                return _number(value)
            case show:
                assert_never(show)

    def money(self, value: Decimal) -> str:
        """Money to the coin; less than half a coin as finely as it takes not to look like none."""
        if value and not rounded(value, self.places):
            return self.fine_money(value)
        return in_money(value, self.places)

    def fine_money(self, value: Decimal) -> str:
        """Money to the coin, and of less than one as finely as the sum that it goes into needs."""
        fine = rounded(value, _places_of(value, self.places))
        digits = -int(fine.normalize().as_tuple().exponent)
        return in_money(fine, max(self.places, digits))

    def measured(self, row: Row, name: str, how: Measured) -> str:
        """A figure with its unit, as its column declares."""
        value = self.trail.value(row, name)
        if not isinstance(value, Decimal):
            return NOT_KNOWN
        match how:
            case AsTyped():
                return f"{_number(value)}{self._typed_unit(row, how)}"
            case InKitchenUnits():
                return self._in_kitchen_units(value, row, how)
            case AsWorth():
                return self._worth(value, row, how)
            case _:
                assert_never(how)

    def _in_kitchen_units(self, value: Decimal, row: Row, how: InKitchenUnits) -> str:
        measure = self._measure(row, how.measure)
        if measure is None:
            return NOT_KNOWN
        unit = read_in_like(measure, self._units(row, how.like))
        if how.per:
            return f"{self.fine_money(value * unit.factor)} {_for_one(unit)}"
        return _number(value) if measure is Measure.PIECE else amount_in_words(value, unit.name)

    def _worth(self, value: Decimal, row: Row, how: AsWorth) -> str:
        """What one of a kind of unit weighs; of a length, the width that makes an area of it."""
        match self._measure(row, how.measure):
            case Measure.VOLUME:
                return f"{_number(value)} {BASE_UNIT[Measure.WEIGHT]} a ml"
            case Measure.PIECE:
                return f"{_number(value)} {BASE_UNIT[Measure.WEIGHT]} each"
            case Measure.LENGTH:
                typed = [*self._units(row, how.like), *_CENTIMETRES]
                return f"{_number(value / typed[0].factor)} {typed[0].name} wide"
            case _:
                return NOT_KNOWN

    def _measure(self, row: Row, name: str) -> Measure | None:
        number = self.trail.value(row, name)
        return Measure(int(number)) if isinstance(number, Decimal) else None

    def _units(self, row: Row, names: Sequence[str]) -> list[Unit]:
        """The units that the person wrote, by the columns of their rows."""
        found = (self._unit_row(row, name) for name in names)
        units = (find_unit(str(each.fixed[UNIT_NAMED])) for each in found if each)
        return [unit for unit in units if unit]

    def _unit_row(self, row: Row, name: str) -> Row | None:
        there = self.place(row, name)
        number = self.trail.value(*there) if there else None
        if not isinstance(number, Decimal):
            return None
        return self.trail.costing.structure.rows["units"][int(number) - 1]

    def place(self, row: Row, name: str) -> tuple[Row, str] | None:
        """The row and column that words name; ``batches.good`` leads to the linked row."""
        table, _, own = name.rpartition(".")
        if not table:
            return row, own
        link = self.trail.linked(row, table)
        return (link, own) if link else None

    def _typed_unit(self, row: Row, how: AsTyped) -> str:
        unit = self._unit_row(row, how.unit_row)
        named = find_unit(str(unit.fixed[UNIT_NAMED])) if unit else None
        if unit is None or named is None or named.name == BASE_UNIT[Measure.PIECE]:
            return ""
        if how.counted and named.measure is Measure.PIECE:
            return ""
        return f" {unit.fixed[UNIT_AS_WRITTEN]}"


def _for_one(unit: Unit) -> str:
    if unit.measure is Measure.PIECE:
        return "each"
    name = _SAID.get(unit.name, unit.name)
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _number(value: Decimal, places: int = 2) -> str:
    """A number as a person writes it, to two places or, of a small one, three digits."""
    if value.adjusted() > 15:
        return f"{value:.6g}"
    shown = f"{rounded(value, _places_of(value, places)):,f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def _places_of(value: Decimal, least: int) -> int:
    return max(least, _DIGITS - 1 - value.adjusted()) if value else least
