"""What moved: cost then and now, each item's part, and the prices at which a margin turns."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from costbook.book import Value
from costbook.costing.rows import Row
from costbook.deciding.old_prices import old_prices
from costbook.deciding.packs import money
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import BarChart, Look, Role, SheetDescription
from costbook.writing.layout import sheet_name
from costbook.writing.pages.page import UNKNOWN_MARK, Context, Page

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
    sheet.line(_message(page), Role.TITLE)
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
    sheet.next_row += 1
    _products(page)
    _bridge(page)
    _items(page)
    _old_prices(page)
    page.caution(WIDTH)
    return sheet


def _message(page: Page) -> str:
    """The page's one message: which item did most to the product that moved most."""
    found = _most_moved(page)
    if found is None:
        return "What moved: no price changed"
    row, ((item, part), *_) = found
    word = "added" if part > 0 else "took off"
    amount = money(abs(part), page.context.places)
    return f"What moved: {item} {word} {amount} for a pack of {row.fixed['product']}"


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
        _since_last(page, at, row, past.total if past else None)
        sheet.next_row += 1
    sheet.next_row += 1


def _since_last(page: Page, at: int, row: Row, before: Decimal | None) -> None:
    """The cost at the last costing, a value; and how far it is from the cost now, live."""
    place, first = (at, 2 + len(COLUMNS)), 2 + len(COLUMNS)
    shown: Value = UNKNOWN_MARK if before is None else before
    page.sheet.put(*place, shown, Look(Role.COMPUTED, Show.MONEY))
    then, now = page.address(at, first), page.context.layout.absolute(row, "total")
    formula = f'=IF(COUNT({then},{now})=2,{now}-{then},"{UNKNOWN_MARK}")'
    total = page.value((row, "total"))
    known = isinstance(total, Decimal) and before is not None
    change: Value = total - before if known else UNKNOWN_MARK  # type: ignore[operator]
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


def _old_prices(page: Page) -> None:
    """Prices older than Settings allow, and what a usual rise of each would do, in words."""
    old = old_prices(page.context.costing)
    if not old:
        return
    page.sheet.next_row += 1
    page.section("Old prices, as of this run", WIDTH)
    for each in old:
        page.sheet.line(each.in_words(page.context.places), Role.LEAD, across=WIDTH)


STEPS_AT_MOST = 7
"""Items that have a bar of their own in the bridge; the rest are one."""


def _bridge(page: Page) -> None:
    """From the cost then to the cost now of the product that moved most, item by item.

    Its figures are as of this run, since another product may move most after a change.
    """
    sheet = page.sheet
    found = _most_moved(page)
    if found is None:
        return
    row, parts = found
    moves = row.links["moves"]
    then, now = (page.value(ref) for ref in ((moves, "cost_then"), (row, "total")))
    if not isinstance(then, Decimal) or not isinstance(now, Decimal):
        return
    page.section(f"From then to now: {row.fixed['product']}, as of this run", WIDTH)
    names = ("Step", "Where", "Below", "Whole", "Rose", "Fell")
    heading = page.headings(names, shows=(Show.TEXT, Show.TEXT, *(Show.MONEY,) * 4))
    steps = [("Cost then", Decimal(0), then, Decimal(0), Decimal(0)), *_steps(then, parts)]
    steps.append(("Cost now", Decimal(0), now, Decimal(0), Decimal(0)))
    for name, *figures in steps:
        at = sheet.next_row
        sheet.put(at, 0, name, Look(Role.LABEL))
        sheet.put(at, 1, str(row.fixed["outlet"] or "—"), Look(Role.LABEL))
        for number, figure in enumerate(figures, 2):
            sheet.put(at, number, figure, Look(Role.COMPUTED, Show.MONEY))
        sheet.next_row += 1
    _draw_bridge(page, row, parts, (heading, steps))


Step = tuple[str, Decimal, Decimal, Decimal, Decimal]
"""A step of the bridge: its name, where its bar begins, a whole cost, a rise, a fall."""


def _draw_bridge(
    page: Page,
    row: Row,
    parts: list[tuple[str, Decimal]],
    table: tuple[int, list[Step]],
) -> None:
    """The chart of the steps, below their table; its title says which item did most."""
    sheet, places = page.sheet, page.context.places
    heading, steps = table
    part = max(parts, key=lambda each: abs(each[1]))
    word = "added" if part[1] > 0 else "took off"
    title = f"{part[0]} {word} {money(abs(part[1]), places)} to {row.fixed['product']}"
    last = sheet.next_row - 1
    labels = _bridge_labels(steps, places)
    chart = BarChart(
        title,
        page.context.sign,
        heading,
        heading + 1,
        last,
        (0, 0),
        (2, 3, 4, 5),
        last + 2,
        steps=True,
        in_bars=labels,
    )
    sheet.charts.append(chart)
    sheet.next_row += 7 + 2 * len(steps)


def _most_moved(page: Page) -> tuple[Row, list[tuple[str, Decimal]]] | None:
    """The product that moved most, and its items' parts, the largest first."""
    best: tuple[Decimal, Row, list[tuple[str, Decimal]]] | None = None
    costing = page.context.costing
    for row in costing.structure.rows["prices"]:
        needs = (
            costing.figures["pack_needs"][at] for at in row.links["products"].children["pack_needs"]
        )
        moved = [(str(need["item"]), need["need_moved"]) for need in needs]
        parts = [(item, part) for item, part in moved if isinstance(part, Decimal) and part]
        size = abs(sum((part for _, part in parts), Decimal(0)))
        if parts and (best is None or size > best[0]):
            best = size, row, sorted(parts, key=lambda each: -abs(each[1]))
    return (best[1], best[2]) if best else None


def _steps(start: Decimal, parts: list[tuple[str, Decimal]]) -> Iterator[Step]:
    """Each item's step from where the one before ended."""
    shown, rest = parts[:STEPS_AT_MOST], parts[STEPS_AT_MOST:]
    if rest:
        shown = [*shown, ("Other items", sum((part for _, part in rest), Decimal(0)))]
    for name, part in shown:
        nothing = Decimal(0)
        rise, fall = (part, nothing) if part > 0 else (nothing, -part)
        yield name, min(start, start + part), nothing, rise, fall
        start += part


def _bridge_labels(steps: list[Step], places: int) -> tuple[tuple[str | None, ...], ...]:
    """What stands in the bars: the whole costs, and each rise or fall with its sign."""
    return (
        tuple("" for _ in steps),
        tuple(money(whole, places) if whole else "" for _, _, whole, _, _ in steps),
        tuple(f"+{money(rise, places)}" if rise else "" for _, _, _, rise, _ in steps),
        tuple(f"−{money(fall, places)}" if fall else "" for _, _, _, _, fall in steps),
    )


ITEM_HEADINGS = (
    ("Product", Show.TEXT),
    ("Item", Show.TEXT),
    ("Takes, as bought", Show.NUMBER),
    ("Price then", Show.FINE_MONEY),
    ("Price now", Show.FINE_MONEY),
    ("Its part of the change", Show.FINE_MONEY),
    ("A pack now", Show.MONEY),
    ("Margin at target until", Show.MONEY),
    ("Something left until", Show.MONEY),
)


def _items(page: Page) -> None:
    """Each item's part in each product, and the pack price until which the price holds."""
    page.section("By item, at the first outlet: its part, and the pack price that turns it", WIDTH)
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
    page.figure((at, 3), (need, "price_then"), Show.FINE_MONEY)
    page.figure((at, 4), (need, "price_per_base_unit"), Show.FINE_MONEY)
    page.figure((at, 5), (need, "need_moved"), Show.FINE_MONEY)
    page.figure((at, 6), (bought, "price_per_pack"), Show.MONEY)
    known = {
        "pack_need": (need, "pack_need"),
        **{name: (bought, name) for name in ("price_per_base_unit", "whole_pack", "beside_price")},
    }
    for number, (slack, rule) in enumerate(TURNING, 7):
        page.computed((at, number), rule, known | {slack: (moves, slack)}, Show.MONEY)
    sheet.next_row += 1


TURNING = (
    ("slack_to_target", rules.turning_at_target),
    ("slack_to_zero", rules.turning_at_zero),
)
