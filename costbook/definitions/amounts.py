"""How much of something, in words, as people read it: `2.05 kg`, `4 lb 8 oz`, `180 pieces`."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from typing import Final

from costbook.definitions.rounding import rounded
from costbook.definitions.units import BASE_UNIT, SPELLINGS, Measure, Unit, unit_key

__all__ = ["amount_in_words", "read_in_like"]

_DIGITS: Final = 3
"""So many digits of an amount are shown, and always its whole part."""
_IN_TWO: Final = "lb"
"""The unit beside which its smaller one stands: 4 lb 8 oz."""


def amount_in_words(
    amount: Decimal,
    large_unit: str,
    rounding: str = ROUND_HALF_UP,
    *,
    whole_ounces: bool = True,
) -> str:
    """An amount [base] in the unit that prices of its item are for, or in the smaller one.

    ``large_unit`` is as Workings names it; without one the amount is a bare number. Beside pounds
    stand whole ounces, or as many of their digits as other amounts have.

    >>> amount_in_words(Decimal(2052), "kg"), amount_in_words(Decimal(2052), "lb")
    ('2.05 kg', '4 lb 8 oz')
    >>> amount_in_words(Decimal(340), "kg"), amount_in_words(Decimal(1), "piece")
    ('340 g', '1 piece')
    """
    large = SPELLINGS.get(unit_key(large_unit))
    if large is None:
        return _plain(_short(amount, rounding))
    _, *smaller = large.read_in
    if not smaller:
        count = _short(amount / large.factor, rounding)
        return f"{_plain(count)} {large_unit}{'' if count == 1 else 's'}"
    small = SPELLINGS[unit_key(smaller[0])]
    in_small = _short(amount / small.factor, rounding)
    if in_small * small.factor < large.factor:
        return f"{_plain(in_small)} {small.name}"
    if large_unit == _IN_TWO:
        ounces = rounded(amount / small.factor, 0, rounding) if whole_ounces else in_small
        of_one = large.factor / small.factor
        whole = (ounces / of_one).to_integral_value(ROUND_FLOOR)
        rest = ounces - whole * of_one
        return f"{_plain(whole)} {large_unit}" + (f" {_plain(rest)} {small.name}" if rest else "")
    return f"{_plain(_short(amount / large.factor, rounding))} {large_unit}"


def read_in_like(measure: Measure, like: Sequence[Unit]) -> Unit:
    """The unit that prices are said for, as those read it who wrote units of a measure.

    The first of theirs decides; of several that are read together, as cups and gallons, the last.
    """
    own = [unit for unit in like if unit.measure is measure] or [SPELLINGS[BASE_UNIT[measure]]]
    together = [unit for unit in own if unit.read_in[1:] == own[0].read_in[1:]]
    return SPELLINGS[unit_key(together[-1].read_in[0])]


def _short(number: Decimal, rounding: str) -> Decimal:
    return rounded(number, max(0, _DIGITS - 1 - number.adjusted()), rounding)


def _plain(number: Decimal) -> str:
    return f"{number.normalize():f}"
