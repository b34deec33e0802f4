"""Rows of the year that the costing date is in: its months, and the kinds of what is bought."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from costbook.book import NOBODY, Book, as_key
from costbook.costing.row_builder import RowBuilder
from costbook.definitions.months import month_number

__all__ = ["add_year_rows", "year_of", "year_until"]

OWN_USE: Final = ("own use", "personal", "private", "household", "home", "family")
"""Words for the Kind of an item that was bought for oneself; the first is always looked for."""


def year_until(book: Book, day: date) -> tuple[date, date]:
    """The first and the last day of the year, as Settings has it, that a day is in."""
    month = _month_that_begins(book) or 1
    first = date(day.year if day.month >= month else day.year - 1, month, 1)
    return first, date(first.year + 1, month, 1) - timedelta(days=1)


def year_of(book: Book, number: int) -> tuple[date, date]:
    """The first and the last day of the year that begins in a year."""
    return year_until(book, date(number, _month_that_begins(book) or 1, 1))


def _month_that_begins(book: Book) -> int | None:
    """The number of the month on Settings that the year begins with; None if none is named."""
    typed = next((each.text("year_begins") for each in book.records("Settings")), "")
    return month_number(typed)


def add_year_rows(builder: RowBuilder, costed_on: date, aliases: Mapping[str, str]) -> None:
    """Add the year, its months, and a row for each Kind on Items, where market days are kept."""
    book = builder.book
    if "Market days" not in book.sheets:
        return
    first, last = year_until(book, costed_on)
    begins, ends = book.day_number(first) - 1, book.day_number(last)
    builder.add("year_span", {"eve": begins, "last_day": ends})
    settings = next(iter(book.records("Settings")), None)
    builder.add("this_year", {"one": Decimal(1)}, {"Settings": settings})
    for month in _months(first):
        last = month.replace(day=monthrange(month.year, month.month)[1])
        eve, ends = book.day_number(month) - 1, book.day_number(last)
        name = month.strftime("%Y-%m")
        builder.add("year_months", {"month": name, "eve": eve, "last_day": ends})
    for key, kind in _kinds(book, aliases).items():
        own = Decimal(kind.lower() in OWN_USE)
        builder.add("year_kinds", {"kind": kind, "kind_key": key, "is_own_use": own})


def _months(first: date) -> Iterator[date]:
    """The first days of twelve months."""
    for at in range(first.month - 1, first.month + 11):
        yield date(first.year + at // 12, at % 12 + 1, 1)


def _kinds(book: Book, aliases: Mapping[str, str]) -> Mapping[str, str]:
    """By key, every Kind on Items as it was first typed, and that of one's own use."""
    typed = (each.text("item_kind").strip() for each in book.records("Items"))
    found: dict[str, str] = {}
    for kind in (*typed, OWN_USE[0]):
        key = as_key(kind)
        if key != NOBODY:
            found.setdefault(aliases.get(key, key), kind)
    return found
