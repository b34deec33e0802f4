"""Where each input sheet stands in a workbook: its tab, its table, and other tabs like it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from costbook.definitions.fields import InputSheet, Kind
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.reading.dates import date_order, read_date
from costbook.reading.grid import Grid, Workbook
from costbook.reading.tables import (
    FoundTable,
    Position,
    TextRows,
    find_table,
    match_tabs,
    text_rows,
)

__all__ = ["Found", "find", "without_copies"]

_TABLES: Final = tuple(sheet for sheet in SHEETS if not sheet.upright)


@dataclass(slots=True)
class Found:
    """Where each input sheet stands: its tab, and its table if it has one."""

    workbook: Workbook
    tabs: dict[str, str]
    texts: dict[str, TextRows]
    """Of each tab, the rows that may be headings."""
    tables: dict[str, FoundTable] = field(default_factory=dict)
    guessed: set[str] = field(default_factory=set)
    """Sheets that were known by their headings, on a tab of another name."""
    more: list[tuple[str, str, FoundTable]] = field(default_factory=list)
    """Further tabs that have all the headings of a sheet: its title, the tab, the table."""

    def grid(self, title: str) -> Grid:
        """The cells of the tab on which a sheet stands."""
        return self.workbook.grids[self.tabs[title]]


def find(workbook: Workbook) -> Found:
    """Find every sheet's table: by the tabs' names, else by headings that can be no other's."""
    texts = {tab: text_rows(grid) for tab, grid in workbook.grids.items()}
    tabs = [tab for tab in workbook.tabs if tab in workbook.grids]
    found = Found(workbook, match_tabs(SHEETS, tabs), texts)
    for sheet in _TABLES:
        if sheet.title in found.tabs:
            by_name = find_table(sheet, texts[found.tabs[sheet.title]])
            if by_name is not None:
                found.tables[sheet.title] = by_name
    claims = _claims(found)
    for title, tables in claims.items():
        _settle(found, title, tables)
    return found


def _claims(found: Found) -> dict[str, dict[str, FoundTable]]:
    """The tables that are surely a sheet's, by the sheet and the tab, the named ones left out."""
    named = dict(found.tabs)
    claims: dict[str, dict[str, FoundTable]] = {sheet.title: {} for sheet in _TABLES}
    for tab, rows in found.texts.items():
        own = [title for title, its in named.items() if its == tab]
        taken = {at for title in own if title in found.tables for at in found.tables[title].cells}
        # a tab of a sheet's name may hold other sheets' tables too, if those have no tab
        free = [sheet for sheet in _TABLES if not own or sheet.title not in named]
        for title, table in _ranked(free, rows, taken):
            claims[title][tab] = table
    return claims


def _ranked(
    sheets: Collection[InputSheet], rows: TextRows, taken: set[Position]
) -> Iterator[tuple[str, FoundTable]]:
    """The tables on a tab, each the one sheet's whose headings fit best."""
    left = list(sheets)
    while left:
        tables = {sheet.title: find_table(sheet, rows, taken, surely=True) for sheet in left}
        title, best = max(tables.items(), key=lambda each: _fit(each[1]))
        if best is None:
            return
        yield title, best
        taken = taken | best.cells
        left = [sheet for sheet in left if sheet.title != title and tables[sheet.title]]


def _fit(table: FoundTable | None) -> tuple[int, int]:
    """How well a table's headings are a sheet's: in its own words first."""
    if table is None:
        return (0, 0)
    return len(table.columns) - len(table.near) - len(table.lost), len(table.columns)


def _settle(found: Found, title: str, tables: Mapping[str, FoundTable]) -> None:
    """Of several tabs, the sheet's is the one of its name, else that with the latest day."""
    rest = dict(tables)
    if title not in found.tabs and rest:
        latest = max(rest, key=lambda tab: _latest_day(title, found.workbook.grids[tab], rest[tab]))
        found.tabs[title], found.tables[title] = latest, rest.pop(latest)
        found.guessed.add(title)
    found.more += [(title, tab, table) for tab, table in rest.items()]


def _latest_day(title: str, grid: Grid, table: FoundTable) -> date:
    """The latest day on a table; long ago for one without days."""
    days = (each.name for each in INPUT_SHEETS[title].fields if each.kind is Kind.DATE)
    columns = [table.columns[name] for name in days if name in table.columns]
    cells = [row[at] for row in grid.rows.values() for at in columns if at in row]
    order = date_order([cell for cell in cells if isinstance(cell, str)])
    typed = (read_date(cell, order) if isinstance(cell, str) else cell for cell in cells)
    return max((each for each in typed if isinstance(each, date)), default=date.min)


_COPY: Final = re.compile(
    r"(?:copy of |kopie von )?(.+?)(?: ?\(\d+\)|_\d+| copy| - copy)?", re.IGNORECASE
)


def without_copies(tabs: Collection[str], of: Collection[str]) -> list[str]:
    """The tabs that are none of some others, nor named as copies of one: "Prices (2)"."""
    names = {each.casefold() for each in of}
    return [tab for tab in tabs if tab not in of and _plain_name(tab) not in names]


def _plain_name(tab: str) -> str:
    """The name that a copy was made from."""
    found = _COPY.fullmatch(tab.strip())
    return (found[1] if found else tab).casefold()
