"""The price ladder: what is left of a pack at the prices around the price to charge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from costbook.costing.structure import LADDER_STEPS, Row
from costbook.definitions.columns import Show
from costbook.writing.description import ColumnChart, Role, Series
from costbook.writing.pages.at_least import charge
from costbook.writing.pages.cards import card_link
from costbook.writing.pages.page import Page, look_of
from costbook.writing.pages.parted import parted, product_of, row_height

__all__ = ["ladder", "ladder_table"]

FIRST = 3
EACH = 2 * LADDER_STEPS + 1
ROOM, LINE = 600.0, 15.0
"""How high the lines on one page may be, and the second line of a product [points]."""


def ladder(page: Page, rows: Sequence[Row], across: int) -> None:
    """The table of the ladder, and the lines of its first product as columns."""
    drawn = ladder_table(page, rows, across)
    if drawn:
        _draw(page, *drawn, across)


def ladder_table(page: Page, rows: Sequence[Row], across: int) -> tuple[Row, int] | None:
    """A line of prices and one of profits for each product and outlet.

    Gives the first product that has a price to charge, and the row it stands in.
    """
    steps = page.context.costing.structure.rows["ladder"]
    shows = (*[Show.TEXT] * FIRST, *[Show.MONEY] * EACH)
    drawn: tuple[Row, int] | None = None

    def high(row: Row) -> float:
        return LINE + row_height(page, {0: product_of(row), 1: str(row.fixed["outlet"])})

    for number, part in enumerate(parted(rows, high, ROOM)):
        more = ", continued" if number else ""
        title = f"Price ladder ({page.context.sign} a pack): what is left at each step{more}"
        page.section(title, across)
        page.headings(("Product", "Sold at", "", *_step_names()), shows=shows, across=across)
        first = page.sheet.next_row
        for row in part:
            if drawn is None and isinstance(page.value((row, "price_on_step")), Decimal):
                drawn = row, page.sheet.next_row
            _rungs(page, row, steps[row.index * EACH : (row.index + 1) * EACH])
        page.mark_unknown(first, range(FIRST, FIRST + EACH))
        page.sheet.next_row += 1
    return drawn


def _rungs(page: Page, row: Row, steps: Sequence[Row]) -> None:
    at, product = page.sheet.next_row, str(row.fixed["product"])
    name = look_of(Role.LABEL, Show.TEXT, 0, ruled=True)
    page.figure((at, 0), (row, "product"), Show.TEXT, look=name, link=card_link(product))
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


def _draw(page: Page, row: Row, at: int, across: int) -> None:
    """Columns for one product: profit over price, from its two lines of the ladder."""
    outlet = f" at {row.fixed['outlet']}" if row.fixed["outlet"] else ""
    last = FIRST + EACH - 1
    page.section("The ladder of the first product, drawn", across)
    page.sheet.next_row += 1
    page.sheet.put_chart(
        ColumnChart(
            f"Each step up leaves more of a pack of {row.fixed['product']}{outlet}",
            f"left of a pack, {page.context.sign}",
            (at, FIRST, at, last),
            (Series("left of a pack", (at + 1, FIRST, at + 1, last), (None,) * EACH),),
            page.sheet.next_row,
            category_title=f"price, {page.context.sign}: the middle one is {charge(page.context)}",
        )
    )


def _step_names() -> Iterator[str]:
    for away in range(-LADDER_STEPS, LADDER_STEPS + 1):
        plural = "s" if abs(away) > 1 else ""
        where = "below" if away < 0 else "above"
        yield f"{abs(away)} step{plural} {where}" if away else "CHARGE"
