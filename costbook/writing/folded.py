"""Which columns of Workings are laid out, and which stand within the formulas that read them.

A column that only relays another is read where that one stands. A column whose text would add few
letters to the formulas that read it is written into them; one that nothing reads is not written.
What a page points at, what a formula looks through row by row, and the last column of a table,
which is what the table is for, are laid out; so is what looks through a log, if it is named more
than once: a program looks through all of the log once for each time that it stands in a formula.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import Final

from costbook.definitions.affected import TRIAL_CHANGES
from costbook.definitions.columns import (
    AsCosted,
    Computed,
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
    Table,
    Today,
    UnitFact,
    UnitRow,
    Worth,
)
from costbook.definitions.fields import Kind
from costbook.definitions.reads import ColumnAt, reads
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import LOGS, TABLES
from costbook.writing.formula_text import computed
from costbook.writing.pointed_at import LISTED, POINTED_AT

__all__ = ["computed_of", "is_laid_out", "laid_out", "log_twin", "repeating"]

MOST_MORE: Final = 600
"""Letters by which the formulas of a row may grow for a cell less."""
ADDRESS: Final = "AB1234"
"""An address as long as most."""
_MARK: Final = "\0"
_LOG_TABLES: Final = frozenset(table for table, _ in LOGS.values())
"""The tables that grow with the years."""

_STAYING: Final = (Fixed, Today, AsCosted, RowsNow, StandsOn)
"""Kinds that stand in a cell: what the run writes, and what formulas of other rows look at."""


@cache
def laid_out(table: str) -> Mapping[str, int]:
    """The columns of a table that are laid out, each with its place from 0."""
    staying = [each.name for each in TABLES[table].columns if _stays((table, each.name))]
    return {name: at for at, name in enumerate(staying)}


def is_laid_out(table: str, column: str) -> bool:
    """Does a column have cells of its own?"""
    return column in laid_out(table)


def computed_of(table: Table, name: str) -> Computed | None:
    """The rule of a column that isn't laid out, if a rule makes it."""
    if name not in table.index or _stays((table.name, name)):
        return None
    how = table.columns[table.index[name]].how
    return how if isinstance(how, Computed) else None


def _how(at: ColumnAt) -> How:
    table = TABLES[at[0]]
    return table.columns[table.index[at[1]]].how


@cache
def _stays(at: ColumnAt) -> bool:
    how, (table, name) = _how(at), at
    if isinstance(how, _STAYING) or at in TRIAL_CHANGES or at in _looked_through():
        return True
    if name in LISTED.get(table, ()) or name == TABLES[table].columns[-1].name:
        return True
    if isinstance(how, LookedUp):
        return False
    if isinstance(how, RowOf):
        return any(_reads_the_row(each, how) for each in _all_columns())
    if name in POINTED_AT.get(table, ()):
        return True
    readers = _readers()[at]
    if any(reader[0] != table for reader in readers):
        return True
    if _looks_through_a_log(how) and sum(_times(at, reader) for reader in readers) > 1:
        return True
    return _growth(at, readers) > MOST_MORE


def _looks_through_a_log(how: How) -> bool:
    return isinstance(how, Over) and how.table in _LOG_TABLES


def _times(at: ColumnAt, reader: ColumnAt) -> int:
    """How often a column stands in the text of a formula that reads it."""
    return _with(reader, _only(at[1], _MARK), lambda _: None).count(_MARK)


def _growth(at: ColumnAt, readers: tuple[ColumnAt, ...]) -> int:
    """By how many letters the formulas of a row grow if one column is written within others."""
    text, more = _text(at), 0
    for reader in readers:
        before = _with(reader, lambda _: ADDRESS, lambda _: None)
        more += len(_with(reader, _only(at[1], text), _rule_of(at))) - len(before)
    return more - len(text)


def _only(one: str, text: str) -> Callable[[str], str]:
    return lambda name: text if name == one else ADDRESS


def _rule_of(at: ColumnAt) -> Callable[[str], Computed | None]:
    how = _how(at)
    return lambda name: how if name == at[1] and isinstance(how, Computed) else None


@cache
def _text(at: ColumnAt) -> str:
    """A text as long as a column's formula, with all that is written within it."""
    table = TABLES[at[0]]

    def cell_of(name: str) -> str:
        within = name in table.index and not _stays((table.name, name))
        return _text((table.name, name)) if within else ADDRESS

    return _with(at, cell_of, lambda name: computed_of(table, name))


def _with(
    at: ColumnAt, cell_of: Callable[[str], str], within: Callable[[str], Computed | None]
) -> str:
    """About the text of a column's formula: a rule's own, else as often as it names a cell."""
    how = _how(at)
    if isinstance(how, Computed):
        return computed(how, cell_of, within)
    if isinstance(how, LookedUp):
        return ADDRESS
    named = "".join(cell_of(name) for name in reads(how).beside)
    if (twin := log_twin(how)) and _stays(twin):
        return named + "x" * _OF_THE_LOG
    return named * _TIMES.get(type(how), 1) + "x" * _letters(how)


def _letters(how: How) -> int:
    """About how many letters the formula of a kind has, beside the cells that it names."""
    if isinstance(how, Given) and how.count_in:
        return 1200
    of_text = isinstance(how, UnitRow) and how.text_in != ""
    if isinstance(how, Given):
        of_text = INPUT_SHEETS[how.sheet].field(how.field).kind in (Kind.SIZE, Kind.AMOUNT)
    return 750 if of_text else _LETTERS.get(type(how), 60)


_OF_THE_LOG: Final = 60
"""About how many letters it takes to read what a log's table has."""


_LETTERS: Final[Mapping[type, int]] = {Given: 250, Key: 350, UnitRow: 300, Renamed: 900, Over: 120}
"""About how many letters formulas of a kind have; those of other kinds have fewer."""
_TIMES: Final[Mapping[type, int]] = {
    Given: 4,
    Key: 4,
    UnitRow: 4,
    UnitFact: 2,
    Worth: 2,
    Gathered: 3,
    Over: 2,
}
"""How often formulas of a kind name a cell of their row, where that is more than once."""


@cache
def _readers() -> Mapping[ColumnAt, tuple[ColumnAt, ...]]:
    """By column, the columns that read it cell by cell."""
    found: defaultdict[ColumnAt, list[ColumnAt]] = defaultdict(list)
    for table in TABLES.values():
        for column in table.columns:
            for name in reads(column.how).beside:
                own = table.name if name in table.index else "settings"
                if _in_every_book_with(own, table):
                    found[own, name].append((table.name, column.name))
            how = column.how
            if isinstance(how, LookedUp) and _in_every_book_with(how.table, table):
                found[how.table, how.column].append((table.name, column.name))
    return defaultdict(tuple, {at: tuple(dict.fromkeys(each)) for at, each in found.items()})


def _in_every_book_with(read: str, table: Table) -> bool:
    """Whether a workbook that has a table that is read has the one that reads it, too."""
    needed = TABLES[read].only_with
    return not table.only_with or (needed != () and set(needed) <= set(table.only_with))


@cache
def _looked_through() -> frozenset[ColumnAt]:
    """The columns of which a formula looks at many cells at once."""
    return frozenset((*_ranges(), *LOGS.values()))


def _ranges() -> Iterator[ColumnAt]:
    for table in TABLES.values():
        for column in table.columns:
            if not isinstance(column.how, LookedUp):
                yield from reads(column.how).elsewhere


@cache
def log_twin(how: How) -> ColumnAt | None:
    """The column of a log's table that has what another table reads in a row of the log."""
    if not isinstance(how, Given | Key | UnitRow) or not how.at_row:
        return None
    table, _ = LOGS[how.sheet]
    own = replace(how, at_row="")
    return next(((table, each.name) for each in TABLES[table].columns if each.how == own), None)


@cache
def repeating(table: str, how: How) -> str:
    """The column of a log's table in which a ditto mark repeats the cell above, if such a one.

    Where the row in which a name stands has no cell, its own formula looks for the mark.
    """
    if not isinstance(how, Given | Key) or how.at_row:
        return ""
    for column in TABLES[table].columns:
        its = column.how
        if isinstance(its, RowOf) and (its.sheet, its.field) == (how.sheet, how.field):
            return "" if _stays((table, column.name)) else _column_of(table, how)
    return ""


def _column_of(table: str, how: How) -> str:
    return next(each.name for each in TABLES[table].columns if each.how == how)


def _all_columns() -> Iterator[How]:
    return (column.how for table in TABLES.values() for column in table.columns)


def _reads_the_row(how: How, row: RowOf) -> bool:
    """Must it be said in which row of the log a name stands, for what another column reads?"""
    if not isinstance(how, Given | Key) or (how.sheet, how.field) != (row.sheet, row.field):
        return False
    return bool(how.at_row) and log_twin(how) is None
