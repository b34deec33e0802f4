"""Which figures of Workings stand behind a cell of our sheets: its formula followed back."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from costbook.costing.engine import Costing
from costbook.costing.structure import Row, Structure
from costbook.costing.trail import At, mark_of
from costbook.definitions.columns import Show
from costbook.definitions.workings import TABLES
from costbook.writing.description import CellContent, SheetDescription
from costbook.writing.folded import laid_out
from costbook.writing.layout import Layout, column_number, tables_shown

__all__ = ["Behind", "behind"]

CellOfTab = tuple[str, int, int]
"""A tab, a row and a column, both from 0."""

_MOST_CELLS: Final = 2_000
"""Cells that a formula is followed through; a sum of more is told by its first ones."""
_TEXT: Final = re.compile(r'"(?:[^"]|"")*"')
_REFERENCE: Final = re.compile(
    r"(?:'((?:[^']|'')+)'!)?\$?\b([A-Z]{1,3})\$?([0-9]+)(?::\$?([A-Z]{1,3})\$?([0-9]+))?(?![\w(])"
)


@dataclass(frozen=True, slots=True)
class Behind:
    """The formula that stands in a cell of ours, and the figures it leads to, the first first."""

    formula: str
    figures: tuple[At, ...]


def behind(
    sheets: Sequence[SheetDescription], layout: Layout, costing: Costing, spot: CellOfTab
) -> Behind:
    """The figures behind a cell; of a name or a text those of the first figure to its right."""
    figures = _on_workings(layout, costing.structure)
    if spot[0] == layout.tab:
        own = figures.get(spot[1:])
        return Behind("", (own,) if own else ())
    described = {sheet.tab: sheet for sheet in sheets}
    for cell in _formulas_from(described[spot[0]], *spot[1:]):
        found: dict[object, At] = {}
        for at in _followed(described, figures, layout.tab, (spot[0], cell)):
            if not _is_a_name(costing, at):
                found.setdefault(mark_of(at), at)
        if found:
            asked = cell.formula if cell.column == spot[2] else ""
            return Behind(asked, tuple(found.values()))
    return Behind("", ())


def _is_a_name(costing: Costing, at: At) -> bool:
    """Whether it only names something, or says nothing."""
    row, name = at
    is_text = TABLES[row.table].column(name).show is Show.TEXT
    return is_text and (name in row.fixed or costing.of(row)[name] in (None, ""))


def _formulas_from(sheet: SheetDescription, row: int, column: int) -> list[CellContent]:
    """The cells with formulas from a column on to the right."""
    cells = sheet.rows.get(row, {}).values()
    beside = (each for each in cells if each.column >= column and each.formula)
    return sorted(beside, key=lambda each: each.column)


def _followed(
    described: Mapping[str, SheetDescription],
    figures: Mapping[tuple[int, int], At],
    workings: str,
    first: tuple[str, CellContent],
) -> Iterator[At]:
    """The figures that a cell's formula names, and those that the cells of ours it names do."""
    waiting, seen = [first], set[CellOfTab]()
    while waiting and len(seen) < _MOST_CELLS:
        tab, cell = waiting.pop(0)
        for spot in _named(cell.formula, tab):
            if spot in seen:
                continue
            seen.add(spot)
            if spot[0] == workings:
                if spot[1:] in figures:
                    yield figures[spot[1:]]
            elif spot[0] in described:
                other = described[spot[0]].rows.get(spot[1], {}).get(spot[2])
                waiting += [(spot[0], other)] if other and other.formula else []


def _named(formula: str, tab: str) -> Iterator[CellOfTab]:
    """The cells that a formula names, in their order; those of an area one by one."""
    for quoted, column, row, last_column, last_row in _REFERENCE.findall(_TEXT.sub('""', formula)):
        on = quoted.replace("''", "'") or tab
        rows = range(int(row) - 1, int(last_row or row))
        columns = range(column_number(column), column_number(last_column or column) + 1)
        for at in range(min(len(rows) * len(columns), _MOST_CELLS)):
            yield on, rows[at // len(columns)], columns[at % len(columns)]


def _on_workings(layout: Layout, structure: Structure) -> dict[tuple[int, int], At]:
    """What stands in each cell of Workings, by its row and column from 0."""
    return {
        (layout.row_number(row) - 1, place): (row, name)
        for table in tables_shown(structure)
        for row in _laid_out(layout, structure.rows[table.name])
        for name, place in laid_out(table.name).items()
    }


def _laid_out(layout: Layout, rows: Sequence[Row]) -> Iterator[Row]:
    return (row for row in rows if layout.has_cells(row))
