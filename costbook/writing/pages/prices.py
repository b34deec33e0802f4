"""Prices: what to charge, where the money goes, the day's break-even, and the price ladder."""

from __future__ import annotations

from decimal import Decimal

from costbook.costing.result import not_counted
from costbook.costing.rows import Row
from costbook.costing.structure import LADDER_STEPS
from costbook.definitions.columns import Show
from costbook.writing.description import BarChart, Look, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.page import Context, Page

__all__ = ["prices_page"]

WIDTH = 14
"""Columns of the widest table."""
BARS_AT_MOST = 24
"""Bars that fit one chart; more are left to the table."""

M, S, T, W = Show.MONEY, Show.SHARE, Show.TEXT, Show.WHOLE

CHARGE = (
    ("All it costs before fees", "total", M, Role.COMPUTED),
    ("Target margin", "applied_target_margin", S, Role.COMPUTED),
    ("Price at target", "price_at_target", M, Role.COMPUTED),
    ("CHARGE", "price_on_step", M, Role.ANSWER),
    ("Margin there", "step_margin", S, Role.COMPUTED),
    ("Markup there", "step_markup", S, Role.COMPUTED),
    ("Profit there", "step_profit", M, Role.COMPUTED),
    ("Price now", "price_now", M, Role.COMPUTED),
    ("Margin now", "now_margin", S, Role.COMPUTED),
    ("Markup now", "now_markup", S, Role.COMPUTED),
    ("What to do", "advice", T, Role.FLAG),
    ("Lacks", "lacks", T, Role.FLAG),
)
STACK = (
    ("Ingredients", "ingredients", M, Role.COMPUTED),
    ("Packaging", "packaging", M, Role.COMPUTED),
    ("Labour", "labour", M, Role.COMPUTED),
    ("Kitchen", "kitchen", M, Role.COMPUTED),
    ("Overhead", "overhead", M, Role.COMPUTED),
    ("Selling", "selling", M, Role.COMPUTED),
    ("Fees on the price", "step_fees", M, Role.COMPUTED),
    ("Profit", "step_profit", M, Role.COMPUTED),
    ("Price without tax", "step_before_tax", M, Role.TOTAL),
    ("Known so far", "known", M, Role.COMPUTED),
    ("Still lacks", "lacks", T, Role.FLAG),
)
DAY = (
    ("Units a day to break even, own pay in", "break_even", W, Role.COMPUTED),
    ("The same before own pay", "break_even_without_pay", W, Role.COMPUTED),
    ("Left per unit towards the day", "contribution_per_unit", M, Role.COMPUTED),
    ("Café's shelf price at our price", "shelf_price", M, Role.COMPUTED),
    ("The same with sales tax", "shelf_price_with_tax", M, Role.COMPUTED),
)


def prices_page(context: Context) -> SheetDescription:
    """Describe the sheet Prices."""
    page = Page(context, "Prices")
    rows = context.costing.structure.rows["prices"]
    page.sheet.widths = {0: 26, 1: 18} | dict.fromkeys(range(2, WIDTH - 2), 10.5)
    page.sheet.widths |= {WIDTH - 2: 13, WIDTH - 1: 24}
    _head(page)
    _table(page, "What to charge", rows, CHARGE)
    _note(
        page,
        "CHARGE is the price at the target margin, up to the next step. Margin is what is "
        "left over the price, markup what is left over all cost; both without sales tax.",
    )
    heading, first = _table(page, "Where the money goes, at the price to charge", rows, STACK)
    _chart(page, rows, heading, first)
    _table(page, "The day, and the café's shelf", rows, DAY)
    _ladder(page, rows)
    page.caution(WIDTH)
    return page.sheet


def _head(page: Page) -> None:
    context, sheet = page.context, page.sheet
    name = f"{context.business}: " if context.business else ""
    sheet.line(f"{name}what each pack sold cost, and what to charge", Role.TITLE)
    settings = context.costing.structure.one("settings")
    row = sheet.next_row
    sheet.put(row, 0, f"Costed on (money in {context.money or 'your currency'})", Look(Role.LEAD))
    page.figure((row, 1), (settings, "costed_on"), Show.DATE)
    sheet.next_row += 1
    _banner(page)
    left_out = "; ".join(not_counted(context.costing))
    if left_out:
        sheet.line(f"Not counted, because your workbook has none: {left_out}.", Role.FLAG)
    sheet.next_row += 1


STILL_TRUE = "The rows of your sheets are those that were costed."
COST_AGAIN = (
    " rows of your sheets were added, taken away, renamed or can't be read here since this was "
    "costed: run costbook again."
)


def _banner(page: Page) -> None:
    """Says by itself when a new run is needed: a live count of rows against those costed."""
    since = page.context.layout.absolute(
        page.context.costing.structure.one("since"), "to_cost_again"
    )
    formula = f'=IF({since}=0,"{STILL_TRUE}",{since}&"{COST_AGAIN}")'
    page.sheet.put(page.sheet.next_row, 0, STILL_TRUE, Look(Role.NOTE), formula=formula)
    page.sheet.next_row += 1


Columns = tuple[tuple[str, str, Show, Role], ...]


def _table(page: Page, title: str, rows: list[Row], columns: Columns) -> tuple[int, int]:
    """One table with a row a product and outlet; gives its heading row and first row."""
    page.sheet.line(title, Role.SECTION)
    heading = page.headings(("Product", "Outlet", *(name for name, *_ in columns)))
    first = page.sheet.next_row
    for row in rows:
        at = page.sheet.next_row
        _names(page, at, row)
        for number, (_, column, show, role) in enumerate(columns, 2):
            linked = column in ("total", "price_on_step")
            page.figure((at, number), (row, column), show, role, linked=linked)
        page.sheet.next_row += 1
    page.sheet.next_row += 1
    return heading, first


def _names(page: Page, at: int, row: Row) -> None:
    product, outlet = str(row.fixed["product"]), str(row.fixed["outlet"] or "—")
    page.sheet.put(at, 0, product, Look(Role.LABEL), link=card_link(page.context, product))
    page.sheet.put(at, 1, outlet, Look(Role.LABEL))


def card_link(context: Context, product: str) -> str:
    """The address of a product's cost card."""
    from costbook.writing.pages.cards import card_rows

    at = card_rows(context)[product]
    return f"{sheet_name(context.tabs['Cost cards'])}!A{at + 1}"


def _note(page: Page, text: str) -> None:
    page.sheet.next_row -= 1
    page.sheet.line(text, Role.NOTE)
    page.sheet.next_row += 1


def _chart(page: Page, rows: list[Row], heading: int, first: int) -> None:
    shown = rows[:BARS_AT_MOST]
    if not shown:
        return
    last = first + len(shown) - 1
    title = _message(page, shown)
    money = page.context.money or "money"
    page.sheet.charts.append(
        BarChart(
            title,
            f"{money} a pack",
            heading,
            first,
            last,
            (0, 1),
            tuple(range(2, 10)),
            page.sheet.next_row,
        )
    )
    page.sheet.next_row += 9 + 2 * len(shown)


def _message(page: Page, rows: list[Row]) -> str:
    """The chart's one message: the largest part of the cost, over all products."""
    parts = {name: column for name, column, *_ in STACK[:6]}
    sums = {name: _sum(page.value((row, column)) for row in rows) for name, column in parts.items()}
    whole = sum(sums.values())
    if not whole:
        return "Where the money of a pack goes"
    largest = max(sums, key=lambda name: sums[name])
    return (
        f"{largest} is the largest part of the cost: {sums[largest] / whole:.0%} over all products"
    )


def _sum(values: object) -> Decimal:
    return sum((v for v in values if isinstance(v, Decimal)), Decimal(0))  # type: ignore[attr-defined]


def _ladder(page: Page, rows: list[Row]) -> None:
    """Profit at the prices around the price to charge, a row of prices and one of profits each."""
    context = page.context
    page.sheet.line("Price ladder: what is left of a pack at each step", Role.SECTION)
    names = [_step_name(away) for away in range(-LADDER_STEPS, LADDER_STEPS + 1)]
    page.headings(("Product", "Outlet", "", *names))
    steps = context.costing.structure.rows["ladder"]
    each = 2 * LADDER_STEPS + 1
    for number, row in enumerate(rows):
        at = page.sheet.next_row
        _names(page, at, row)
        for line, (label, column) in enumerate(
            (("price", "ladder_price"), ("profit", "ladder_profit"))
        ):
            page.sheet.put(at + line, 2, label, Look(Role.LABEL))
            for step in range(each):
                role = Role.ANSWER if step == LADDER_STEPS else Role.COMPUTED
                ref = (steps[number * each + step], column)
                page.figure((at + line, 3 + step), ref, M, role)
        page.sheet.next_row += 2


def _step_name(away: int) -> str:
    if not away:
        return "CHARGE"
    plural = "s" if abs(away) > 1 else ""
    return f"{abs(away)} step{plural} {'below' if away < 0 else 'above'}"
