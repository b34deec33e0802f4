"""A workbook's file → Book."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from costbook.book import Book, Reading, SheetAsRead
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.problems import Place, Problem, Refused, Severity
from costbook.reading.cells import Workbook, read_workbook
from costbook.reading.checks import check
from costbook.reading.records import SheetReader
from costbook.reading.tables import match_tabs

__all__ = ["book_of", "read_book"]


def read_book(content: bytes, path: Path) -> Book:
    """Read the input sheets of a workbook. Raises Refused where it is none."""
    workbook = read_workbook(
        content, lambda tabs: set(match_tabs(SHEETS, tabs).values()), path.name
    )
    return book_of(workbook, path.name)


def book_of(workbook: Workbook, name: str) -> Book:
    """The book that a workbook's cells make. Raises Refused where it has none of our sheets."""
    tabs = match_tabs(SHEETS, workbook.tabs)
    sheets: dict[str, SheetAsRead] = {}
    problems: list[Problem] = []
    readings: dict[str, Reading] = {}
    for title, tab in tabs.items():
        reader = SheetReader(INPUT_SHEETS[title], workbook.grids[tab], workbook.day_zero)
        sheets[title] = reader.read()
        problems += reader.problems
        readings |= reader.readings
    problems += _missing_sheets(sheets)
    book = Book(name, sheets, tuple(readings.values()), (), workbook.day_zero)
    return replace(book, problems=(*problems, *check(book)))


def _missing_sheets(sheets: dict[str, SheetAsRead]) -> list[Problem]:
    needed = [sheet.title for sheet in SHEETS if sheet.needed]
    missing = [title for title in needed if title not in sheets]
    if len(missing) == len(needed):
        raise Refused(
            f"None of the sheets {', '.join(needed)} is in this workbook, so it holds nothing to cost.",
            "Start with: costbook new my-stall.xlsx",
        )
    return [
        Problem(
            Severity.WRONG,
            Place(title),
            "this sheet is missing.",
            "Add it; `costbook new` makes a workbook that shows its headings.",
        )
        for title in missing
    ]
