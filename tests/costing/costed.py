"""A workbook drawn as text, costed without being written."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path

from costbook.book import Value
from costbook.costing.engine import Costing, cost
from costbook.costing.structure import lay_out
from costbook.package.workbook_file import WorkbookFile
from costbook.reading.workbook import read_book
from tests.helpers import make_book
from tests.money_rules.wraps import WRAPS
from tests.tables import Sheets, sheets

__all__ = ["TODAY", "costed", "costed_sheets", "figures"]

TODAY = date(2026, 11, 25)


def costed(*texts: str) -> Costing:
    """The plain workbook of wraps, with these sheets in place of its own or beside them."""
    return costed_sheets(sheets(WRAPS, *texts))


def costed_sheets(book: Sheets) -> Costing:
    with tempfile.TemporaryDirectory() as folder:
        path = make_book(Path(folder) / "book.xlsx", book)
        return cost(lay_out(read_book(WorkbookFile(path.read_bytes(), path.name)), TODAY))


def figures(costing: Costing, table: str, column: str) -> dict[str, Value]:
    """A column of a table by the first column of its rows."""
    rows = costing.figures[table]
    return {str(next(iter(row.values()))): row[column] for row in rows}
