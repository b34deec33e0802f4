"""How a figure is rounded to be shown; no figure is rounded to be counted with."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

__all__ = ["rounded"]

_MOST_DIGITS: Final = 15
"""What a cell of a spreadsheet keeps: the cents of a larger number are lost there anyway."""


def rounded(number: Decimal, places: int) -> Decimal:
    """A number to so many decimal places, halves up as spreadsheets round.

    One that is too large for a spreadsheet to know its last digits stays as it is.
    """
    if number.adjusted() > _MOST_DIGITS:
        return number
    return number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
