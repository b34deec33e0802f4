"""What `cost --json` says of a workbook, without the sheets being written: many tests need many."""

from __future__ import annotations

import json
import tempfile
from datetime import date
from pathlib import Path
from typing import Any

from costbook.costing.result import answer
from costbook.printing import as_json
from costbook.round_trip import read_and_cost
from tests.helpers import Book, make_book

__all__ = ["costed"]


def costed(book: Book | Path, on: str = "2026-11-25") -> dict[str, Any]:
    """The answer to a workbook, given as its file or as {sheet: rows}; all checks are made."""
    with tempfile.TemporaryDirectory() as folder:
        path = book if isinstance(book, Path) else make_book(f"{folder}/book.xlsx", book)
        found = read_and_cost(path, date.fromisoformat(on))
    said: dict[str, Any] = json.loads(as_json(answer(found.costing, found.problems)))
    return said
