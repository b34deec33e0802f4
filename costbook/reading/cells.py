"""A workbook's file → plain cells: the only module that knows openpyxl.

Only the sheets that are asked for are read, and only their values: formulas are taken at their
stored value, links are never followed, macros never run.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any

from costbook.problems import Refused

__all__ = ["Cell", "CellError", "Grid", "Workbook", "column_letter", "read_workbook"]

MOST_ROWS = 200_000
"""Rows of one input sheet that are read; a sheet with more is refused."""
MOST_COLUMNS = 400
"""Columns of one input sheet that are looked at."""


@dataclass(frozen=True, slots=True)
class CellError:
    """A cell that holds an error, such as #N/A, or a formula that was never worked out."""

    code: str


Cell = Decimal | str | bool | date | CellError
"""What one cell holds. An empty cell is not held at all."""


@dataclass(slots=True)
class Grid:
    """One sheet: by row number, each row's cells by column number (from 1)."""

    tab: str
    rows: dict[int, dict[int, Cell]] = field(default_factory=dict)


@dataclass(slots=True)
class Workbook:
    """The sheets that were asked for, all tab names, and the day that dates count from."""

    grids: dict[str, Grid]
    tabs: tuple[str, ...]
    day_zero: date


def read_workbook(
    content: bytes, wanted: Callable[[Sequence[str]], Collection[str]], name: str
) -> Workbook:
    """Read the tabs that ``wanted`` picks of all. Raises Refused for what is no workbook."""
    with _opened(content, name) as book:
        tabs = tuple(sheet.title for sheet in book.worksheets)
        picked = wanted(tabs)
        epoch: datetime = book.epoch
        grids = {
            sheet.title: _grid(sheet, name) for sheet in book.worksheets if sheet.title in picked
        }
        return Workbook(grids, tabs, epoch.date())


@contextmanager
def _opened(content: bytes, name: str) -> Iterator[Any]:
    import openpyxl  # the slowest import of a run, so made only when a file is read

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what openpyxl can't keep is not lost: we don't save it
        try:
            book = openpyxl.load_workbook(BytesIO(content), read_only=True, data_only=True)
        except Exception as error:
            raise Refused(
                f"{name} can't be read as a workbook ({error}).",
                "Open it in your spreadsheet program, save it as .xlsx, and try again.",
            ) from error
        try:
            yield book
        finally:
            book.close()


def _grid(sheet: Any, name: str) -> Grid:
    grid = Grid(sheet.title)
    sheet.reset_dimensions()  # some programs write a wrong one
    rows = sheet.iter_rows(max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS, values_only=True)
    for number, values in enumerate(rows, 1):
        cells = {at: _cell(value) for at, value in enumerate(values, 1) if value is not None}
        if cells:
            grid.rows[number] = cells
            if number > MOST_ROWS:
                raise Refused(
                    f"{name}: the sheet {sheet.title} has more than {MOST_ROWS:,} rows.",
                    "Delete what stands far below the table, save, and try again.",
                )
    return grid


def _cell(value: object) -> Cell:
    match value:
        case bool() | Decimal():
            return value
        case int():
            return Decimal(value)
        case float():
            return Decimal(repr(value))
        case datetime():
            return value.date()
        case date():
            return value
        case time() | timedelta():
            return CellError("a time of day")
        case str():
            return CellError(value) if value in _ERRORS else value
        case _:
            return str(value)


_ERRORS = frozenset({"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"})


def column_letter(number: int) -> str:
    """The letter of a column by its number from 1: 1 is A, 28 is AB."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
