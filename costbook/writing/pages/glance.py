"""Prices at a glance: one row a product, its outlets side by side, on one screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import groupby
from typing import Final

from costbook.costing.structure import Row
from costbook.deciding.in_short import RAISED_FIRST, raised_first
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.pages.cards import card_link
from costbook.writing.pages.page import Page, look_of
from costbook.writing.pages.parted import product_of

__all__ = ["glance"]

OF_AN_OUTLET: Final = (
    ("CHARGE", "price_on_step", Show.MONEY, Role.ANSWER),
    ("Price now", "price_now", Show.MONEY, Role.GIVEN),
    ("What to do", "advice", Show.TEXT, Role.LABEL),
)
ABREAST: Final = 3
"""Outlets side by side: more would leave a screen of 1,366 pixels."""
SHORT: Final = len("above target")
"""Words of advice that fit in one line, as all do but those while a part is not counted."""
FIRST = 1
"""The first column of the first outlet; what a pack costs to make stands behind the last."""


def glance(page: Page, rows: Sequence[Row], across: int) -> None:
    """What to charge for each product, three outlets abreast; further ones below."""
    outlets = list(dict.fromkeys(str(row.fixed["outlet"] or "") for row in rows))
    for first in range(0, len(outlets), ABREAST):
        more = ", at further outlets" if first else ""
        page.section(f"At a glance ({page.context.sign} a pack){more}", across)
        _band(page, rows, outlets[first : first + ABREAST])
        page.sheet.next_row += 1


def _band(page: Page, rows: Sequence[Row], outlets: Sequence[str]) -> None:
    sheet, width = page.sheet, len(OF_AN_OUTLET)
    if outlets != [""]:
        for number, outlet in enumerate(outlets):
            at = FIRST + number * width
            sheet.put(sheet.next_row, at, outlet, Look(Role.SUM, indent=1))
            sheet.merged.append((sheet.next_row, at, sheet.next_row, at + width - 1))
        sheet.next_row += 1
    columns = OF_AN_OUTLET * len(outlets)
    names = ("Product", *(name for name, *_ in columns), "Cost made")
    page.headings(names, shows=(Show.TEXT, *(show for _, _, show, _ in columns), Show.MONEY))
    first = sheet.next_row
    for _, its in groupby(rows, product_of):
        if here := [row for row in its if str(row.fixed["outlet"] or "") in outlets]:
            _line(page, here, outlets)
    page.mark_unknown(first, range(FIRST, FIRST + len(columns) + 1))
    least = _least_of_the_first(page, first - 1, len(columns) + FIRST + 1)
    for number in range(len(outlets)):
        short = page.address(first, len(columns) + FIRST + 1 + number)
        test = f"AND(ISNUMBER({short}),{short}>0,{short}>={least})"
        page.mark(first, (FIRST + (number + 1) * width - 1,), test)


def _least_of_the_first(page: Page, at: int, column: int) -> str:
    """How far below its price to charge the last of those to raise first is; where it stands.

    Unseen: only what stands on a sheet may be asked by the marks on it.
    """
    layout, costing = page.context.layout, page.context.costing
    every = f"{sheet_name(layout.tab)}!{layout.column_range('prices', 'short_by')}"
    rows = raised_first(costing)
    least = costing.of(rows[-1])["short_by"] if len(rows) == RAISED_FIRST else Decimal(0)
    formula = f"=IFERROR(LARGE({every},{RAISED_FIRST}),0)"
    page.sheet.put(at, column, least, Look(Role.UNSEEN), formula=formula)
    row, letter = at + 1, column_letters(column)
    return f"${letter}${row}"


def _line(page: Page, rows: Sequence[Row], outlets: Sequence[str]) -> None:
    at, product = page.sheet.next_row, product_of(rows[0])
    name = look_of(Role.LABEL, Show.TEXT, 0)
    page.figure((at, 0), (rows[0], "product"), Show.TEXT, look=name, link=card_link(product))
    made = FIRST + len(OF_AN_OUTLET) * len(outlets)
    page.figure((at, made), (rows[0].links["products"], "made"), Show.MONEY)
    for row in rows:
        number = outlets.index(str(row.fixed["outlet"] or ""))
        first = FIRST + len(OF_AN_OUTLET) * number
        short, unseen = (row, "short_by"), Look(Role.UNSEEN)
        formula = f"={page.context.layout.absolute(*short)}"
        page.sheet.put(at, made + 1 + number, page.value(short), unseen, formula=formula)
        typed = page.context.link_to(row.sources.get("Products"), "current_price")
        for column, (_, figure, show, role) in enumerate(OF_AN_OUTLET, first):
            link = typed if role is Role.GIVEN else ""
            look = look_of(role, show, column)
            if len(str(page.value((row, figure)))) <= SHORT:
                look = replace(look, wrap=False)
            page.figure((at, column), (row, figure), show, look=look, link=link)
    page.sheet.next_row += 1
