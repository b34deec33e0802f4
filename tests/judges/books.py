"""Small workbooks for the judges' own tests."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import xlsxwriter

__all__ = ["many_formulas", "write_book"]

Content = Mapping[str, object]


def write_book(path: Path, sheets: Mapping[str, Content]) -> Path:
    """A workbook of cells by address; a text that starts with `=` is a formula, `{=` an array's.

    XlsxWriter stores 0 with every formula, so a judge that does not recalculate shows 0.
    """
    book = xlsxwriter.Workbook(str(path))
    for name, cells in sheets.items():
        sheet = book.add_worksheet(name)
        for cell, content in cells.items():
            if isinstance(content, str) and content.startswith("{="):
                sheet.write_array_formula(f"{cell}:{cell}", content)
            elif isinstance(content, str) and not content.startswith("="):
                sheet.write_string(cell, content)
            else:
                sheet.write(cell, content)
    book.close()
    return path


def many_formulas(path: Path, rows: int) -> Path:
    """A book of five formulas a row that look things up in a sheet of 1,000, as Workings does."""
    book = xlsxwriter.Workbook(str(path))
    data, workings = book.add_worksheet("Data"), book.add_worksheet("Workings")
    for row in range(1, 1001):
        data.write_row(row - 1, 0, [f"item {row}", row / 4])
    for row in range(1, rows + 1):
        workings.write(row - 1, 0, f"item {row % 1000 + 1}")
        for column, formula in enumerate(_formulas(row), 1):
            workings.write_formula(row - 1, column, formula)
    book.close()
    return path


def _formulas(row: int) -> Iterable[str]:
    yield f"=MATCH(A{row},Data!$A:$A,0)"
    yield f'=IF(ISNUMBER(B{row}),INDEX(Data!$B:$B,B{row}),"")'
    yield f'=IF(COUNT(C{row})=1,C{row}*2,"")'
    yield f'=IF(COUNT(C{row},D{row})=2,C{row}+D{row},"")'
    yield f"=SUM(C{row}:E{row})"
