"""Costing → what only the sums of the freezer show: less than nothing left, rows yet to come."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from costbook.book import Record
from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.definitions.rounding import in_amount
from costbook.problems import Problem, Severity

__all__ = ["more_gone_than_was_there", "stock_yet_to_come"]


def more_gone_than_was_there(costing: Costing) -> Iterator[Problem]:
    """A product of which the rows would leave less than nothing."""
    for row in costing.structure.rows["freezer"]:
        missing = costing.of(row)["packs_missing"]
        if isinstance(missing, Decimal) and missing > 0:
            product, packs = row.fixed["product"], "pack" if missing == 1 else "packs"
            what = f'{in_amount(missing)} more {packs} of "{product}" went than was there.'
            remedy = "Look for a row that is missing on Made, or count what is left, on Counts."
            place = place_of(costing, row.sources["Products"], "product")
            yield Problem(Severity.WRONG, place, what, remedy)


def stock_yet_to_come(costing: Costing) -> Iterator[Problem]:
    """Rows of Made and Counts that are dated after the costing date."""
    for sheet in ("Made", "Counts"):
        for record in costing.structure.book.records(sheet):
            if _is_to_come(costing, record):
                book, costed_on = costing.structure.book, costing.structure.costed_on
                written = book.written(costed_on)
                what = f"this is dated after the costing date, {written}, so it doesn't count yet."
                place = place_of(costing, record, "day")
                remedy = "Check the year, or cost on a later date."
                yield Problem(Severity.DOUBTFUL, place, what, remedy)


def _is_to_come(costing: Costing, record: Record) -> bool:
    today = costing.structure.book.day_number(costing.structure.costed_on)
    day = record.number("day")
    return day is not None and day > today
