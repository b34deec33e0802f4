"""The kinds of column that look at the person's own cells."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from costbook.definitions.algebra import UNKNOWN

__all__ = [
    "CountInText",
    "FromPerson",
    "Given",
    "Key",
    "Renamed",
    "RowOf",
    "RowsNow",
    "StandsOn",
    "UnitRow",
]


@dataclass(frozen=True, slots=True)
class Given:
    """Read from a cell of the person's.

    ``source`` names the record the row has it from. ``blank`` is what a blank cell means: a
    constant, or the name of a column or setting that stands in for it; ``together_with`` lists
    fields of which one must be filled in for that to hold. ``count_in`` names a field whose text
    may bring a count along (``2 x 18 ct``). ``at_row`` names the column that holds the row of
    the log to read.
    """

    sheet: str
    field: str
    blank: Decimal | str = UNKNOWN
    stands_in: str = ""
    together_with: tuple[str, ...] = ()
    count_in: str = ""
    at_row: str = ""


@dataclass(frozen=True, slots=True)
class CountInText:
    """The count that a cell's text brings along, the 6 of ``6 x 150 g``; 1 without one."""

    sheet: str
    field: str


@dataclass(frozen=True, slots=True)
class Key:
    """What a name of the person's is looked up by; other names of an item lead to its own."""

    sheet: str
    field: str
    at_row: str = ""


@dataclass(frozen=True, slots=True)
class RowOf:
    """The row of a log in which a field's cell stands: for a ditto mark, the row above's."""

    sheet: str
    field: str


@dataclass(frozen=True, slots=True)
class RowsNow:
    """How many cells are filled in the column that names an input sheet's rows, now.

    Of a log, whose rows are rows of a table, spare ones too, only those that stand elsewhere or
    whose name can't be read: what is typed into a spare row needs no run.
    """

    costed: str
    """The column that says how many there were when this was costed."""


@dataclass(frozen=True, slots=True)
class Renamed:
    """1 where the person's row is another than was costed, in what only a run can read; else 0.

    That is a name that is no longer the one that was costed, or a text among the ``quantities``
    that the run has not seen.
    """

    sheet: str
    fields: tuple[str, ...]
    quantities: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StandsOn:
    """The row of the person's sheet on which a row's record stands now, found by its names.

    A sheet may be sorted, and rows be put in: cells of the record are read from there. Of two rows
    that bear the same names, each is known only where it stood.
    """

    sheet: str
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnitRow:
    """The row of the table of units in which a unit cell's spelling stands.

    ``text_in`` is a field whose text may bring the unit along: ``5 lb bag`` as a pack size.
    """

    sheet: str
    field: str
    text_in: str = ""
    at_row: str = ""


FromPerson = Given | CountInText | Key | UnitRow | Renamed | StandsOn
"""The kinds of column that look at the person's cells in the row's own record."""
