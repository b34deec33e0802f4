"""Where each table of Workings stands, and the address of each of its cells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from costbook.book import Value
from costbook.costing.rows import Row, Structure
from costbook.definitions.columns import LookedUp, Table, Today
from costbook.definitions.workings import COMPARED, TABLE_ORDER, TABLES
from costbook.writing.folded import laid_out
from costbook.writing.lookups import literal

__all__ = [
    "Layout",
    "column_letters",
    "column_number",
    "lay_out_tables",
    "sheet_name",
    "tables_shown",
]

ROWS_ABOVE = 4
"""Rows of Workings above its first table: a title, what it is, the cautions, and the row that
says when it is out of step."""
ROWS_BETWEEN = 3
"""Rows from the end of one table to the start of the next: an empty one, a title, headings."""


@cache
def column_letters(index: int) -> str:
    """The letters of a column by its index from 0."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def column_number(letters: str) -> int:
    """The index of a column from 0, by its letters."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number - 1


def sheet_name(tab: str) -> str:
    """A tab's name as formulas write it: always in quotes, which every program takes."""
    return "'" + tab.replace("'", "''") + "'"


@dataclass(frozen=True, slots=True)
class Layout:
    """The first data row (from 1) of each table, and how many rows it has."""

    tab: str
    first: Mapping[str, int]
    count: Mapping[str, int]
    only: Mapping[str, Row] = field(default_factory=dict)
    """The rows of the tables that have one, which any row may look up."""
    placed: Mapping[str, Mapping[int, int]] = field(default_factory=dict)
    """In tables of which some rows have no cells, how far below the first each other row is."""

    def has_cells(self, row: Row) -> bool:
        """Is a row laid out?"""
        return row.table not in self.placed or row.index in self.placed[row.table]

    def linked(self, row: Row, table: str) -> Row | None:
        """The row of another table that a row looks up."""
        return self.only.get(table) or row.links.get(table)

    def row_number(self, row: Row) -> int:
        """The row of the sheet in which a row of a table stands."""
        placed = self.placed.get(row.table)
        return self.first[row.table] + (row.index if placed is None else placed[row.index])

    def letter(self, table: str, column: str) -> str:
        """The letters of a table's column; it must be laid out."""
        places = laid_out(table)
        if column not in places:
            raise KeyError(f"{table}.{column} has no cells: a page that needs it names it first")
        return column_letters(places[column])

    def cell(self, row: Row, column: str) -> str:
        """The address of a figure on Workings, without the sheet: F12."""
        return f"{self.letter(row.table, column)}{self.row_number(row)}"

    def absolute(self, row: Row, column: str) -> str:
        """The address of a figure from another sheet: 'Workings'!$F$12.

        Of a column that only relays another it is that one's, or the constant without one.
        """
        table = TABLES[row.table]
        how = table.columns[table.index[column]].how
        if isinstance(how, LookedUp) and column not in laid_out(row.table):
            linked = self.linked(row, how.table)
            return self.absolute(linked, how.column) if linked else literal(how.without)
        return f"{sheet_name(self.tab)}!${self.letter(row.table, column)}${self.row_number(row)}"

    def is_written(self, row: Row, column: str) -> bool:
        """Does the run write a figure, or what it relays, so that no formula makes it?"""
        table = TABLES[row.table]
        how = table.columns[table.index[column]].how
        if isinstance(how, LookedUp) and column not in laid_out(row.table):
            linked = self.linked(row, how.table)
            return linked is None or self.is_written(linked, how.column)
        return column in row.fixed and not isinstance(how, Today)

    def column_range(self, table: str, column: str) -> str:
        """A whole column of a table: $B$12:$B$40. The table must have a row."""
        letter, first = self.letter(table, column), self.first[table]
        return f"${letter}${first}:${letter}${first + self.count[table] - 1}"


def lay_out_tables(structure: Structure, tab: str) -> Layout:
    """Tables one below another, in their order, as ``tables_shown`` has them."""
    first: dict[str, int] = {}
    count = dict.fromkeys(TABLES, 0)
    placed = {table: _placed(structure, table) for table in COMPARED}
    at = ROWS_ABOVE + ROWS_BETWEEN
    for table in tables_shown(structure):
        first[table.name] = at
        count[table.name] = len(placed.get(table.name, structure.rows[table.name]))
        at += count[table.name] + ROWS_BETWEEN
    only = {
        name: structure.one(name)
        for name, table in TABLES.items()
        if table.has_one_row and structure.rows[name]
    }
    return Layout(tab, first, count, only, placed)


def tables_shown(structure: Structure) -> list[Table]:
    """The tables on Workings: of one without a row the headings, save for want of its sheet."""
    return [each for each in TABLE_ORDER if structure.rows[each.name] or not each.only_with]


def _placed(structure: Structure, table: str) -> dict[int, int]:
    """The rows of a table that have others to be compared with, each with its place."""
    among = Counter(_key(row) for name in COMPARED[table] for row in structure.rows[name])
    several = (row.index for row in structure.rows[table] if among[_key(row)] > 1)
    return {index: at for at, index in enumerate(several)}


def _key(row: Row) -> Value:
    return row.fixed["item_key"]
