"""The week ahead: what to make for what is wanted, in how many batches, how long, at what cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.book import NOBODY, as_key
from costbook.costing.engine import Costing, Figures
from costbook.costing.lacking import uncounted
from costbook.costing.rows import Row
from costbook.deciding.week_sales import SoldLately, sold_lately
from costbook.definitions.parts import MADE
from costbook.definitions.rounding import in_amount, in_money
from costbook.definitions.units import SPELLINGS, Measure, unit_key

__all__ = [
    "NOTHING_TO_MAKE",
    "NOT_YET_KNOWN",
    "NO_PLAN",
    "Planned",
    "Week",
    "planned_products",
    "planned_recipes",
    "week",
]

NO_PLAN: Final = "Nothing is on the sheet Plan."
NOT_YET_KNOWN: Final = "How many is not known yet."
NOTHING_TO_MAKE: Final = "Nothing."
_NOISE: Final = Decimal("0.000001")
"""Less than this is noise of reckoning."""


@dataclass(frozen=True, slots=True)
class Planned:
    """A product or a recipe on the plan: its name, and its figures by their names in JSON."""

    name: str
    figures: Figures
    wanted_for: tuple[str, ...] = ()
    """What the person wrote under For, in its rows."""
    sold_lately: SoldLately | None = None
    """Of a product, where there is a sheet Sales."""
    unit: str = ""
    """Of a recipe, what the person counts it in; nothing for pieces."""

    def as_data(self, kind: str) -> dict[str, Any]:
        """As the command's JSON has it."""
        return {kind: self.name, **self.figures}

    def product_data(self) -> dict[str, Any]:
        """A product as the command's JSON has it."""
        data = {**self.as_data("product"), "for": list(self.wanted_for)}
        return data | ({"sold_lately": self.sold_lately.as_data()} if self.sold_lately else {})


@dataclass(frozen=True, slots=True)
class Week:
    """All that the plan asks for; figures are None where they are not known."""

    products: tuple[Planned, ...]
    recipes: tuple[Planned, ...]
    whole: Figures
    without: tuple[str, ...]
    """The parts of the cost that nothing is said of, in words."""

    def as_data(self) -> dict[str, Any]:
        """As the command's JSON has it."""
        whole = self.whole
        return {
            "products": [each.product_data() for each in self.products],
            "recipes": [each.as_data("recipe") for each in self.recipes],
            "kitchen": {
                "clock_minutes": whole["clock_minutes"],
                "minutes": whole["kitchen_minutes"],
                "blocks": whole["blocks"],
                "cost": whole["kitchen"],
            },
            "minutes": whole["minutes"],
            "own_minutes": whole["own_minutes"],
            "minutes_there": whole["minutes_there"],
            "minutes_over": whole["minutes_over"],
            "freezer": {
                "packs": whole["to_freeze"],
                "holds": whole["freezer_holds"],
                "over": whole["packs_over"],
            },
            "parts": {part.name: whole[part.name] for part in MADE},
            "uncounted": list(self.without),
            "cost": whole["cost"],
        }

    def in_words(self, places: int) -> Iterator[str]:
        """Short lines: what to make, the batches, the work, the kitchen, the freezer, the cost."""
        if not self.products:
            yield NO_PLAN
            return
        yield from map(_product_said, self.products)
        yield ""
        for recipe in self.recipes:
            yield _recipe_said(recipe, places)
        yield ""
        yield self.work_said()
        yield self.kitchen_said(places)
        if self.whole["freezer_holds"] is not None:
            yield self.freezer_said()
        yield self.cost_said(places)

    def said_in_short(self) -> str:
        """How many packs, in how many minutes, and whether there is too little time or room.

        The front sheet has the same in a formula.
        """
        whole = self.whole
        if whole["to_make"] is None:
            return NOT_YET_KNOWN
        if not whole["to_make"]:
            return NOTHING_TO_MAKE
        packs = "1 pack" if whole["to_make"] == 1 else f"{in_amount(whole['to_make'])} packs"
        lacking = [str(whole[name]) for name in ("time_said", "room") if "too" in str(whole[name])]
        minutes = f"{in_amount(whole['own_minutes'])} minutes of your work"
        return f"{', '.join((packs, minutes, *lacking))}."

    def work_said(self) -> str:
        """How long the work takes, and whether there is time for it."""
        whole = self.whole
        own, all_of_it = (in_amount(whole[name]) for name in ("own_minutes", "minutes"))
        shared = "" if own == all_of_it else f" (with others' {all_of_it})"
        said = f"Your work: {own} minutes{shared}"
        there, over = whole["minutes_there"], whole["minutes_over"]
        if there is None:
            return f"{said}."
        if over:
            return f"{said}. You have {in_amount(there)}: {in_amount(over)} too few."
        enough = "enough" if over is not None else "whether that is enough is not known"
        return f"{said}. You have {in_amount(there)}: {enough}."

    def kitchen_said(self, places: int) -> str:
        """How long the kitchen is taken, in which blocks, at what hire."""
        whole = self.whole
        said = f"The kitchen: {in_amount(whole['clock_minutes'])} minutes by the clock"
        if isinstance(blocks := whole["blocks"], Decimal):
            said += f", {in_amount(blocks)} {'block' if blocks == 1 else 'blocks'} booked"
        return f"{said}, {in_money(whole['kitchen'], places)}."

    def freezer_said(self) -> str:
        """How many packs will be in the freezer, and whether there is room."""
        whole = self.whole
        said = f"The freezer: {in_amount(whole['to_freeze'])} packs once all is made. "
        holds, over = in_amount(whole["freezer_holds"]), whole["packs_over"]
        if over is None:
            return f"{said}It holds {holds}: whether that is enough is not known."
        room = f"{in_amount(over)} too many" if over else "room enough"
        return f"{said}It holds {holds}: {room}."

    def cost_said(self, places: int) -> str:
        """What all of it costs, and what of that is left out."""
        parts = ", ".join(
            f"{part.words} {in_money(self.whole[part.name], places)}"
            for part in MADE
            if part.words not in self.without and self.whole[part.name] != 0
        )
        least = "at least " if self.without else ""
        left_out = f" Without: {', '.join(self.without)}." if self.without else ""
        said = f"All of it costs {least}{in_money(self.whole['cost'], places)}"
        return f"{said}: {parts}.{left_out}" if parts else f"{said}.{left_out}"


def _product_said(product: Planned) -> str:
    lately = f" Lately sold: {product.sold_lately.in_words()}." if product.sold_lately else ""
    return f"{_to_make_said(product)}{lately}"


def _to_make_said(product: Planned) -> str:
    figures = {name: in_amount(value) for name, value in product.figures.items()}
    there = figures["in_freezer"]
    from_freezer = f", {there} in the freezer" if product.figures["in_freezer"] != 0 else ""
    said = f"{product.name}: {figures['wanted']} wanted{from_freezer}"
    if product.figures["to_make"] == 0 and product.figures["out"] == 0:
        return f"{said}, none to make."
    spare = product.figures["spare"]
    beyond = f"{figures['spare']} to spare"
    if isinstance(spare, Decimal) and spare < 0:
        beyond = f"{in_amount(-spare)} too few"
    return f"{said}, {figures['to_make']} to make. {figures['out']} come out, {beyond}."


def _recipe_said(recipe: Planned, places: int) -> str:
    figures = recipe.figures
    batches = "batch" if figures["batches"] == 1 else "batches"
    said = f"{recipe.name}: {in_amount(figures['batches'])} {batches}"
    minutes, cost = in_amount(figures["minutes"]), in_money(figures["cost"], places)
    return f"{said}, {minutes} minutes, {cost}.{_left_over_said(recipe)}"


def _left_over_said(recipe: Planned) -> str:
    """What is made of a recipe beyond whole packs and what other recipes take."""
    left = recipe.figures["left_over"]
    if not isinstance(left, Decimal) or left < _NOISE:
        return ""
    amount = " ".join(filter(None, (in_amount(left), recipe.unit)))
    return f" {amount} left over."


def week(costing: Costing) -> Week | None:
    """What the plan asks for; None in a workbook without a sheet Plan."""
    if not costing.figures["plan_whole"]:
        return None
    sold = sold_lately(costing)
    without = tuple(part.words for part in uncounted(costing) if part.made)
    return Week(
        tuple(_product(costing, row, sold) for row in planned_products(costing)),
        tuple(_recipe(costing, row) for row in planned_recipes(costing)),
        costing.one("plan_whole"),
        without,
    )


def planned_products(costing: Costing) -> list[Row]:
    """The products that have a row on the plan; every one where a row may be any product's."""
    rows = costing.structure.rows["plan_products"]
    if costing.one("plan_rows")["strays"]:
        return list(rows)
    return [row for row in rows if costing.of(row.links["plan_names"])["rows"]]


def planned_recipes(costing: Costing) -> list[Row]:
    """The recipes of which something is made, or may be, those that others use first."""
    rows = costing.structure.rows["plan_work"]
    return [row for row in reversed(rows) if costing.of(row)["batches"] != 0]


def _product(costing: Costing, row: Row, sold: Mapping[str, SoldLately]) -> Planned:
    figures = costing.of(row)
    names = ("wanted", "in_freezer", "to_make", "out", "spare")
    own = as_key(str(figures["product"]))
    said = (
        each.text("wanted_for")
        for each in costing.structure.book.records("Plan")
        if as_key(each.text("product")) == own != NOBODY
    )
    return Planned(
        str(figures["product"]),
        {name: figures[name] for name in names},
        tuple(dict.fromkeys(filter(None, said))),
        sold.get(str(row.fixed["product"])),
    )


def _recipe(costing: Costing, row: Row) -> Planned:
    figures = costing.of(row)
    names = ("batches", "units", "left_over", "minutes", "own_minutes", "cost")
    shown = {name: figures[name] for name in names}
    return Planned(str(figures["recipe"]), shown, unit=_counted_in(row))


def _counted_in(recipe: Row) -> str:
    """The unit in which the person counts a recipe's batch; nothing for pieces."""
    batch = recipe.sources.get("Batches")
    unit = SPELLINGS.get(unit_key(batch.text("unit"))) if batch else None
    return "" if unit is None or unit.measure is Measure.PIECE else unit.name
