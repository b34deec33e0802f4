"""How a check says something about one cell of a record."""

from __future__ import annotations

from costbook.book import Book, Record
from costbook.problems import Place, Problem, Severity

__all__ = ["doubt", "wrong"]


def wrong(book: Book, record: Record, name: str, what: str, remedy: str) -> Problem:
    """Something wrong with a field of a record."""
    return Problem(Severity.WRONG, _place(book, record, name), what, remedy)


def doubt(book: Book, record: Record, name: str, what: str, remedy: str) -> Problem:
    """Something to check about a field of a record."""
    return Problem(Severity.DOUBTFUL, _place(book, record, name), what, remedy)


def _place(book: Book, record: Record, name: str) -> Place:
    """The field's cell; the row's first where its column isn't there."""
    return Place(book.sheets[record.sheet].tab, record.cells.get(name) or f"A{record.row}")
