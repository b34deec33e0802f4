"""Costing → the answer as plain data, in the shape of ``cost --json``.

Figures are Decimal here; the command line turns them into JSON numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Any, Final, TypeGuard

from costbook.book import Value
from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.definitions import rules
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.parts import ASKED, MADE, PARTS, SOLD, Part
from costbook.definitions.units import BASE_UNIT, Measure
from costbook.problems import Problem

__all__ = [
    "ALONE",
    "CAUTION",
    "USUAL_MIX",
    "answer",
    "currency_of",
    "missing_of",
    "not_counted",
    "problem_data",
    "uncounted",
]

CAUTION: Final = (
    "Sums from your own figures, not advice. They do not show that food is safe, lawful to sell, "
    "correctly labelled or free from any allergen; a blank allergen cell means unknown. Ask your "
    "local food inspector before making or selling, and a licensed adviser on law and tax."
)

ALONE: Final = "nothing else is sold that day"
USUAL_MIX: Final = "each product sells as many units"
"""What a day's break-even supposes: of one product, and of all of them together."""

NO_CURRENCY: Final = ""


def answer(costing: Costing, problems: Iterable[Problem]) -> dict[str, Any]:
    """Everything that ``cost --json`` says."""
    structure = costing.structure
    return {
        "book": structure.book.name,
        "costed_on": structure.costed_on.isoformat(),
        "currency": currency_of(costing),
        "products": [_product(costing, row) for row in structure.rows["prices"]],
        "days": [_day(costing, row) for row in structure.rows["days"] if row.sources],
        "recipes": [_recipe(costing, row) for row in structure.rows["recipes"]],
        "items": [_item(costing, row) for row in structure.rows["item_prices"]],
        "not_counted": list(not_counted(costing)),
        "not_read": list(structure.book.not_read),
        "cautions": [CAUTION],
        "problems": [problem_data(problem) for problem in problems],
    }


def currency_of(costing: Costing) -> str:
    """The currency's code on Settings, in capitals; empty where none is given."""
    settings = next(iter(costing.structure.book.records("Settings")), None)
    return settings.text("currency").strip().upper() if settings else NO_CURRENCY


def problem_data(problem: Problem) -> dict[str, str]:
    """A problem as JSON has it."""
    return {
        "severity": problem.severity.value,
        "sheet": problem.place.sheet,
        "cell": problem.place.cell,
        "what": problem.what,
        "remedy": problem.remedy,
    }


def _product(costing: Costing, row: Row) -> dict[str, Any]:
    figures = costing.of(row)
    cost: dict[str, Value] = {part.name: figures[part.name] for part in PARTS}
    cost |= {"total": figures["total"], "known": figures["known"]}
    missing, left_out = list(missing_of(costing, row)), [part.name for part in uncounted(costing)]
    return {
        "product": figures["product"],
        "outlet": figures["outlet"] or None,
        "units_per_pack": figures["units_per_pack"],
        "complete": not (missing or left_out),
        "missing": missing,
        "uncounted": left_out,
        "cost": cost,
        "price": {
            "at_target_margin": figures["price_at_target"],
            "on_step": figures["price_on_step"],
            "current": figures["price_now"],
        },
        "at_step": _at(figures, "step"),
        "at_current": _at(figures, "now"),
        "break_even_units_per_day": figures["break_even"],
        "break_even_units_per_day_without_own_pay": figures["break_even_without_pay"],
        "break_even_supposes": ALONE,
        "shelf_price": figures["shelf_price"],
        "shelf_price_with_tax": figures["shelf_price_with_tax"],
        "advice": figures["advice"],
    }


def _at(figures: Figures, price: str) -> dict[str, Value]:
    return {name: figures[f"{price}_{name}"] for name in ("margin", "markup", "profit")}


def _day(costing: Costing, row: Row) -> dict[str, Any]:
    """What pays for a day at an outlet, of all its products together."""
    figures = costing.of(row)
    return {
        "outlet": figures["outlet"],
        "units_sold_per_day": figures["units_sold_per_day"],
        "break_even_units": figures["break_even"],
        "break_even_packs": figures["break_even_packs"],
        "break_even_units_without_own_pay": figures["break_even_without_pay"],
        "break_even_supposes": USUAL_MIX,
    }


def _recipe(costing: Costing, row: Row) -> dict[str, Any]:
    """A recipe; its unit is the one that its batch is counted in."""
    figures, batch = costing.of(row), costing.of(row.links["batches"])
    return {
        "recipe": figures["recipe"],
        "batch_cost": figures["batch_cost"],
        "unit_cost": figures["unit_cost"],
        "unit": _counted_in(costing, batch),
        "labour_minutes": figures["person_minutes"],
    }


def _counted_in(costing: Costing, batch: Figures) -> Value:
    """The unit that Batches gives; pieces where that is a word for several, as dozen."""
    at = batch["unit_row"]
    if not _is_number(at):
        return None
    several = batch["unit_factor"] != batch["counted_in"]
    return (
        BASE_UNIT[Measure.PIECE]
        if several
        else costing.structure.rows["units"][int(at) - 1].fixed["unit"]
    )


def _item(costing: Costing, row: Row) -> dict[str, Any]:
    figures = costing.of(row)
    day = figures["day"]
    return {
        "item": figures["item"],
        "price_per_base_unit": figures["price_per_base_unit"],
        "base_unit": _base_unit(figures["measure"]),
        "usable_share": figures["usable_share"],
        "date": costing.structure.book.day(day).isoformat() if _is_number(day) else None,
        "supplier": figures["supplier"] or None,
        "change": figures["change"],
    }


def _base_unit(measure: Value) -> str | None:
    """The base unit of a measure, as JSON names it."""
    if not _is_number(measure):
        return None
    return "cm²" if measure == Measure.AREA else BASE_UNIT[Measure(int(measure))]


def _is_number(value: Value) -> TypeGuard[Decimal]:
    return isinstance(value, Decimal)


# ---------------------------------------------------------------- what is missing


def missing_of(costing: Costing, price: Row) -> Iterator[str]:
    """Everything that a product's figures lack, each named once."""
    told: set[str] = set()
    for text in _lacks(costing, price):
        if text and text not in told:
            told.add(text)
            yield text


def _lacks(costing: Costing, price: Row) -> Iterator[str]:
    product = price.links["products"]
    if "recipes" in product.links:
        yield from _recipe_lacks(costing, product.links["recipes"])
    for table in ("packaging", "product_stages"):
        for at in product.children[table]:
            yield str(costing.figures[table][at]["lacks"])
    yield from _made_lacks(costing.of(product))
    yield from _price_lacks(costing.of(price))


def _made_lacks(figures: Figures) -> Iterator[str]:
    """What the cost made lacks beside what its rows do."""
    if figures["packs_sold"] is None:
        yield str(figures["lacks"])
        return
    for part in MADE:
        timed = figures[part.timed_with] if part.timed_with else Decimal(0)
        if not part.lack_of_rows and figures[part.name] is None and timed is not None:
            yield part.lacks


def _price_lacks(figures: Figures) -> Iterator[str]:
    """What a price lacks beside the cost made, in the rule's own words."""
    there = Decimal(1)
    names = (*(part.name for part in SOLD), *rules.PRICED_BY)
    for at, name in enumerate(names):
        each = [there] * len(names)
        each[at] = UNKNOWN if figures[name] is None else there
        yield str(rules.price_lacks(there, "", *each))
    yield str(figures["lacks"])


def _recipe_lacks(costing: Costing, recipe: Row) -> Iterator[str]:
    """What a recipe and those it uses lack, each after those it uses."""
    for at in sorted(_used_in(costing, recipe)):
        used = costing.structure.rows["recipes"][at]
        yield from _own_lacks(costing, used)


def _used_in(costing: Costing, recipe: Row) -> set[int]:
    """The index of a recipe and of every recipe used in it; rows stand after those they use."""
    found, waiting = {recipe.index}, [recipe]
    while waiting:
        for at in waiting.pop().children["uses"]:
            used = costing.structure.rows["uses"][at].links.get("recipes")
            if used is not None and used.index not in found:
                found.add(used.index)
                waiting.append(used)
    return found


def _own_lacks(costing: Costing, recipe: Row) -> Iterator[str]:
    for table in ("lines", "uses", "stages"):
        for at in recipe.children[table]:
            if table != "uses" or costing.figures[table][at]["share_of_batch"] is None:
                yield str(costing.figures[table][at]["lacks"])
    if not costing.of(recipe)["lines"]:
        yield str(costing.of(recipe)["lacks"])


def uncounted(costing: Costing) -> Iterator[Part]:
    """The parts that no price counts, since nothing is said of them, not even a 0."""
    settings = costing.one("settings")
    values = (UNKNOWN if settings[name] is None else settings[name] for name in _COUNTED_BY)
    return (part for part in ASKED if not part.is_counted(values))


_COUNTED_BY: Final = tuple(name for part in ASKED for name in part.counted_by)


def not_counted(costing: Costing) -> Iterator[str]:
    """The parts that no price counts, in words, and why."""
    return (f"{part.words} ({part.uncounted})" for part in uncounted(costing))
