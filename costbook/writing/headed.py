"""What headings say of their figures, in formulas: the twin of ``InHeading.counted``."""

from __future__ import annotations

from costbook.book import Book
from costbook.definitions.headings import InHeading
from costbook.writing.formula_text import quoted
from costbook.writing.layout import sheet_name
from costbook.writing.lookups import literal, text_of

__all__ = ["as_headed", "counts_otherwise", "says_of", "unit_of"]


def says_of(book: Book, sheet: str, name: str) -> InHeading | None:
    """What the heading of a field says beside its name."""
    read = book.sheets.get(sheet)
    return read.in_headings.get(name) if read else None


def counts_otherwise(book: Book, sheet: str, name: str) -> InHeading | None:
    """The same, where a figure below it counts for something else than it says."""
    says = says_of(book, sheet, name)
    return says if says is not None and (says.asked or says.changes) else None


def as_headed(book: Book, sheet: str, says: InHeading, blank: str, given: str, packs: str) -> str:
    """What a cell counts for by its heading, as long as that says the same.

    ``blank`` tests whether the cell is, ``given`` is its figure, ``packs`` how many its row has.
    """
    if says.asked:
        return f'IF({blank},{given},"")'
    counted = f"{given}*{literal(says.times)}/{literal(says.over)}"
    if says.lost:
        counted = f'IF({given}<1,1-{given},"")'
    if says.by_packs:
        counted = f"{given}/{packs}"
    heading = f"{sheet_name(book.sheets[sheet].tab)}!{says.cell}"
    still = f"{text_of(heading)}={quoted(says.typed)}"
    return f'IFERROR(IF({blank},{given},IF({still},{counted},"")),"")'


def unit_of(book: Book, sheet: str, amount: str, blank: str, spellings: str) -> str:
    """The row of the unit that stands in the heading above an amount; empty text for none."""
    says = says_of(book, sheet, amount)
    if says is None or not says.unit:
        return '""'
    return f'IF({blank},"",MATCH({quoted(says.unit)},{spellings},0))'
