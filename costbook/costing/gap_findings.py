"""Costing → parts of the cost nobody spoke of: work, packaging, the allowance, hours at a stall."""

from __future__ import annotations

from collections.abc import Iterator

from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.problems import Place, Problem, Severity

__all__ = ["allowance_of_nothing", "hours_not_said", "packaging_not_said", "work_not_said"]


def work_not_said(costing: Costing) -> Iterator[Problem]:
    """A product without a stage, of its own or its recipe's, where other products have them."""
    for row in costing.structure.rows["product_stages"]:
        if "Stages" not in row.sources:
            record = row.links["packs"].sources["Products"]
            yield Problem(
                Severity.WRONG,
                place_of(costing, record, "product"),
                f'Stages has no row for "{record.text("product")}" or its recipe, so what its '
                "work costs is not known.",
                "Time it and add its stages; if there is no work, one row with 0 minutes.",
            )


def packaging_not_said(costing: Costing) -> Iterator[Problem]:
    """A product without packaging, where other products have it."""
    for row in costing.structure.rows["packaging"]:
        if "Packaging" not in row.sources:
            record = row.links["packs"].sources["Products"]
            yield Problem(
                Severity.WRONG,
                place_of(costing, record, "product"),
                f'Packaging has no row for "{record.text("product")}", so what it is packed in is '
                "not known.",
                "Add what it is packed in; if it is nothing, one row with the Amount 0.",
            )


def allowance_of_nothing(costing: Costing) -> Iterator[Problem]:
    """Amounts left to the small-ingredient allowance, and no allowance."""
    book, settings = costing.structure.book, costing.one("settings")
    little = next((each for each in book.readings if each.shown == "in the allowance"), None)
    if little and settings["small_ingredient_allowance"] == 0:
        yield Problem(
            Severity.DOUBTFUL,
            Place(book.sheets[little.sheet].tab, little.cell),
            "the small-ingredient allowance is 0 %, so amounts like this one cost nothing.",
            "Fill in Small-ingredient allowance % on Settings: 2 % is a usual start.",
        )


def hours_not_said(costing: Costing) -> Iterator[Problem]:
    """A stall at which nobody's time is counted; a café may well take none."""
    for row in costing.structure.rows["outlets"]:
        record = row.sources.get("Outlets")
        stall = costing.of(row)["kind"] == "stall"
        if record and stall and "hours_per_day" not in record.values:
            yield Problem(
                Severity.WRONG,
                place_of(costing, record, "hours_per_day"),
                "how many hours a day at this stall takes is not known.",
                "Fill in Hours per day, setting up and driving too; 0, if it takes none.",
            )
