"""Plain cells: what every way of reading a file gives, and nothing of any file format."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final, Self

from costbook.package.damage import refuse_long_text, untrusted
from costbook.package.limits import LAST_COLUMN, LAST_ROW, MOST_READ, MOST_ROWS
from costbook.problems import Refused
from costbook.reading.texts import quoted

__all__ = [
    "ERRORS",
    "LOST",
    "NEVER_WORKED_OUT",
    "TIME",
    "TOO_LARGE",
    "Cell",
    "CellError",
    "Formatted",
    "Grid",
    "Workbook",
    "cell_of_number",
    "cell_of_text",
    "column_letter",
    "column_number",
    "decoded",
    "refuse_beyond",
    "refuse_rows",
    "too_much",
]

NEVER_WORKED_OUT: Final = "a formula that was never worked out"
TIME: Final = "a time of day"
LOST: Final = "a text that the file has lost"
TOO_LARGE: Final = "a number too large to be meant"

ERRORS: Final = frozenset(
    {"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#GETTING_DATA"}
    | {"#SPILL!", "#CALC!", "#FIELD!", "#BLOCKED!", "#CONNECT!", "#BUSY!", "#UNKNOWN!"}
)
"""What spreadsheet programs show where a formula failed."""

_LARGEST: Final = Decimal("1e15")
"""Numbers from here on have lost their last digits in a spreadsheet; no kitchen has one."""


@dataclass(frozen=True, slots=True)
class CellError:
    """A cell that holds an error such as #N/A, or another thing that is no value.

    ``number`` is what a formula would see in it, where that is a number.
    """

    code: str
    number: Decimal | None = None


class Formatted(Decimal):
    """A number whose cell's format says more of it: that it is a percentage, or its money."""

    __slots__ = ("money", "percent")
    percent: bool
    money: str

    def __new__(cls, number: Decimal, *, percent: bool = False, money: str = "") -> Self:
        """The number, with what its format says."""
        self = super().__new__(cls, number)
        self.percent, self.money = percent, money
        return self


Cell = Decimal | str | bool | date | CellError
"""What one cell holds. An empty cell is not held at all."""


@dataclass(slots=True)
class Grid:
    """One sheet: by row number, each row's cells by column number (from 1)."""

    tab: str
    rows: dict[int, dict[int, Cell]] = field(default_factory=dict)

    def filled_in(self, column: int) -> tuple[int, ...]:
        """The rows in which a column is filled, as a count of the column sees it."""
        return tuple(sorted(number for number, cells in self.rows.items() if column in cells))


@dataclass(slots=True)
class Workbook:
    """The sheets that were asked for, all tab names, and the day that dates count from."""

    grids: dict[str, Grid]
    tabs: tuple[str, ...]
    day_zero: date
    day_code: str = ""
    """The number format that most of its days have; nothing where none was found."""


def cell_of_number(number: Decimal) -> Cell:
    """A number as a cell; one that no person means is an error."""
    if number.is_finite():
        return number if -_LARGEST < number < _LARGEST else CellError(TOO_LARGE, number)
    return CellError(TOO_LARGE)


def cell_of_text(text: str) -> Cell:
    """A text as a cell; programs store their errors as texts, too.

    Characters that no workbook can hold are left out. Raises Refused for an endless text.
    """
    if text.startswith("#") and text in ERRORS:
        return CellError(text)
    if text.isprintable() and len(text) < _SHORT:  # nearly all: there may be a hundred thousand
        return text
    refuse_long_text(text)
    return _NEVER_WRITTEN.sub("", text)


_SHORT: Final = 1_000
_NEVER_WRITTEN: Final = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
"""What XML can't hold: control characters, halves of characters."""
_ESCAPED: Final = re.compile("(?:_x[0-9A-Fa-f]{4}_)+")


def decoded(text: str) -> str:
    """A text as it is meant: workbooks write a return as _x000D_, and _x000D_ as _x005F_x000D_."""
    return _ESCAPED.sub(_meant, text) if "_x" in text else text


def _meant(found: re.Match[str]) -> str:
    codes = bytes.fromhex(found[0].replace("_x", "").replace("_", ""))
    return codes.decode("utf-16-be", "replace")


def refuse_beyond(tab: str, row: int, column: int = 1) -> None:
    """Raise Refused for a filled cell where no sheet has one."""
    if row > LAST_ROW or column > LAST_COLUMN:
        edge = f"below row {LAST_ROW:,}" if row > LAST_ROW else "right of column XFD"
        raise untrusted(f"its sheet {quoted(tab)} has a cell {edge}, where no sheet has one")


def too_much(tab: str, most: str = f"{MOST_READ:,} rows, cells and values") -> Refused:
    """The refusal of sheets that hold more than can be read, and the one that holds most."""
    return Refused(
        f"The sheets to be read hold more than {most}, most of them on {quoted(tab)}.",
        "Delete what is no longer needed there, or move it to another workbook.",
    )


def refuse_rows(*grids: Grid) -> None:
    """Raise Refused where sheets have more filled rows than can be meant."""
    if sum(len(grid.rows) for grid in grids) > MOST_ROWS:
        most = max(grids, key=lambda grid: len(grid.rows))
        raise too_much(most.tab, f"{MOST_ROWS:,} rows")


def column_letter(number: int) -> str:
    """The letter of a column by its number from 1: 1 is A, 28 is AB."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def column_number(letters: str) -> int:
    """The number of a column by its letters: A is 1, AB is 28."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number
