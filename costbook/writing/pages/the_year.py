"""The year: what a tax preparer asks for, in the order in which it is asked; live.

Only what was in stock at its beginning is as of the run: that is the whole book as it was then.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from costbook.book import Value
from costbook.costing.structure import Row
from costbook.deciding.counted import InStock
from costbook.deciding.year import (
    BEGINNING,
    COST_OF_GOODS,
    FOR_YOUR_PREPARER,
    NOT_SAID,
    TRAVEL,
    Year,
    YearLine,
)
from costbook.deciding.year_sums import the_year
from costbook.definitions.columns import Show
from costbook.definitions.year_rules import cost_of_goods
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import (
    MONEY_WIDTH,
    UNASKED_MARK,
    UNKNOWN_MARK,
    Context,
    Page,
    look_of,
)

__all__ = ["THE_YEAR", "the_year_page"]

THE_YEAR: Final = "The year"
WIDTH: Final = 6
NOTE_AT: Final = 2
_FOLLOWS: Final = (
    "It follows what you type on Market days, Sales, Purchases, Counts and Made. Only which year "
    "it is, the inventory at its beginning, and which kinds, outlets and items have a line are as "
    "of the run. The order is that of a sole proprietor's return, as an example of an order."
)


def the_year_page(context: Context) -> SheetDescription:
    """Describe the sheet The year."""
    page, found = Page(context, THE_YEAR), the_year(context.costing)
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = {0: 40.0} | dict.fromkeys(range(1, WIDTH), MONEY_WIDTH)
    sheet.line(f"The year {found.name} ({context.sign})", Role.TITLE)
    step_row(context, sheet, WIDTH)
    sheet.line(FOR_YOUR_PREPARER, Role.FLAG)
    sheet.line(_FOLLOWS, Role.NOTE, across=WIDTH)
    first = sheet.next_row
    _until(page, found)
    _lines(page, found)
    _months(page)
    if found.cap:
        _cap(page)
    _stock_now(page, "Inventory at the end")
    _stock_before(page, found.start)
    page.mark_unknown(first, range(1, WIDTH))
    page.caution(WIDTH)
    return sheet


def _one(page: Page, table: str = "this_year") -> Row:
    return page.context.costing.structure.one(table)


def _until(page: Page, found: Year) -> None:
    """The last day that counts, why sums aren't known, and that the year is over."""
    sheet, at = page.sheet, page.sheet.next_row
    book = page.context.costing.structure.book
    first, last = book.written(found.first), book.written(found.last)
    sheet.put(at, 0, f"From {first}, up to", look_of(Role.LABEL, Show.TEXT, 0))
    page.figure((at, 1), (_one(page), "until"), Show.DATE)
    page.figure((at, 2), (_one(page, "year_span"), "year_lacks"), Show.TEXT, Role.LABEL)
    sheet.merged.append((at, 2, at, WIDTH - 1))
    sheet.next_row += 1
    today = page.context.layout.absolute(
        page.context.costing.structure.one("settings"), "costed_on"
    )
    ends = page.context.layout.absolute(_one(page), "last_day")
    said = f"The year ended on {last}: run costbook again for the new one."
    sheet.put(
        sheet.next_row,
        0,
        "",
        Look(Role.LABEL, wrap=True),
        formula=f'=IF({today}>{ends},"{said}","")',
    )
    sheet.merged.append((sheet.next_row, 0, sheet.next_row, WIDTH - 1))
    sheet.next_row += 1
    page.mark(at, (2,), '{cell}<>""')
    page.mark(at + 1, (0,), '{cell}<>""')


def _lines(page: Page, found: Year) -> None:
    rows: dict[str, int] = {}
    for section, its in groupby(found.lines(), key=lambda each: each.section):
        page.section(section, WIDTH)
        for line in its:
            rows[line.name] = page.sheet.next_row
            if line.name == COST_OF_GOODS:
                _cost_of_goods(page, found, rows[BEGINNING])
            else:
                _figure(page, line)
            at = page.sheet.next_row
            label = Role.TOTAL if line.total else Role.LABEL
            page.sheet.put(at, 0, line.name, look_of(label, Show.TEXT, 0))
            note = _live_note(page, line)
            page.sheet.put(
                at, NOTE_AT, line.note or None, look_of(Role.NOTE, Show.TEXT, NOTE_AT), formula=note
            )
            page.sheet.merged.append((at, NOTE_AT, at, WIDTH - 1))
            page.sheet.next_row += 1
        page.sheet.next_row += 1


def _figure(page: Page, line: YearLine) -> None:
    at = page.sheet.next_row, 1
    role = Role.TOTAL if line.total else Role.COMPUTED
    show = Show.NUMBER if line.column == "year_own_hours" else Show.MONEY
    kinds = {str(row.fixed["kind"]): row for row in _rows(page, "year_kinds")}
    if line.column or line.kind == NOT_SAID:
        page.figure(at, (_one(page), line.column or "bought_otherwise"), show, role)
    elif line.kind:
        page.figure(at, (kinds[line.kind], "bought"), show, role)
    else:
        shown: Value = UNKNOWN_MARK if line.amount is None else line.amount
        page.sheet.put(*at, shown, Look(role, show))


def _cost_of_goods(page: Page, found: Year, beginning: int) -> None:
    """What was there and bought, less what is left: the first of these stands on this page."""
    row, layout = _one(page), page.context.layout
    before = page.address(beginning, 1)
    figures = {
        name: (layout.absolute(row, name), page.value((row, name)))
        for name in ("bought_for_sale", "stock_at_cost")
    }
    first = {"stock_before": (f'IF(ISNUMBER({before}),{before},"")', found.start.value)}
    page.ruled(
        (page.sheet.next_row, 1), cost_of_goods, first | figures, Look(Role.TOTAL, Show.MONEY)
    )


def _live_note(page: Page, line: YearLine) -> str:
    """How many days the takings are of, and the miles of travel, as they are now."""

    def cell(name: str) -> str:
        return page.context.layout.absolute(_one(page), name)

    if line.column == "year_takings":
        lacks = page.context.layout.absolute(_one(page, "year_span"), "year_lacks")
        days, unknown = cell("days_there"), cell("days_not_known")
        asked = f'IF({unknown}>0,", "&{unknown}&" of them not known","")'
        counted = f'{days}&IF({days}=1," market day"," market days")&{asked}'
        return f'=IF({lacks}<>"","not known: "&{lacks},{counted})'
    if line.name == TRAVEL:
        miles = cell("year_miles")
        return f'=IF({miles}="","",ROUND({miles},2)&" miles")'
    return ""


def _rows(page: Page, table: str) -> list[Row]:
    return page.context.costing.structure.rows[table]


def _months(page: Page) -> None:
    """Takings of each month, by outlet; where outlets don't fit, of all of them together."""
    outlets = [str(row.fixed["outlet"]) for row in _rows(page, "sold_at")]
    outlets = outlets if len(outlets) <= MOST_OUTLETS else []
    page.section("Takings by month", WIDTH)
    names = ("Month", *outlets, "Together")
    page.headings(names, shows=(Show.TEXT, *(Show.MONEY,) * (len(names) - 1)), across=WIDTH)
    there = {(row.fixed["month"], row.fixed["outlet"]): row for row in _rows(page, "months_there")}
    for month in _rows(page, "year_months"):
        at, name = page.sheet.next_row, month.fixed["month"]
        page.sheet.put(at, 0, name, look_of(Role.LABEL, Show.TEXT, 0))
        for column, outlet in enumerate(outlets, 1):
            row = there[name, outlet]
            none = (row, "no_day"), True
            page.figure((at, column), (row, "takings_there"), Show.MONEY, dash_if=none)
        page.figure((at, len(outlets) + 1), (month, "month_takings"), Show.MONEY, Role.TOTAL)
        page.sheet.next_row += 1
    page.sheet.next_row += 1


MOST_OUTLETS: Final = WIDTH - 2


def _cap(page: Page) -> None:
    """What is left of the cap, and the day on which sales reach it at this pace."""
    row, last = _one(page), page.sheet
    page.section("Yearly sales cap", WIDTH)
    for title, name, show in _OF_THE_CAP:
        at = last.next_row
        last.put(at, 0, title, look_of(Role.LABEL, Show.TEXT, 0))
        none = ((row, "cap_left"), True) if name == "cap_reached_on" else None
        page.figure((at, 1), (row, name), show, Role.COMPUTED, dash_if=none)
        last.next_row += 1
    last.line(
        "Sales without tax count towards it; the pace is that since the first market day. A dash: "
        "not this year, or reached already.",
        Role.NOTE,
        across=WIDTH,
    )
    last.next_row += 1


_OF_THE_CAP: Final = (
    ("The cap, as typed on Settings", "yearly_sales_cap", Show.MONEY),
    ("Left of it; below zero: reached", "cap_left", Show.MONEY),
    ("Reached at this pace on", "cap_reached_on", Show.DATE),
)


def _stock_now(page: Page, title: str) -> None:
    """What is there now, each at its cost."""
    lines = list(_in_stock(page))
    if lines:
        _stock_headings(page, title)
    for row, name, cost in lines:
        at = page.sheet.next_row
        page.figure((at, 0), (row, name), Show.TEXT, Role.LABEL)
        page.figure((at, 1), (row, cost), Show.MONEY)
        none = (row, "counted_on"), False
        page.figure((at, 2), (row, "counted_on"), Show.DATE, dash_if=none)
        page.sheet.next_row += 1
    page.sheet.next_row += 1 if lines else 0


def _in_stock(page: Page) -> Iterator[tuple[Row, str, str]]:
    """By row of what is listed, the columns of its name and its cost."""
    for table, name, cost in (
        ("year_packs", "product", "packs_at_cost"),
        ("year_items", "item", "item_at_cost"),
    ):
        yield from (
            (row, name, cost) for row in _rows(page, table) if page.value((row, "listed")) == 1
        )


def _stock_headings(page: Page, title: str) -> None:
    page.section(title, WIDTH)
    shows = (Show.TEXT, Show.MONEY, Show.DATE)
    page.headings(("What", "At cost", "Counted on"), shows=shows, across=WIDTH)


def _stock_before(page: Page, stock: InStock) -> None:
    """What was there at the beginning, as of the run."""
    book = page.context.costing.structure.book
    if not stock.lines:
        return
    _stock_headings(page, f"Inventory at the beginning, {book.written(stock.day)}, as of the run")
    for line in stock.lines:
        at = page.sheet.next_row
        page.sheet.put(at, 0, line.said, look_of(Role.LABEL, Show.TEXT, 0))
        shown: tuple[Value, Value] = (
            UNKNOWN_MARK if line.cost is None else line.cost,
            UNASKED_MARK if line.counted_on is None else line.counted_on,
        )
        for column, (value, show) in enumerate(zip(shown, (Show.MONEY, Show.DATE), strict=True), 1):
            page.sheet.put(at, column, value, Look(Role.COMPUTED, show))
        page.sheet.next_row += 1
    page.sheet.next_row += 1
