"""Dates that were typed as text: `3/14/26`, `2026-03-14`, `14 March 2026`, `14. März 2026`."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from datetime import date
from enum import Enum
from typing import Final

from costbook.reading.texts import LONGEST, Unclear, quoted, tidy

__all__ = ["DateOrder", "date_order", "read_date"]


class DateOrder(Enum):
    """Which of three numbers is the day, the month and the year."""

    DMY = "day/month/year"
    MDY = "month/day/year"
    YMD = "year/month/day"
    UNKNOWN = "?"


_PLACES: Final = {DateOrder.DMY: (2, 1, 0), DateOrder.MDY: (2, 0, 1), DateOrder.YMD: (0, 1, 2)}
_NUMBERS: Final = re.compile(r"([0-9]{1,4}) ?([-/. ]) ?([0-9]{1,2}) ?\2 ?([0-9]{1,4})")
_RUN_TOGETHER: Final = re.compile("([0-9]{4})([0-9]{2})([0-9]{2})")
_TIME: Final = re.compile(r"(?<=[0-9])(?:T| )[0-9]{1,2}:[0-9]{2}.*", re.IGNORECASE)
_WORDS: Final = re.compile(r"[^\W\d_]+|[0-9]+")
_FIRST_YEAR, _LAST_YEAR = 1990, 2099

# Months in English, German, French and Spanish, without accents; any start of three letters or
# more will do, if it is one month's alone (jui is June and July in French).
_MONTHS: Final = tuple(
    tuple(names.split())
    for names in (
        "january januar janvier enero janner",
        "february februar fevrier febrero",
        "march marz mars marzo maerz mrz",
        "april avril abril",
        "may mai mayo",
        "june juni juin junio",
        "july juli juillet julio",
        "august aout agosto",
        "september septembre septiembre sept",
        "october oktober octobre octubre",
        "november novembre noviembre",
        "december dezember decembre diciembre",
    )
)
_DAYS: Final = re.compile(
    r"(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?|the|of|de|le|del|el"
    r"|st|nd|rd|th|er",
    re.IGNORECASE,
)


def _plain(text: str) -> str:
    """Return the text without a time of day, and with plain letters: März is Marz."""
    letters = unicodedata.normalize("NFKD", _TIME.sub("", tidy(text[:LONGEST])))
    return "".join(letter for letter in letters if not unicodedata.combining(letter))


def _real(year: str, month: int, day: str) -> date | None:
    """Return the date, if it is one, in years that a receipt can have; 26 is 2026."""
    if len(year) not in (2, 4) or len(day) > 2:
        return None
    full_year = int(year) + (2000 if len(year) == 2 else 0)
    if not _FIRST_YEAR <= full_year <= _LAST_YEAR:
        return None
    try:
        return date(full_year, month, int(day))
    except ValueError:
        return None


def _in_order(numbers: tuple[str, ...], order: DateOrder) -> date | None:
    """Return the date that three numbers make in an order, or None if they make none."""
    year, month, day = (numbers[place] for place in _PLACES[order])
    return _real(year, int(month), day)


def _three_numbers(text: str) -> tuple[str, ...] | None:
    """Return the parts of `3/4/26` or `20260304`, or None for another form."""
    found = _RUN_TOGETHER.fullmatch(text)
    parted = _NUMBERS.fullmatch(text)
    if found:
        return found.groups()
    return (parted[1], parted[3], parted[4]) if parted else None


def date_order(texts: Iterable[str]) -> DateOrder:
    """Return the one order in which a column's dates are real; UNKNOWN if two will do, or none.

    A date that begins with its year of four digits speaks for itself, and for no other; one that
    is real in no order (31/2/2026) says nothing. A year of two digits in front (99/3/14) is taken
    only where no other order will do.

    >>> date_order(["3/4/26", "3/14/26"])
    <DateOrder.MDY: 'month/day/year'>
    """
    found = (_three_numbers(_plain(text)) for text in texts)
    dates = [numbers for numbers in found if numbers and len(numbers[0]) < 3]
    possible = [{order for order in _PLACES if _in_order(numbers, order)} for numbers in dates]
    shared = set(_PLACES).intersection(*filter(None, possible))
    orders = shared - {DateOrder.YMD} or shared
    return orders.pop() if len(orders) == 1 else DateOrder.UNKNOWN


def read_date(text: str, order: DateOrder) -> date | Unclear:
    """Return the date that a text is; day and month are told apart by the column's order."""
    plain = _plain(text)
    if not plain:
        return Unclear("There is nothing here.", _LIKE)
    numbers = _three_numbers(plain) if len(text) <= LONGEST else None
    if numbers is None:
        return _with_month_name(text, plain)
    if len(numbers[0]) == 4:
        order = DateOrder.YMD
    if order is not DateOrder.UNKNOWN:
        return _in_order(numbers, order) or Unclear(
            f"{quoted(text)} is no date as {order.value}.", _LIKE
        )
    return _told_apart(text, numbers)


_LIKE: Final = "Write it as 2026-03-14, or as 14 March 2026."


def _told_apart(text: str, numbers: tuple[str, ...]) -> date | Unclear:
    """Return the date that day and month make by themselves: 3/14/26, or 3/3/26."""
    orders = (DateOrder.DMY, DateOrder.MDY)
    dates = sorted({day for order in orders if (day := _in_order(numbers, order))})
    if not dates:
        return Unclear(f"{quoted(text)} is no date.", _LIKE)
    if len(dates) == 1:
        return dates[0]
    first, second = (f"{day.day} {_MONTHS[day.month - 1][0].title()} {day.year}" for day in dates)
    return Unclear(f"{quoted(text)} could be {first} or {second}.", "Write the month as a word.")


def _month(word: str) -> int | None:
    """Return the month that a word of three letters or more begins, if it is one alone."""
    begun = [
        number
        for number, names in enumerate(_MONTHS, 1)
        if len(word) >= 3 and any(name.startswith(word.lower()) for name in names)
    ]
    return begun[0] if len(begun) == 1 else None


def _with_month_name(text: str, plain: str) -> date | Unclear:
    """Return `4 Mar 2026` or `March 4th, 2026`: the year is the last number, or has four digits."""
    words = [word for word in _WORDS.findall(plain) if not _DAYS.fullmatch(word)]
    months = [month for word in words if (month := _month(word))]
    numbers = [word for word in words if word.isascii() and word.isdigit()]
    found = None
    if (len(words), len(months), len(numbers)) == (3, 1, 2) and len(text) <= LONGEST:
        year, day = numbers if len(numbers[0]) == 4 else reversed(numbers)
        found = _real(year, months[0], day)
    return found or Unclear(f"{quoted(text)} is no date.", _LIKE)
