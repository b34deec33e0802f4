"""The kinds of cell that a person fills in: one field a column, one sheet a table.

``sheets.py`` lists them all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from typing import Final

__all__ = ["QUANTITIES", "Choice", "Example", "Field", "InputSheet", "Kind", "Least"]

Example = str | int | float
"""What an example row holds; an empty text is a blank."""


class Kind(Enum):
    """What a cell of the person's holds."""

    TEXT = "text"
    NAME = "name"
    NUMBER = "number"
    MONEY = "money"
    SHARE = "share"
    DATE = "date"
    UNIT = "unit"
    CHOICE = "choice"
    SIZE = "pack size"
    AMOUNT = "amount"


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


@dataclass(frozen=True, slots=True)
class InputSheet:
    """One sheet the person fills in; ``upright`` sheets have a row, not a column, a field.

    Without the ``needed`` ones nothing is costed; without the ``priced`` ones no price is whole.
    ``more_examples`` are further example rows: what differs in them from the first, by field.
    """

    title: str
    row_is: str
    fields: tuple[Field, ...]
    needed: bool = False
    priced: bool = False
    upright: bool = False
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
