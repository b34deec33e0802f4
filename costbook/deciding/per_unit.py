"""What a price is for when it isn't for a pack: so much of a unit, as typed."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.costing.engine import Figures
from costbook.definitions.units import Measure, find_unit
from costbook.problems import Refused

__all__ = ["PerUnit", "per_unit"]

MOST: Final = 10**9
"""No price is for so many of a unit."""


@dataclass(frozen=True, slots=True)
class PerUnit:
    """What a price is for: so many base units of one kind."""

    base_units: Decimal
    measure: Measure

    def fits(self, bought: Figures) -> bool:
        """Is the item bought in this kind of unit?"""
        return bought["measure"] == int(self.measure)

    def for_pack(self, bought: Figures, price: Decimal) -> Decimal | None:
        """The price for the pack of the purchase that counts [money]; None if none is known."""
        held = bought["whole_pack"]
        return price * held / self.base_units if isinstance(held, Decimal) else None


def per_unit(text: str, example: str) -> PerUnit:
    """What a price is for, as typed: ``dozen``, ``1 lb``. Raises Refused, with an example."""
    number, _, name = text.strip().rpartition(" ")
    unit = find_unit(name)
    try:
        count = Decimal(number or "1")
        readable = 0 < count < MOST
    except ArithmeticError:
        readable = False  # no number, or one that can't be compared
    if unit is None or not readable:
        raise Refused(f'"{text}" is no amount.', f"Write it like this: {example}")
    return PerUnit(count * unit.factor, unit.measure)
