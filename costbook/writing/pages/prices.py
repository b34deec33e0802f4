"""Prices: what to charge, where the money goes, the price ladder, and the day."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from costbook.costing.charged import USUAL_MIX
from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.definitions.parts import PARTS
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.alone import alone
from costbook.writing.pages.at_least import at_least
from costbook.writing.pages.bars import bars
from costbook.writing.pages.cards import card_link
from costbook.writing.pages.glance import glance
from costbook.writing.pages.in_step import STILL_TRUE, step_row
from costbook.writing.pages.ladder import ladder
from costbook.writing.pages.page import MONEY_WIDTH, Context, Page, look_of
from costbook.writing.pages.parted import parted, product_of, row_height

__all__ = ["prices_page"]

FIRST_FIGURE = 2
NARROW, WIDE, MUCH = 9.3, 11.3, 10_000
"""Columns that hold 99,999.99, while no price is as much, and others a word of advice, too."""
OF_FIGURES_ALONE = (4, 5, 7, 8, 10)
"""Columns without the longest words: Ingredients, Packaging, what to do at each outlet."""
ROOM, FIRST_ROOM = 600.0, 470.0
"""How high a table's rows on one page may be [points], below its headings; less on the first."""
FIRST_ROWS = 10
"""Where the first table begins, if not below."""

SAID = '{cell}<>""'
"""The test of a cell that says something."""

M, S, T, W = Show.MONEY, Show.SHARE, Show.TEXT, Show.WHOLE
PricesColumn = tuple[str, str, Show, Role | None]

CHARGE: tuple[PricesColumn, ...] = (
    ("Cost before fees", "total", M, None),
    ("Target margin", "applied_target_margin", S, None),
    ("Price at target", "price_at_target", M, None),
    ("CHARGE", "price_on_step", M, Role.ANSWER),
    ("Margin there", "step_margin", S, None),
    ("Markup there", "step_markup", S, None),
    ("Profit there", "step_profit", M, None),
    ("Price now", "price_now", M, None),
    ("Margin now", "now_margin", S, None),
    ("Markup now", "now_markup", S, None),
    ("What to do", "advice", T, Role.LABEL),
    ("Lacks", "lacks_or_goes_without", T, Role.LABEL),
)
STACK: tuple[PricesColumn, ...] = (
    *((part.title, part.name, M, None) for part in PARTS),
    ("Fees on the price", "step_fees", M, None),
    ("Profit", "step_profit", M, None),
    ("Without tax", "step_before_tax", M, Role.SUM),
    ("CHARGE", "price_on_step", M, Role.ANSWER),
    ("Known so far", "known", M, None),
    ("Still lacks", "lacks_or_goes_without", T, Role.LABEL),
)
ADVICE = FIRST_FIGURE + [column for _, column, *_ in CHARGE].index("advice")
LACKS = FIRST_FIGURE + max(len(CHARGE), len(STACK)) - 1
"""The columns of words: what to do beside the figures, and at the end what they lack."""
WIDTH = LACKS + 1


def prices_page(context: Context) -> SheetDescription:
    """Describe the sheet Prices."""
    page = Page(context, "Prices")
    rows = context.costing.structure.rows["prices"]
    page.sheet.widths = {0: 22.0, 1: 16.5, **_figures_wide(context), ADVICE: 14.0, LACKS: 45.0}
    page.sheet.frozen = (1, FIRST_FIGURE)
    page.sheet.repeated_rows = (0, 0)
    money = f"({context.sign} a pack)"
    _head(page)
    glance(page, rows, WIDTH)
    _table(page, f"What to charge, in full {money}", rows, CHARGE, note=CHARGE_NOTE)
    _table(page, f"Where the money goes, at the price to charge {money}", rows, STACK)
    alone(page, rows, WIDTH)
    _days(page)
    bars(page, WIDTH)
    ladder(page, rows, WIDTH)
    page.caution(LACKS)
    return page.sheet


def _figures_wide(context: Context) -> dict[int, float]:
    """How wide each column of figures is: three outlets abreast stand on one small screen."""
    found = (row["price_on_step"] for row in context.costing.figures["prices"])
    most = max((each for each in found if isinstance(each, Decimal)), default=Decimal(0))
    columns = range(FIRST_FIGURE, LACKS)
    if most >= MUCH:
        return dict.fromkeys(columns, MONEY_WIDTH)
    return {at: NARROW if at in OF_FIGURES_ALONE else WIDE for at in columns}


def _head(page: Page) -> None:
    context, sheet = page.context, page.sheet
    name = f"{context.business}: " if context.business else ""
    sheet.line(f"{name}what each pack sold cost, and what to charge", Role.TITLE)
    settings = context.costing.structure.one("settings")
    row = sheet.next_row
    sheet.put(row, 0, "Costed on", Look(Role.LEAD))
    page.figure((row, 1), (settings, "costed_on"), Show.DATE)
    sheet.put(row, 2, f"Money is {_money_in_words(context)}.", Look(Role.LEAD, indent=1))
    sheet.next_row += 1
    step_row(context, sheet, WIDTH, STILL_TRUE)
    at_least(page, *WITHOUT, WIDTH)
    sheet.put(sheet.next_row, 0, "How to read this sheet", Look(Role.NOTE))
    page.legend((1, 2, 3, 6, 9))
    text = (
        "A ? is not known, and never counted as nothing. A product's name and its CHARGE lead to "
        "its cost card; the price now to where you typed it."
    )
    sheet.line(text, Role.NOTE, across=WIDTH)
    sheet.next_row += 1


def _money_in_words(context: Context) -> str:
    if not context.money:
        return "in your currency: Settings names none"
    signed = f" ({context.sign})" if context.sign != context.money else ""
    return f"in {context.money}{signed}"


WITHOUT = (
    "No price to charge yet. These are the least to ask, without: ",
    (
        ". Fill in their sheets, with a 0 where there is nothing to pay; Settings takes a yes for "
        "No kitchen to pay, No overheads and No selling costs."
    ),
)
CHARGE_NOTE = (
    "CHARGE is the price at the target margin, up to the next step. Margin is what is left over "
    "the price, markup what is left over all cost; both without sales tax."
)


MIX: tuple[PricesColumn, ...] = (
    ("Units in all that pay for the day", "break_even", W, Role.ANSWER),
    ("In packs", "break_even_packs", W, None),
    ("Units before own pay", "break_even_without_pay", W, None),
    ("Units sold a day", "units_sold_per_day", W, Role.GIVEN),
    ("Left per unit towards the day", "contribution_per_unit", M, None),
    ("The day costs", "day_costs", M, None),
)
MIX_NOTE = f"The usual mix: {USUAL_MIX}, at the prices now, else at the price to charge."


def _table(
    page: Page, title: str, rows: Sequence[Row], columns: tuple[PricesColumn, ...], note: str = ""
) -> None:
    """A table with a row a product and outlet; a long one goes on under headings of its own."""

    def high(row: Row) -> float:
        lacks = str(page.value((row, "lacks_or_goes_without")))
        return row_height(page, {0: product_of(row), 1: str(row.fixed["outlet"]), LACKS: lacks})

    first_room = FIRST_ROOM if page.sheet.next_row < FIRST_ROWS else ROOM
    for number, part in enumerate(parted(rows, high, ROOM, first_room)):
        page.section(title if number == 0 else f"{title}, continued", WIDTH)
        if note and number == 0:
            page.sheet.line(note, Role.NOTE, across=WIDTH)
        _part(page, part, columns)
        page.sheet.next_row += 1


def _days(page: Page) -> None:
    """What pays for a day at each outlet, of all its products together."""
    rows = [row for row in page.context.costing.structure.rows["days"] if row.sources]
    if not rows:
        return
    page.section(f"A day in the usual mix ({page.context.sign})", WIDTH)
    page.sheet.line(MIX_NOTE, Role.NOTE, across=WIDTH)
    shows = (T, T, *(show for _, _, show, _ in MIX))
    page.headings(("Sold at", "", *(name for name, *_ in MIX)), shows=shows, across=WIDTH)
    first = page.sheet.next_row
    for row in rows:
        at = page.sheet.next_row
        page.figure((at, 0), (row, "outlet"), T, look=look_of(Role.LABEL, T, 0))
        for column, (_, figure, show, role) in enumerate(MIX, FIRST_FIGURE):
            page.figure((at, column), (row, figure), show, role)
        page.sheet.next_row += 1
    page.mark_unknown(first, range(FIRST_FIGURE, FIRST_FIGURE + len(MIX)))
    page.sheet.next_row += 1


def _part(page: Page, rows: Sequence[Row], columns: tuple[PricesColumn, ...]) -> None:
    at_column = [*range(FIRST_FIGURE, FIRST_FIGURE + len(columns))]
    if columns[-1][2] is T:
        at_column[-1] = LACKS
    names = {at: name for at, (name, *_) in zip(at_column, columns, strict=True)}
    shows = {at: show for at, (_, _, show, _) in zip(at_column, columns, strict=True)}
    across = range(FIRST_FIGURE, WIDTH)
    heads = ("Product", "Sold at", *(names.get(at, "") for at in across))
    page.headings(heads, shows=(T, T, *(shows.get(at, T) for at in across)))
    first = page.sheet.next_row
    last_product = ""
    for row in rows:
        ruled = product_of(row) != last_product
        last_product = product_of(row)
        _row(page, row, list(zip(at_column, columns, strict=True)), ruled=ruled)
    page.mark_unknown(first, [at for at in at_column if shows[at] is not T])
    page.mark(first, (LACKS,), SAID)


def _row(page: Page, row: Row, columns: list[tuple[int, PricesColumn]], *, ruled: bool) -> None:
    at = page.sheet.next_row
    product, outlet = product_of(row), str(row.fixed["outlet"] or "—")
    name = look_of(Role.LABEL, T, 0, ruled=ruled)
    page.figure((at, 0), (row, "product"), T, look=name, link=card_link(product))
    page.sheet.put(at, 1, outlet, look_of(Role.LABEL, T, 1, ruled=ruled))
    typed = {"price_now": "current_price", "applied_target_margin": "product_target_margin"}
    for column, (_, figure, show, role) in columns:
        look = look_of(role or Role.COMPUTED, show, column, ruled=ruled)
        if figure in typed:
            look = look_of(Role.GIVEN, show, column, ruled=ruled)
        link = page.context.link_to(row.sources.get("Products"), typed.get(figure, ""))
        if figure in ("total", "price_on_step"):
            link = card_link(product)
        page.figure((at, column), (row, figure), show, link=link, look=look)
    page.sheet.next_row += 1
