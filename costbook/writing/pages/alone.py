"""Each product alone: how many of it pay for a day, and what it costs on a café's shelf."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.pages.cards import card_link
from costbook.writing.pages.page import Page, look_of
from costbook.writing.pages.parted import product_of

__all__ = ["alone"]

AloneColumn = tuple[str, str, Show, Role | None]

FOR_A_DAY: Final[tuple[AloneColumn, ...]] = (
    ("Units a day", "break_even", Show.WHOLE, Role.SUM),
    ("Before own pay", "break_even_without_pay", Show.WHOLE, None),
    ("Left for the day", "contribution_per_unit", Show.MONEY, None),
)
ON_A_SHELF: Final[tuple[AloneColumn, ...]] = (
    ("Café's price", "shelf_price", Show.MONEY, None),
    ("With sales tax", "shelf_price_with_tax", Show.MONEY, None),
)
FIRST, ABREAST = 1, 12
"""The first column of the first outlet, and how many columns of outlets stand side by side."""
NOTE = (
    "Alone: as if nothing else were sold that day; in the usual mix, see below. It is known where "
    "Outlets has a day's costs and units sold, a shelf price where it has a margin of theirs."
)

OutletAlone = tuple[str, tuple[AloneColumn, ...]]
"""An outlet's name, and what is shown of it."""


def alone(page: Page, rows: Sequence[Row], across: int) -> None:
    """A row a product, its outlets side by side; those that there is no room for stand below."""
    for number, outlets in enumerate(_bands(page, rows)):
        title = f"How many of each alone pay for a day, and the café's shelf ({page.context.sign})"
        page.section(f"{title}, at further outlets" if number else title, across)
        if not number:
            page.sheet.line(NOTE, Role.NOTE, across=across)
        _band(page, rows, outlets, across)
        page.sheet.next_row += 1


def _bands(page: Page, rows: Sequence[Row]) -> Iterator[list[OutletAlone]]:
    band: list[OutletAlone] = []
    for name, columns in _outlets(page, rows).items():
        if sum(len(each) for _, each in band) + len(columns) > ABREAST:
            yield band
            band = []
        band.append((name, columns))
    yield band


def _outlets(page: Page, rows: Sequence[Row]) -> dict[str, tuple[AloneColumn, ...]]:
    """The outlets in their order; one that puts a margin of its own on a price has a shelf."""
    found: dict[str, tuple[AloneColumn, ...]] = {}
    for row in rows:
        shelf = page.value((row, "their_margin")) is not None
        columns = (*FOR_A_DAY, *ON_A_SHELF) if shelf else FOR_A_DAY
        found.setdefault(_outlet_of(row), columns)
    return found


def _band(page: Page, rows: Sequence[Row], outlets: Sequence[OutletAlone], across: int) -> None:
    sheet, at = page.sheet, FIRST
    first: dict[str, int] = {}
    for name, columns in outlets:
        first[name] = at
        if name:
            sheet.put(sheet.next_row, at, name, Look(Role.SUM, indent=1))
            sheet.merged.append((sheet.next_row, at, sheet.next_row, at + len(columns) - 1))
        at += len(columns)
    sheet.next_row += 1 if any(first) else 0
    every = [column for _, columns in outlets for column in columns]
    shows = (Show.TEXT, *(show for _, _, show, _ in every))
    page.headings(("Product", *(name for name, *_ in every)), shows=shows, across=across)
    shown = dict(outlets)
    for product, its in groupby(rows, product_of):
        here = [row for row in its if _outlet_of(row) in first]
        if here:
            look, link = look_of(Role.LABEL, Show.TEXT, 0), card_link(product)
            page.figure((sheet.next_row, 0), (here[0], "product"), Show.TEXT, look=look, link=link)
            for row in here:
                _figures(page, row, first[_outlet_of(row)], shown[_outlet_of(row)])
            sheet.next_row += 1


def _figures(page: Page, row: Row, first: int, columns: Sequence[AloneColumn]) -> None:
    for column, (_, figure, show, role) in enumerate(columns, first):
        on_no_shelf = ((row, "their_margin"), False) if figure.startswith("shelf_price") else None
        at = (page.sheet.next_row, column)
        page.figure(at, (row, figure), show, role, dash_if=on_no_shelf)


def _outlet_of(row: Row) -> str:
    return str(row.fixed["outlet"] or "")
