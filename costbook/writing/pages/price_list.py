"""A price list to hang on the stall: what there is and what it costs, large, and nothing else."""

from __future__ import annotations

from collections.abc import Callable

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.pages.card_parts import BATCH, EACH, LAST
from costbook.writing.pages.page import Page

__all__ = ["PRICE_LIST", "price_list"]

PRICE_LIST = "#page: Price list"
"""The link to it."""


def price_list(page: Page, begin_page: Callable[[], None]) -> None:
    """One page: the name of the business, and each product of a stall at its price now.

    Where no price is typed, the line stays open, to be written on.
    """
    sold = _at_a_stall(page)
    if not sold:
        return
    begin_page()
    sheet = page.sheet
    sheet.anchors[PRICE_LIST[1:]] = (sheet.next_row, 0)
    _large(page, page.context.business or "Prices", 0, LAST)
    sheet.next_row += 2
    for row in sold:
        at = sheet.next_row
        _large(page, str(row.fixed["product"]), 0, BATCH - 1)
        sheet.put(at, BATCH, page.context.sign, Look(Role.LARGE, Show.NUMBER))
        cell, now = page.context.layout.absolute(row, "price_now"), page.value((row, "price_now"))
        price = Look(Role.LARGE, Show.MONEY)
        sheet.put(at, EACH, now or "", price, formula=f'=IF({cell}="","",{cell})')
        sheet.merged.append((at, EACH, at, LAST))
        sheet.next_row += 1


def _at_a_stall(page: Page) -> list[Row]:
    """Each product's row of prices at the first stall that it stands at."""
    found: dict[str, Row] = {}
    for row in page.context.costing.structure.rows["prices"]:
        if page.value((row, "kind")) in (None, "", "stall"):
            found.setdefault(str(row.fixed["product"]), row)
    return list(found.values())


def _large(page: Page, text: str, first: int, last: int) -> None:
    at = page.sheet.next_row
    page.sheet.put(at, first, text, Look(Role.LARGE, wrap=True))
    page.sheet.merged.append((at, first, at, last))
