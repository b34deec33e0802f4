"""The kinds of cell that a person fills in: one field a column, one sheet a table.

``sheets.py`` lists them all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum, auto
from typing import Final

__all__ = [
    "QUANTITIES",
    "Choice",
    "Example",
    "Field",
    "InputSheet",
    "Kind",
    "Least",
    "share",
    "shown_number",
]

Example = str | int | float
"""What an example row holds; an empty text is a blank."""


class Kind(Enum):
    """What a cell of the person's holds."""

    TEXT = auto()
    NAME = auto()
    NUMBER = auto()
    MONEY = auto()
    SHARE = auto()
    DATE = auto()
    UNIT = auto()
    CHOICE = auto()
    SIZE = auto()
    AMOUNT = auto()


QUANTITIES: Final = (
    *(Kind.NUMBER, Kind.MONEY, Kind.SHARE),
    *(Kind.DATE, Kind.SIZE, Kind.AMOUNT),
)
"""Kinds of cell that hold a number, or a text that only the reader can make one of."""


class Least(Enum):
    """Which numbers a cell may hold."""

    ANY = "any number"
    ZERO = "a number that is not below zero"
    ABOVE_ZERO = "a number above zero"


def share(number: Decimal, limit: Decimal) -> Decimal:
    """Return a number as a share of one: above the column's limit it is a percentage.

    >>> share(Decimal(89), Decimal(5)), share(Decimal("0.89"), Decimal(5))
    (Decimal('0.89'), Decimal('0.89'))
    """
    return number / 100 if number > limit else number


def shown_number(number: Decimal) -> str:
    """A number as a cell gives it when it is joined to a text."""
    return f"{float(number):.15g}"


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer a cell may give, and the other words for it."""

    value: str
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Field:
    """One column (on Settings: one row) that the person fills in.

    ``goes_with`` names the fields that a text in this one is read together with: a pack size
    typed as ``5 lb bag`` means something else once the unit beside it changes.
    """

    name: str
    title: str
    kind: Kind
    note: str = ""
    least: Least = Least.ZERO
    limit: Decimal = Decimal(1)
    choices: tuple[Choice, ...] = ()
    goes_with: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    example: Example = ""
    needed: bool = False
    or_share: bool = False
    """Whether a cell that is formatted as a percentage holds a share."""

    def held(self, number: Decimal) -> Decimal:
        """What a number in the cell is; a share above its limit is a percentage."""
        return share(number, self.limit) if self.kind is Kind.SHARE else number

    def refused(self, number: Decimal) -> tuple[str, str] | None:
        """Why the cell may not hold a number, and what to type instead; None where it may."""
        too_low = number < 0 or (number == 0 and self.least is Least.ABOVE_ZERO)
        if too_low and self.least is not Least.ANY:
            return self.too_low(shown_number(number))
        if self.kind is Kind.SHARE and self.held(number) > self.limit:
            return self.too_high(shown_number(number))
        return None

    def too_low(self, shown: str) -> tuple[str, str]:
        """What is said of a number below the least."""
        return f"{self.title} is {shown}.", f"Type {self.least.value}, or leave the cell empty."

    def too_high(self, shown: str) -> tuple[str, str]:
        """What is said of a share above the limit, also as a percentage."""
        most = shown_number(self.limit * 100)
        return f"{self.title} is {shown} %.", f"Type a percentage of {most} at most."


@dataclass(frozen=True, slots=True)
class InputSheet:
    """One sheet the person fills in; ``upright`` sheets have a row, not a column, a field.

    Without the ``needed`` ones nothing is costed; without the ``priced`` ones no price is whole.
    Of a log, ``spare_rows`` below its last row count as soon as they are typed, without a run.
    ``more_examples`` are further example rows: what differs in them from the first, by field.
    """

    title: str
    row_is: str
    fields: tuple[Field, ...]
    needed: bool = False
    priced: bool = False
    upright: bool = False
    spare_rows: int = 0
    also: tuple[str, ...] = ()
    more_examples: tuple[tuple[tuple[str, Example], ...], ...] = ()

    @property
    def examples(self) -> Iterator[Mapping[str, Example]]:
        """The example rows of the blank workbook, by field."""
        first = {field.name: field.example for field in self.fields}
        yield first
        for other in self.more_examples:
            yield first | dict(other)

    @property
    def naming_field(self) -> Field:
        """The field that says what a row is about: the first needed one that is no date."""
        needed = (each for each in self.fields if each.needed and each.kind is not Kind.DATE)
        return next(needed, self.fields[0])

    def field(self, name: str) -> Field:
        """The field of that name. Raises KeyError."""
        for each in self.fields:
            if each.name == name:
                return each
        raise KeyError(name)
