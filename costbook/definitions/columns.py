"""The kinds of column of Workings: how each comes about.

A column of Workings says how it comes about: fixed by the run, given by a cell of the person's,
looked up, computed by a rule, or gathered from the rows that belong to it. The engine, the
formula writer and ``explain`` each read these few kinds, and know no column by name.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, DecimalException
from enum import Enum, auto
from typing import Any, Final, Literal

from costbook.definitions.algebra import UNKNOWN, Term
from costbook.definitions.over import Compared, Criterion, Fold, Over, Same, Sign
from costbook.definitions.person_columns import (
    CountInText,
    FromPerson,
    Given,
    Key,
    Renamed,
    RowOf,
    RowsNow,
    StandsOn,
    UnitRow,
)
from costbook.definitions.row_sources import LaidOut, OneRow, RowSource

__all__ = [
    "UNIT_AS_WRITTEN",
    "UNIT_NAMED",
    "WORTHS",
    "AsCosted",
    "Column",
    "Compared",
    "Computed",
    "CountInText",
    "Criterion",
    "Fixed",
    "Fold",
    "FromPerson",
    "Gathered",
    "Given",
    "How",
    "Key",
    "LookedUp",
    "Over",
    "Renamed",
    "RowOf",
    "RowsNow",
    "Same",
    "Show",
    "Sign",
    "StandsOn",
    "Table",
    "Today",
    "UnitFact",
    "UnitRow",
    "Worth",
]


class Show(Enum):
    """How a figure is shown."""

    TEXT = auto()
    MONEY = auto()
    FINE_MONEY = auto()
    UNIT_PRICE = auto()
    NUMBER = auto()
    WHOLE = auto()
    SHARE = auto()
    MINUTES = auto()
    DATE = auto()


@dataclass(frozen=True, slots=True)
class Fixed:
    """Written by the run: a name, a row number, a count of lines."""


@dataclass(frozen=True, slots=True)
class Today:
    """The day of the run; in a cell, the day on which the workbook is open."""


@dataclass(frozen=True, slots=True)
class AsCosted:
    """The figure of another column of the row as it was in the run; the cell keeps it."""

    column: str


_LARGEST_POWER: Final = 307
"""Powers of ten that a cell can hold: 1.8e308 is the largest double."""


@dataclass(frozen=True, slots=True)
class LookedUp:
    """The same figure as in the row of another table that this row is linked to."""

    table: str
    column: str
    without: Decimal | str = UNKNOWN


@dataclass(frozen=True, slots=True)
class Computed:
    """Computed by a rule from columns of the row, or settings, named as its arguments.

    ``nothing_of`` names an argument of which none costs nothing, whatever else is unknown.
    ``columns`` are those of its arguments, where these aren't named after them.
    """

    rule: Callable[..., Any]
    nothing_of: str = ""
    columns: tuple[str, ...] = ()
    arguments: tuple[str, ...] = field(init=False)
    meets_unknowns: bool = field(init=False)

    def __post_init__(self) -> None:
        arguments = self.columns or tuple(inspect.signature(self.rule).parameters)
        object.__setattr__(self, "arguments", arguments)
        object.__setattr__(self, "meets_unknowns", getattr(self.rule, "meets_unknowns", False))

    def figure(self, values: Sequence[Decimal | str | None]) -> Decimal | str | None:
        """What the rule gives for figures, in the order of its arguments.

        None where one is unknown (save for rules that meet unknowns), where it divides by nothing,
        and where the figure is too large for a cell, which would show #NUM!.
        """
        if self.meets_unknowns:
            values = [UNKNOWN if value is None else value for value in values]
        elif self.nothing_of and values[self.arguments.index(self.nothing_of)] == 0:
            return Decimal(0)
        elif None in values:
            return None
        try:
            found = self.rule(*values)
        except DecimalException:
            return None
        if isinstance(found, str):
            return found
        number = found if isinstance(found, Decimal) else Decimal(found)
        return None if number.is_nan() or number.adjusted() > _LARGEST_POWER else number

    def term(self) -> Any:
        """The rule read symbolically, each argument by its own name."""
        return self.rule(*(Term("name", (name,)) for name in self.arguments))


@dataclass(frozen=True, slots=True)
class Gathered:
    """What is made of a column over the rows that belong to this one.

    ``"all"`` is their sum, unknown where one of them is; ``"total"`` the sum of what is known;
    ``"first"`` their first text that isn't empty. With a ``key``, over those that bear the same.
    """

    table: str
    column: str
    fold: Literal["all", "total", "first"] = "all"
    key: str = ""

    def __post_init__(self) -> None:
        if self.key and self.fold == "first":
            raise ValueError(f"{self.table}.{self.column}: a first text is gathered without a key")


@dataclass(frozen=True, slots=True)
class UnitFact:
    """A column of the table of units, in the row that ``unit_row`` names."""

    column: str
    unit_row: str = "unit_row"
    without: Decimal | str = UNKNOWN


UNIT_NAMED, UNIT_AS_WRITTEN = "unit", "spelling"
"""The columns of the table of units that say which unit a row is, and how a person writes it."""

WORTHS: Final = ("worth_weight", "worth_volume", "worth_piece", "worth_length", "worth_area")
"""What one base unit of each measure is worth, in the order of the measures' numbers."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What one base unit of a measure is worth to a linked item (or used recipe) [g or cm²]."""

    table: str
    measure: str


How = (
    Fixed
    | Today
    | AsCosted
    | Given
    | CountInText
    | Key
    | RowOf
    | LookedUp
    | Computed
    | Gathered
    | RowsNow
    | Renamed
    | StandsOn
    | UnitRow
    | UnitFact
    | Worth
    | Over
)
"""Every kind of column. Whatever reads them must read each: the type checker sees to it."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table of Workings."""

    name: str
    how: How
    show: Show = Show.NUMBER
    title: str = ""

    @property
    def heading(self) -> str:
        """The heading on the sheet: the title, else the name in plain words."""
        return self.title or self.name.replace("_", " ").capitalize()


@dataclass(frozen=True, slots=True)
class Table:
    """One flat table of Workings, computed from left to right."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: RowSource = field(default=LaidOut())
    about: str = ""
    """The column that names what a row is about; else the first, where that is a name."""
    lacks: str = ""
    """The column that says what a row lacks, where one does."""
    only_with: tuple[str, ...] = ()
    """Input sheets, or fields as Items.label_name: a workbook without any of those, or in which
    none of these is filled in, has no rows of this table."""
    index: Mapping[str, int] = field(init=False, compare=False)

    @property
    def has_one_row(self) -> bool:
        """Whether every row of any table may look up its only one."""
        return isinstance(self.rows, OneRow)

    def __post_init__(self) -> None:
        names = [column.name for column in self.columns]
        if len(set(names)) != len(names):
            raise ValueError(f"{self.name}: a column is named twice")
        object.__setattr__(self, "index", {name: i for i, name in enumerate(names)})
        first = self.columns[0] if self.columns else None
        if not self.about and first and isinstance(first.how, Fixed) and first.show is Show.TEXT:
            object.__setattr__(self, "about", first.name)

    def column(self, name: str) -> Column:
        """The column of that name. Raises KeyError."""
        return self.columns[self.index[name]]
