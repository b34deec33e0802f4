"""Another pack of a recipe, on the card of the first: what its cost has of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from costbook.costing.structure import Row
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.pages.card_lines import CardLine, lines_of
from costbook.writing.pages.card_parts import EACH, LAST, SHARE, of_a_product, show_line
from costbook.writing.pages.page import Page, look_of
from costbook.writing.pages.parted import product_of

__all__ = ["show_made", "what_differs"]


def what_differs(page: Page, first: Row, product: Row) -> None:
    """The lines that are not as on the first pack's card, all else in one, and what it cost."""
    sheet, begins = page.sheet, page.sheet.next_row
    sheet.put(begins, 0, f"{product_of(product)}: what differs", Look(Role.SUM))
    sheet.put(begins, 4, "packs sold", Look(Role.LABEL, indent=1))
    page.figure((begins, EACH), (product.links["packs"], "packs_sold"), Show.NUMBER)
    sheet.next_row += 1
    lines = list(_own_lines(page, first, product))
    for line in lines:
        show_line(page, of_a_product(product), line, None)
    if lines:
        _all_else(page, product, lines)
    show_made(page, product)
    page.mark_unknown(begins, range(1, LAST))


def _own_lines(page: Page, first: Row, product: Row) -> Iterator[CardLine]:
    """The lines of its own rows that a batch of the first pack takes otherwise."""
    of_first = {_shown(page, line) for line in lines_of(page.context, first)}
    for line in lines_of(page.context, product):
        own = line.cost[0].table in ("packaging", "product_stages")
        if own and _shown(page, line) not in of_first:
            yield line


def _shown(page: Page, line: CardLine) -> tuple[object, ...]:
    """What a line says: its part, its name and what it costs a batch."""
    name = line.what if isinstance(line.what, str) else page.value(line.what)
    return line.part, name, page.value(line.cost)


def _all_else(page: Page, product: Row, lines: Sequence[CardLine]) -> None:
    """What the lines above leave of the cost made, which stands in the next row."""
    sheet, at = page.sheet, page.sheet.next_row
    sheet.put(at, 0, "All else", look_of(Role.LABEL, Show.TEXT, 0))
    sold = page.value((product, "packs_sold"))
    costs = [page.value(line.cost) for line in lines]
    of_a_pack = None
    if isinstance(sold, Decimal) and sold and all(isinstance(cost, Decimal) for cost in costs):
        of_a_pack = sum((c / sold for c in costs if isinstance(c, Decimal)), Decimal(0))
    above = f"{page.address(at - len(lines), EACH)}:{page.address(at - 1, EACH)}"
    figures = {
        "after": (page.address(at + 1, EACH), page.value((product, "made"))),
        "before": (f"SUM({above})", of_a_pack),
    }
    page.ruled((at, EACH), rules.difference, figures, Look(Role.COMPUTED, Show.MONEY))
    sheet.next_row += 1


def show_made(page: Page, product: Row) -> None:
    """What a pack sold cost to make, and what that lacks."""
    sheet, at = page.sheet, page.sheet.next_row
    plain = look_of(Role.TOTAL, Show.TEXT, 0)
    sheet.put(at, 0, "Cost made, a pack sold", Look(Role.TOTAL))
    sheet.put(at, 1, None, plain)
    page.figure((at, 2), (product, "lacks"), Show.TEXT, look=Look(Role.TOTAL, wrap=True, indent=1))
    sheet.merged.append((at, 2, at, EACH - 1))
    page.figure((at, EACH), (product, "made"), Show.MONEY, Role.TOTAL)
    for column in (SHARE, LAST):
        sheet.put(at, column, None, plain)
    sheet.next_row += 1
    page.mark(at, (2,), '{cell}<>""')
