"""Where a pack's price goes, part by part: a table of shares, and a bar a product."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from costbook.book import Value
from costbook.costing.structure import Row
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.definitions.parts import PARTS
from costbook.writing.description import BarChart, Look, Role
from costbook.writing.pages.cards import card_link
from costbook.writing.pages.page import Page, look_of
from costbook.writing.pages.parted import parted, product_of, row_height

__all__ = ["bars"]

COSTS = tuple((part.title, part.name) for part in PARTS)
"""The costs that the fees and the profit don't move."""
BARS = (*COSTS, ("Fees", "step_fees"), ("Profit", "step_profit"))
"""What a price without tax is made of, from left to right."""
FIRST = 2
ROOM, BAR = 480.0, 24.0
"""How high a chart's rows and bars on one page may be, and a bar of it [points]."""
WIDE_ENOUGH = Decimal("0.055")
"""The least share whose figure fits into its part of a bar."""

Shares = list[Value]


def bars(page: Page, across: int) -> None:
    """The shares of each product's price at its first outlet, as figures and as bars."""
    here = page.context.costing.structure.at_first_outlet()
    whole = [row for row in here if _is_whole(page, row)]
    if not whole:
        return
    outlets = list(dict.fromkeys(str(row.fixed["outlet"] or "") for row in whole))
    at = f" at {' or '.join(outlets)}" if any(outlets) else ""
    message = _message(page, whole, at)

    def high(row: Row) -> float:
        return BAR + row_height(page, {0: product_of(row)})

    for part in parted(whole, high, ROOM):
        page.section(f"What the price of a pack goes on{at}, in shares", across)
        _shares_and_bars(page, part, message)
    left = [str(row.fixed["product"]) for row in here if row not in whole]
    if left:
        text = f"No bar for {', '.join(left)}: a part of the price is not known yet."
        page.sheet.line(text, Role.FLAG, across=across)
        page.sheet.next_row += 1


def _is_whole(page: Page, row: Row) -> bool:
    """Whether every part is known, and none below nothing: else a bar would show too much."""
    return all(
        isinstance(value := page.value((row, part)), Decimal) and value >= 0 for _, part in BARS
    )


def _shares_and_bars(page: Page, rows: Sequence[Row], message: str) -> None:
    sheet = page.sheet
    names = ("Product", "", *(name for name, _ in BARS))
    shows = (Show.TEXT, Show.TEXT, *(Show.SHARE for _ in BARS))
    heading = page.headings(names, shows=shows, across=FIRST + len(BARS))
    key = _key_row(page)
    shares = [_shares(page, row) for row in rows]
    page.mark_unknown(key + 1, range(FIRST, FIRST + len(BARS)))
    sheet.next_row += 1
    sheet.put_chart(
        BarChart(
            message,
            "",
            heading,
            key,
            key + len(rows),
            (0, 0),
            tuple(range(FIRST, FIRST + len(BARS))),
            sheet.next_row,
            whole=True,
            in_bars=_labels(shares),
        )
    )


def _key_row(page: Page) -> int:
    """A row of equal parts that can't be seen: its bar names the parts of the bars below it."""
    at = page.sheet.next_row
    for number in range(len(BARS)):
        page.sheet.put(at, FIRST + number, Decimal(1), Look(Role.UNSEEN, Show.SHARE))
    page.sheet.heights[at] = 4
    page.sheet.next_row += 1
    return at


def _shares(page: Page, row: Row) -> Shares:
    at, product = page.sheet.next_row, str(row.fixed["product"])
    name = look_of(Role.LABEL, Show.TEXT, 0)
    page.figure((at, 0), (row, "product"), Show.TEXT, look=name, link=card_link(product))
    whole = (row, "step_before_tax")
    page.sheet.next_row += 1
    return [
        page.computed(
            (at, FIRST + number),
            rules.share_of,
            {"part": (row, part), "whole": whole},
            Show.SHARE,
            Role.SUM if part == "step_profit" else Role.COMPUTED,
        )
        for number, (_, part) in enumerate(BARS)
    ]


def _labels(shares: list[Shares]) -> tuple[tuple[str | None, ...], ...]:
    """Each part is named in the first bar; its figure stands in it where there is room."""
    return tuple(
        (name, *(_label(each[number]) for each in shares)) for number, (name, _) in enumerate(BARS)
    )


def _label(share: Value) -> str | None:
    return None if isinstance(share, Decimal) and share >= WIDE_ENOUGH else ""


def _message(page: Page, rows: list[Row], at: str) -> str:
    """The one thing the bars say, with its day: the cost that is largest most often."""
    day = page.context.costing.structure.day_in_words
    largest = [_largest(page, row) for row in rows]
    most = max(dict.fromkeys(largest), key=largest.count)
    of = f"of {largest.count(most)} of the {len(rows)} products"
    if len(rows) == 1:
        of = f"of {rows[0].fixed['product']}"
    return f"{most} is the largest cost {of}{at} (as costed on {day})"


def _largest(page: Page, row: Row) -> str:
    def figure(part: tuple[str, str]) -> Decimal:
        value = page.value((row, part[1]))
        return value if isinstance(value, Decimal) else Decimal(0)

    return max(COSTS, key=figure)[0]
