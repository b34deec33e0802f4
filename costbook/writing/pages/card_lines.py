"""The lines of a cost card: what one batch of a product takes, in the order of the money."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from costbook.book import Record
from costbook.costing.structure import Row
from costbook.definitions.parts import MADE, Part
from costbook.writing.pages.page import Context, Ref

__all__ = ["ALLOWANCE", "Line", "lines_of"]

ALLOWANCE = "Small-ingredient allowance"


@dataclass(frozen=True, slots=True)
class Line:
    """What it is, its amount, its unit's price, its cost for a batch, and what it rests on.

    ``what`` is a text, or where on Workings its name stands; ``of_a_pack`` says that the cost is
    a pack's, ``packs`` that the amount is typed for one unit or pack.
    """

    part: str
    what: str | Ref
    cost: Ref
    amount: Ref | None = None
    unit: str = ""
    price: Ref | None = None
    bought: Row | None = None
    record: Record | None = None
    field: str = ""
    lacks: Ref | None = None
    is_recipe: bool = False
    of_a_pack: bool = False
    packs: bool = False


def lines_of(context: Context, product: Row) -> Iterator[Line]:
    """A product's lines, part by part in the order of the money."""
    for part in MADE:
        own = _LINES.get(part.name)
        yield from own(context, product) if own else (_whole(product, part),)


def _ingredients(context: Context, product: Row) -> Iterator[Line]:
    rows, recipe = context.costing.structure.rows, product.links.get("recipes")
    if recipe is None:
        return
    for at in recipe.children["lines"]:
        yield _item_line("Ingredients", rows["lines"][at], "Recipes")
    yield Line("Ingredients", ALLOWANCE, (recipe, "items_cost"))
    for at in recipe.children["uses"]:
        row = rows["uses"][at]
        record = row.sources["Recipes"]
        yield Line(
            "Ingredients",
            (row, "uses"),
            (row, "used_cost"),
            (row, "amount"),
            _unit(record),
            record=record,
            field="uses",
            lacks=(row, "lacks"),
            is_recipe=True,
        )


def _packaging(context: Context, product: Row) -> Iterator[Line]:
    for at in product.children["packaging"]:
        row = context.costing.structure.rows["packaging"][at]
        yield replace(_item_line("Packaging", row, "Packaging"), packs=True)


def _labour(context: Context, product: Row) -> Iterator[Line]:
    rows, recipe = context.costing.structure.rows, product.links.get("recipes")
    if recipe is not None:
        for at in recipe.children["stages"]:
            yield _stage_line(rows["stages"][at])
        for at in recipe.children["uses"]:
            yield _used_labour(rows["uses"][at])
    for at in product.children["product_stages"]:
        yield _stage_line(rows["product_stages"][at])


_LINES: Final[Mapping[str, Callable[[Context, Row], Iterator[Line]]]] = {
    "ingredients": _ingredients,
    "packaging": _packaging,
    "labour": _labour,
}
"""The parts that have a line for each of their rows; any other is one line."""


def _whole(product: Row, part: Part) -> Line:
    """A part in one line: by its figure for a batch, else by the one for a pack."""
    minutes: Ref | None = (product, part.minutes) if part.minutes else None
    return Line(
        part.title,
        part.line or part.title,
        (product, part.batch or part.name),
        minutes,
        "min" if minutes else "",
        of_a_pack=not part.batch,
    )


def _item_line(part: str, row: Row, sheet: str) -> Line:
    record = row.sources.get(sheet)
    bought = row.links.get("prices_now")
    return Line(
        part,
        (row, "uses"),
        (row, "line_cost"),
        (row, "amount"),
        _unit(record),
        (row, "price_per_base_unit") if bought else None,
        bought,
        record,
        "uses",
        (row, "lacks"),
    )


def _unit(record: Record | None) -> str:
    """The unit of an amount: beside it, else in its text."""
    return "" if record is None else record.text("unit") or record.units_in_text.get("amount", "")


def _stage_line(row: Row) -> Line:
    return Line(
        "Labour",
        (row, "stage"),
        (row, "stage_labour"),
        (row, "person_minutes"),
        "min",
        record=row.sources.get("Stages"),
        field="stage",
        lacks=(row, "lacks"),
    )


def _used_labour(row: Row) -> Line:
    minutes: Ref = (row, "used_person_minutes")
    record = row.sources["Recipes"]
    return Line(
        "Labour",
        (row, "uses"),
        (row, "used_labour"),
        minutes,
        "min",
        record=record,
        field="uses",
        is_recipe=True,
    )
