"""How a figure is told to a cook: words in which other figures stand by the names of columns.

A column that has a ``name`` here is a line of its own in what ``explain`` prints; any other stands
``within`` the line that rests on it. In ``{}`` stands the figure itself, in ``{not_sold}`` what is
told of that column of the row (or of that setting), in ``{batches.good}`` of that column of the
linked row. A text ``{word}`` of a line's name is taken as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

__all__ = [
    "ASKED",
    "CODE",
    "CONVERSION",
    "NOT_TOLD",
    "AsTyped",
    "AsWorth",
    "InKitchenUnits",
    "Measured",
    "Told",
    "ToldByColumn",
    "asked_for",
    "beside",
]


@dataclass(frozen=True, slots=True)
class AsTyped:
    """A number of the unit that ``unit_row`` names, as the person wrote it: ``3.2 kg``.

    One that is ``counted`` says no word for pieces: of 2 dozen, 3 are rejects.
    """

    unit_row: str
    counted: bool = False


@dataclass(frozen=True, slots=True)
class InKitchenUnits:
    """A number of base units (or money ``per`` base unit), in the units that a kitchen uses.

    ``measure`` names the column of the kind of unit; ``like`` those of units that the person wrote,
    the one to follow first.
    """

    measure: str
    like: tuple[str, ...] = ()
    per: bool = False


@dataclass(frozen=True, slots=True)
class AsWorth:
    """What one base unit of a ``measure`` is worth: ``0.918 g a ml``, or how wide a roll is."""

    measure: str
    like: tuple[str, ...] = ()


Measured = AsTyped | InKitchenUnits | AsWorth
"""How a number is said with its unit."""


@dataclass(frozen=True, slots=True)
class Told:
    """How a figure is told: within another's line, and in its own, if it has a ``name``.

    ``so`` ends its own line. ``plain`` is the figure that changes nothing, and ``same_as`` are
    columns that were told already: where the figure is that of one, nothing is said. ``lacks``
    names the column that says what is missing where the figure isn't known.
    """

    within: str = "{}"
    name: str = ""
    words: str = ""
    so: str = " = {}"
    plain: Decimal | None = None
    same_as: tuple[str, ...] = ()
    measured: Measured | None = None
    lacks: str = ""
    names_all: bool = False
    """Whether its words name each figure that it rests on, so that those need no line."""
    code: bool = False
    """A number that stands for something, as a measure's: never told."""
    conversion: bool = False
    """Between two units, or two states of a thing: no step at all where it is 1."""


ToldByColumn = Mapping[str, Told]
"""What is told of the figures of a table."""


def beside(within: str, plain: Decimal = Decimal(0)) -> Told:
    """Words within another's line; none where the figure is the plain one."""
    return Told(within, plain=plain)


CODE: Final = Told(code=True)
CONVERSION: Final = Told(conversion=True, plain=Decimal(1))

NOT_TOLD: Final = "{*}"
"""In the words of a sum: its rows that have no line of their own, in brackets."""

ASKED: Final = re.compile(r"\{([a-z_.]*)\}")
"""A column that stands in words."""


def asked_for(told: Told) -> tuple[str, ...]:
    """Every column that is named, in its words or beside them."""
    names = [
        name
        for text in (told.within, told.name, told.words, told.so)
        for name in ASKED.findall(text)
    ]
    names += told.same_as
    match told.measured:
        case AsTyped(unit_row=name):
            names.append(name)
        case InKitchenUnits(measure=name, like=like) | AsWorth(measure=name, like=like):
            names += [name, *like]
        case None:
            pass
    return tuple(name for name in (*names, told.lacks) if name)
