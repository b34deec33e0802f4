"""A workbook's cells as plain values, to be copied where the file itself can't be written into."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from costbook.package.workbook_file import WorkbookFile
from costbook.reading.cells import Cell, CellError, read_workbook

__all__ = ["cells_to_copy"]

Rows = dict[int, dict[int, Decimal | str | date]]


def cells_to_copy(file: WorkbookFile, tabs: Iterable[str]) -> dict[str, Rows]:
    """By tab, row and column (from 1): what each cell shows.

    What is no value, such as #N/A, is copied as that text, so that it is asked about again.
    Raises Refused where the file is no workbook.
    """
    picked = set(tabs)
    workbook = read_workbook(file, lambda _: picked)
    return {
        tab: {
            row: {column: _plain(cell) for column, cell in cells.items()}
            for row, cells in grid.rows.items()
        }
        for tab, grid in workbook.grids.items()
    }


def _plain(cell: Cell) -> Decimal | str | date:
    if isinstance(cell, CellError):
        return cell.number if cell.number is not None else cell.code
    return str(cell).upper() if isinstance(cell, bool) else cell
