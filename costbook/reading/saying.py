"""How a check says something about one cell of a record."""

from __future__ import annotations

from costbook.book import Book, Record
from costbook.definitions.fields import Field
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.problems import Place, Problem, Severity
from costbook.reading.texts import quoted

__all__ = ["doubt", "no_heading", "wrong"]


def wrong(book: Book, record: Record, name: str, what: str, remedy: str) -> Problem:
    """Something wrong with a field of a record; with its heading, where that is what is missing."""
    sheet = book.sheets[record.sheet]
    if sheet.columns and name not in sheet.columns:
        return no_heading(sheet.tab, sheet.heading_row, INPUT_SHEETS[record.sheet].field(name))
    return Problem(Severity.WRONG, _place(book, record, name), what, remedy)


def doubt(book: Book, record: Record, name: str, what: str, remedy: str) -> Problem:
    """Something to check about a field of a record."""
    return Problem(Severity.DOUBTFUL, _place(book, record, name), what, remedy)


def no_heading(
    tab: str, row: int, field: Field, near: str = "", remedy: str = "Add it above its column."
) -> Problem:
    """That a heading is missing, said once for all the rows below it."""
    what = f'there is no heading "{field.title}".'
    remedy = f"Rename {quoted(near)}, if it is that." if near else remedy
    return Problem(Severity.WRONG, Place(tab, f"A{row}"), what, remedy)


def _place(book: Book, record: Record, name: str) -> Place:
    """The field's cell; the row's first where its column isn't there."""
    return Place(book.sheets[record.sheet].tab, record.cells.get(name) or f"A{record.row}")
