"""The week: what to make, in how many batches, whether time and room suffice; and bench cards."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from costbook.book import Book
from costbook.costing.structure import Row
from costbook.deciding.allergens_within import allergens_within
from costbook.deciding.ingredients import Recipes
from costbook.deciding.week import planned_recipes
from costbook.deciding.week_sales import sold_lately
from costbook.definitions.columns import Show
from costbook.definitions.parts import MADE
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.bench import bench_card, planned_link
from costbook.writing.pages.card_lines import unit_beside
from costbook.writing.pages.card_parts import WIDTH
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page, look_of

__all__ = ["THE_WEEK", "has_plan", "week_page"]

THE_WEEK: Final = "The week"
WIDTHS: Final = (25.0, 10.5, 10.5, 10.5, 10.5, 10.5, 8.0, 8.0, 10.5)

PRODUCTS: Final = (
    ("Wanted", "wanted", Show.NUMBER, Role.GIVEN),
    ("In freezer", "in_freezer", Show.NUMBER, Role.COMPUTED),
    ("TO MAKE", "to_make", Show.NUMBER, Role.ANSWER),
    ("Come out", "out", Show.NUMBER, Role.COMPUTED),
    ("To spare", "spare", Show.NUMBER, Role.COMPUTED),
)
SPARE: Final = len(PRODUCTS)
LATELY: Final = "Lately sold (at the last run)"
RECIPES: Final = (
    ("BATCHES", "batches", Show.NUMBER, Role.ANSWER),
    ("Needed", "units", Show.NUMBER, Role.COMPUTED),
    ("Left over", "left_over", Show.NUMBER, Role.COMPUTED),
    ("Minutes", "minutes", Show.MINUTES, Role.COMPUTED),
    ("Of these yours", "own_minutes", Show.MINUTES, Role.COMPUTED),
    ("Cost", "cost", Show.MONEY, Role.COMPUTED),
)
SESSION: Final = (
    ("Your minutes", "own_minutes", Show.MINUTES),
    ("Minutes you have", "minutes_there", Show.MINUTES),
    ("Too few by", "minutes_over", Show.MINUTES),
    ("The kitchen by the clock", "clock_minutes", Show.MINUTES),
    ("The kitchen, booked", "kitchen_minutes", Show.MINUTES),
    ("Blocks booked", "blocks", Show.NUMBER),
    ("Packs in the freezer then", "to_freeze", Show.NUMBER),
    ("The freezer holds", "freezer_holds", Show.NUMBER),
    ("Packs too many", "packs_over", Show.NUMBER),
)
VERDICTS: Final = {"own_minutes": "time_said", "to_freeze": "room"}
"""By line, the column with the words beside it."""


def has_plan(book: Book) -> bool:
    """Whether a workbook has a sheet Plan."""
    return "Plan" in book.sheets


def week_page(context: Context) -> SheetDescription:
    """Describe the sheet The week: a page to decide by, then the bench cards, a page each."""
    page = Page(context, THE_WEEK)
    sheet, rows = page.sheet, context.costing.structure.rows
    sheet.landscape = False
    sheet.widths = dict(enumerate(WIDTHS))
    sheet.line(f"The week: what to make ({context.sign})", Role.TITLE)
    sheet.line(
        "Type on Plan how many packs you want; what you type below its last row counts at once. "
        "A recipe planned only since has its bench card after the next run.",
        Role.NOTE,
        across=WIDTH,
    )
    step_row(context, sheet, WIDTH)
    _asked(page)
    _products(page, rows["plan_products"])
    _recipes(page, list(reversed(rows["plan_work"])))
    _session(page)
    page.caution(WIDTH)
    recipes = Recipes(context.costing)
    for row in planned_recipes(context.costing):
        sheet.page_breaks.append(sheet.next_row)
        recipe, batches = row.links["recipes"], (row.links["plan_recipes"], "batches")
        bench_card(page, recipe, batches, allergens_within(recipes.made_of(recipe)))
        page.caution(WIDTH)
    return sheet


def _asked(page: Page) -> None:
    """What must be answered first, where a row of the plan is nobody's."""
    at, whole = page.sheet.next_row, page.context.costing.structure.one("plan_rows")
    page.figure((at, 0), (whole, "said"), Show.TEXT, look=Look(Role.NOTE, wrap=True))
    page.sheet.merged.append((at, 0, at, WIDTH - 1))
    page.sheet.next_row += 1
    page.mark(at, (0,), '{cell}<>""')


def _products(page: Page, rows: Sequence[Row]) -> None:
    page.section("What to make (packs)", WIDTH)
    sold = sold_lately(page.context.costing)
    heading = page.headings(
        ("Product", *(name for name, *_ in PRODUCTS), *([LATELY] if sold else [])),
        shows=(Show.TEXT, *(show for _, _, show, _ in PRODUCTS)),
        across=WIDTH,
    )
    for row in rows:
        at = page.sheet.next_row
        link = page.context.link_to(row.sources.get("Products"), "product")
        page.figure((at, 0), (row, "product"), Show.TEXT, Role.LABEL, link=link)
        for column, (_, name, show, role) in enumerate(PRODUCTS, 1):
            page.figure((at, column), (row, name), show, role)
        if lately := sold.get(str(row.fixed["product"])):
            look = look_of(Role.LABEL, Show.TEXT, SPARE + 1)
            page.sheet.put(at, SPARE + 1, lately.in_words(), look)
            page.sheet.merged.append((at, SPARE + 1, at, WIDTH - 1))
        page.sheet.next_row += 1
    if sold:
        page.sheet.merged.append((heading, SPARE + 1, heading, WIDTH - 1))
    page.mark_unknown(heading + 1, range(1, SPARE + 1))
    page.mark(heading + 1, (SPARE,), "AND(ISNUMBER({cell}),{cell}<0)")
    page.sheet.next_row += 1


def _recipes(page: Page, rows: Sequence[Row]) -> None:
    page.section("Batches, in the order in which they can be made", WIDTH)
    heading = page.headings(
        ("Recipe", *(name for name, *_ in RECIPES), "Counted in"),
        shows=(Show.TEXT, *(show for _, _, show, _ in RECIPES)),
        across=WIDTH,
    )
    on_cards = {row.index for row in planned_recipes(page.context.costing)}
    for row in rows:
        at = page.sheet.next_row
        link = planned_link(str(row.fixed["recipe"])) if row.index in on_cards else ""
        page.figure((at, 0), (row, "recipe"), Show.TEXT, Role.LABEL, link=link)
        for column, (_, name, show, role) in enumerate(RECIPES, 1):
            page.figure((at, column), (row, name), show, role)
        unit = unit_beside(row.sources.get("Batches"))
        page.sheet.put(at, column + 1, unit, look_of(Role.LABEL, Show.TEXT, column + 1))
        page.sheet.next_row += 1
    page.mark_unknown(heading + 1, range(1, len(RECIPES) + 1))
    page.sheet.next_row += 1


def _session(page: Page) -> None:
    """Time, the kitchen and the freezer on the left; what all of it costs below."""
    whole = page.context.costing.structure.one("plan_whole")
    page.section("Time and room", WIDTH)
    first = page.sheet.next_row
    for title, name, show in SESSION:
        at = page.sheet.next_row
        page.sheet.put(at, 0, title, look_of(Role.LABEL, Show.TEXT, 0))
        none = ((whole, name), False) if name in UNASKED else None
        page.figure((at, 1), (whole, name), show, Role.COMPUTED, dash_if=none)
        if verdict := VERDICTS.get(name):
            page.figure((at, 2), (whole, verdict), Show.TEXT, Role.LABEL)
            page.sheet.merged.append((at, 2, at, 4))
        page.sheet.next_row += 1
    page.mark(first, (2,), 'LEFT({cell},3)="too"')
    page.mark_unknown(first, (1,))
    page.sheet.next_row += 1
    page.section(f"What all of it costs ({page.context.sign})", WIDTH)
    first = page.sheet.next_row
    lines = [(part.words, part.name) for part in MADE]
    for title, name in (*lines, ("All of it", "cost")):
        at = page.sheet.next_row
        role = Role.TOTAL if name == "cost" else Role.COMPUTED
        label = Role.TOTAL if name == "cost" else Role.LABEL
        shown = f"{title[:1].upper()}{title[1:]}"
        page.sheet.put(at, 0, shown, look_of(label, Show.TEXT, 0))
        page.figure((at, 1), (whole, name), Show.MONEY, role)
        page.sheet.next_row += 1
    page.mark_unknown(first, (1,))


UNASKED: Final = ("minutes_there", "minutes_over", "blocks", "freezer_holds", "packs_over")
"""What there is nothing to know of where nobody said how much there is."""
