"""What reading a cell answers, and the few steps that every kind of field shares."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TypeAlias

from costbook.book import Value
from costbook.definitions.fields import Field, shown_number
from costbook.reading.dates import DateOrder
from costbook.reading.grid import Cell
from costbook.reading.numbers import NumberStyle
from costbook.reading.texts import Unclear

__all__ = [
    "Answer",
    "CellsByField",
    "Parsed",
    "Ways",
    "as_read",
    "as_text",
    "ask",
    "within",
]


@dataclass(frozen=True, slots=True)
class Ways:
    """How a column writes its numbers and dates, and what its workbook counts in."""

    style: NumberStyle = NumberStyle.UNKNOWN
    order: DateOrder = DateOrder.UNKNOWN
    day_zero: date = date(1899, 12, 30)
    currency: str = ""


@dataclass(frozen=True, slots=True)
class Parsed:
    """What came of a text besides its number."""

    count: Decimal | None = None
    unit: str = ""
    shown: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a cell came to: a value, or what is asked; and what is said of it."""

    value: Value = None
    parsed: Parsed | None = None
    asked: Unclear | None = None
    doubt: Unclear | None = None
    is_share: bool = False
    """A share where the field holds a count as well: rejects as 4 %."""
    refused: Decimal | None = None
    """The number that a formula would see in a cell that is asked about."""


CellsByField: TypeAlias = Mapping[str, Cell]
"""The cells of one row by field, blank ones left out."""


def ask(what: str, remedy: str, refused: Decimal | None = None) -> Answer:
    """A question to the person; what the cell holds is unknown until they answer."""
    return Answer(asked=Unclear(what, remedy), refused=refused)


def as_text(cell: Cell) -> str:
    """A cell as a text with single spaces."""
    if isinstance(cell, Decimal):
        return shown_number(cell)
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, date):
        return cell.isoformat()
    return " ".join(filter(None, str(cell).replace("\u00a0", " ").split(" ")))


def within(field: Field, number: Decimal) -> Answer:
    """The number, if the field may hold it; a share above its limit is a percentage."""
    refused = field.refused(number)
    return ask(*refused) if refused else Answer(field.held(number))


def as_read(field: Field, value: Decimal, parsed: Parsed) -> Answer:
    """A number that was read from a text, if the field may hold it."""
    answer = within(field, value)
    return answer if answer.asked else replace(answer, parsed=parsed)
