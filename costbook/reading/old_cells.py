"""A workbook of the old binary kind (.xls) → plain cells: the only module that knows xlrd."""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, Final

from costbook.package.bounds import within_bounds
from costbook.package.damage import damaged, too_many_sheets, untrusted
from costbook.package.limits import MOST_READ, MOST_SHEETS, MOST_SPACE_OLD
from costbook.problems import Refused
from costbook.reading.formats import FormatMark, mark_of
from costbook.reading.grid import (
    TIME,
    Cell,
    CellError,
    Grid,
    Workbook,
    cell_of_number,
    cell_of_text,
    refuse_rows,
)
from costbook.reading.parts import Unreadable

__all__ = ["read_old_workbook"]

_FROM_1900: Final = date(1899, 12, 30)
_FROM_1904: Final = date(1904, 1, 1)


def read_old_workbook(
    content: bytes, wanted: Callable[[Sequence[str]], Collection[str]]
) -> Workbook:
    """Read the tabs that ``wanted`` picks of all. Raises Unreadable, and Refused for a locked one.

    Formulas are taken at their stored values.
    """
    import xlrd  # needed only for files of this kind

    try:
        _look_through(content)
        with within_bounds(space=MOST_SPACE_OLD):
            book = xlrd.open_workbook(
                file_contents=content, logfile=io.StringIO(), on_demand=True, ragged_rows=True
            )
            tabs = tuple(book.sheet_names())
            picked = wanted(tabs)
            day_zero = _FROM_1904 if book.datemode else _FROM_1900
            marks = _marks(book)
            grids = {tab: _grid(book, tab, day_zero, marks) for tab in tabs if tab in picked}
    except (Refused, MemoryError):
        raise
    except Exception as error:  # it raises whatever a broken file makes its parser meet
        if "encrypted" in str(error):
            raise Refused(
                "The workbook is locked with a password.",
                "Open it, remove the password, save it, and run costbook again.",
            ) from error
        raise Unreadable(str(error)) from error
    return Workbook(grids, tabs, day_zero)


_MARKED: Final = 100
"""Kinds of cell from here on are numbers whose formats say something; xlrd's own are below 10."""


def _marks(book: Any) -> list[FormatMark]:
    """What formats say, in the order of the kinds of cell that they are given.

    xlrd keeps no cell's format, but it looks up there what kind of cell a format makes.
    """
    marks: list[FormatMark] = []
    kinds = book._xf_index_to_xl_type_map  # noqa: SLF001 - its only way in
    for at, used in enumerate(book.xf_list):
        form = book.format_map.get(used.format_key)
        mark = mark_of(form.format_str) if form else None
        if mark and mark not in marks and len(marks) < _MARKED:
            marks.append(mark)
        if mark in marks:
            kinds[at] = _MARKED + marks.index(mark)
    return marks


_SHEET: Final = 0x85
_TEXTS: Final = 0xFC
_MANY_CELLS: Final = frozenset({0xBD, 0xBE})
_CELLS: Final = frozenset({0x06, 0xBD, 0xD6, 0xFD, 0x203, 0x204, 0x205, 0x27E})
_WIDE: Final = 4
"""Columns of a row that are looked at for each record there may be: xlrd fills up every row."""


def _look_through(content: bytes) -> None:
    """Raise Refused for a file of more records than a workbook has, before any is kept."""
    held, width, row, sheets = 0, 0, -1, list[bytes]()
    for code, data in _records(content):
        held += 1 + (len(data) // 6 if code in _MANY_CELLS else 0)
        if code in _CELLS and len(data) >= 4:
            here, column = struct.unpack_from("<HH", data)
            width += column if here != row else 1
            row = here
        elif code == _SHEET:
            sheets.append(data[:4])
        elif code == _TEXTS and len(data) >= 8:
            texts = struct.unpack_from("<I", data, 4)[0]
            held += texts
            if texts > len(content):
                raise damaged("it says to hold more texts than it has letters")
        if held > MOST_READ or width > _WIDE * MOST_READ:
            raise untrusted(f"it holds more than {MOST_READ:,} cells")
        if len(sheets) > MOST_SHEETS:
            raise too_many_sheets()
    if len(sheets) > len(set(sheets)):
        raise damaged("parts of the file overlap")


def _records(content: bytes) -> Iterator[tuple[int, bytes]]:
    """The records of the workbook: what each is, and what it holds."""
    from xlrd.book import Book

    book = Book()
    book.biff2_8_load(file_contents=content, logfile=io.StringIO())
    at, end = book.base, book.base + book.stream_len
    while at + 4 <= end:
        code, size = struct.unpack_from("<HH", book.mem, at)
        yield code, book.mem[at + 4 : at + 4 + size]
        at += 4 + size


def _grid(book: Any, tab: str, day_zero: date, marks: Sequence[FormatMark]) -> Grid:
    sheet, grid = book.sheet_by_name(tab), Grid(tab)
    for number in range(sheet.nrows):
        kinds, values = sheet.row_types(number), sheet.row_values(number)
        cells = {
            at: cell
            for at, (kind, value) in enumerate(zip(kinds, values, strict=True), 1)
            if kind and (cell := _cell(kind, value, day_zero, marks)) is not None
        }
        if cells:
            grid.rows[number + 1] = cells
            refuse_rows(grid)
    book.unload_sheet(tab)
    return grid


def _cell(kind: int, value: Any, day_zero: date, marks: Sequence[FormatMark]) -> Cell | None:
    import xlrd

    if kind >= _MARKED:
        number = cell_of_number(Decimal(repr(value).removesuffix(".0")))
        return marks[kind - _MARKED].on(number) if isinstance(number, Decimal) else number
    match kind:
        case xlrd.XL_CELL_TEXT:
            return cell_of_text(str(value))
        case xlrd.XL_CELL_NUMBER:
            return cell_of_number(Decimal(repr(value).removesuffix(".0")))
        case xlrd.XL_CELL_DATE:
            if value < 1:
                return CellError(TIME, Decimal(repr(value)))
            return day_zero + timedelta(days=int(value))
        case xlrd.XL_CELL_BOOLEAN:
            return bool(value)
        case xlrd.XL_CELL_ERROR:
            return CellError(xlrd.error_text_from_code.get(value, "#UNKNOWN!"))
        case _:
            return None
