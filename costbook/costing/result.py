"""Costing → the answer as plain data, in the shape of ``cost --json``.

Figures are Decimal here; the command line turns them into JSON numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any, Final, TypeGuard

from costbook.book import Value
from costbook.costing.charged import charged, usual_days
from costbook.costing.engine import Costing, Figures
from costbook.costing.lacking import not_counted
from costbook.costing.rows import Row
from costbook.definitions.units import BASE_UNIT, Measure
from costbook.problems import Problem

__all__ = [
    "CAUTION",
    "answer",
    "currency_of",
    "problem_data",
]

CAUTION: Final = (
    "Sums from your own figures, not advice. They do not show that food is safe, lawful to sell, "
    "correctly labelled or free from any allergen; a blank allergen cell means unknown. Ask your "
    "local food inspector before making or selling, and a licensed adviser on law and tax."
)

NO_CURRENCY: Final = ""


def answer(costing: Costing, problems: Iterable[Problem]) -> dict[str, Any]:
    """Everything that ``cost --json`` says."""
    structure = costing.structure
    return {
        "book": structure.book.name,
        "costed_on": structure.costed_on.isoformat(),
        "currency": currency_of(costing),
        "products": [each.as_data() for each in charged(costing)],
        "days": [each.as_data() for each in usual_days(costing)],
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
