"""Latest prices: every item's price now and before, how old it is, and from which receipt."""

from __future__ import annotations

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import (
    DATE_WIDTH,
    MONEY_WIDTH,
    SHARE_WIDTH,
    Context,
    Page,
    look_of,
)

__all__ = ["latest_prices_page"]

COLUMNS = (
    ("Price now", "large_unit_price", Show.UNIT_PRICE, MONEY_WIDTH),
    ("per", "large_unit", Show.TEXT, 8.0),
    ("Price before", "large_unit_price_before", Show.UNIT_PRICE, MONEY_WIDTH),
    ("Change", "change", Show.SHARE, SHARE_WIDTH),
    ("Date of the price", "day", Show.DATE, DATE_WIDTH),
    ("Days old", "age_days", Show.WHOLE, 8.0),
    ("Fresh?", "freshness", Show.TEXT, 14.5),
    ("Supplier", "supplier", Show.TEXT, 24.0),
    ("Usable share", "usable_share", Show.SHARE, SHARE_WIDTH),
    ("Price now, ready to use", "large_unit_price_ready", Show.UNIT_PRICE, MONEY_WIDTH),
)
PRICE, CHANGE, DAY, FRESH = 1, 4, 5, 7
RECEIPT = len(COLUMNS) + 1


def latest_prices_page(context: Context) -> SheetDescription:
    """Describe the sheet Latest prices."""
    page = Page(context, "Latest prices")
    sheet = page.sheet
    widths = {at: width for at, (*_, width) in enumerate(COLUMNS, 1)}
    sheet.widths = {0: 26.0, **widths, RECEIPT: 9.0}
    title = f"Latest prices ({context.sign}): what each item costs, and from which receipt"
    sheet.line(title, Role.TITLE)
    sheet.line(
        "The latest receipt counts: the usual supplier's where Items names one. The name leads to "
        "the item, the price and its date to the receipt. A ? is not known.",
        Role.NOTE,
        across=RECEIPT + 1,
    )
    step_row(context, sheet, RECEIPT + 1)
    sheet.put(sheet.next_row, 0, "How to read this sheet", Look(Role.NOTE))
    page.legend((1, 3, 5, 7, 8))
    sheet.next_row += 1
    names = ("Item", *(name for name, *_ in COLUMNS), "Receipt in row")
    shows = (Show.TEXT, *(show for _, _, show, _ in COLUMNS), Show.WHOLE)
    heading = page.headings(names, shows=shows)
    sheet.frozen = (heading + 1, 1)
    sheet.repeated_rows = (heading, heading)
    for row in context.costing.structure.rows["item_prices"]:
        _item(page, row)
    page.mark_unknown(heading + 1, range(1, RECEIPT + 1))
    fresh = f"${page.address(heading + 1, FRESH)}"
    page.mark(heading + 1, range(DAY, FRESH + 1), f'AND({fresh}<>"fresh",{fresh}<>"")')
    page.caution(RECEIPT + 1)
    return sheet


def _item(page: Page, row: Row) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    item, now = row.links["items"], row.links["prices_now"]
    link = page.context.link_to(item.sources.get("Items"), "item")
    page.figure((at, 0), (row, "item"), Show.TEXT, Role.LABEL, link=link)
    receipt = page.context.link_to_receipt(now)
    for number, (_, column, show, _) in enumerate(COLUMNS, 1):
        look = look_of(Role.COMPUTED, show, number)
        if number == CHANGE:
            look = Look(Role.COMPUTED, show, signed=True)
        page.figure(
            (at, number),
            (row, column),
            show,
            link=receipt if number in (PRICE, DAY) else "",
            look=look,
        )
    page.figure((at, RECEIPT), (now, "purchase_row"), Show.WHOLE, link=receipt)
    sheet.next_row += 1
