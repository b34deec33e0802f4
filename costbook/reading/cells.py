"""A workbook's file → plain cells: the only module that knows openpyxl.

Only the sheets that are asked for are read, and only their values: formulas are taken at their
stored value, links are never followed, macros never run. What openpyxl can't read is read
another way, since a person's cells are worth more than the styles around them.

openpyxl gets a file in which every sheet is empty, so that it keeps nothing of what may be bulky
there, and then the rows of the sheets that are read, one by one.
"""

from __future__ import annotations

import re
import sys
import warnings
import zipfile
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any, Final

from costbook.package.bulk import outermost
from costbook.package.damage import too_many_sheets, untrusted
from costbook.package.limits import LONGEST_TAB, MOST_SHEETS
from costbook.package.members import OLD_CONTAINER
from costbook.package.relations import rels_name
from costbook.package.workbook_file import WorkbookFile
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
    decoded,
    refuse_beyond,
    refuse_rows,
)
from costbook.reading.old_cells import read_old_workbook
from costbook.reading.open_document import is_open_document, read_open_document
from costbook.reading.parts import Parts, Unreadable
from costbook.reading.plain_cells import read_plainly

__all__ = ["Cell", "CellError", "Grid", "Workbook", "column_letter", "read_workbook"]

MOST_COLUMNS: Final = 1_000
"""Columns of one input sheet that are looked at."""

Wanted = Callable[[Sequence[str]], Collection[str]]


def read_workbook(file: WorkbookFile, wanted: Wanted, *, plainly: bool = False) -> Workbook:
    """Read the tabs that ``wanted`` picks of all. Raises Refused for what is no workbook.

    ``plainly``: without openpyxl, which begins each time by reading the styles and all texts.
    """

    def picked(tabs: Sequence[str]) -> Collection[str]:
        _refuse_tabs(tabs)
        return wanted(tabs)

    try:
        workbook = _read(file, picked, plainly)
    except Unreadable as error:
        raise Refused(
            f"The cells of {file.name} can't be read: the file is damaged or is no workbook.",
            "Open it in your spreadsheet program, let it repair the file, save it as .xlsx "
            "under a new name, and use that.",
        ) from error
    refuse_rows(*workbook.grids.values())
    return workbook


def _read(file: WorkbookFile, wanted: Wanted, plainly: bool) -> Workbook:
    """The workbook, by the reader for its kind. Raises Unreadable."""
    if file.content.startswith(OLD_CONTAINER):
        return read_old_workbook(file.content, wanted)
    parts = Parts(file.package)
    if is_open_document(parts):
        return read_open_document(parts, wanted)
    if plainly:
        return read_plainly(parts, wanted)
    try:
        workbook = _read_as_usual(parts, wanted)
    except Unreadable:
        workbook = read_plainly(parts, wanted)
    mark_cells(workbook, parts)
    return workbook


def _refuse_tabs(tabs: Sequence[str]) -> None:
    if len(tabs) > MOST_SHEETS:
        raise too_many_sheets()
    if any(len(tab) > LONGEST_TAB for tab in tabs):
        raise untrusted(f"a sheet of it has a name of more than {LONGEST_TAB} letters")


def _read_as_usual(parts: Parts, wanted: Wanted) -> Workbook:
    """Read with openpyxl. Raises Unreadable where it can't, or finds no sheet."""
    with _opened(parts) as book:
        if not book.worksheets:
            raise Unreadable("no sheet was found")
        tabs = tuple(sheet.title for sheet in book.worksheets)
        picked = wanted(tabs)
        epoch: datetime = book.epoch
        sheets = [sheet for sheet in book.worksheets if sheet.title in picked]
        parts.refuse_more({sheet.title: _part(sheet) for sheet in sheets})
        grids = {sheet.title: _grid(sheet, parts) for sheet in sheets}
        return Workbook(grids, tabs, epoch.date())


def _part(sheet: Any) -> str:
    return str(sheet._worksheet_path)  # noqa: SLF001 - it names it nowhere else


@contextmanager
def _numpy_left_out() -> Iterator[None]:
    """openpyxl takes numpy along for cells of its kinds, which takes longer than all else of it."""
    if "numpy" in sys.modules:
        yield
        return
    sys.modules["numpy"] = None  # type: ignore[assignment]  # so it isn't found, as Python says
    try:
        yield
    finally:
        del sys.modules["numpy"]


@contextmanager
def _opened(parts: Parts) -> Iterator[Any]:
    """The workbook; whatever openpyxl stumbles over, while opening or reading, is Unreadable."""
    with _numpy_left_out():
        import openpyxl  # the slowest import of a run, so made only when a file is read

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what openpyxl can't keep is not lost: we don't save it
        try:
            book = openpyxl.load_workbook(
                _without_cells(parts), read_only=True, data_only=True, keep_links=False
            )
            try:
                yield book
            finally:
                book.close()
        except (Refused, MemoryError):
            raise
        except Exception as error:  # it raises whatever its parsers do
            raise Unreadable(str(error)) from error


_NO_CELLS: Final = (
    b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    b'<dimension ref="A1"/></worksheet>'
)
_ROW: Final = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}row"
_ASKED_FOR: Final = (b"Types", b"workbook", b"styleSheet", b"sst")


def _without_cells(parts: Parts) -> BytesIO:
    """The file with empty sheets, and without all that openpyxl need not look at."""
    file = BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_STORED) as archive:
        for each in parts.package.members:
            root = outermost(each.kept or b"")
            if root == b"worksheet":
                archive.writestr(each.name, _NO_CELLS)
            elif root in _ASKED_FOR:
                archive.writestr(each.name, each.data)
            if root == b"workbook" and rels_name(each.name) in parts:
                archive.writestr(rels_name(each.name), parts.data(rels_name(each.name)))
    file.seek(0)
    return file


def _grid(sheet: Any, parts: Parts) -> Grid:
    from openpyxl.worksheet import _reader

    book, grid = sheet.parent, Grid(sheet.title)
    make: Any = _reader.WorkSheetParser
    parser = make(
        None,
        sheet._shared_strings,  # noqa: SLF001 - as its own reader of rows is called
        data_only=True,
        epoch=book.epoch,
        date_formats=book._date_formats,  # noqa: SLF001
        timedelta_formats=book._timedelta_formats,  # noqa: SLF001
    )
    for element in parts.elements(_part(sheet), "row", until="sheetData"):
        if element.tag != _ROW:
            raise Unreadable("a sheet in another namespace")
        number, held = parser.parse_row(element)
        parser.row_dimensions.clear()
        cells = {
            each["column"]: _cell(each["value"])
            for each in held
            if each["value"] is not None and each["column"] <= MOST_COLUMNS
        }
        if cells:
            refuse_beyond(sheet.title, number, max(each["column"] for each in held))
            grid.rows.setdefault(number, {}).update(cells)
            refuse_rows(grid)
    for row, column in _never_worked_out(parts, _part(sheet)):
        grid.rows.setdefault(row, {}).setdefault(column, CellError(NEVER_WORKED_OUT))
    return grid


def _cell(value: object) -> Cell:
    if isinstance(value, str):  # the commonest first: there may be a hundred thousand
        return cell_of_text(decoded(value))
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
            return cell_of_text(decoded(str(value)))


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
