"""The months by the words that people write for them."""

from __future__ import annotations

from calendar import month_name
from typing import Final

__all__ = ["month_number"]

_MONTHS: Final = tuple(month_name)
_FEWEST: Final = 3
"""Letters of a month's name that say which it is."""


def month_number(text: str) -> int | None:
    """The number of the month that a text names: 4, April, Apr; None where it names none.

    >>> month_number("apr."), month_number("4"), month_number("Ju"), month_number("13")
    (4, 4, None, None)
    """
    typed = text.strip().rstrip(".").lower()
    if typed.isdecimal():
        return int(typed) if 0 < int(typed) < len(_MONTHS) else None
    named = [at for at, name in enumerate(_MONTHS) if name.lower().startswith(typed)]
    return named[0] if len(typed) >= _FEWEST and len(named) == 1 else None
