"""What the words behind a command may be: a day, a number of weeks."""

from __future__ import annotations

from argparse import ArgumentTypeError
from datetime import date
from decimal import Decimal

__all__ = ["day", "weeks"]


def day(text: str) -> date:
    """A day as people write it. Raises ArgumentTypeError, also where it could be two."""
    from costbook.reading.dates import DateOrder, read_date  # `--help` must not wait for it

    found = read_date(text, DateOrder.UNKNOWN)
    if isinstance(found, date):
        return found
    raise ArgumentTypeError(f"{found.what} {found.remedy}".removesuffix("."))


def weeks(text: str) -> Decimal:
    """A number of weeks, up to ten years. Raises ArgumentTypeError."""
    try:
        number = Decimal(text)
        if 0 < number <= 520:
            return number
    except ArithmeticError:
        pass  # no number, or one that can't be compared
    raise ArgumentTypeError(f"{text} is no number of weeks; write it as 2")
