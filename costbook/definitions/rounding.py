"""How a figure is rounded to be shown; no figure is rounded to be counted with."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

__all__ = ["in_amount", "in_money", "in_percent", "in_unit_price", "rounded"]

_MOST_DIGITS: Final = 15
"""What a cell of a spreadsheet keeps: the cents of a larger number are lost there anyway."""
_OF_A_SMALL_PRICE: Final = 4
"""Decimal places that the price of a unit is shown to where it is below 1."""


def rounded(number: Decimal, places: int, rounding: str = ROUND_HALF_UP) -> Decimal:
    """A number to so many decimal places, halves up as spreadsheets round, or as asked.

    One that is too large for a spreadsheet to know its last digits stays as it is.
    """
    if number.adjusted() > _MOST_DIGITS:
        return number
    return number.quantize(Decimal(1).scaleb(-places), rounding)


def in_money(value: object, places: int) -> str:
    """Money to the currency's coin; a question mark for what isn't known."""
    if not isinstance(value, Decimal):
        return "?"
    if value.adjusted() > _MOST_DIGITS:  # a slip somewhere: no sum of a stall is so large
        return f"{value:.6g}"
    return f"{rounded(value, places):,}"


def in_unit_price(value: object, places: int) -> str:
    """The price of a unit, to the coin; to four decimal places where it is below 1."""
    below = isinstance(value, Decimal) and value < 1
    return in_money(value, _OF_A_SMALL_PRICE if below else places)


def in_amount(value: object) -> str:
    """A number with two decimals at most: 12, 3.83; a question mark for what isn't known.

    >>> in_amount(Decimal(12)), in_amount(Decimal("3.8333")), in_amount(None)
    ('12', '3.83', '?')
    """
    return f"{rounded(value, 2).normalize():f}" if isinstance(value, Decimal) else "?"


def in_percent(value: object) -> str:
    """A share as a percentage, halves up; a question mark for what isn't known."""
    return f"{rounded(value * 100, 1):f} %" if isinstance(value, Decimal) else "?"
