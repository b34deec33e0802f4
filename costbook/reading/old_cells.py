"""A workbook of the old binary kind (.xls) → plain cells: the only module that knows xlrd."""

from __future__ import annotations

import io
from collections.abc import Callable, Collection, Sequence
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, Final

from costbook.package.members import LIMIT
from costbook.problems import Refused
from costbook.reading.formats import Mark, mark_of
from costbook.reading.grid import TIME, Cell, CellError, Grid, Workbook, cell_of_number
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

    if len(content) > LIMIT:
        raise Unreadable(f"it is larger than {LIMIT // 1024**2} MB")
    try:
        book = xlrd.open_workbook(
            file_contents=content, logfile=io.StringIO(), on_demand=True, ragged_rows=True
        )
        tabs = tuple(book.sheet_names())
        picked = wanted(tabs)
        day_zero = _FROM_1904 if book.datemode else _FROM_1900
        marks = _marks(book)
        grids = {
            tab: _grid(book.sheet_by_name(tab), day_zero, marks) for tab in tabs if tab in picked
        }
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


def _marks(book: Any) -> list[Mark]:
    """What formats say, in the order of the kinds of cell that they are given.

    xlrd keeps no cell's format, but it looks up there what kind of cell a format makes.
    """
    marks: list[Mark] = []
    kinds = book._xf_index_to_xl_type_map  # noqa: SLF001 - its only way in
    for at, used in enumerate(book.xf_list):
        form = book.format_map.get(used.format_key)
        mark = mark_of(form.format_str) if form else None
        if mark and mark not in marks and len(marks) < _MARKED:
            marks.append(mark)
        if mark in marks:
            kinds[at] = _MARKED + marks.index(mark)
    return marks


def _grid(sheet: Any, day_zero: date, marks: Sequence[Mark]) -> Grid:
    grid = Grid(sheet.name)
    for number in range(sheet.nrows):
        cells = {
            at: cell
            for at, held in enumerate(sheet.row(number), 1)
            if (cell := _cell(held.ctype, held.value, day_zero, marks)) is not None
        }
        if cells:
            grid.rows[number + 1] = cells
    return grid


def _cell(kind: int, value: Any, day_zero: date, marks: Sequence[Mark]) -> Cell | None:
    import xlrd

    if kind >= _MARKED:
        number = cell_of_number(Decimal(repr(value).removesuffix(".0")))
        return marks[kind - _MARKED].on(number) if isinstance(number, Decimal) else number
    match kind:
        case xlrd.XL_CELL_TEXT:
            return str(value)
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
