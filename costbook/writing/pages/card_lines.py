"""The lines of a cost card: what one batch takes, in the order of the money."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from costbook.book import Record
from costbook.costing.structure import Row
from costbook.definitions.parts import MADE, Part
from costbook.writing.pages.page import Context, Ref

__all__ = ["CardLine", "ingredients_of", "lines_of", "unit_beside", "work_on"]

ALLOWANCE = "Small ingredients"


@dataclass(frozen=True, slots=True)
class CardLine:
    """What it is, its amount, its unit's price, its cost for a batch, and what it rests on.

    ``what`` is a text, or where on Workings its name stands. ``price`` is that of a base unit, or
    of a recipe's large one; the row ``read_in`` says in which unit people read it. ``of_a_pack``:
    the cost is a pack's. ``packs``: the amount is typed for one unit or pack. ``share`` is how much
    of its recipe's batch goes into this one: it is a line of a recipe opened below its own line.
    """

    part: str
    what: str | Ref
    cost: Ref
    amount: Ref | None = None
    unit: str = ""
    price: Ref | None = None
    read_in: Row | None = None
    bought: Row | None = None
    record: Record | None = None
    field: str = ""
    lacks: Ref | None = None
    is_recipe: bool = False
    of_a_pack: bool = False
    packs: bool = False
    share: Ref | None = None


def lines_of(context: Context, product: Row) -> Iterator[CardLine]:
    """A product's lines, part by part in the order of the money."""
    for part in MADE:
        own = _LINES.get(part.name)
        yield from own(context, product) if own else (_whole(product, part),)


def _ingredients(context: Context, product: Row) -> Iterator[CardLine]:
    recipe = product.links.get("recipes")
    if recipe is not None:
        yield from ingredients_of(context, recipe)


def ingredients_of(context: Context, recipe: Row, *, opened: bool = True) -> Iterator[CardLine]:
    """What goes into a batch of a recipe; below each recipe that it uses, what goes into that.

    Recipes are opened one deep, if at all: what those use has its own card.
    """
    uses = context.costing.structure.rows["uses"]
    yield from _items_of(context, recipe)
    for at in recipe.children["uses"]:
        row = uses[at]
        yield _use_line(row)
        used = row.links.get("recipes")
        if opened and used is not None:
            inside = (
                *_items_of(context, used),
                *(_use_line(uses[n]) for n in used.children["uses"]),
            )
            yield from (replace(line, share=(row, "share_of_batch")) for line in inside)


def _items_of(context: Context, recipe: Row) -> Iterator[CardLine]:
    lines = context.costing.structure.rows["lines"]
    for at in recipe.children["lines"]:
        yield _item_line("Ingredients", lines[at], "Recipes")
    yield CardLine("Ingredients", ALLOWANCE, (recipe, "allowance"))


def _use_line(row: Row) -> CardLine:
    record, used = row.sources["Recipes"], row.links.get("recipes")
    return CardLine(
        "Ingredients",
        (row, "uses"),
        (row, "used_cost"),
        (row, "amount"),
        unit_beside(record),
        (used, "large_unit_cost") if used else None,
        used,
        record=record,
        field="uses",
        lacks=(row, "lacks"),
        is_recipe=True,
    )


def _packaging(context: Context, product: Row) -> Iterator[CardLine]:
    for at in product.children["packaging"]:
        row = context.costing.structure.rows["packaging"][at]
        yield replace(_item_line("Packaging", row, "Packaging"), packs=True)


def _labour(context: Context, product: Row) -> Iterator[CardLine]:
    rows, recipe = context.costing.structure.rows, product.links.get("recipes")
    if recipe is not None:
        yield from work_on(context, recipe)
    for at in product.children["product_stages"]:
        yield _stage_line(rows["product_stages"][at])


def work_on(context: Context, recipe: Row) -> Iterator[CardLine]:
    """The stages of a batch of a recipe, and the work on the recipes that it uses."""
    rows = context.costing.structure.rows
    for at in recipe.children["stages"]:
        yield _stage_line(rows["stages"][at])
    for at in recipe.children["uses"]:
        yield _used_labour(rows["uses"][at])


_LINES: Final[Mapping[str, Callable[[Context, Row], Iterator[CardLine]]]] = {
    "ingredients": _ingredients,
    "packaging": _packaging,
    "labour": _labour,
}
"""The parts that have a line for each of their rows; any other is one line."""


def _whole(product: Row, part: Part) -> CardLine:
    """A part in one line: by its figure for a batch, else by the one for a pack."""
    minutes: Ref | None = (product, part.minutes) if part.minutes else None
    return CardLine(
        part.title,
        part.line or part.title,
        (product, part.batch or part.name),
        minutes,
        "min" if minutes else "",
        of_a_pack=not part.batch,
    )


def _item_line(part: str, row: Row, sheet: str) -> CardLine:
    record = row.sources.get(sheet)
    bought = row.links.get("prices_now")
    return CardLine(
        part,
        (row, "uses"),
        (row, "line_cost"),
        (row, "amount"),
        unit_beside(record),
        (row, "price_per_base_unit") if bought else None,
        bought,
        bought,
        record,
        "uses",
        (row, "lacks"),
    )


def unit_beside(record: Record | None) -> str:
    """The unit of an amount: beside it, else in its text."""
    return "" if record is None else record.text("unit") or record.units_in_text.get("amount", "")


def _stage_line(row: Row) -> CardLine:
    return CardLine(
        "Labour",
        (row, "stage"),
        (row, "stage_labour"),
        (row, "person_minutes"),
        "min",
        record=row.sources.get("Stages"),
        field="stage",
        lacks=(row, "lacks"),
    )


def _used_labour(row: Row) -> CardLine:
    minutes: Ref = (row, "used_person_minutes")
    record = row.sources["Recipes"]
    return CardLine(
        "Labour",
        (row, "uses"),
        (row, "used_labour"),
        minutes,
        "min",
        record=record,
        field="uses",
        is_recipe=True,
    )
