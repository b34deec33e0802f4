"""Packs compared: the packs of each item side by side, and which is really cheapest."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from costbook.book import Record
from costbook.deciding.packs import SOURCES, ComparedItem, Pack, compared
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import UNKNOWN_MARK, Context, Page, look_of

__all__ = ["packs_compared_page"]

WEEKS = Decimal(2)
"""How long the cheapest mix shown is to last."""

NO_CHOICE = (
    "No item has a second pack yet. Buy one elsewhere, or type what you saw on Offers, and they "
    "stand here side by side."
)
COLUMNS = (
    ("Price of the pack", "price_per_pack", Show.MONEY),
    ("With delivery and the like", "pack_cost", Show.MONEY),
)
PER_LARGE_UNIT = (
    ("As bought, per unit", "compared_price"),
    ("Ready to use", "compared_ready"),
    ("Really used", "used_price"),
)
HEADINGS = (
    "Pack",
    "Supplier",
    "From",
    "Of",
    *(name for name, *_ in COLUMNS),
    *(name for name, _ in PER_LARGE_UNIT),
    "per",
    "Used before it spoils",
    "May be lost",
    "Cash laid out",
    "Cheapest",
)
SHOWS = (
    *(Show.TEXT,) * 3,
    Show.DATE,
    *(show for *_, show in COLUMNS),
    *(Show.UNIT_PRICE,) * 3,
    Show.TEXT,
    Show.SHARE,
    Show.SHARE,
    Show.MONEY,
    Show.TEXT,
)
WIDTH = len(HEADINGS)


def packs_compared_page(context: Context) -> SheetDescription:
    """Describe the sheet Packs compared: the items that there is a choice of packs for."""
    page = Page(context, "Packs compared")
    sheet = page.sheet
    sheet.widths = {0: 18, 1: 24, 2: 12} | dict.fromkeys(range(3, WIDTH), 11.0)
    sheet.line("Packs compared: which is really cheapest", Role.TITLE)
    sheet.line(
        "The price of what is really used counts: with delivery, membership and trips, after "
        "trimming, and without what spoils before it is used (where Items says how long it keeps). "
        "May be lost is the part of a pack that may be thrown away before the best smaller pack "
        "wins. A price that a later receipt of the same supplier has overtaken never wins. The "
        "sentences are as of the last run; the figures are live.",
        Role.NOTE,
        across=WIDTH,
    )
    step_row(context, sheet, WIDTH)
    items = [each for each in compared(context.costing, WEEKS) if len(each.packs) > 1]
    if items:
        heading = page.headings(HEADINGS, shows=SHOWS)
        sheet.frozen, sheet.repeated_rows = (heading + 1, 1), (heading, heading)
    for item in items:
        _item(page, item)
    if not items:
        sheet.line(NO_CHOICE, Role.LEAD, across=WIDTH)
    page.caution(WIDTH)
    return sheet


def _item(page: Page, item: ComparedItem) -> None:
    sheet = page.sheet
    page.section(item.item, WIDTH)
    first = sheet.next_row
    # in the order of Workings, which a change of price leaves as it is
    packs = sorted(item.packs, key=lambda each: (each.row.table, each.row.index))
    for pack in packs:
        _pack(page, pack)
    _cheapest(page, first, packs)
    sheet.line(item.in_words, Role.LEAD, across=WIDTH)
    if plan := item.plan_in_words(page.context.places):
        sheet.line(plan, Role.LEAD, across=WIDTH)


def _pack(page: Page, pack: Pack) -> None:
    sheet, at, row = page.sheet, page.sheet.next_row, pack.row
    source = SOURCES[row.table]
    link = page.context.link_to(row.sources.get(source) or _receipt(page, pack), "item")
    sheet.put(at, 0, pack.name, Look(Role.LABEL), link=link)
    page.figure((at, 1), (row, "supplier"), Show.TEXT)
    sheet.put(at, 2, source, Look(Role.LABEL))
    page.figure((at, 3), (row, "day"), Show.DATE, dash_if=((row, "item"), True))
    for number, (_, column, show) in enumerate(COLUMNS, 4):
        page.figure((at, number), (row, column), show)
    item = page.context.costing.structure.rows["item_prices"][row.links["items"].index]
    for number, (_, column) in enumerate(PER_LARGE_UNIT, 6):
        refs = {
            "price_per_base_unit": (row, column),
            "large_unit_size": (item, "large_unit_size"),
        }
        page.computed((at, number), rules.large_unit_price, refs, Show.UNIT_PRICE)
    page.figure((at, 9), (item, "large_unit"), Show.TEXT)
    page.figure((at, 10), (row, "used_part"), Show.SHARE)
    spoilage = row.links["spoilage_bought" if source == "Purchases" else "spoilage_seen"]
    no_smaller_is_dearer = ((spoilage, "compared_ready"), True)
    page.figure(
        (at, 11), (spoilage, "break_even_spoilage"), Show.SHARE, dash_if=no_smaller_is_dearer
    )
    page.figure((at, 12), (row, "cash_tied_up"), Show.MONEY)
    sheet.next_row += 1


def _receipt(page: Page, pack: Pack) -> Record | None:
    number = pack.figures["row_number"]
    purchases = page.context.costing.structure.purchases
    return purchases.get(int(number)) if isinstance(number, Decimal) else None


OVERTAKEN = "overtaken"
"""Beside a price that a later receipt of the item from its supplier has overtaken."""


def _cheapest(page: Page, first: int, packs: Sequence[Pack]) -> None:
    """A word beside the pack that is cheapest now, of those whose price stands; live."""
    if len(packs) < 2:
        return
    layout = page.context.layout
    prices = [page.value((pack.row, "standing_price")) for pack in packs]
    least = min((price for price in prices if isinstance(price, Decimal)), default=None)
    every = ",".join(layout.absolute(pack.row, "standing_price") for pack in packs)
    for at, (pack, price) in enumerate(zip(packs, prices, strict=True), first):
        own = layout.absolute(pack.row, "standing_price")
        word = f'IF(ISNUMBER({own}),IF({own}=MIN({every}),"cheapest",""),"{UNKNOWN_MARK}")'
        formula = f'=IF({layout.absolute(pack.row, "overtaken")}=1,"{OVERTAKEN}",{word})'
        shown = "cheapest" if price == least else ""
        shown = shown if isinstance(price, Decimal) else UNKNOWN_MARK
        look = look_of(Role.LABEL, Show.TEXT, WIDTH - 1)
        page.sheet.put(at, WIDTH - 1, shown if pack.stands else OVERTAKEN, look, formula=formula)
    page.mark(first, (WIDTH - 1,), '{cell}="cheapest"', Role.ANSWER)
