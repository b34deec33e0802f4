"""The year: what a tax preparer asks for, in the order in which it is asked, as of a day."""

from __future__ import annotations

from itertools import groupby
from typing import Final

from costbook.book import Value
from costbook.deciding.counted import InStock
from costbook.deciding.year import FOR_YOUR_PREPARER, Amount, Year, YearLine, added_up
from costbook.deciding.year_sums import the_year
from costbook.definitions.columns import Show
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


def the_year_page(context: Context) -> SheetDescription:
    """Describe the sheet The year."""
    page, book = Page(context, THE_YEAR), context.costing.structure.book
    sheet, found = page.sheet, the_year(context.costing)
    sheet.landscape = False
    sheet.widths = {0: 40.0} | dict.fromkeys(range(1, WIDTH), MONEY_WIDTH)
    sheet.line(f"The year {found.name} ({context.sign})", Role.TITLE)
    step_row(context, sheet, WIDTH)
    sheet.line(FOR_YOUR_PREPARER, Role.FLAG)
    first, until = book.written(found.first), book.written(found.until)
    sheet.line(
        f"From {first} to {until}, as costed on that day: run costbook again to bring it up to "
        "date. In the order of a sole proprietor's return, as an example of an order.",
        Role.NOTE,
        across=WIDTH,
    )
    for section, its in groupby(found.lines(), key=lambda each: each.section):
        page.section(section, WIDTH)
        for line in its:
            _line(page, line)
        sheet.next_row += 1
    _months(page, found)
    if found.cap:
        page.section("Yearly sales cap", WIDTH)
        sheet.line(found.cap.in_words(book, context.places), Role.LABEL, across=WIDTH)
        sheet.next_row += 1
    for stock, when in ((found.start, "beginning"), (found.end, "end")):
        _stock(page, stock, f"Inventory at the {when}, {book.written(stock.day)}")
    page.caution(WIDTH)
    return sheet


def _line(page: Page, line: YearLine) -> None:
    at = page.sheet.next_row
    role = Role.TOTAL if line.total else Role.COMPUTED
    page.sheet.put(at, 0, line.name, look_of(Role.LABEL, Show.TEXT, 0))
    _money(page, (at, 1), line.amount, role)
    page.sheet.put(at, NOTE_AT, line.note or None, look_of(Role.NOTE, Show.TEXT, NOTE_AT))
    page.sheet.merged.append((at, NOTE_AT, at, WIDTH - 1))
    page.sheet.next_row += 1


def _money(page: Page, at: tuple[int, int], amount: Amount, role: Role) -> None:
    shown: Value = UNKNOWN_MARK if amount is None else amount
    page.sheet.put(*at, shown, Look(role, Show.MONEY))


def _months(page: Page, found: Year) -> None:
    """Takings of each month, by outlet; the outlets that don't fit are taken together."""
    outlets = found.outlets if len(found.outlets) <= MOST_OUTLETS else ()
    page.section("Takings by month", WIDTH)
    names = ("Month", *outlets, "Together")
    page.headings(names, shows=(Show.TEXT, *(Show.MONEY,) * (len(names) - 1)), across=WIDTH)
    for month, by in found.takings.items():
        at = page.sheet.next_row
        page.sheet.put(at, 0, month, look_of(Role.LABEL, Show.TEXT, 0))
        for column, outlet in enumerate(outlets, 1):
            if outlet in by:
                _money(page, (at, column), by[outlet], Role.COMPUTED)
            else:
                page.sheet.put(at, column, UNASKED_MARK, Look(Role.COMPUTED, Show.MONEY))
        _money(page, (at, len(outlets) + 1), added_up(by.values()), Role.TOTAL)
        page.sheet.next_row += 1
    page.sheet.next_row += 1


MOST_OUTLETS: Final = WIDTH - 2


def _stock(page: Page, stock: InStock, title: str) -> None:
    """What was there on a day, each at its cost."""
    if not stock.lines:
        return
    page.section(title, WIDTH)
    shows = (Show.TEXT, Show.MONEY, Show.DATE)
    page.headings(("What", "At cost", "Counted on"), shows=shows, across=WIDTH)
    for line in stock.lines:
        at = page.sheet.next_row
        page.sheet.put(at, 0, line.said, look_of(Role.LABEL, Show.TEXT, 0))
        _money(page, (at, 1), line.cost, Role.COMPUTED)
        counted: Value = UNASKED_MARK if line.counted_on is None else line.counted_on
        page.sheet.put(at, 2, counted, Look(Role.COMPUTED, Show.DATE))
        page.sheet.next_row += 1
    page.sheet.next_row += 1
