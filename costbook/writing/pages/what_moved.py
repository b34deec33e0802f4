"""What moved: cost then and now, each item's part, and the prices at which a margin turns."""

from __future__ import annotations

from collections.abc import Sequence

from costbook.costing.rows import Row
from costbook.deciding.moved import Moves, moves
from costbook.deciding.old_prices import OldPrice
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.ours.kept import Past
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.bridge import bridge
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import UNASKED_MARK, UNKNOWN_MARK, Context, Page

__all__ = ["what_moved_page"]

WIDTH = 13
COLUMNS = (
    ("Cost then", "moves", "cost_then", Show.MONEY),
    ("Cost now", "prices", "total", Show.MONEY),
    ("Change", "moves", "moved", Show.MONEY),
    ("of its cost", "moves", "moved_share", Show.SHARE),
    ("Price now", "prices", "price_now", Show.MONEY),
    ("Margin now", "prices", "now_margin", Show.SHARE),
    ("Price that restores the margin of then", "moves", "restoring_price", Show.MONEY),
    ("Packs at the price now that pay for a batch's rise", "moves", "packs_that_pay", Show.WHOLE),
)


def what_moved_page(context: Context) -> SheetDescription:
    """Describe the sheet What moved."""
    page = Page(context, "What moved")
    sheet = page.sheet
    sheet.widths = {0: 28, 1: 20} | dict.fromkeys(range(2, WIDTH), 12.3)
    sheet.line("What moved", Role.TITLE)
    found = moves(context.costing)
    sheet.line(found.message(context.places), Role.LEAD)
    at = sheet.next_row
    sheet.put(at, 0, "Prices then are those of", Look(Role.LEAD))
    settings = context.costing.structure.one("settings")
    page.figure((at, 1), (settings, "moved_since"), Show.DATE)
    sheet.next_row += 1
    sheet.line(
        "Today's recipes at the prices of then: each item's part adds up to the change. An item "
        "first bought later counts from its first receipt.",
        Role.NOTE,
        across=WIDTH,
    )
    step_row(context, sheet, WIDTH)
    _products(page, found)
    bridge(page, found.most_moved, WIDTH)
    _items(page, found)
    _old_prices(page, found.old)
    page.caution(WIDTH)
    return sheet


def _products(page: Page, found: Moves) -> None:
    """Each product at each outlet, one a recipe; the last costing beside it, and its rank."""
    context, sheet = page.context, page.sheet
    page.section("Products; rank 1 rose most, as a share of its cost", WIDTH)
    day = context.remembered.last_before(context.costing.structure.costed_on)
    last = context.remembered.on(day) if day else {}
    beside = (
        f"At the last costing, {context.costing.structure.book.written(day)}"
        if day
        else "At the last costing"
    )
    names = ("Product", "Outlet", *(name for name, *_ in COLUMNS), beside, "Since then", "Rank")
    shows = (
        Show.TEXT,
        Show.TEXT,
        *(show for *_, show in COLUMNS),
        Show.MONEY,
        Show.MONEY,
        Show.WHOLE,
    )
    page.headings(names, shows=shows)
    for row in sorted((each.row for each in found.ranked), key=lambda row: row.index):
        at = sheet.next_row
        outlet = str(row.fixed["outlet"] or "")
        sheet.put(at, 0, row.fixed["product"], Look(Role.LABEL))
        sheet.put(at, 1, outlet or "—", Look(Role.LABEL))
        for number, (_, table, column, show) in enumerate(COLUMNS, 2):
            ref = (row.links["moves"] if table == "moves" else row, column)
            role = Role.ANSWER if column == "restoring_price" else Role.COMPUTED
            page.figure((at, number), ref, show, role)
        page.figure((at, WIDTH - 1), (row.links["move_ranks"], "move_rank"), Show.WHOLE)
        past = last.get((str(row.fixed["product"]), outlet))
        _since_last(page, at, row, past)
        sheet.next_row += 1
    for product, other in found.not_ranked:
        sheet.line(f"{product} moves as {other} does.", Role.NOTE, across=WIDTH)
    sheet.next_row += 1


def _since_last(page: Page, at: int, row: Row, past: Past | None) -> None:
    """The cost at the last costing, a value; and how far it is from the cost now, live."""
    first, look = 2 + len(COLUMNS), Look(Role.COMPUTED, Show.MONEY)
    if past is None:
        for column in (first, first + 1):
            page.sheet.put(at, column, UNASKED_MARK, look)
        return
    before = past.total
    page.sheet.put(at, first, UNKNOWN_MARK if before is None else before, look)
    figures = {
        "after": (page.context.layout.absolute(row, "total"), page.value((row, "total"))),
        "before": (page.address(at, first), before),
    }
    page.ruled((at, first + 1), rules.difference, figures, look)


def _old_prices(page: Page, old: Sequence[OldPrice]) -> None:
    """Prices older than Settings allow, and what a usual rise of each would do, in words."""
    if not old:
        return
    page.sheet.next_row += 1
    page.section("Old prices, as of this run", WIDTH)
    for each in old:
        page.sheet.line(each.in_words(page.context.places), Role.LEAD, across=WIDTH)


ITEM_HEADINGS = (
    ("Product", Show.TEXT),
    ("Item", Show.TEXT),
    ("Takes, as bought", Show.NUMBER),
    ("Price then", Show.UNIT_PRICE),
    ("Price now", Show.UNIT_PRICE),
    ("per", Show.TEXT),
    ("Its part of the change", Show.FINE_MONEY),
    ("A pack of it costs now", Show.MONEY),
    ("Margin at target until a pack costs", Show.MONEY),
    ("Something left until a pack costs", Show.MONEY),
)
NO_PRICE = "none"
"""What stands where no price of an item would turn the margin, not even nothing."""


def _items(page: Page, found: Moves) -> None:
    """The items that moved each product, and the pack price until which the price holds."""
    here = {row.index for row in page.context.costing.structure.at_first_outlet()}
    first = [each for each in found.ranked if each.row.index in here]
    if not any(each.moved_by for each in first):
        return
    page.section("By item, at the first outlet: its part, and the pack price that turns it", WIDTH)
    page.sheet.line(
        f"Listed is what had moved on {found.day}; what moves later is listed at the "
        "next run. Hold the price until a pack costs what the last two columns say. Where one "
        f"says {NO_PRICE}, the margin is below that whatever the item costs.",
        Role.NOTE,
        across=WIDTH,
    )
    names, shows = zip(*ITEM_HEADINGS, strict=True)
    page.headings(names, shows=shows)
    for each in first:
        for need in each.moved_by:
            _item(page, need, each.row.links["moves"])
    page.sheet.next_row += 1


def _item(page: Page, need: Row, moves: Row) -> None:
    sheet, at, bought = page.sheet, page.sheet.next_row, need.links["prices_now"]
    sheet.put(at, 0, need.fixed["product"], Look(Role.LABEL))
    sheet.put(
        at, 1, need.fixed["item"], Look(Role.LABEL), link=page.context.link_to_receipt(bought)
    )
    item = page.context.costing.structure.rows["item_prices"][bought.index]
    takes = {"base_amount": (need, "pack_need"), "large_unit_size": (item, "large_unit_size")}
    page.computed((at, 2), rules.in_large_units, takes, Show.NUMBER)
    for number, column in enumerate(("price_then", "price_per_base_unit"), 3):
        refs = {
            "price_per_base_unit": (need, column),
            "large_unit_size": (item, "large_unit_size"),
        }
        page.computed((at, number), rules.large_unit_price, refs, Show.UNIT_PRICE)
    page.figure((at, 5), (item, "large_unit"), Show.TEXT)
    page.figure((at, 6), (need, "need_moved"), Show.FINE_MONEY)
    page.figure((at, 7), (bought, "price_per_pack"), Show.MONEY)
    known = {
        "pack_need": (need, "pack_need"),
        **{name: (bought, name) for name in ("price_per_base_unit", "whole_pack", "beside_price")},
    }
    for number, (slack, rule) in enumerate(TURNING, 8):
        refs = known | {slack: (moves, slack)}
        page.computed((at, number), rule, refs, Show.MONEY, none=NO_PRICE)
    sheet.next_row += 1


TURNING = (
    ("slack_to_target", rules.turning_at_target),
    ("slack_to_zero", rules.turning_at_zero),
)
