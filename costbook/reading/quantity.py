"""What a quantity is, and how two are added or found to be the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, getcontext
from typing import Final

from costbook.definitions.units import Measure, Unit
from costbook.reading.texts import plainly

__all__ = ["Allowance", "Quantity", "added", "same_twice"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """`count` times `size`, in a unit, or in none where the text names none."""

    count: Decimal
    size: Decimal
    unit: Unit | None

    def __str__(self) -> str:
        """Return what was read, so that reading it again gives the same: `2 × 18 ea`."""
        size = _shown(self.size) + (f" {self.unit.name}" if self.unit else "")
        return size if self.count == 1 else f"{_shown(self.count)} × {size}"


_THIRDS: Final = {
    "⅓": Decimal(1) / 3,
    "⅔": Decimal(2) / 3,
    "⅙": Decimal(1) / 6,
    "⅚": Decimal(5) / 6,
}


def _shown(number: Decimal) -> str:
    """Return the number in figures; thirds and sixths, which have no end, as 2⅔."""
    whole = int(number)
    part = next((glyph for glyph, third in _THIRDS.items() if whole + third == number), "")
    return f"{whole or ''}{part}" if part else plainly(number)


@dataclass(frozen=True, slots=True)
class Allowance:
    """An amount too small to measure, as `a pinch`; the small-ingredient allowance carries it."""

    text: str


def added(numbers: Sequence[Decimal], units: Sequence[Unit], *, plus: bool) -> Quantity | None:
    """Return `2 lb 3 oz` as 2.1875 lb, `5 ft 7 in` as 67 in: the first unit that is exact.

    None if the units are not alike; or, without a plus, if a part would fill the unit before it:
    1 kg 1000 g is the same twice, and no sum.
    """
    if len(units) == 1:
        return Quantity(Decimal(1), numbers[0], units[0])
    alike = len({(unit.measure, unit.piece_word) for unit in units}) == 1
    parts = [number * unit.factor for number, unit in zip(numbers, units, strict=True)]
    falling = all(part < unit.factor for part, unit in zip(parts[1:], units, strict=False))
    if not (alike and (plus or falling)):
        return None
    total = sum(parts)
    sizes = [Quantity(Decimal(1), total / unit.factor, unit) for unit in units]
    return next((size for size in sizes if _has_an_end(size.size)), sizes[0])


def _has_an_end(number: Decimal) -> bool:
    """Tell a quotient that came out even from one that was cut where Decimal cuts."""
    return len(number.as_tuple().digits) < getcontext().prec


def _is_metric(unit: Unit) -> bool:
    """Tell units that are a power of ten of a base unit: g, kg, ml, l, cm, m."""
    return unit.measure is not Measure.PIECE and unit.factor.normalize().as_tuple().digits == (1,)


_ROUNDING: Final = Decimal("0.05")  # 250 g/8¾ oz differ by 0.8 %: packs print rounded sizes


def same_twice(one: Quantity, two: Quantity) -> Quantity | None:
    """Return the metric one of two sizes that may mean the same, or None if they can't."""
    assert one.unit is not None, "the grammar asks for a unit"
    assert two.unit is not None, "in both sizes"
    metric = [size for size in (one, two) if size.unit and _is_metric(size.unit)]
    if one.unit.measure is not two.unit.measure:
        pieces = Measure.PIECE in (one.unit.measure, two.unit.measure)
        return metric[0] if len(metric) == 1 and not pieces else None
    first, second = (size.size * size.unit.factor for size in (one, two) if size.unit)
    return [*metric, one][0] if abs(first - second) <= first * _ROUNDING else None
