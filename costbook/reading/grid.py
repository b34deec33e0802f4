"""Plain cells: what every way of reading a file gives, and nothing of any file format."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final, Self

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


@dataclass(slots=True)
class Workbook:
    """The sheets that were asked for, all tab names, and the day that dates count from."""

    grids: dict[str, Grid]
    tabs: tuple[str, ...]
    day_zero: date


def cell_of_number(number: Decimal) -> Cell:
    """A number as a cell; one that no person means is an error."""
    if number.is_finite():
        return number if -_LARGEST < number < _LARGEST else CellError(TOO_LARGE, number)
    return CellError(TOO_LARGE)


def cell_of_text(text: str) -> Cell:
    """A text as a cell; programs store their errors as texts, too."""
    return CellError(text) if text in ERRORS else text


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
