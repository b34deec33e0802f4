"""Latest prices: every item's price now and before, how old it is, and from which receipt."""

from __future__ import annotations

from decimal import Decimal

from costbook.costing.rows import Row
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.page import Context, Page

__all__ = ["latest_prices_page"]

COLUMNS = (
    ("Price now", "large_unit_price", Show.MONEY),
    ("per", "large_unit", Show.TEXT),
    ("Price before", "large_unit_price_before", Show.MONEY),
    ("Change", "change", Show.SHARE),
    ("Date of the price", "day", Show.DATE),
    ("Days old", "age_days", Show.WHOLE),
    ("Fresh?", "freshness", Show.TEXT),
    ("Supplier", "supplier", Show.TEXT),
    ("Usable share", "usable_share", Show.SHARE),
    ("Now, per g, ml, piece, cm or sq cm", "price_per_base_unit", Show.FINE_MONEY),
    ("The same, ready to use", "price_ready_to_use", Show.FINE_MONEY),
    ("Before, as now", "before_in_units_of_now", Show.FINE_MONEY),
)


def latest_prices_page(context: Context) -> SheetDescription:
    """Describe the sheet Latest prices."""
    page = Page(context, "Latest prices")
    sheet = page.sheet
    sheet.widths = {0: 28, 1: 10, 2: 7, 3: 10, 4: 9, 5: 12, 6: 7, 7: 14, 8: 18, 9: 9}
    sheet.widths |= {10: 14, 11: 13, 12: 13, 13: 11}
    sheet.line("Latest prices: what each item costs, and from which receipt", Role.TITLE)
    sheet.line(
        "The latest receipt counts: the usual supplier's where Items names one. Follow the link in "
        "the last column to the receipt.",
        Role.NOTE,
    )
    sheet.next_row += 1
    heading = page.headings(("Item", *(name for name, *_ in COLUMNS), "Receipt in row"))
    sheet.frozen = (heading + 1, 1)
    sheet.repeated_rows = (heading, heading)
    for row in context.costing.structure.rows["item_prices"]:
        _item(page, row)
    page.caution(len(COLUMNS) + 2)
    return sheet


def _item(page: Page, row: Row) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    item = row.links["items"]
    link = page.context.link_to(item.sources.get("Items"), "item")
    sheet.put(at, 0, row.fixed["item"], Look(Role.LABEL), link=link)
    for number, (_, column, show) in enumerate(COLUMNS, 1):
        role = Role.FLAG if column == "freshness" else Role.COMPUTED
        page.figure((at, number), (row, column), show, role)
    _receipt(page, row, (at, len(COLUMNS) + 1))
    sheet.next_row += 1


def _receipt(page: Page, row: Row, at: tuple[int, int]) -> None:
    """The receipt's row number, live, with a link to where it stood when this was costed."""
    now = row.links["prices_now"]
    number = page.value((now, "purchase_row"))
    record = None
    if isinstance(number, Decimal):
        record = page.context.costing.structure.purchases.get(int(number))
    page.figure(at, (now, "purchase_row"), Show.WHOLE)
    link = page.context.link_to(record, "item")
    if link:
        cell = page.sheet.rows[at[0]].pop()
        page.sheet.put(*at, cell.value, cell.look, formula=cell.formula, link=link)
