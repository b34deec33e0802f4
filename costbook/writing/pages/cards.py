"""Cost cards: one printable card a product, from its lines to its price at each outlet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from costbook.costing.rows import Row
from costbook.definitions import rules
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.page import Context, Page, Ref

__all__ = ["card_rows", "cost_cards_page"]

WIDTH = 8
HEADINGS = (
    "Part",
    "What",
    "Amount for a batch",
    "Unit",
    "Price per base unit",
    "Batch",
    "A pack sold",
    "Share of cost made",
    "Price of",
)
PARTS = ("ingredients", "packaging", "labour", "kitchen", "overhead")


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of a card: what it is, its amount, its unit's price, and its cost for a batch."""

    part: str
    what: str
    cost: Ref
    amount: Ref | None = None
    unit: str = ""
    price: Ref | None = None
    day: Ref | None = None


def _lines(context: Context, product: Row) -> Iterator[_Line]:
    """The lines of a product's card in the order of the money."""
    rows = context.costing.structure.rows
    recipe = product.links.get("recipes")
    if recipe is not None:
        for at in recipe.children["lines"]:
            yield _item_line(context, "Ingredients", rows["lines"][at], "Recipes")
        yield _Line("Ingredients", "Small-ingredient allowance", (recipe, "items_cost"))
        for at in recipe.children["uses"]:
            row = rows["uses"][at]
            unit = row.sources["Recipes"].text("unit")
            name = f"{row.fixed['uses']} (recipe)"
            yield _Line("Ingredients", name, (row, "used_cost"), (row, "amount"), unit)
    for at in product.children["packaging"]:
        yield _item_line(context, "Packaging", rows["packaging"][at], "Packaging")
    if recipe is not None:
        for at in recipe.children["stages"]:
            yield _stage_line(rows["stages"][at])
        for at in recipe.children["uses"]:
            row = rows["uses"][at]
            yield _Line(
                "Labour",
                f"{row.fixed['uses']} (recipe)",
                (row, "used_labour"),
                (row, "used_person_minutes"),
                "min",
            )
    for at in product.children["product_stages"]:
        yield _stage_line(rows["product_stages"][at])
    yield _Line(
        "Kitchen", "Kitchen hire", (product, "kitchen_batch"), (product, "kitchen_minutes"), "min"
    )
    yield _Line("Overhead", "Overheads", (product, "overhead_per_batch"))


def _item_line(context: Context, part: str, row: Row, sheet: str) -> _Line:
    record = row.sources[sheet]
    unit = record.text("unit") or record.units_in_text.get("amount", "")
    bought = row.links.get("prices_now")
    return _Line(
        part,
        str(row.fixed["uses"]),
        (row, "line_cost"),
        (row, "amount"),
        unit,
        (row, "price_per_base_unit") if bought else None,
        (bought, "day") if bought else None,
    )


def _stage_line(row: Row) -> _Line:
    stage = f"{row.fixed['stage']}"
    return _Line("Labour", stage, (row, "stage_labour"), (row, "person_minutes"), "min")


def card_rows(context: Context) -> dict[str, int]:
    """The row, from 0, in which each product's card starts."""
    rows: dict[str, int] = {}
    at = 0
    outlets = len(context.costing.structure.rows["outlets"])
    for product in context.costing.structure.rows["products"]:
        rows[str(product.fixed["product"])] = at
        at += len(list(_lines(context, product))) + outlets + FRAME
    return rows


FRAME = 17
"""Rows of a card beside its lines and outlets."""


def cost_cards_page(context: Context) -> SheetDescription:
    """Describe the sheet Cost cards."""
    page = Page(context, "Cost cards")
    sheet = page.sheet
    sheet.landscape = False
    sheet.widths = {0: 13, 1: 30, 2: 12, 3: 9, 4: 12, 5: 12, 6: 12, 7: 10, 8: 13}
    starts = card_rows(context)
    prices = _by_product(context.costing.structure.rows["prices"])
    for product in context.costing.structure.rows["products"]:
        name = str(product.fixed["product"])
        sheet.next_row = starts[name]
        if sheet.next_row:
            sheet.page_breaks.append(sheet.next_row)
        _card(page, product, prices.get(name, []))
    return sheet


def _by_product(prices: list[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in prices:
        found.setdefault(str(row.fixed["product"]), []).append(row)
    return found


def _card(page: Page, product: Row, prices: list[Row]) -> None:
    sheet = page.sheet
    sheet.line(str(product.fixed["product"]), Role.TITLE)
    _batch_line(page, product)
    sheet.next_row += 1
    page.headings(HEADINGS)
    for line in _lines(page.context, product):
        _line(page, product, line)
    _parts(page, product)
    _outlets(page, prices)
    page.caution(WIDTH + 1)


def _batch_line(page: Page, product: Row) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    pack = product.links["packs"]
    cells = (
        ("A batch starts", "makes"),
        ("of which good", "good"),
        ("Packs sold of it", "packs_sold"),
    )
    for number, (label, column) in enumerate(cells):
        sheet.put(at, 3 * number if number else 0, label, Look(Role.LABEL))
        page.figure((at, 3 * number + (1 if number == 0 else 2)), (pack, column), Show.NUMBER)
    sheet.next_row += 1


def _line(page: Page, product: Row, line: _Line) -> None:
    sheet, at = page.sheet, page.sheet.next_row
    sheet.put(at, 0, line.part, Look(Role.LABEL))
    sheet.put(at, 1, line.what, Look(Role.LABEL))
    if line.amount:
        show = Show.MINUTES if line.unit == "min" else Show.NUMBER
        page.figure((at, 2), line.amount, show)
        sheet.put(at, 3, "" if line.unit == "min" else line.unit, Look(Role.LABEL))
    if line.price:
        page.figure((at, 4), line.price, Show.FINE_MONEY, linked=True)
    packs, made = (product, "packs_sold"), (product, "made")
    settings = page.context.costing.structure.one("settings")
    if line.what == "Small-ingredient allowance":
        refs = {
            "items_cost": line.cost,
            "small_ingredient_allowance": (settings, "small_ingredient_allowance"),
        }
        page.computed((at, 5), rules.allowance_cost, refs, Show.MONEY)
        page.computed((at, 6), _allowance_per_pack, refs | {"packs_sold": packs}, Show.MONEY)
        page.computed(
            (at, 7), _allowance_share, refs | {"packs_sold": packs, "made": made}, Show.SHARE
        )
    else:
        page.figure((at, 5), line.cost, Show.MONEY, linked=True)
        page.computed(
            (at, 6), rules.per_pack, {"batch_figure": line.cost, "packs_sold": packs}, Show.MONEY
        )
        page.computed(
            (at, 7),
            _share,
            {"batch_figure": line.cost, "packs_sold": packs, "made": made},
            Show.SHARE,
        )
    if line.day:
        page.figure((at, 8), line.day, Show.DATE)
    sheet.next_row += 1


def _share(batch_figure: Decimal, packs_sold: Decimal, made: Decimal) -> Decimal:
    return rules.share_of(rules.per_pack(batch_figure, packs_sold), made)


def _allowance_per_pack(
    items_cost: Decimal, small_ingredient_allowance: Decimal, packs_sold: Decimal
) -> Decimal:
    whole = rules.allowance_cost(items_cost, small_ingredient_allowance)
    return rules.per_pack(whole, packs_sold)


def _allowance_share(
    items_cost: Decimal, small_ingredient_allowance: Decimal, packs_sold: Decimal, made: Decimal
) -> Decimal:
    part = _allowance_per_pack(items_cost, small_ingredient_allowance, packs_sold)
    return rules.share_of(part, made)


def _parts(page: Page, product: Row) -> None:
    """The parts of the cost made, and their sum."""
    sheet = page.sheet
    sheet.next_row += 1
    first = sheet.next_row
    for part in PARTS:
        at = sheet.next_row
        sheet.put(at, 1, part.capitalize(), Look(Role.LABEL))
        page.figure((at, 6), (product, part), Show.MONEY)
        page.computed(
            (at, 7),
            rules.share_of,
            {"part": (product, part), "whole": (product, "made")},
            Show.SHARE,
        )
        sheet.next_row += 1
    at = sheet.next_row
    sheet.put(at, 1, "Cost made, a pack sold", Look(Role.TOTAL))
    page.figure((at, 6), (product, "made"), Show.MONEY, Role.TOTAL, linked=True)
    page.figure((at, 8), (product, "lacks"), Show.TEXT, Role.FLAG)
    _cents_note(page, product, first)
    sheet.next_row += 2


CENTS_NOTE = "The parts are shown rounded, so they seem a little off; the sum is exact."


def _cents_note(page: Page, product: Row, first: int) -> None:
    """A note that appears when the shown cents don't add up to the shown sum."""
    places = page.context.places
    cells = [page.address(first + number, 6) for number in range(len(PARTS))]
    whole = page.address(first + len(PARTS), 6)
    rounded = "+".join(f"ROUND({cell},{places})" for cell in cells)
    test = f"ABS({rounded}-ROUND({whole},{places}))<0.0000001"
    formula = f'=IFERROR(IF({test},"","{CENTS_NOTE}"),"")'
    figures = [page.value((product, part)) for part in (*PARTS, "made")]
    shown = ""
    if all(isinstance(figure, Decimal) for figure in figures):
        cents = [round_money(figure, places) for figure in figures if isinstance(figure, Decimal)]
        shown = "" if sum(cents[:-1]) == cents[-1] else CENTS_NOTE
    page.sheet.put(page.sheet.next_row + 1, 1, shown, Look(Role.NOTE), formula=formula)


def round_money(figure: Decimal, places: int) -> Decimal:
    """Money as it is shown: to the currency's coin, half up, as spreadsheets round."""
    from decimal import ROUND_HALF_UP

    near = Decimal(f"{figure:.15g}")
    return near.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


OUTLET_COLUMNS = (
    ("Selling", "selling"),
    ("All before fees", "total"),
    ("Price at target", "price_at_target"),
    ("CHARGE", "price_on_step"),
    ("Profit there", "step_profit"),
    ("Price now", "price_now"),
    ("Margin now", "now_margin"),
)


def _outlets(page: Page, prices: list[Row]) -> None:
    sheet = page.sheet
    sheet.next_row += 1
    page.headings(("Sold at", "", *(name for name, _ in OUTLET_COLUMNS)))
    for row in prices:
        at = sheet.next_row
        sheet.put(at, 0, str(row.fixed["outlet"] or "—"), Look(Role.LABEL))
        for number, (_, column) in enumerate(OUTLET_COLUMNS, 2):
            role = Role.ANSWER if column == "price_on_step" else Role.COMPUTED
            show = Show.SHARE if column == "now_margin" else Show.MONEY
            page.figure((at, number), (row, column), show, role)
        sheet.next_row += 1
