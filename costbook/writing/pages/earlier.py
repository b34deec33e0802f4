"""Earlier costings: what each run found, so that the next can say what moved."""

from __future__ import annotations

from decimal import Decimal

from costbook.costing.engine import Costing
from costbook.definitions.columns import Show
from costbook.remembered import COSTINGS, Past, with_costing
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page

__all__ = ["earlier_costings_page", "this_costing"]


def this_costing(costing: Costing) -> list[Past]:
    """What this run found, to be remembered."""
    day = costing.structure.costed_on
    return [
        Past(
            day,
            str(f["product"]),
            str(f["outlet"] or ""),
            _known(f["total"]),
            _known(f["price_on_step"]),
        )
        for f in costing.figures["prices"]
    ]


def _known(value: object) -> Decimal | None:
    return value if isinstance(value, Decimal) else None


def earlier_costings_page(context: Context) -> SheetDescription:
    """Describe the sheet Earlier costings; its rows are values, as they were found."""
    page = Page(context, "Earlier costings")
    sheet = page.sheet
    sheet.landscape, sheet.hidden = False, True
    sheet.widths = {0: 14, 1: 34, 2: 24, 3: 13, 4: 13}
    sheet.line("Earlier costings", Role.TITLE)
    sheet.line(
        "What each run found, as it was then. costbook compares with these rows; please leave "
        "them as they are.",
        Role.NOTE,
        across=5,
    )
    sheet.line(
        "Each costing of the last four weeks is kept; of a year, the last of each week; before "
        "that, the last of each month. A day on which nothing had changed is left out.",
        Role.NOTE,
        across=5,
    )
    step_row(context, sheet, 5)
    shows = (Show.DATE, Show.TEXT, Show.TEXT, Show.MONEY, Show.MONEY)
    heading = page.headings(COSTINGS, shows=shows)
    sheet.frozen = (heading + 1, 0)
    sheet.repeated_rows = (heading, heading)
    book = context.costing.structure.book
    for past in with_costing(context.remembered.pasts, this_costing(context.costing)):
        at = sheet.next_row
        sheet.put(at, 0, book.day_number(past.day), Look(Role.COMPUTED, Show.DATE))
        sheet.put(at, 1, past.product, Look(Role.LABEL))
        sheet.put(at, 2, past.outlet, Look(Role.LABEL))
        sheet.put(at, 3, past.total, Look(Role.COMPUTED, Show.MONEY))
        sheet.put(at, 4, past.price, Look(Role.COMPUTED, Show.MONEY))
        sheet.next_row += 1
    page.caution(5)
    return sheet
