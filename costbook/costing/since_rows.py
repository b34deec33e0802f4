"""When a book is costed, and the rows that tell whether it has changed since."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from costbook.book import Book
from costbook.costing.needs import Add
from costbook.costing.rows import Row
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import LOGS

__all__ = ["add_rows_since", "costing_date"]


def costing_date(book: Book, today: date, on: date | None) -> date:
    """The day to cost on: the command's, else Settings' own, else today."""
    settings = next(iter(book.records("Settings")), None)
    number = settings.number("costing_date") if settings else None
    return on or (book.day(number) if number is not None else today)


def add_rows_since(add: Add, rows: Mapping[str, list[Row]], book: Book) -> None:
    """The rows that count each input sheet's rows, now and when this was costed."""
    for title, sheet in book.sheets.items():
        if sheet.named_in:
            wired = rows[LOGS[title][0]] if title in LOGS else ()
            elsewhere = len(sheet.rows_named) - sum(_has_a_name(row, title) for row in wired)
            add("rows", {"sheet": title, "rows_costed": Decimal(elsewhere)})


def _has_a_name(row: Row, title: str) -> bool:
    """Whether the person's row has a name that can be read, so that it has a key of its own."""
    record = row.sources.get(title)
    return record is not None and bool(record.text(INPUT_SHEETS[title].naming_field.name))
