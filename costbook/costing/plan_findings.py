"""What only figures show of a plan: too few batches typed, parts of packs, more than a year's."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from costbook.book import NOBODY, Record, as_key
from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.definitions.rounding import in_amount
from costbook.problems import Problem, Severity

__all__ = ["PLAN_FINDINGS"]


def _rows_of(costing: Costing, product: object) -> list[Record]:
    """The rows of the plan that name a product."""
    key = as_key(str(product))
    rows = costing.structure.book.records("Plan")
    return [each for each in rows if as_key(each.text("product")) == key != NOBODY]


def batches_too_few(costing: Costing) -> Iterator[Problem]:
    """Fewer batches typed of a recipe than other recipes' batches take of it."""
    for row in costing.structure.rows["plan_products"]:
        figures = costing.of(row)
        made, used = figures["recipe_batches"], figures["recipe_used"]
        if figures["product_batches"] is not None or made is None or used is None:
            continue
        typed = [each for each in _rows_of(costing, figures["product"]) if "batches" in each.values]
        for record in typed[:1]:
            yield Problem(
                Severity.WRONG,
                place_of(costing, record, "batches"),
                f"other recipes take {in_amount(used)} batches of this one, and "
                f"{in_amount(made)} are typed.",
                "Type as many at least, or leave the cell empty.",
            )


def packs_in_parts(costing: Costing) -> Iterator[Problem]:
    """A part of a pack wanted: nobody sells one."""
    for record in costing.structure.book.records("Plan"):
        wanted = record.number("wanted")
        if wanted is not None and wanted % 1:
            yield Problem(
                Severity.DOUBTFUL,
                place_of(costing, record, "wanted"),
                f"{in_amount(wanted)} packs are wanted, and only whole ones come out.",
                "Type a whole number.",
            )


def more_than_a_year(costing: Costing) -> Iterator[Problem]:
    """A row that asks for more batches of its recipe than are made of everything in a year."""
    year = costing.one("settings")["batches_per_year"]
    for row in costing.structure.rows["plan_products"]:
        figures = costing.of(row)
        batches, rows = figures["product_batches"], _rows_of(costing, figures["product"])
        if isinstance(batches, Decimal) and isinstance(year, Decimal) and batches > year and rows:
            most = max(rows, key=lambda each: each.number("wanted") or Decimal(0))
            yield Problem(
                Severity.DOUBTFUL,
                place_of(costing, most, "wanted"),
                f"this takes {in_amount(batches)} batches, and you make {in_amount(year)} a year.",
                "Look whether the number is right.",
            )


PLAN_FINDINGS = (batches_too_few, packs_in_parts, more_than_a_year)
"""What is found of a plan, in its order."""
