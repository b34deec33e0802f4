"""Is every column wired to something that is there? Looked at once, when the tables are imported.

A rule is wired by the names of its arguments, so that a slip of the pen would otherwise show only
in the first workbook that comes to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from costbook.definitions.algebra import Term
from costbook.definitions.columns import Computed, Table
from costbook.definitions.reads import reads
from costbook.definitions.told import ToldByColumn, asked_for

__all__ = ["wired"]


def wired(
    tables: Sequence[Table], settings: Table, told: Mapping[str, ToldByColumn]
) -> tuple[Table, ...]:
    """The tables, if every column can be computed and is there for whatever is told of it.

    Raises ValueError, naming each that can't, or isn't.
    """
    faults = [fault for table in tables for fault in _faults(table, tables, settings)]
    faults += _faults_of_words(told, tables, settings)
    if faults:
        raise ValueError("\n".join(faults))
    return tuple(tables)


def _faults(table: Table, tables: Sequence[Table], settings: Table) -> Iterator[str]:
    columns = {each.name: each.index for each in tables}
    for column in table.columns:
        where = f"workings.py: {table.name}.{column.name}"
        how, read = column.how, reads(column.how)
        asks = f"the rule {how.rule.__name__} asks" if isinstance(how, Computed) else "it asks"
        for name in read.beside:
            left_of_it = table.index.get(name, len(table.index)) < table.index[column.name]
            if not left_of_it and (name in table.index or name not in settings.index):
                yield f"{where}: {asks} for {name}, no column left of it and no setting."
        for other, name in read.elsewhere:
            if name not in columns.get(other, ()):
                yield f"{where}: there is no column {other}.{name}."
        if isinstance(how, Computed):
            for fault in _faults_of_rule(how):
                yield f"{where}: {fault}"


def _faults_of_words(
    told: Mapping[str, ToldByColumn], tables: Sequence[Table], settings: Table
) -> Iterator[str]:
    columns = {each.name: set(each.index) for each in tables}
    for table, words in told.items():
        for column, each in words.items():
            where = f"figures_told.py: {table}.{column}"
            if column not in columns.get(table, ()):
                yield f"{where}: there is no such column."
            for name in asked_for(each):
                other, _, own = name.rpartition(".")
                there = columns.get(other or table, set()) | set(() if other else settings.index)
                if own not in there:
                    yield f"{where}: what is told of it asks for {name}, which is no column."


def _faults_of_rule(how: Computed) -> Iterator[str]:
    rule = how.rule.__name__
    for argument in _unused(how):
        yield f"the rule {rule} asks for {argument} and makes no use of it."
    if how.nothing_of and how.nothing_of not in how.arguments:
        yield f"nothing of {how.nothing_of} is said to cost nothing, but {rule} has none of it."


@cache
def _unused(how: Computed) -> tuple[str, ...]:
    """Arguments of a rule that stand nowhere in it."""
    names = set(_names(how.term()))
    return tuple(name for name in how.arguments if name not in names)


def _names(term: object) -> Iterator[str]:
    """The names at the leaves of a rule's tree."""
    if isinstance(term, Term):
        if term.operation == "name":
            yield str(term.parts[0])
        else:
            for part in term.parts:
                yield from _names(part)
