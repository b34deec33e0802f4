"""When a book is costed, and the rows that tell whether it has changed since."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from costbook.book import Book, Value
from costbook.costing.needs import Add
from costbook.costing.rows import Row
from costbook.definitions.workings import SPARE_PURCHASE_ROWS

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
            spare = sheet.rows_below(SPARE_PURCHASE_ROWS) if title == "Purchases" else 0
            fixed: dict[str, Value] = {"sheet": title, "spare_rows": Decimal(spare)}
            add("rows", fixed | {"rows_costed": Decimal(sheet.cells_named)})
    since = add("since", {"left_out_costed": None})
    since.children = {table: range(len(those)) for table, those in rows.items()}
