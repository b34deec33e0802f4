"""Cells → tables: where a sheet's headings stand, and which column holds which field."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from costbook.definitions.columns import Field, InputSheet
from costbook.reading.cells import Cell, Grid

__all__ = ["FoundTable", "find_table", "heading_key", "match_tabs"]

ROWS_SEARCHED = 40
"""How far down a sheet its headings are looked for."""


@dataclass(frozen=True, slots=True)
class FoundTable:
    """A table on a sheet: its heading row, each field's column, and what could not be matched."""

    heading_row: int
    columns: Mapping[str, int]
    near: Mapping[str, int]
    """Columns taken by another wording than the field's own title."""
    twice: Mapping[str, int]
    """Further columns that bear a field's heading again; they are not read."""
    missing: tuple[Field, ...]


def heading_key(text: str) -> str:
    """A heading without case, spaces and punctuation."""
    return "".join(character for character in text.casefold() if character.isalnum())


def match_tabs(sheets: Iterable[InputSheet], tabs: Iterable[str]) -> dict[str, str]:
    """Which tab holds which input sheet: title → tab."""
    by_key: dict[str, str] = {}
    for tab in tabs:
        by_key.setdefault(heading_key(tab), tab)
    found: dict[str, str] = {}
    for sheet in sheets:
        for title in (sheet.title, *sheet.also):
            if heading_key(title) in by_key:
                found.setdefault(sheet.title, by_key[heading_key(title)])
    return found


def find_table(sheet: InputSheet, grid: Grid) -> FoundTable | None:
    """The row, near the top, that has most of the sheet's headings; None if none has two."""
    best: FoundTable | None = None
    for number in sorted(grid.rows)[:ROWS_SEARCHED]:
        found = _match_row(sheet, number, grid.rows[number])
        if len(found.columns) >= 2 and (best is None or len(found.columns) > len(best.columns)):
            best = found
    return best


def _match_row(sheet: InputSheet, number: int, cells: Mapping[int, Cell]) -> FoundTable:
    own = {heading_key(field.title): field for field in sheet.fields}
    other = {heading_key(also): field for field in sheet.fields for also in field.also}
    columns: dict[str, int] = {}
    near: dict[str, int] = {}
    twice: dict[str, int] = {}
    for wordings in (own, other):
        for at, cell in cells.items():
            field = wordings.get(heading_key(cell)) if isinstance(cell, str) else None
            if field is None or at in columns.values():
                continue
            if field.name in columns:
                twice.setdefault(field.name, at)
            else:
                columns[field.name] = at
                if wordings is other:
                    near[field.name] = at
    missing = tuple(field for field in sheet.fields if field.needed and field.name not in columns)
    return FoundTable(number, columns, near, twice, missing)
