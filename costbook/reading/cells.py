"""A workbook's file → plain cells: the only module that knows openpyxl.

Only the sheets that are asked for are read, and only their values: formulas are taken at their
stored value, links are never followed, macros never run. What openpyxl can't read is read
another way, since a person's cells are worth more than the styles around them.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any, Final

from costbook.package.members import OLD_CONTAINER
from costbook.problems import Refused
from costbook.reading.formats import mark_cells
from costbook.reading.grid import (
    NEVER_WORKED_OUT,
    TIME,
    Cell,
    CellError,
    Grid,
    Workbook,
    cell_of_number,
    cell_of_text,
    column_letter,
    column_number,
)
from costbook.reading.old_cells import read_old_workbook
from costbook.reading.open_document import is_open_document, read_open_document
from costbook.reading.parts import Parts, Unreadable, open_parts
from costbook.reading.plain_cells import read_plainly

__all__ = ["Cell", "CellError", "Grid", "Workbook", "column_letter", "read_workbook"]

MOST_COLUMNS: Final = 1_000
"""Columns of one input sheet that are looked at."""

Wanted = Callable[[Sequence[str]], Collection[str]]


def read_workbook(content: bytes, wanted: Wanted, name: str) -> Workbook:
    """Read the tabs that ``wanted`` picks of all. Raises Refused for what is no workbook."""
    try:
        if content.startswith(OLD_CONTAINER):
            return read_old_workbook(content, wanted)
        parts = open_parts(content)
        if is_open_document(parts):
            return read_open_document(parts, wanted)
        try:
            workbook = _read_as_usual(content, parts, wanted)
        except Unreadable:
            workbook = read_plainly(parts, wanted)
        mark_cells(workbook, parts)
        return workbook
    except Unreadable as error:
        raise Refused(
            f"The cells of {name} can't be read: the file is damaged or is no workbook.",
            "Open it in your spreadsheet program, let it repair the file, save it as .xlsx "
            "under a new name, and use that.",
        ) from error


def _read_as_usual(content: bytes, parts: Parts, wanted: Wanted) -> Workbook:
    """Read with openpyxl. Raises Unreadable where it can't, or finds no sheet."""
    with _opened(content) as book:
        if not book.worksheets:
            raise Unreadable("no sheet was found")
        tabs = tuple(sheet.title for sheet in book.worksheets)
        picked = wanted(tabs)
        epoch: datetime = book.epoch
        sheets = [sheet for sheet in book.worksheets if sheet.title in picked]
        grids = {sheet.title: _grid(sheet, parts) for sheet in sheets}
        return Workbook(grids, tabs, epoch.date())


@contextmanager
def _opened(content: bytes) -> Iterator[Any]:
    """The workbook; whatever openpyxl stumbles over, while opening or reading, is Unreadable."""
    import openpyxl  # the slowest import of a run, so made only when a file is read

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what openpyxl can't keep is not lost: we don't save it
        try:
            book = openpyxl.load_workbook(
                BytesIO(content), read_only=True, data_only=True, keep_links=False
            )
            try:
                yield book
            finally:
                book.close()
        except Exception as error:  # it raises whatever its parsers do
            raise Unreadable(str(error)) from error


def _grid(sheet: Any, parts: Parts) -> Grid:
    grid = Grid(sheet.title)
    sheet.reset_dimensions()  # some programs write a wrong one
    for number, values in enumerate(sheet.iter_rows(values_only=True), 1):
        if not values:
            continue
        cells = {
            at: _cell(value)
            for at, value in enumerate(values[:MOST_COLUMNS], 1)
            if value is not None
        }
        if cells:
            grid.rows[number] = cells
    for row, column in _never_worked_out(parts, sheet._worksheet_path):  # noqa: SLF001 - its part
        grid.rows.setdefault(row, {}).setdefault(column, CellError(NEVER_WORKED_OUT))
    return grid


def _cell(value: object) -> Cell:
    if isinstance(value, str):  # the commonest first: there may be a hundred thousand
        return cell_of_text(value) if value[:1] == "#" else value
    if isinstance(value, float):
        return cell_of_number(Decimal(repr(value)))
    if isinstance(value, int):
        return value if isinstance(value, bool) else cell_of_number(Decimal(value))
    match value:
        case datetime():
            return value.date()
        case date():
            return value
        case time():
            clock = timedelta(hours=value.hour, minutes=value.minute, seconds=value.second)
            return CellError(TIME, Decimal(repr(clock / timedelta(days=1))))
        case timedelta():
            return CellError(TIME, Decimal(repr(value / timedelta(days=1))))
        case _:
            return cell_of_text(str(value))


_PREFIX: Final = rb"(?:[A-Za-z0-9]+:)?"
_NO_VALUE: Final = re.compile(
    rb"<%(p)sc\s([^<>]*)>\s*<%(p)sf\b(?:[^<>]*/>|[^<>]*>[^<]*</%(p)sf>)\s*"
    rb"(?:<%(p)sv\s*/>|<%(p)sv>\s*</%(p)sv>\s*)?</%(p)sc>" % {b"p": _PREFIX}
)
_COORDINATE: Final = re.compile(rb"\br=[\"']([A-Z]{1,3})([0-9]{1,7})[\"']")


def _never_worked_out(parts: Parts, part: str) -> Iterator[tuple[int, int]]:
    """Row and column of each formula without a stored value, in some programs' files.

    openpyxl gives an empty cell for these. A formula that came to an empty text is another
    thing, and marked as a text.
    """
    data = parts.data(part.lstrip("/"))
    if b"<f" not in data and b":f" not in data:
        return
    for found in _NO_VALUE.finditer(data):
        at = _COORDINATE.search(found[1])
        if at and b't="str"' not in found[1]:
            yield int(at[2]), column_number(at[1].decode("ascii"))
