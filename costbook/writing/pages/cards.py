"""Cost cards: one printable card a product: what to charge, what it goes on, and every line."""

from __future__ import annotations

from decimal import Decimal
from itertools import groupby

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.definitions.parts import MADE
from costbook.definitions.rounding import rounded
from costbook.definitions.rules import share_of
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.at_least import at_least
from costbook.writing.pages.card_lines import lines_of
from costbook.writing.pages.card_parts import show_part
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import (
    DATE_WIDTH,
    MONEY_WIDTH,
    Context,
    Page,
    look_of,
)

__all__ = ["CENTS_NOTE", "card_link", "cost_cards_page"]

WIDTH = 8
PACK, SHARE, LAST = 5, 6, 7
"""The columns of a pack's figure and share on every table of a card, and the last column."""

PARTS = tuple(part.name for part in MADE)
HEADINGS = (
    "What",
    "Amount for a batch",
    "Unit",
    "Price per g, ml, piece, cm, sq cm",
    "Batch",
    "A pack sold",
    "Share of cost made",
    "Price of",
)
_SHOWS = (
    Show.TEXT,
    Show.NUMBER,
    Show.TEXT,
    Show.FINE_MONEY,
    Show.MONEY,
    Show.MONEY,
    Show.SHARE,
    Show.DATE,
)


LONG = 20
"""Lines from which a card may need a second page: its parts then say whose they are."""

PRICES = "#page: Prices"


def card_link(product: str) -> str:
    """The link to a product's cost card."""
    return f"#card: {product}"


def cost_cards_page(context: Context) -> SheetDescription:
    """Describe the sheet Cost cards."""
    page = Page(context, "Cost cards")
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = {0: 31.0, 1: MONEY_WIDTH, 2: MONEY_WIDTH, 3: 17.5, 4: MONEY_WIDTH}
    sheet.widths |= {PACK: MONEY_WIDTH, SHARE: MONEY_WIDTH, LAST: DATE_WIDTH + 2}
    sheet.frozen = (0, 1)
    prices = _by_product(context.costing.structure.rows["prices"])
    for product in context.costing.structure.rows["products"]:
        if sheet.next_row:
            sheet.page_breaks.append(sheet.next_row)
        _card(page, product, prices.get(str(product.fixed["product"]), []))
    return sheet


def _by_product(prices: list[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in prices:
        found.setdefault(str(row.fixed["product"]), []).append(row)
    return found


def _card(page: Page, product: Row, prices: list[Row]) -> None:
    sheet, name = page.sheet, str(product.fixed["product"])
    sheet.anchors[card_link(name)[1:]] = (sheet.next_row, 0)
    sheet.line(name, Role.TITLE)
    sheet.put(sheet.next_row, 0, "Cost card, as costed on", Look(Role.LEAD))
    settings = page.context.costing.structure.one("settings")
    page.figure((sheet.next_row, 1), (settings, "costed_on"), Show.DATE)
    sheet.put(sheet.next_row, 3, page.context.business, Look(Role.LEAD, indent=1))
    record = product.links["packs"].sources.get("Products")
    leads = page.context.link_to(record, "product")
    sheet.put(sheet.next_row, PACK, "Your row", look_of(Role.LABEL, Show.TEXT, 1), link=leads)
    sheet.put(sheet.next_row, SHARE, "To Prices", look_of(Role.LABEL, Show.TEXT, 1), link=PRICES)
    sheet.next_row += 1
    step_row(page.context, sheet, WIDTH)
    _outlets(page, prices)
    _parts(page, product)
    _batch(page, product)
    sheet.put(sheet.next_row, 0, "How to read this card", Look(Role.NOTE))
    page.legend((1, 2, 3, 4, 5))
    page.caution(WIDTH)
    sheet.next_row += 1


OUTLET_COLUMNS = (
    ("CHARGE", "price_on_step", Show.MONEY),
    ("Price at target", "price_at_target", Show.MONEY),
    ("All before fees", "total", Show.MONEY),
    ("of which selling", "selling", Show.MONEY),
    ("Profit there", "step_profit", Show.MONEY),
    ("Price now", "price_now", Show.MONEY),
    ("Margin now", "now_margin", Show.SHARE),
)


def _outlets(page: Page, prices: list[Row]) -> None:
    """The answer first: what to charge at each outlet."""
    sheet = page.sheet
    page.section(f"What to charge ({page.context.sign} a pack)", WIDTH)
    at_least(page, "No price to charge yet. At least this, without: ", ".", WIDTH)
    names = ("Sold at", *(name for name, *_ in OUTLET_COLUMNS))
    page.headings(names, shows=(Show.TEXT, *(show for *_, show in OUTLET_COLUMNS)))
    first = sheet.next_row
    for row in prices:
        at = sheet.next_row
        sheet.put(at, 0, str(row.fixed["outlet"] or "—"), look_of(Role.LABEL, Show.TEXT, 0))
        record = row.sources.get("Products")
        typed = page.context.link_to(record, "current_price")
        for number, (_, column, show) in enumerate(OUTLET_COLUMNS, 1):
            role = {"price_on_step": Role.ANSWER, "price_now": Role.GIVEN}.get(column)
            link = typed if column == "price_now" else ""
            page.figure((at, number), (row, column), show, role, link=link)
        sheet.next_row += 1
    page.mark_unknown(first, range(1, WIDTH))
    sheet.next_row += 1


BAR_LENGTH = 50
"""How many blocks a bar of the whole cost would have."""


def _parts(page: Page, product: Row) -> None:
    """The parts of the cost made, a bar for each, and their sum."""
    sheet = page.sheet
    page.section(f"Where the cost of a pack goes ({page.context.sign} a pack sold)", WIDTH)
    first = sheet.next_row
    for part in PARTS:
        at = sheet.next_row
        sheet.put(at, 0, part.capitalize(), look_of(Role.LABEL, Show.TEXT, 0))
        page.figure((at, 1), (product, part), Show.MONEY)
        refs = {"part": (product, part), "whole": (product, "made")}
        share = page.computed((at, 2), share_of, refs, Show.SHARE)
        _bar(page, at, share if isinstance(share, Decimal) else None)
        sheet.next_row += 1
    at = sheet.next_row
    total = look_of(Role.TOTAL, Show.TEXT, 0)
    sheet.put(at, 0, "Cost made, a pack sold", total)
    page.figure((at, 1), (product, "made"), Show.MONEY, Role.TOTAL)
    sheet.put(at, 2, None, total)
    lacks = look_of(Role.LABEL, Show.TEXT, 3)
    page.figure((at, 3), (product, "lacks"), Show.TEXT, look=lacks)
    sheet.merged.append((at, 3, at, LAST))
    sheet.next_row += 1
    page.mark_unknown(first, (1, 2))
    page.mark(at, (3,), '{cell}<>""')
    _cents_note(page, product, first)
    sheet.next_row += 1


def _bar(page: Page, at: int, share: Decimal | None) -> None:
    """A bar of blocks as long as the share: it follows the figure, and prints as it shows."""
    cell = page.address(at, 2)
    formula = f'=IF(ISNUMBER({cell}),REPT("█",MAX(0,ROUND({BAR_LENGTH}*{cell},0))),"")'
    blocks = max(0, int(round_money(BAR_LENGTH * share, 0))) if share is not None else 0
    look = Look(Role.BAR, indent=1)
    page.sheet.put(at, 3, "█" * blocks, look, formula=formula)
    page.sheet.merged.append((at, 3, at, LAST))


CENTS_NOTE = "The parts are shown rounded, so they seem a little off; the sum is exact."


def _cents_note(page: Page, product: Row, first: int) -> None:
    """A note that appears when the shown cents don't add up to the shown sum."""
    places = page.context.places
    cells = [page.address(first + number, 1) for number in range(len(PARTS))]
    whole = page.address(first + len(PARTS), 1)
    rounded = "+".join(f"ROUND({cell},{places})" for cell in cells)
    test = f"ABS({rounded}-ROUND({whole},{places}))<0.0000001"
    formula = f'=IFERROR(IF({test},"","{CENTS_NOTE}"),"")'
    figures = [page.value((product, part)) for part in (*PARTS, "made")]
    shown = ""
    if all(isinstance(figure, Decimal) for figure in figures):
        cents = [round_money(figure, places) for figure in figures if isinstance(figure, Decimal)]
        shown = "" if sum(cents[:-1]) == cents[-1] else CENTS_NOTE
    page.sheet.put(page.sheet.next_row, 0, shown, Look(Role.NOTE), formula=formula)


def round_money(figure: Decimal, places: int) -> Decimal:
    """Money as it is shown: to the currency's coin, half up, as spreadsheets round."""
    return rounded(Decimal(f"{figure:.15g}"), places)


BATCH = (
    (0, "A batch starts", "units_started"),
    (3, "of which good", "units_good"),
    (6, "packs sold", "packs_sold"),
)


def _batch(page: Page, product: Row) -> None:
    """Every line of a batch, part by part; a card longer than a page breaks between parts."""
    sheet, pack = page.sheet, product.links["packs"]
    page.section(f"What one batch takes ({page.context.sign})", WIDTH)
    for at, label, column in BATCH:
        sheet.put(sheet.next_row, at, label, look_of(Role.LABEL, Show.TEXT, at))
        page.figure((sheet.next_row, at + 1), (pack, column), Show.NUMBER)
    sheet.next_row += 1
    page.headings(HEADINGS, shows=_SHOWS)
    first = sheet.next_row
    all_lines = list(lines_of(page.context, product))
    name = str(product.fixed["product"]) if len(all_lines) > LONG else ""
    for part, lines in groupby(all_lines, lambda line: line.part):
        if sheet.next_row > first:
            sheet.begin_block()
        show_part(page, product, part, list(lines), name)
    page.mark_unknown(first, range(1, WIDTH))
    sheet.next_row += 1
