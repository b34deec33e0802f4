"""A cost card for each recipe that goes into others: what a batch takes, and what a kg costs."""

from __future__ import annotations

from collections.abc import Iterator

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.pages.card_lines import ingredients_of, unit_beside, work_on
from costbook.writing.pages.card_parts import EACH, LAST, WIDTH, of_a_filling, show_part
from costbook.writing.pages.page import Page, look_of

__all__ = ["filling_cards", "fillings"]

HEADINGS = (
    ("What", Show.TEXT),
    ("Amount", Show.NUMBER),
    ("Unit", Show.TEXT),
    ("Price", Show.UNIT_PRICE),
    ("per", Show.TEXT),
    ("Batch", Show.MONEY),
    ("For one", Show.MONEY),
    ("Share", Show.SHARE),
    ("Price of", Show.DATE),
)


def fillings(page: Page) -> Iterator[Row]:
    """The recipes that others use."""
    rows = page.context.costing.structure.rows
    used = {
        str(use.links["recipes"].fixed["recipe"]) for use in rows["uses"] if "recipes" in use.links
    }
    yield from (row for row in rows["recipes"] if str(row.fixed["recipe"]) in used)


def filling_cards(page: Page) -> None:
    """A card for each, several on a page."""
    for recipe in fillings(page):
        page.sheet.begin_block()
        _card(page, recipe)


def _card(page: Page, recipe: Row) -> None:
    sheet = page.sheet
    page.section(f"Filling: {recipe.fixed['recipe']} ({page.context.sign})", WIDTH)
    _gives(page, recipe)
    names, shows = zip(*HEADINGS, strict=True)
    page.headings(names, shows=shows)
    first = sheet.next_row
    ingredients = list(ingredients_of(page.context, recipe))
    scale = of_a_filling(recipe, "batch_cost")
    show_part(page, scale, "Ingredients", (recipe, "large_unit_cost"), ingredients)
    work = list(work_on(page.context, recipe))
    if work:
        scale = of_a_filling(recipe, "batch_labour")
        show_part(page, scale, "Labour", (recipe, "large_unit_labour"), work)
    page.mark_unknown(first, range(1, LAST))
    sheet.next_row += 1


def _gives(page: Page, recipe: Row) -> None:
    """What a batch starts and gives, in its own unit, and what "for one" is."""
    sheet, at, batch = page.sheet, page.sheet.next_row, recipe.links["batches"]
    unit = unit_beside(batch.sources.get("Batches"))
    for column, label, name in ((0, "A batch starts", "started"), (3, "good", "good")):
        sheet.put(at, column, label, Look(Role.LABEL, indent=1 if column else 0))
        page.figure((at, column + 1), (batch, name), Show.NUMBER)
    sheet.put(at, 2, unit, look_of(Role.LABEL, Show.TEXT, 2))
    sheet.put(at, EACH, "for one", Look(Role.LABEL, indent=1))
    page.figure((at, LAST), (recipe, "large_unit"), Show.TEXT, Role.LABEL)
    sheet.next_row += 1
