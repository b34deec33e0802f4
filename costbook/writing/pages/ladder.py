"""The price ladder: what is left of a pack at the prices around the price to charge.

One ladder, for the product and the outlet that are picked: boxes that keep what is chosen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any, Final

from costbook.book import Value
from costbook.costing.structure import Row
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.ours.kept import PICKED
from costbook.writing.description import Choices, ColumnChart, Look, Role, Series
from costbook.writing.layout import sheet_name
from costbook.writing.pages.at_least import charge
from costbook.writing.pages.in_words import picked, words_of_the_pick
from costbook.writing.pages.page import Page, look_of

__all__ = ["ladder"]

STEPS: Final = range(-3, 4)
"""The rungs: steps below and above the price on the step."""
FIRST = 3
WIDE, HIGH = 520, 150
"""The chart beside the ladder, no higher than it with its title and the line below [pixels]."""

UNSEEN_ROW = 4.0
"""How high the row of the figures of what is picked is [points]."""

Figure = tuple[str, Value]
"""Where a figure stands, as a formula says it, and what it is."""
LadderFigures = Mapping[str, Figure]


def ladder(page: Page, rows: Sequence[Row], across: int) -> None:
    """A line of prices and one of profits for what is picked, as columns too; and why, in words."""
    if not rows:
        return
    sheet, sign = page.sheet, page.context.sign
    page.section(f"Price ladder ({sign} a pack): what is left at each step", across)
    text = "Choose in the two boxes: the steps follow, and the next run keeps your choice."
    sheet.line(text, Role.NOTE, across=across)
    shows = (*[Show.TEXT] * FIRST, *[Show.MONEY] * len(STEPS))
    page.headings((*PICKED.headings, "", *_step_names()), shows=shows)
    at = sheet.next_row
    row = picked(page.context)
    number = _boxes(page, at, row)
    figures = _of_the_pick(page, at + 2, number, row)
    for line, label in enumerate(("price", "left")):
        sheet.put(at + line, FIRST - 1, label, look_of(Role.LABEL, Show.TEXT, FIRST - 1))
    _profits(page, at + 1, figures, _prices(page, at, figures))
    sheet.next_row += 2
    page.mark_unknown(at, range(FIRST, FIRST + len(STEPS)))
    sheet.heights[sheet.next_row] = UNSEEN_ROW
    sheet.next_row += 1
    _draw(page, at)
    now = {name: cell for name, (cell, _) in figures.items()}
    words_of_the_pick(page, number, row, now, across)


def _boxes(page: Page, at: int, row: Row) -> str:
    """The two boxes with their drop-downs; below them, unseen, which row of Workings is meant.

    Gives the address of that number: 0 where nothing is sold so.
    """
    layout, sheet = page.context.layout, page.sheet
    tab, tests = sheet_name(layout.tab), []
    for column, (name, table) in enumerate((("product", "products"), ("outlet", "outlets"))):
        picked = str(row.fixed[name] or "")
        if picked:
            sheet.put(at, column, picked, Look(Role.TYPE_HERE, Show.TEXT, wrap=True))
            listed = f"={tab}!{layout.column_range(table, name)}"
            sheet.choices.append(Choices(column, at, at, source=listed))
            of_all = f"{tab}!{layout.column_range('prices', name)}"
            tests.append(f"({of_all}={page.address(at, column)})")
    rows = f"{tab}!{layout.column_range('prices', 'product')}"
    number = f"=SUMPRODUCT({'*'.join(tests)}*(ROW({rows})-{layout.first['prices'] - 1}))"
    sheet.put(at + 1, 0, Decimal(row.index + 1), Look(Role.UNSEEN), formula=number)
    return page.address(at + 1, 0)


def _prices(page: Page, at: int, of_pick: LadderFigures) -> list[Figure]:
    """The line of prices: where each stands, and what it is."""
    settings = page.context.costing.structure.one("settings")
    step = (
        page.context.layout.absolute(settings, "price_step"),
        page.value((settings, "price_step")),
    )
    own = {"price_on_step": of_pick["price_on_step"], "price_step": step}
    return [
        _rung(
            page, at, column, rules.ladder_price, own | {"steps_away": (str(away), Decimal(away))}
        )
        for column, away in enumerate(STEPS, FIRST)
    ]


def _profits(page: Page, at: int, of_pick: LadderFigures, prices: Sequence[Figure]) -> None:
    """The line of what is left at each of the prices."""
    own = {name: of_pick[name] for name in ("tax_in_price", "fee_share", "total")}
    for column, price in enumerate(prices, FIRST):
        _rung(page, at, column, rules.ladder_profit, own | {"ladder_price": price})


def _rung(page: Page, at: int, column: int, rule: Callable[..., Any], own: LadderFigures) -> Figure:
    plain = Role.COMPUTED if rule is rules.ladder_price else Role.SUM
    middle = column - FIRST == len(STEPS) // 2
    look = look_of(Role.ANSWER if middle else plain, Show.MONEY, column)
    return page.address(at, column), page.ruled((at, column), rule, own, look)


def _of_the_pick(page: Page, at: int, number: str, row: Row) -> LadderFigures:
    """The figures of what is picked, unseen in a row of their own."""
    layout, found = page.context.layout, {}
    for column, name in enumerate(("price_on_step", "tax_in_price", "fee_share", "total"), FIRST):
        of_all = f"{sheet_name(layout.tab)}!{layout.column_range('prices', name)}"
        formula = f'=IF({number}=0,"",INDEX({of_all},MAX({number},1)))'
        value = page.value((row, name))
        page.sheet.put(at, column, value, Look(Role.UNSEEN), formula=formula)
        found[name] = page.address(at, column), value
    return found


def _draw(page: Page, at: int) -> None:
    """The same two lines as columns, right of them: profit over price."""
    last = FIRST + len(STEPS) - 1
    page.sheet.charts.append(
        ColumnChart(
            "Each step up leaves more of a pack of what is picked",
            f"left of a pack, {page.context.sign}",
            (at, FIRST, at, last),
            (Series("left of a pack", (at + 1, FIRST, at + 1, last), (None,) * len(STEPS)),),
            at - 2,
            last + 1,
            width=WIDE,
            height=HIGH,
            category_title=f"price, {page.context.sign}: the middle one is {charge(page.context)}",
        )
    )


def _step_names() -> Iterator[str]:
    for away in STEPS:
        plural = "s" if abs(away) > 1 else ""
        where = "below" if away < 0 else "above"
        yield f"{abs(away)} step{plural} {where}" if away else "CHARGE"
