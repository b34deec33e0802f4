"""The yardstick for a large book: only read and write the same cells, with the same libraries.

`python3 -m tests.benchmarks.yardstick BOOK CELLS OUT` reads every cell of the person's sheets in
BOOK and writes the cells that costbook adds (CELLS, made by `cells_added`) to OUT. It prints how
long it took to take CELLS from the disk, which is no part of the work [s].
"""

from __future__ import annotations

import marshal
import sys
import time
from pathlib import Path
from typing import Any

import openpyxl
import xlsxwriter

__all__ = ["cells_added"]

Cells = dict[str, list[tuple[int, int, Any, Any]]]  # sheet: (row, column, formula or value, stored)


def cells_added(before: Path, after: Path) -> Cells:
    """The cells of the sheets that only `after` has: what is in each, and its stored value."""
    theirs = set(openpyxl.load_workbook(before, read_only=True).sheetnames)
    formulas = openpyxl.load_workbook(after, read_only=True)
    values = openpyxl.load_workbook(after, read_only=True, data_only=True)
    return {
        name: [
            (row, column, plain(cell), plain(stored))
            for row, (cells, stored_cells) in enumerate(
                zip(
                    formulas[name].iter_rows(values_only=True),
                    values[name].iter_rows(values_only=True),
                    strict=True,
                )
            )
            for column, (cell, stored) in enumerate(zip(cells, stored_cells, strict=True))
            if cell is not None
        ]
        for name in formulas.sheetnames
        if name not in theirs
    }


def plain(value: object) -> object:
    """A value that marshal keeps: dates as text."""
    return value if value is None or isinstance(value, str | int | float) else str(value)


def read(book: Path) -> int:
    sheets = openpyxl.load_workbook(book, read_only=True, data_only=True).worksheets
    return sum(1 for sheet in sheets for row in sheet.iter_rows(values_only=True) for _ in row)


def write(cells: Cells, out: Path) -> None:
    book = xlsxwriter.Workbook(str(out))
    for name, entries in cells.items():
        sheet = book.add_worksheet(name)
        for row, column, value, stored in entries:
            if isinstance(value, str) and value.startswith("="):
                sheet.write_formula(row, column, value, None, stored)
            elif isinstance(value, str):
                sheet.write_string(row, column, value)
            else:
                sheet.write(row, column, value)
    book.close()


def main(book: str, cells: str, out: str) -> None:
    read(Path(book))
    start = time.perf_counter()
    added = marshal.loads(Path(cells).read_bytes())
    print(time.perf_counter() - start)
    write(added, Path(out))


if __name__ == "__main__":
    main(*sys.argv[1:])
