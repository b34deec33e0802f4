"""What each kind of column reads: in its own row, or a setting, and in other tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import assert_never

from costbook.definitions.columns import (
    WORTHS,
    AsCosted,
    Computed,
    CountInText,
    Fixed,
    Gathered,
    Given,
    How,
    Key,
    LookedUp,
    Over,
    Renamed,
    RowOf,
    RowsNow,
    StandsOn,
    Today,
    UnitFact,
    UnitRow,
    Worth,
)

__all__ = ["ColumnAt", "Reads", "reads"]

ColumnAt = tuple[str, str]
"""A table and a column of it."""


@dataclass(frozen=True, slots=True)
class Reads:
    """Columns of the row itself (or settings) by name, and columns of other tables."""

    beside: tuple[str, ...] = ()
    elsewhere: tuple[ColumnAt, ...] = ()


def reads(how: How) -> Reads:  # noqa: C901  # one path a kind
    """The columns that a column reads directly."""
    match how:
        case Fixed() | Today() | CountInText() | RowOf() | StandsOn() | Renamed():
            return Reads()
        case Given(stands_in=name, at_row=at):
            return Reads(_named(name, at))
        case Key(at_row=at) | UnitRow(at_row=at):
            return Reads(_named(at))
        case RowsNow(costed=name) | AsCosted(column=name):
            return Reads((name,))
        case Computed():
            return Reads(how.arguments)
        case UnitFact():
            return Reads((how.unit_row,), (("units", how.column),))
        case LookedUp():
            return Reads((), ((how.table, how.column),))
        case Gathered():
            sought = (how.column, *_named(how.key))
            return Reads(_named(how.key), tuple((how.table, name) for name in sought))
        case Worth():
            return Reads((how.measure,), tuple((how.table, name) for name in WORTHS))
        case Over():
            sought = (how.column, *(each.column for each in how.criteria))
            own = tuple(each.own for each in how.criteria)
            return Reads(own, tuple((how.table, name) for name in sought))
        case _:
            assert_never(how)


def _named(*names: str) -> tuple[str, ...]:
    return tuple(name for name in names if name)
