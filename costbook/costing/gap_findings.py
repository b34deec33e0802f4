"""Costing → parts of the cost that nobody spoke of: work, packaging, hours at a stall."""

from __future__ import annotations

from collections.abc import Iterator

from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.problems import Problem, Severity

__all__ = ["hours_not_said", "packaging_not_said", "work_not_said"]


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
