"""Where the rows of a table come from, and so what they are linked to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final, Literal

__all__ = [
    "ASIDE",
    "ASKED",
    "ROW_NUMBER",
    "Cells",
    "EachOf",
    "EachPair",
    "LaidOut",
    "LinesOf",
    "OneRow",
    "RowSource",
    "RowsOfSheet",
]

Cells = Mapping[str, Decimal | str | None]
"""Cells that the run writes, by column."""


ROW_NUMBER: Final = "row_number"
ASKED: Final = "asked"
ASIDE: Final = "aside"


@dataclass(frozen=True, slots=True)
class OneRow:
    """One row, which every row of any table may look up; what it totals, it totals all of."""


@dataclass(frozen=True, slots=True)
class RowsOfSheet:
    """A row for each row of an input sheet, whose naming field is a fixed column.

    Of a sheet that is a log there is a row for every row below its headings, and for its spare ones
    below them: what is typed there counts without a run. Its table has fixed columns ``row_number``
    and ``asked`` (1 where one of its ``figures`` can't be read), and ``key`` names the column with
    the names' keys. A fixed column ``aside`` is 1 where the row is no record: a total, a note.
    """

    sheet: str
    key: str = ""
    figures: tuple[str, ...] = ()
    without: Cells = field(default_factory=dict)
    """The cells of the one row that stands for a sheet without any; without them, none does."""


@dataclass(frozen=True, slots=True)
class EachOf:
    """A row for each row of another table: with its names, records and links, and what is its."""

    table: str


@dataclass(frozen=True, slots=True)
class EachPair:
    """A row for each row of a table with each of another one's; what is the first's is its own.

    ``where_sold`` leaves out products at outlets where they aren't sold.
    """

    table: str
    other: str
    where_sold: bool = False
    without: Cells = field(default_factory=dict)
    """The cells of a row where the other's stands for a sheet that has none."""


@dataclass(frozen=True, slots=True)
class LinesOf:
    """A row for each row of an input sheet that is of a row of another table: a recipe's lines.

    Its first column names whose it is, and the one that it is ``about`` what the line says. Lines
    that use "items", or "recipes", are linked to these, and to those of their owner's ``links``
    that are named.
    """

    table: str
    sheet: str
    uses: Literal["", "items", "recipes"] = ""
    links: tuple[str, ...] = ()
    left_open: tuple[str, ...] = ()
    """The figures that a row of nobody's leaves open; all others rest on them."""
    shared: bool = False
    """Whether a line may be of every row of the other table."""


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Rows that follow from one another, such as what a recipe needs through those it uses.

    ``costing/structure.py`` lays them out.
    """


RowSource = OneRow | RowsOfSheet | EachOf | EachPair | LinesOf | LaidOut
