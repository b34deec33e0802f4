"""Our own sheets of an earlier run → what they remember."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.book import as_key
from costbook.definitions.fields import Field, Kind
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.package.workbook_file import WorkbookFile
from costbook.reading.cells import Cell, Grid, read_workbook
from costbook.reading.numbers import Money, NumberStyle, Unclear, read_price, read_share
from costbook.reading.tables import heading_key
from costbook.remembered import (
    COSTINGS,
    ITEM,
    NOTHING_REMEMBERED,
    PICKS,
    SETTING,
    TRY,
    Past,
    Remembered,
)

__all__ = ["EARLIER", "PICKED", "TRIAL", "remembered"]

EARLIER: Final = "Earlier costings"
TRIAL: Final = "Try a change"
PICKED: Final = "Prices"


def remembered(file: WorkbookFile) -> Remembered:
    """What the sheets of ours remember."""
    tabs = {t: tab.name for t, tab in file.ours.items() if t in (EARLIER, TRIAL, PICKED)}
    if not tabs:
        return NOTHING_REMEMBERED
    workbook = read_workbook(file, lambda _: set(tabs.values()), plainly=True)
    pasts: tuple[Past, ...] = ()
    prices: dict[str, Decimal | str] = {}
    settings: dict[str, Decimal | str] = {}
    if EARLIER in tabs:
        pasts = tuple(_pasts(workbook.grids[tabs[EARLIER]]))
    if TRIAL in tabs:
        grid = workbook.grids[tabs[TRIAL]]
        prices = {as_key(what): _price(typed) for what, typed in _typed(grid, ITEM)}
        settings = dict(_settings(grid))
    picked = _picked(workbook.grids[tabs[PICKED]]) if PICKED in tabs else ("", "")
    return Remembered(pasts, prices, settings, picked)


def _picked(grid: Grid) -> tuple[str, str]:
    """What stands in the two boxes."""
    table = _columns(grid, *PICKS)
    if table is None:
        return "", ""
    cells = grid.rows.get(table[0] + 1, {})
    product, outlet = (_text(cells.get(table[1][heading])) for heading in PICKS)
    return product, outlet


def _columns(grid: Grid, *headings: str) -> tuple[int, dict[str, int]] | None:
    """The first row that has all the headings, and where each of them stands."""
    wanted = {heading_key(heading): heading for heading in headings}
    for number, cells in sorted(grid.rows.items()):
        found: dict[str, int] = {}
        for at, cell in sorted(cells.items()):
            if isinstance(cell, str) and heading_key(cell) in wanted:
                found.setdefault(wanted[heading_key(cell)], at)
        if len(found) == len(headings):
            return number, found
    return None


def _pasts(grid: Grid) -> Iterator[Past]:
    table = _columns(grid, *COSTINGS)
    if table is None:
        return
    heading, at = table
    for number, cells in sorted(grid.rows.items()):
        day, product, outlet, cost, charge = (cells.get(at[name]) for name in COSTINGS)
        if number > heading and isinstance(day, date) and isinstance(product, str):
            yield Past(day, product, _text(outlet), _number(cost), _number(charge))


def _text(cell: Cell | None) -> str:
    return cell if isinstance(cell, str) else ""


def _number(cell: Cell | None) -> Decimal | None:
    return cell if isinstance(cell, Decimal) else None


def _typed(grid: Grid, what: str) -> Iterator[tuple[str, Decimal | str]]:
    """Names and the trial values typed beside them, below a heading."""
    table = _columns(grid, what, TRY)
    if table is None:
        return
    heading, at = table
    for number, cells in sorted(grid.rows.items()):
        name, value = cells.get(at[what]), cells.get(at[TRY])
        if number > heading and isinstance(name, str):
            if isinstance(value, Decimal | str):
                yield name, value
        elif number > heading and name is None and number - heading > 1:
            return


def _price(typed: Decimal | str) -> Decimal | str:
    """A price in a box; one typed as text is read, and stays text where it is no price."""
    if not isinstance(typed, str):
        return typed
    price = read_price(typed, NumberStyle.UNKNOWN)
    plain = isinstance(price, Money) and price.per is None
    return price.amount if isinstance(price, Money) and plain else typed


def _settings(grid: Grid) -> Iterator[tuple[str, Decimal | str]]:
    fields = {heading_key(field.title): field for field in INPUT_SHEETS["Settings"].fields}
    for name, typed in _typed(grid, SETTING):
        field = fields.get(heading_key(name))
        if field is not None:
            yield field.name, _setting(field, typed)


def _setting(field: Field, typed: Decimal | str) -> Decimal | str:
    """A setting in a box, as a price is."""
    if not isinstance(typed, str):
        return typed
    if field.kind is Kind.SHARE:
        share = read_share(typed, NumberStyle.UNKNOWN, field.limit)
        return typed if isinstance(share, Unclear) else share
    return _price(typed)
