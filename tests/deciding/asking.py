"""The main sample costed, workbooks drawn as text, and what a command answers."""

from __future__ import annotations

import json
import tempfile
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from costbook.costing.engine import Costing, cost
from costbook.costing.rows import Row
from costbook.costing.structure import lay_out
from costbook.package.workbook_file import WorkbookFile
from costbook.reading.workbook import read_book
from tests.helpers import make_book, run
from tests.tables import Sheets, sheets

__all__ = ["ON", "STALL", "answered", "asked", "costed", "item_keys", "number", "read", "row_at"]

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
STALL = SAMPLES / "market_stall.xlsx"
ON = date(2026, 11, 20)


def asked(*words: object) -> dict[str, Any]:
    """What a command answers as JSON."""
    code, out, err = run(*words, "--json")
    assert code in (0, 1), err
    answer: dict[str, Any] = json.loads(out)
    return answer


def answered(command: str, text: str, *words: object) -> dict[str, Any]:
    """What a command answers of a workbook drawn as text, costed on the day of the sample."""
    with tempfile.TemporaryDirectory() as folder:
        book = make_book(Path(folder) / "stall.xlsx", sheets(text))
        return asked(command, book, *words, "--on", ON)


def read(book: Sheets | Path, since: date | None = None, on: date = ON) -> Costing:
    """A workbook, given as its file or its sheets, costed without being written."""
    if isinstance(book, Path):
        return cost(lay_out(read_book(WorkbookFile(book.read_bytes(), book.name)), on, on, since))
    with tempfile.TemporaryDirectory() as folder:
        return read(make_book(Path(folder) / "stall.xlsx", book), since, on)


def costed(text: str, since: date | None = None) -> Costing:
    """A workbook drawn as text, costed."""
    return read(sheets(text), since)


def number(value: object) -> Decimal:
    """A figure that must be known."""
    assert isinstance(value, Decimal), f"{value!r} is no figure"
    return value


def row_at(costing: Costing, product: str, outlet: str = "") -> Row:
    """The row of Prices of a product at an outlet."""
    for row in costing.structure.rows["prices"]:
        if (row.fixed["product"], row.fixed["outlet"]) == (product, outlet):
            return row
    raise AssertionError(f"no row of {product} at {outlet}")


def item_keys(costing: Costing) -> dict[str, str]:
    """Each item's key, by its name."""
    rows = costing.structure.rows["prices_now"]
    return {str(row.fixed["item"]): str(row.fixed["item_key"]) for row in rows}
