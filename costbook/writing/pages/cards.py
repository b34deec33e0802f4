"""Cost cards: a page a recipe to pin up, its fillings where room is, bench cards, a price list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import groupby

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.definitions.parts import MADE
from costbook.definitions.rounding import rounded
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.at_least import at_least
from costbook.writing.pages.bench import bench_cards, bench_link
from costbook.writing.pages.card_lines import lines_of
from costbook.writing.pages.card_parts import (
    EACH,
    LAST,
    SHARE,
    WIDTH,
    headings,
    of_a_product,
    show_part,
)
from costbook.writing.pages.fillings import ABOVE, LOW_ROW, FillingCards
from costbook.writing.pages.fitting import fit_figures
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.other_packs import show_made, what_differs
from costbook.writing.pages.page import Context, Page, look_of
from costbook.writing.pages.parted import product_of
from costbook.writing.pages.price_list import price_list

__all__ = ["CENTS_NOTE", "card_link", "cost_cards_page"]

WIDTHS = (18.5, 8.5, 7.0, 8.5, 7.0, 8.5, 8.5, 7.0, 11.5)
"""In all as wide as a page upright, so that 10 points are 10 points on paper."""
PRICES = "#page: Prices"


def card_link(product: str) -> str:
    """The link to a product's cost card."""
    return f"#card: {product}"


def cost_cards_page(context: Context) -> SheetDescription:
    """Describe the sheet Cost cards: everything that is made to be printed and pinned up."""
    page = Page(context, "Cost cards")
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = dict(enumerate(WIDTHS))
    sheet.frozen = (0, 1)
    prices = _by_product(context.costing.structure.rows["prices"])
    unplaced = FillingCards(context, sheet.widths)
    for packs in _by_recipe(context.costing.structure.rows["products"]):
        first = sheet.next_row
        _begin_page(sheet)
        _card(page, packs, prices)
        _set_low(sheet, first)
        unplaced.fill(page, first)
    first = sheet.next_row
    if unplaced.are_left:
        _begin_page(sheet)
        unplaced.put_all(page)
    sheet.begin_block()
    sheet.heights[sheet.next_row] = ABOVE
    page.caution(WIDTH)
    _set_low(sheet, first)
    fit_figures(page, range(1, LAST))
    _begin_page(sheet)  # no page with money on it hangs at the bench
    bench_cards(page)
    price_list(page, lambda: _begin_page(sheet))
    return sheet


def _set_low(sheet: SheetDescription, first: int) -> None:
    """Make the rows from one on as high as their 10 points need, where nothing else is said."""
    for row in range(first, sheet.next_row):
        sheet.heights.setdefault(row, LOW_ROW)


def _by_recipe(products: Sequence[Row]) -> list[list[Row]]:
    """The products in their order, those of one recipe together: packs of the same thing."""
    found: dict[object, list[Row]] = {}
    for product in products:
        recipe = product.links.get("recipes")
        key = f"alone {product.index}" if recipe is None else recipe.index
        found.setdefault(key, []).append(product)
    return list(found.values())


def _begin_page(sheet: SheetDescription) -> None:
    if sheet.next_row:
        sheet.page_breaks.append(sheet.next_row)


def _by_product(prices: Sequence[Row]) -> Mapping[int, list[Row]]:
    found: dict[int, list[Row]] = {}
    for price in prices:
        found.setdefault(price.links["products"].index, []).append(price)
    return found


def _card(page: Page, packs: Sequence[Row], prices: Mapping[int, list[Row]]) -> None:
    """The card of a product; other packs of its recipe stand on it with what differs."""
    sheet, product = page.sheet, packs[0]
    sheet.anchors[card_link(product_of(product))[1:]] = (sheet.next_row, 0)
    sheet.line(product_of(product), Role.TITLE)
    _below_the_name(page, product)
    step_row(page.context, sheet, WIDTH)
    _outlets(page, packs, prices)
    _batch(page, product)
    for other in packs[1:]:
        sheet.begin_block()
        what_differs(page, product, other)


def _below_the_name(page: Page, product: Row) -> None:
    """What this is, links to what it rests on and goes with, and the day it was costed on."""
    sheet, at = page.sheet, page.sheet.next_row
    business = page.context.business
    sheet.put(at, 0, f"Cost card, {business}" if business else "Cost card", Look(Role.LEAD))
    row = page.context.link_to(product.links["packs"].sources.get("Products"), "product")
    sheet.put(at, 3, "Your row", Look(Role.LABEL), link=row)
    sheet.put(at, 4, "Prices", Look(Role.LABEL), link=PRICES)
    recipe = product.links.get("recipes")
    if recipe is not None:
        bench = bench_link(str(recipe.fixed["recipe"]))
        sheet.put(at, 5, "Bench", Look(Role.LABEL), link=bench)
    sheet.put(at, EACH, "as costed on", Look(Role.LEAD, indent=1))
    settings = page.context.costing.structure.one("settings")
    page.figure((at, LAST), (settings, "costed_on"), Show.DATE)
    sheet.next_row += 1


OUTLET_COLUMNS = (
    (1, "CHARGE", "price_on_step", Show.MONEY),
    (3, "Price now", "price_now", Show.MONEY),
    (5, "Cost there", "total", Show.MONEY),
    (EACH, "Profit there", "step_profit", Show.MONEY),
    (SHARE, "Margin now", "now_margin", Show.SHARE),
    (LAST, "What to do", "advice", Show.TEXT),
)
"""What a card says of an outlet, in the columns for figures of the table below it."""


def _outlets(page: Page, packs: Sequence[Row], prices: Mapping[int, list[Row]]) -> None:
    """The answer first: what to charge at each outlet, for a pack and for others of its recipe."""
    sheet = page.sheet
    at_least(page, "No price to charge yet. At least this, without: ", ".", WIDTH)
    named = {0: (f"Sold at ({page.context.sign})", Show.TEXT)}
    named |= {column: (name, show) for column, name, _, show in OUTLET_COLUMNS}
    headings = [named.get(at, ("", Show.TEXT)) for at in range(WIDTH)]
    page.headings([name for name, _ in headings], shows=[show for _, show in headings])
    first = sheet.next_row
    for number, product in enumerate(packs):
        if number:
            _other_pack(page, product)
        for price in prices.get(product.index, ()):
            _outlet(page, price)
    page.mark_unknown(first, range(1, LAST))


def _other_pack(page: Page, product: Row) -> None:
    """The name of another pack of the recipe: its card stands here."""
    sheet, at = page.sheet, page.sheet.next_row
    sheet.anchors[card_link(product_of(product))[1:]] = (at, 0)
    sheet.put(at, 0, product_of(product), Look(Role.SUM))
    row = page.context.link_to(product.links["packs"].sources.get("Products"), "product")
    sheet.put(at, EACH, "Your row", Look(Role.LABEL, indent=1), link=row)
    sheet.next_row += 1


def _outlet(page: Page, price: Row) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    sheet.put(at, 0, str(price.fixed["outlet"] or "—"), look_of(Role.LABEL, Show.TEXT, 0))
    typed = page.context.link_to(price.sources.get("Products"), "current_price")
    for column, _, figure, show in OUTLET_COLUMNS:
        role = {"price_on_step": Role.ANSWER, "price_now": Role.GIVEN}.get(figure)
        link = typed if figure == "price_now" else ""
        page.figure((at, column), (price, figure), show, role, link=link)
    sheet.next_row += 1


def _batch(page: Page, product: Row) -> None:
    """Every line of a batch, part by part; a card longer than a page breaks between parts."""
    sheet = page.sheet
    sheet.begin_block()
    sheet.heights[sheet.next_row] = ABOVE + LOW_ROW
    _starts(page, product.links["packs"])
    names, shows = zip(*headings("A pack"), strict=True)
    page.headings((f"One batch ({page.context.sign})", *names[1:]), shows=shows)
    first, scale = sheet.next_row, of_a_product(product)
    parts: list[int] = []
    for title, lines in groupby(lines_of(page.context, product), lambda line: line.part):
        if parts:
            sheet.begin_block()
        parts.append(sheet.next_row)
        show_part(page, scale, title, (product, title.lower()), list(lines))
    show_made(page, product)
    page.mark_unknown(first, range(1, LAST))
    _cents_note(page, product, parts)


def _starts(page: Page, pack: Row) -> None:
    """How many a batch starts, how many of them are good, and how many packs of them are sold."""
    at = page.sheet.next_row
    for column, label, name, figure in (
        (0, "A batch starts", "units_started", 1),
        (2, "good", "units_good", 3),
        (4, "packs sold", "packs_sold", EACH),
    ):
        page.sheet.put(at, column, label, Look(Role.LABEL, indent=1 if column else 0))
        page.figure((at, figure), (pack, name), Show.NUMBER)
    page.sheet.next_row += 1


CENTS_NOTE = "The parts are shown rounded, so they seem a little off; the sum is exact."


def _cents_note(page: Page, product: Row, parts: list[int]) -> None:
    """A note that appears when the shown cents of the parts don't add up to the shown sum."""
    places, at = page.context.places, page.sheet.next_row
    whole = page.address(at - 1, EACH)
    cells = "+".join(f"ROUND({page.address(row, EACH)},{places})" for row in parts)
    test = f"ABS({cells}-ROUND({whole},{places}))<0.0000001"
    formula = f'=IFERROR(IF({test},"","{CENTS_NOTE}"),"")'
    figures = list(_figures(page, product))
    known = [figure for figure in figures if isinstance(figure, Decimal)]
    shown = ""
    if len(known) == len(figures):
        cents = [rounded(Decimal(f"{figure:.15g}"), places) for figure in known]
        shown = "" if sum(cents[:-1]) == cents[-1] else CENTS_NOTE
    page.sheet.put(at, 0, shown, Look(Role.NOTE), formula=formula)
    page.sheet.next_row += 1


def _figures(page: Page, product: Row) -> Iterator[object]:
    """The parts of the cost made, and it."""
    for name in (*(part.name for part in MADE), "made"):
        yield page.value((product, name))
