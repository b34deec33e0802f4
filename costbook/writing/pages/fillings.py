"""A cost card for each recipe that goes into others: what a batch takes, and what a kg costs.

These cards are short: they stand below others, where a page has room.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

from costbook.costing.structure import Row
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role
from costbook.writing.pages.card_lines import ingredients_of, unit_beside, work_on
from costbook.writing.pages.card_parts import EACH, LAST, headings, of_a_filling, show_part
from costbook.writing.pages.page import Context, Page, look_of
from costbook.writing.paper import height_of, page_room

__all__ = ["ABOVE", "LOW_ROW", "FillingCards"]

ABOVE = 5.0
"""The room above a table on a card [points]."""
LOW_ROW = 12.0
"""A line of 10 points on a card, so that one with its fillings opened fits a page [points]."""


def fillings(context: Context) -> Iterator[Row]:
    """The recipes that others use."""
    rows = context.costing.structure.rows
    used = {
        str(use.links["recipes"].fixed["recipe"]) for use in rows["uses"] if "recipes" in use.links
    }
    yield from (row for row in rows["recipes"] if str(row.fixed["recipe"]) in used)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """A filling whose card stands nowhere yet, and how high that is [points]."""

    recipe: Row
    high: float


class FillingCards:
    """The cards of the fillings, each to be put where a page has room for it."""

    def __init__(self, context: Context, widths: Mapping[int, float]) -> None:
        self._waiting = [
            _Waiting(recipe, _height(context, recipe, widths)) for recipe in fillings(context)
        ]

    def fill(self, page: Page, first: int) -> None:
        """Put those that fill the page best below what stands on it from a row on."""
        if not self._waiting:
            return
        room = page_room(page.sheet) - height_of(page.sheet, first)
        few = self._waiting[:_LOOKED_AT]
        ways = [way for n in range(len(few) + 1) for way in combinations(few, n)]
        fitting = [way for way in ways if sum(each.high for each in way) <= room]
        for each in max(fitting, key=lambda way: sum(each.high for each in way), default=()):
            self._waiting.remove(each)
            _put(page, each.recipe)

    @property
    def are_left(self) -> bool:
        """Whether one stands nowhere yet."""
        return bool(self._waiting)

    def put_all(self, page: Page) -> None:
        """Put those that are left, several on a page."""
        for each in self._waiting:
            _put(page, each.recipe)
        self._waiting = []


_LOOKED_AT = 8
"""Fillings that are looked at for one page: every set of them is tried."""


def _height(context: Context, recipe: Row, widths: Mapping[int, float]) -> float:
    """How high a card is, written on a sheet of its own."""
    alone = Page(context, "Cost cards")
    alone.sheet.widths = dict(widths)
    _put(alone, recipe)
    return height_of(alone.sheet, 0)


def _put(page: Page, recipe: Row) -> None:
    """A card, begun with room above it; its name stands where a table's first heading does."""
    sheet, first = page.sheet, page.sheet.next_row
    sheet.begin_block()
    sheet.heights[first] = ABOVE
    sheet.next_row += 1
    names, shows = zip(*headings("For one"), strict=True)
    page.headings((f"{recipe.fixed['recipe']} ({page.context.sign})", *names[1:]), shows=shows)
    _card(page, recipe)
    for row in range(first + 2, sheet.next_row):
        sheet.heights.setdefault(row, LOW_ROW)


def _card(page: Page, recipe: Row) -> None:
    sheet = page.sheet
    _gives(page, recipe)
    first = sheet.next_row
    ingredients = list(ingredients_of(page.context, recipe, opened=False))
    scale = of_a_filling(recipe, "batch_cost")
    show_part(page, scale, "Ingredients", (recipe, "large_unit_cost"), ingredients)
    work = list(work_on(page.context, recipe))
    if work:
        scale = of_a_filling(recipe, "batch_labour")
        show_part(page, scale, "Labour", (recipe, "large_unit_labour"), work)
    page.mark_unknown(first, range(1, LAST))


def _gives(page: Page, recipe: Row) -> None:
    """What a batch starts and gives, in its own unit, and what "for one" is."""
    sheet, at, batch = page.sheet, page.sheet.next_row, recipe.links["batches"]
    unit = unit_beside(batch.sources.get("Batches"))
    for column, label, name in ((0, "Filling: a batch starts", "started"), (3, "good", "good")):
        sheet.put(at, column, label, Look(Role.LABEL, indent=1 if column else 0))
        page.figure((at, column + 1), (batch, name), Show.NUMBER)
    sheet.put(at, 2, unit, look_of(Role.LABEL, Show.TEXT, 2))
    sheet.put(at, EACH, "for one", Look(Role.LABEL, indent=1))
    page.figure((at, LAST), (recipe, "large_unit"), Show.TEXT, Role.LABEL)
    sheet.next_row += 1
