"""What is stored with formulas: read, made wrong on purpose, and one formula made wrong.

A judge that trusts stored values agrees with whatever wrote them; so each judge is given copies
whose stored values are wrong, and a copy with one wrong formula that must be caught.
"""

from __future__ import annotations

import re
from pathlib import Path

from tests.judges import CannotJudge, Cell, Value
from tests.judges.package import Package

__all__ = [
    "SHARED_FUNCTIONS",
    "formulas",
    "functions_used",
    "stored_values",
    "with_one_wrong_formula",
    "with_wrong_stored_values",
]

STALE = "(stale)"
WRONG_BY = 1234.5

# In Excel 2019 by Microsoft's list of functions by version, in LibreOffice 7.4 and ironcalc by
# trying (test_judges.py), in Google Sheets by its function list; all three lists from memory.
# `_xlfn.` belongs to the name: without it Excel and LibreOffice do not know the function.
SHARED_FUNCTIONS = frozenset(
    {
        *("ABS", "AND", "CEILING", "CHAR", "CHOOSE", "COUNT", "COUNTA", "COUNTBLANK", "COUNTIF"),
        *("COUNTIFS", "DATE", "DAY", "EXACT", "FALSE", "FIND", "FIXED", "HYPERLINK", "IF"),
        *("IFERROR", "INDEX", "INT", "ISBLANK", "ISERROR", "ISNA", "ISNUMBER", "ISTEXT"),
        *("LARGE", "LEFT", "LEN", "LOWER", "MATCH", "MAX", "MID", "MIN", "MOD", "MONTH"),
        *("N", "NOT", "OR", "REPT", "RIGHT", "ROUND", "ROUNDDOWN", "ROUNDUP", "ROW"),
        *("ROWS", "SEARCH", "SMALL"),
        *("SIGN", "SUBSTITUTE", "SUM", "SUMIF", "SUMIFS", "SUMPRODUCT", "TEXT", "TODAY"),
        *("TRIM", "TRUE", "TRUNC", "UPPER", "VALUE", "YEAR"),
        *("_xlfn.IFNA", "_xlfn.IFS", "_xlfn.MAXIFS", "_xlfn.MINIFS", "_xlfn.SWITCH"),
        *("_xlfn.TEXTJOIN",),
    }
)

QUOTED = re.compile(r'"(?:[^"]|"")*"|\'(?:[^\']|\'\')*\'')
FUNCTION = re.compile(r"([A-Za-z_][\w.]*) *\(")


def stored_values(path: Path) -> dict[str, dict[Cell, Value | None]]:
    """The stored value of every formula cell, by sheet; None where nothing is stored."""
    package = Package(path)
    return {
        sheet: {cell.cell: cell.value for cell in package.formula_cells(sheet)}
        for sheet in package.sheets
    }


def formulas(path: Path) -> dict[str, dict[Cell, str]]:
    """Every formula as the file has it, without the equals sign, by sheet.

    Raises CannotJudge for a formula stated once for several cells, which nothing here writes.
    """
    package = Package(path)
    found: dict[str, dict[Cell, str]] = {}
    for sheet in package.sheets:
        found[sheet] = {cell.cell: cell.formula for cell in package.formula_cells(sheet)}
        for cell, text in found[sheet].items():
            if not text:
                raise CannotJudge(f"{sheet}!{cell} follows a shared formula, which is not read")
    return found


def with_wrong_stored_values(path: Path, out: Path) -> int:
    """Write a copy in which every formula's stored value is wrong; returns how many there are."""
    package = Package(path)
    cells = [cell for sheet in package.sheets for cell in package.formula_cells(sheet)]
    for cell in cells:
        cell.store(_wrong(cell.value))
    package.write(out)
    return len(cells)


def _wrong(value: Value | None) -> float | str | bool:
    if isinstance(value, bool):
        return not value
    if isinstance(value, float):
        return value + WRONG_BY
    if isinstance(value, str):
        return f"{value} {STALE}"
    return WRONG_BY


def with_one_wrong_formula(path: Path, out: Path, sheet: str, cell: Cell, formula: str) -> None:
    """Write a copy in which one cell has another formula: a control that must be caught.

    Raises CannotJudge where that cell has no formula of its own, or the same one already.
    """
    package = Package(path)
    for one in package.formula_cells(sheet):
        if one.cell == cell:
            if one.shared or one.formula == formula.removeprefix("="):
                raise CannotJudge(f"{sheet}!{cell} can't be made wrong this way")
            one.formula = formula.removeprefix("=")
            return package.write(out)
    raise CannotJudge(f"{sheet}!{cell} holds no formula")


def functions_used(path: Path) -> set[str]:
    """The names of all functions in the workbook's formulas, `_xlfn.` with the name."""
    names: set[str] = set()
    for texts in formulas(path).values():
        for text in texts.values():
            names.update(FUNCTION.findall(QUOTED.sub("", text)))
    return names
