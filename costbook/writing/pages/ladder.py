"""The price ladder: what is left of a pack at the prices around the price to charge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from costbook.costing.structure import LADDER_STEPS, Row
from costbook.definitions.columns import Show
from costbook.writing.description import ColumnChart, Role, Series
from costbook.writing.pages.cards import card_link
from costbook.writing.pages.page import Page, look_of

__all__ = ["ladder"]

FIRST = 3
EACH = 2 * LADDER_STEPS + 1
ROWS_TOGETHER = 15
"""Products and outlets of which both lines are kept on one page."""


def ladder(page: Page, rows: Sequence[Row], across: int) -> None:
    """A line of prices and one of profits for each product and outlet, and the first as columns."""
    steps = page.context.costing.structure.rows["ladder"]
    numbered = list(enumerate(rows))
    drawn = False
    for start in range(0, len(rows), ROWS_TOGETHER):
        more = ", continued" if start else ""
        title = f"Price ladder ({page.context.sign} a pack): what is left at each step{more}"
        page.section(title, across)
        names = ("Product", "Sold at", "", *_step_names())
        page.headings(names, shows=(*[Show.TEXT] * FIRST, *[Show.MONEY] * EACH), across=across)
        first = page.sheet.next_row
        for number, row in numbered[start : start + ROWS_TOGETHER]:
            _rungs(page, row, steps[number * EACH : (number + 1) * EACH])
        page.mark_unknown(first, range(FIRST, FIRST + EACH))
        page.sheet.next_row += 1
        if not drawn:
            drawn = _draw_first(page, rows[start : start + ROWS_TOGETHER], first)


def _rungs(page: Page, row: Row, steps: Sequence[Row]) -> None:
    at, product = page.sheet.next_row, str(row.fixed["product"])
    name = look_of(Role.LABEL, Show.TEXT, 0, ruled=True)
    page.sheet.put(at, 0, product, name, link=card_link(product))
    outlet = str(row.fixed["outlet"] or "—")
    page.sheet.put(at, 1, outlet, look_of(Role.LABEL, Show.TEXT, 1, ruled=True))
    for line, (label, column) in enumerate((("price", "ladder_price"), ("left", "ladder_profit"))):
        ruled = line == 0
        page.sheet.put(at + line, 2, label, look_of(Role.LABEL, Show.TEXT, 2, ruled=ruled))
        plain = Role.SUM if line else Role.COMPUTED
        for step in range(EACH):
            role = Role.ANSWER if step == LADDER_STEPS else plain
            look = look_of(role, Show.MONEY, FIRST + step, ruled=ruled)
            page.figure((at + line, FIRST + step), (steps[step], column), Show.MONEY, look=look)
    page.sheet.next_row += 2


def _draw_first(page: Page, rows: Sequence[Row], first: int) -> bool:
    """Columns for the first product whose price is known: profit over price."""
    known = [n for n, row in enumerate(rows) if isinstance(_charge(page, row), Decimal)]
    if not known:
        return False
    row, at = rows[known[0]], first + 2 * known[0]
    outlet = f" at {row.fixed['outlet']}" if row.fixed["outlet"] else ""
    last = FIRST + EACH - 1
    page.sheet.put_chart(
        ColumnChart(
            f"Each step up leaves more of a pack of {row.fixed['product']}{outlet}",
            f"left of a pack, {page.context.sign}",
            (at, FIRST, at, last),
            (Series("left of a pack", (at + 1, FIRST, at + 1, last), (None,) * EACH),),
            page.sheet.next_row,
            category_title=f"price, {page.context.sign}: the middle one is CHARGE",
        )
    )
    return True


def _charge(page: Page, row: Row) -> object:
    return page.value((row, "price_on_step"))


def _step_names() -> Iterator[str]:
    for away in range(-LADDER_STEPS, LADDER_STEPS + 1):
        plural = "s" if abs(away) > 1 else ""
        where = "below" if away < 0 else "above"
        yield f"{abs(away)} step{plural} {where}" if away else "CHARGE"
