"""How a workbook writes its days: a number format that shows a day, a month and a year alone."""

from __future__ import annotations

import re
from datetime import date
from typing import Final

__all__ = ["PLAIN_DAY", "day_code", "day_written"]

PLAIN_DAY: Final = "d mmm yyyy"
"""How days are shown where the workbook leaves it to the machine, or has none."""

_ASIDE: Final = re.compile(r'\[\$[^\]]*\]|"|\\')
_PART: Final = re.compile("d{1,2}|m{1,4}|y{2,4}")
_BETWEEN: Final = re.compile("[-/., ]*")
_MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June", "July", "August", "September"),
    *("October", "November", "December"),
)


def day_code(format_code: str) -> str:
    """The code of a number format that writes days; nothing where it writes anything else.

    >>> day_code("[$-809]dd/mm/yyyy;@"), day_code("0.00"), day_code("yyyy-mm-dd hh:mm")
    ('dd/mm/yyyy', '', '')
    """
    code = _ASIDE.sub("", format_code.partition(";")[0]).strip().lower()
    letters = sorted(part[0] for part in _PART.findall(code))
    between = _PART.split(code)
    plain = letters == ["d", "m", "y"] and all(map(_BETWEEN.fullmatch, between))
    return code if plain else ""


def day_written(day: date, code: str) -> str:
    """A day as a code of ``day_code`` writes it, its month in English; without one as 2026-11-20.

    >>> day_written(date(2026, 3, 4), "d mmm yyyy"), day_written(date(2026, 3, 4), "mm/dd/yy")
    ('4 Mar 2026', '03/04/26')
    """
    if not code:
        return day.isoformat()

    def part(found: re.Match[str]) -> str:
        letters = found[0]
        if letters[0] == "m" and len(letters) > 2:
            name = _MONTHS[day.month - 1]
            return name if len(letters) > 3 else name[:3]
        if letters[0] == "y":
            return f"{day.year}" if len(letters) > 2 else f"{day.year % 100:02}"
        return f"{day.day if letters[0] == 'd' else day.month:0{len(letters)}}"

    return _PART.sub(part, code)
