"""A table's rows: which are lines of it, and which are totals, notes, headings again or far away.

What is taken for something else than a line is said, so that nobody's receipt is lost in silence.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import Enum
from typing import Final

from costbook.definitions.fields import Example, InputSheet
from costbook.definitions.marks import is_blank
from costbook.definitions.wordings import TOTALS
from costbook.reading.grid import Cell, Grid
from costbook.reading.tables import FoundTable, TextRows, end_of, heading_key

__all__ = ["MOST_BLANK_ROWS", "RowKind", "TableRow", "rows_of"]

MOST_BLANK_ROWS: Final = 500
"""Blank rows after which what follows is no longer the table's: more than it has spare rows."""

_SAYS_SO: Final = 4
"""Words from which a text alone in the naming column is a note, not a name."""


class RowKind(Enum):
    """What a row below the headings is."""

    LINE = "a line"
    EXAMPLE = "the blank workbook's example"
    TOTALS = "totals"
    NOTE = "a note"
    HEADINGS = "headings again"
    ELSEWHERE = "another table's row, or far below"


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row below the headings: its number, what it is, and its cells by field.

    ``repeats`` has the fields in which a ditto mark stands, and which row's cell each repeats.
    ``named_in`` is the row above that has its name, where it has none of its own.
    """

    number: int
    kind: RowKind
    raw: Mapping[str, Cell]
    repeats: Mapping[str, int] = field(default_factory=dict)
    named_in: int = 0


def rows_of(
    sheet: InputSheet, table: FoundTable, grid: Grid, texts: TextRows
) -> Iterator[TableRow]:
    """Every row below the headings that has a cell in the table's columns, from the top."""
    end, repeated = end_of(sheet, table, texts)
    before = table.heading_row
    elsewhere = False
    names: set[str] = set()
    for number in sorted(grid.rows):
        if number <= table.heading_row:
            continue
        raw = _by_field(sheet, table, grid.rows[number])
        if not raw:
            continue
        elsewhere = elsewhere or number == end or number - before > MOST_BLANK_ROWS
        if elsewhere:
            kind = RowKind.ELSEWHERE
        elif number in repeated:
            kind = RowKind.HEADINGS
        else:
            below = _by_field(sheet, table, grid.rows.get(number + 1, {}))
            heads_lines = bool(below) and sheet.naming_field.name not in below
            apart = number - before > 1 and not heads_lines
            kind = _kind(sheet, raw, names, apart=apart)
        if kind is RowKind.LINE:
            names.add(_name_in(sheet, raw))
        yield TableRow(number, kind, raw)
        before = number


def _name_in(sheet: InputSheet, raw: Mapping[str, Cell]) -> str:
    return heading_key(str(raw.get(sheet.naming_field.name, "")))


def _by_field(sheet: InputSheet, table: FoundTable, row: Mapping[int, Cell]) -> dict[str, Cell]:
    """The row's cells by field, without those that only look filled."""
    raw = {name: row[at] for name, at in table.columns.items() if at in row}
    return {name: cell for name, cell in raw.items() if not is_blank(sheet.field(name), cell)}


def _kind(sheet: InputSheet, raw: Mapping[str, Cell], names: set[str], *, apart: bool) -> RowKind:
    """What a row is; ``apart``: below a blank row, and no name for the lines that follow."""
    if _is_example(sheet, raw):
        return RowKind.EXAMPLE
    if _is_totals(sheet, raw):
        return RowKind.TOTALS
    return RowKind.NOTE if _is_note(sheet, raw, names, apart=apart) else RowKind.LINE


def _is_example(sheet: InputSheet, raw: Mapping[str, Cell]) -> bool:
    """Is this an example row of the blank workbook, untouched?"""
    if not any(isinstance(cell, str) and cell.endswith("(example)") for cell in raw.values()):
        return False
    return any(
        all(_holds(raw.get(name), value) for name, value in example.items())
        for example in sheet.examples
    )


def _holds(cell: Cell | None, value: Example) -> bool:
    if cell is None:
        return value == ""
    if isinstance(cell, Decimal):
        return isinstance(value, (int, float)) and cell == Decimal(str(value))
    return str(cell) == str(value)


def _is_totals(sheet: InputSheet, raw: Mapping[str, Cell]) -> bool:
    """A row that says so, without a name of its own; or nothing but numbers."""
    if all(each.name in raw for each in sheet.fields if each.needed):
        return False
    name = sheet.naming_field.name
    if name in raw:
        return _says_total(raw[name])
    if all(isinstance(cell, Decimal) for cell in raw.values()):
        return True
    return any(_says_total(cell) for cell in raw.values())


def _says_total(cell: Cell) -> bool:
    """Total, Grand total:, Total October, Summe …"""
    if not isinstance(cell, str):
        return False
    return heading_key(cell) in TOTALS or heading_key(cell.split(maxsplit=1)[0]) in TOTALS


def _is_note(sheet: InputSheet, raw: Mapping[str, Cell], names: set[str], *, apart: bool) -> bool:
    """A single text that names nothing, or says nothing of what it names."""
    if len(raw) > 1:
        return False
    (name, cell), *_ = raw.items()
    if not isinstance(cell, str):
        return False
    if name != sheet.naming_field.name:
        return True
    says_so = len(cell.split()) >= _SAYS_SO or cell.rstrip().endswith((".", "!"))
    known = _name_in(sheet, raw) in names
    return apart and not known and (says_so or _needs_more(sheet))


def _needs_more(sheet: InputSheet) -> bool:
    """Whether a name alone is no line of the sheet: of a recipe, say, but not of the items."""
    return sum(each.needed for each in sheet.fields) > 1
