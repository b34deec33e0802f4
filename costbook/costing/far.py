"""When a figure is so far from another that it may be a slip, and how that is said."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.costing.engine import Costing
from costbook.costing.result import currency_of
from costbook.definitions.currencies import minor_unit
from costbook.definitions.rounding import rounded
from costbook.definitions.rules import FAR

__all__ = ["how_far", "is_far", "money_in_full"]

_PLAIN_COIN: Final = 2
"""Decimal places of money where the currency is unknown."""


def is_far(figure: Decimal, other: Decimal, times: int = FAR) -> bool:
    """Is a figure at least three times another, or at most a third of it? Or so many times.

    >>> is_far(Decimal(3), Decimal(1)), is_far(Decimal(1), Decimal(3)), is_far(Decimal(2), 1)
    (True, True, False)
    """
    if figure <= 0 or other <= 0:
        return False
    return figure >= times * other or other >= times * figure


def how_far(figure: Decimal, other: Decimal) -> str:
    """How many times as much it is, or which part: ``11.0 times as much``, ``9 % of that``."""
    if figure >= other:
        return f"{rounded(figure / other, 1):f} times as much"
    percent = figure / other * 100
    return f"{_with_two_digits(percent, 0):f} % of that"


def money_in_full(costing: Costing, amount: Decimal) -> str:
    """Money to the coin; to two digits where that shows fewer: a label at 0.0042."""
    coins = minor_unit(currency_of(costing))
    return f"{_with_two_digits(amount, _PLAIN_COIN if coins is None else coins):f}"


def _with_two_digits(number: Decimal, places: int) -> Decimal:
    """A number to so many decimal places, or to as many more as show two of its digits."""
    short = rounded(number, places)
    return short if short == number else rounded(number, max(places, 1 - number.adjusted()))
