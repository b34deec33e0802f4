"""What moved: cost then and now, each item's part, and the prices at which a margin turns."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from costbook.book import Value
from costbook.costing.rows import Row
from costbook.deciding.moved import moves
from costbook.deciding.old_prices import OldPrice
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.remembered import Past
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.bridge import bridge
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import UNASKED_MARK, UNKNOWN_MARK, Context, Page

__all__ = ["what_moved_page"]

WIDTH = 12
COLUMNS = (
    ("Cost then", "moves", "cost_then", Show.MONEY),
    ("Cost now", "prices", "total", Show.MONEY),
    ("Change", "moves", "moved", Show.MONEY),
    ("Price now", "prices", "price_now", Show.MONEY),
    ("Margin now", "prices", "now_margin", Show.SHARE),
    ("CHARGE to restore it", "prices", "price_on_step", Show.MONEY),
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
    _products(page)
    bridge(page, found.most_moved, WIDTH)
    _items(page)
    _old_prices(page, found.old)
    page.caution(WIDTH)
    return sheet


def _products(page: Page) -> None:
    """Each product at each outlet, the largest rise first; the last costing beside it."""
    context, sheet = page.context, page.sheet
    page.section("Products; rank 1 rose most", WIDTH)
    day = context.remembered.last_before(context.costing.structure.costed_on)
    last = context.remembered.on(day) if day else {}
    beside = f"At the last costing, {day.isoformat()}" if day else "At the last costing"
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
    rows = context.costing.structure.rows["prices"]
    for row in rows:
        at = sheet.next_row
        outlet = str(row.fixed["outlet"] or "")
        sheet.put(at, 0, row.fixed["product"], Look(Role.LABEL))
        sheet.put(at, 1, outlet or "—", Look(Role.LABEL))
        for number, (_, table, column, show) in enumerate(COLUMNS, 2):
            ref = (row.links["moves"] if table == "moves" else row, column)
            role = Role.ANSWER if column == "price_on_step" else Role.COMPUTED
            page.figure((at, number), ref, show, role)
        _rank(page, at, row)
        past = last.get((str(row.fixed["product"]), outlet))
        _since_last(page, at, row, past)
        sheet.next_row += 1
    sheet.next_row += 1


def _since_last(page: Page, at: int, row: Row, past: Past | None) -> None:
    """The cost at the last costing, a value; and how far it is from the cost now, live."""
    place, first = (at, 2 + len(COLUMNS)), 2 + len(COLUMNS)
    missing = UNASKED_MARK if past is None else UNKNOWN_MARK
    before = past.total if past else None
    shown: Value = missing if before is None else before
    page.sheet.put(*place, shown, Look(Role.COMPUTED, Show.MONEY))
    then, now = page.address(at, first), page.context.layout.absolute(row, "total")
    formula = f'=IF(COUNT({then},{now})=2,{now}-{then},"{missing}")'
    total = page.value((row, "total"))
    known = isinstance(total, Decimal) and before is not None
    change: Value = total - before if known else missing  # type: ignore[operator]
    page.sheet.put(at, first + 1, change, Look(Role.COMPUTED, Show.MONEY), formula=formula)


def _rank(page: Page, at: int, row: Row) -> None:
    """How many products rose more, and one: live, while the rows stand where they stand."""
    layout, moves = page.context.layout, row.links["moves"]
    own = layout.absolute(moves, "moved_known")
    every = f"{sheet_name(layout.tab)}!{layout.column_range('moves', 'moved_known')}"
    figures = page.context.costing.figures["moves"]
    mine = page.value((moves, "moved_known"))
    more = sum(_more(each["moved_known"], mine) for each in figures)
    formula = f"=SUMPRODUCT(--({every}>{own}))+1"
    look = Look(Role.COMPUTED, Show.WHOLE)
    page.sheet.put(at, WIDTH - 1, Decimal(more + 1), look, formula=formula)


def _more(other: Value, mine: Value) -> bool:
    return isinstance(other, Decimal) and isinstance(mine, Decimal) and other > mine


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
    ("Takes, as bought (g, ml, pieces, cm, sq cm)", Show.NUMBER),
    ("Price then", Show.MONEY),
    ("Price now", Show.MONEY),
    ("per", Show.TEXT),
    ("Its part of the change", Show.FINE_MONEY),
    ("A pack of it costs now", Show.MONEY),
    ("Margin at target until a pack costs", Show.MONEY),
    ("Something left until a pack costs", Show.MONEY),
)
NO_PRICE = "none"
"""What stands where no price of an item would turn the margin, not even nothing."""


def _items(page: Page) -> None:
    """Each item's part in each product, and the pack price until which the price holds."""
    page.section("By item, at the first outlet: its part, and the pack price that turns it", WIDTH)
    page.sheet.line(
        f"Hold the price until a pack costs what the last two columns say. Where one says "
        f"{NO_PRICE}, the margin is below that whatever the item costs.",
        Role.NOTE,
        across=WIDTH,
    )
    names, shows = zip(*ITEM_HEADINGS, strict=True)
    page.headings(names, shows=shows)
    rows = page.context.costing.structure.rows
    first = rows["outlets"][0]
    for price in rows["prices"]:
        if price.links["outlets"] is first:
            for at in price.links["products"].children["pack_needs"]:
                _item(page, rows["pack_needs"][at], price.links["moves"])
    page.sheet.next_row += 1


def _item(page: Page, need: Row, moves: Row) -> None:
    sheet, at, bought = page.sheet, page.sheet.next_row, need.links["prices_now"]
    sheet.put(at, 0, need.fixed["product"], Look(Role.LABEL))
    sheet.put(
        at, 1, need.fixed["item"], Look(Role.LABEL), link=page.context.link_to_receipt(bought)
    )
    page.figure((at, 2), (need, "pack_need"), Show.NUMBER)
    item = page.context.costing.structure.rows["item_prices"][bought.index]
    for number, column in enumerate(("price_then", "price_per_base_unit"), 3):
        refs = {
            "price_per_base_unit": (need, column),
            "large_unit_size": (item, "large_unit_size"),
        }
        page.computed((at, number), rules.large_unit_price, refs, Show.MONEY)
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
