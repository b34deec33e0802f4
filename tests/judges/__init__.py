"""Programs that recalculate a workbook apart from costbook, and what they are compared on.

A judge opens a workbook, takes edits, recalculates, and tells every cell's value. Two exist:
LibreOffice (`libreoffice.py`) and ironcalc (`ironcalc_judge.py`). They say the same things, so
that a test written for one runs with the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

__all__ = [
    "CannotJudge",
    "Cell",
    "Document",
    "ErrorValue",
    "Judge",
    "Setting",
    "Value",
    "address",
    "column_name",
    "compare",
    "position",
]

TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class ErrorValue:
    """A cell that shows an error instead of a value: `#DIV/0!`, `#N/A`, `Err:522`."""

    code: str

    def __str__(self) -> str:
        return self.code


Value = float | str | bool | ErrorValue
Cell = str
Setting = tuple[str, Cell, float | str | None]


class CannotJudge(Exception):
    """A judge that is missing, stopped, or was given a file it can't load as a workbook."""


class Document(Protocol):
    """One open workbook. Sheets by name, cells as `C5`, dates as serial numbers."""

    def set(self, sheet: str, cell: Cell, value: float | str | None) -> None:
        """Type a number or a text into a cell, or clear it with None."""

    def set_many(self, settings: Iterable[Setting]) -> None:
        """Type into several cells: (sheet, cell, value)."""

    def recalculate(self) -> None:
        """Compute every formula again, whatever value was stored with it."""

    def follow(self) -> None:
        """Compute what was typed since, as a program does while a person types."""

    def sheets(self) -> list[str]:
        """The names of the sheets, in their order."""

    def values(self, sheet: str) -> dict[Cell, Value]:
        """Every cell that holds a formula, a number or a text; empty cells are left out."""

    def formulas(self, sheet: str) -> dict[Cell, str]:
        """Every formula, in the judge's own spelling."""

    def save_as(self, path: Path) -> None:
        """Write the workbook as xlsx."""

    def close(self) -> None:
        """Let the workbook go."""


class Judge(Protocol):
    """A program that can open workbooks."""

    def open(self, path: Path) -> Document:
        """Open a private copy of a workbook."""


def column_name(number: int) -> str:
    """The letters of a column counted from 1: 1 is A, 28 is AB."""
    letters = ""
    while number > 0:
        number, remainder = divmod(number - 1, 26)
        letters = chr(ord("A") + remainder) + letters
    return letters


def address(row: int, column: int) -> Cell:
    """The address of a cell whose row and column are counted from 1: (5, 3) is C5."""
    return f"{column_name(column)}{row}"


def position(cell: Cell) -> tuple[int, int]:
    """The row and column, counted from 1, of an address: C5 is (5, 3), $C$5 too."""
    plain = cell.replace("$", "").upper()
    letters = plain.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(plain[len(letters) :]), column


def compare(expected: Mapping[Cell, Value | None], got: Mapping[Cell, Value | None]) -> list[str]:
    """Every expected cell that came out otherwise, one sentence each.

    Numbers may differ by 1e-9 of the expected one, or by 1e-9 where that is below 1. Texts and
    errors must be equal. An empty text, an empty cell and a missing one are the same. A truth is
    1 or 0, since LibreOffice keeps no other. Cells nobody expected are not looked at.
    """
    return [
        f"{cell}: expected {wanted!r}, got {got.get(cell)!r}"
        for cell, wanted in expected.items()
        if not _same(wanted, got.get(cell))
    ]


def _same(expected: Value | None, got: Value | None) -> bool:
    if isinstance(expected, float | int) and isinstance(got, float | int):
        if not (math.isfinite(expected) and math.isfinite(got)):
            return False
        return abs(expected - got) <= TOLERANCE * max(1.0, abs(expected))
    return (
        (expected or "") == (got or "")
        if _is_text(expected) and _is_text(got)
        else (expected == got)
    )


def _is_text(value: Value | None) -> bool:
    return value is None or isinstance(value, str)
