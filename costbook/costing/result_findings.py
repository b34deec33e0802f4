"""Costing → results that may hide a slip: far from the last or from the price now, or out of size.

Each figure is used as it stands, and said once, beside the one it is held against.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.book import Record
from costbook.costing.engine import Costing, Figures
from costbook.costing.far import how_far, is_far, money_in_full
from costbook.costing.line_findings import place_of
from costbook.costing.rows import Row
from costbook.definitions.parts import PARTS
from costbook.problems import Problem, Severity

__all__ = [
    "costs_far_from_the_last",
    "packaging_above_half",
    "prices_far_from_now",
    "selling_above_half",
]

MOST: Final = Decimal("0.5")
"""Packaging, or selling, above this part of a price is doubted."""


def _doubt(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.DOUBTFUL, place_of(costing, record, name), what, remedy)


def _first_of_each(costing: Costing, column: str, rows: Iterator[Row]) -> Iterator[Row]:
    """Of the rows with the same product, or outlet, the first: a doubt is said once."""
    told: set[object] = set()
    for row in rows:
        name = costing.of(row)[column]
        if name not in told:
            told.add(name)
            yield row


def costs_far_from_the_last(
    costing: Costing, last: Mapping[tuple[str, str], Decimal | None], day: date
) -> Iterator[Problem]:
    """A product that costs far more, or less, than when it was costed last."""

    def before(row: Row) -> Decimal:
        figures = costing.of(row)
        return last.get((str(figures["product"]), str(figures["outlet"]))) or Decimal(0)

    rows = costing.structure.rows["prices"]
    far = (row for row in rows if is_far(_number(costing, row, "total"), before(row)))
    for row in _first_of_each(costing, "product", far):
        now, then = _number(costing, row, "total"), before(row)
        costed_on = costing.structure.book.written(day)
        yield _doubt(
            costing,
            row.sources["Products"],
            "product",
            f"{_where(costing.of(row))} costs {money_in_full(costing, now)}, and cost "
            f"{money_in_full(costing, then)} when it was costed on {costed_on}: "
            f"{how_far(now, then)}.",
            "Look at what was changed since: receipts, amounts, minutes, what a batch makes.",
        )


def prices_far_from_now(costing: Costing) -> Iterator[Problem]:
    """A price to charge that is far from the price now.

    Where the work or the selling isn't counted, a price to charge that is far below tells nothing.
    """
    book = costing.structure.book
    most_is_counted = bool(book.records("Stages") and book.records("Outlets"))
    called = _called(costing)

    def both(row: Row) -> tuple[Decimal, Decimal]:
        return _number(costing, row, "price_on_step"), _number(costing, row, "price_now")

    def doubted(row: Row) -> bool:
        step, now = both(row)
        return is_far(step, now) and (step > now or most_is_counted)

    far = (row for row in costing.structure.rows["prices"] if doubted(row))
    for row in _first_of_each(costing, "product", far):
        figures, (step, now) = costing.of(row), both(row)
        name = "wholesale_price_now" if figures["kind"] == "wholesale" else "current_price"
        yield _doubt(
            costing,
            row.sources["Products"],
            name,
            f"{called} for {_where(figures)} is {money_in_full(costing, step)}, and the "
            f"price now is {money_in_full(costing, now)}: {how_far(step, now)}.",
            _where_to_look(costing, row, too_high=step > now),
        )


def _where_to_look(costing: Costing, row: Row, *, too_high: bool) -> str:
    """What to check; of a price that is too high first the part that is most of its cost."""
    largest = max(PARTS, key=lambda part: _number(costing, row, part.name))
    amount = _number(costing, row, largest.name)
    if not too_high or amount <= _number(costing, row, "total") * MOST:
        return "Check the price now, the amounts, the minutes and what a batch makes."
    most = f"Most of the cost, {money_in_full(costing, amount)}, is {largest.words}"
    return f"{most}: check that first; then the price now, and the rest."


def packaging_above_half(costing: Costing) -> Iterator[Problem]:
    """Packaging that takes more than half of the price to charge."""
    rows = costing.structure.rows["prices"]
    much = (row for row in rows if _takes_most(costing, row, "packaging"))
    for row in _first_of_each(costing, "product", much):
        lines = row.links["products"].children["packaging"]
        packages = [costing.structure.rows["packaging"][at] for at in lines]
        dearest = max(packages, key=lambda each: _number(costing, each, "line_cost"))
        yield _doubt(
            costing,
            dearest.sources["Packaging"],
            "amount",
            f"{_of_the_price(costing, row, 'packaging')}.",
            "Check the amount, its unit, and Per.",
        )


def selling_above_half(costing: Costing) -> Iterator[Problem]:
    """Selling that takes more than half of the price to charge: once an outlet."""
    rows = costing.structure.rows["prices"]
    much = (row for row in rows if _takes_most(costing, row, "selling"))
    for row in _first_of_each(costing, "outlet", much):
        yield _doubt(
            costing,
            row.sources["Outlets"],
            "units_sold_per_day",
            f"{_of_the_price(costing, row, 'selling')}.",
            "Check Units sold per day, and what the day costs.",
        )


def _takes_most(costing: Costing, row: Row, part: str) -> bool:
    price = _number(costing, row, "step_before_tax")
    return price > 0 and _number(costing, row, part) > price * MOST


def _of_the_price(costing: Costing, row: Row, part: str) -> str:
    """``selling Loaf at Market costs 20.00, more than half of the price to charge, 33.00``."""
    figures = costing.of(row)
    cost, price = (
        money_in_full(costing, _number(costing, row, name)) for name in (part, "step_before_tax")
    )
    without = " without tax" if figures["tax_in_price"] else ""
    of = f"{part} of {_where(figures)}"
    return f"the {of} costs {cost}, more than half of {_called(costing)}, {price}{without}"


def _called(costing: Costing) -> str:
    """What the price on the step is: no price to charge while a part is not counted."""
    return "the least to charge" if costing.one("settings")["uncounted"] else "the price to charge"


def _where(figures: Figures) -> str:
    """The product, and the outlet where there are any."""
    return " at ".join(filter(None, (str(figures["product"]), str(figures["outlet"]))))


def _number(costing: Costing, row: Row, column: str) -> Decimal:
    """A figure; zero where it isn't known, which is far from nothing."""
    value = costing.of(row)[column]
    return value if isinstance(value, Decimal) else Decimal(0)
