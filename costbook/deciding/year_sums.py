"""Costing → the year that the costing date is in, up to it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.engine import cost as cost_structure
from costbook.costing.structure import lay_out
from costbook.deciding.counted import stock_at
from costbook.deciding.year import Amount, SalesCap, Year

__all__ = ["the_year"]

NOT_THERE: Final = "outlets not on Outlets"
"""Whose takings those are that no outlet of the workbook has."""


def the_year(costing: Costing) -> Year:
    """The year that the costing date is in, up to it."""
    structure, figures = costing.structure, costing.one("this_year")
    book = structure.book
    eve, until, last = (book.day(_known(figures[each])) for each in ("eve", "until", "last_day"))
    before = cost_structure(lay_out(book, until, eve))
    return Year(
        eve + timedelta(days=1),
        until,
        last,
        {name: _number(value) for name, value in figures.items()},
        str(costing.one("year_span")["year_lacks"]),
        _by_month(costing),
        _cap(costing),
        {str(each["kind"]): _number(each["bought"]) for each in costing.figures["year_kinds"]},
        stock_at(before),
        stock_at(costing),
    )


def _by_month(costing: Costing) -> Mapping[str, Mapping[str, Amount]]:
    """Takings of each month with a market day, by outlet."""
    found: dict[str, dict[str, Amount]] = {}
    days: dict[str, Decimal] = {}
    for each in costing.figures["months_there"]:
        if each["days_there"]:
            month, outlet = str(each["month"]), str(each["outlet"])
            found.setdefault(month, {})[outlet] = _number(each["takings_there"])
            days[month] = days.get(month, Decimal(0)) + _known(each["days_there"])
    for each in costing.figures["year_months"]:
        month, there = str(each["month"]), _number(each["days_there"])
        if there is None or there > days.get(month, 0):
            found.setdefault(month, {})[NOT_THERE] = None
    return dict(sorted(found.items()))


def _cap(costing: Costing) -> SalesCap | None:
    """How near the sales without tax are to the cap on Settings, if one is typed."""
    figures, book = costing.one("this_year"), costing.structure.book
    typed, left, reached = (
        _number(figures[name]) for name in ("yearly_sales_cap", "cap_left", "cap_reached_on")
    )
    if typed is None:
        return None
    return SalesCap(typed, left, None if reached is None else book.day(reached))


def _known(value: Value) -> Decimal:
    assert isinstance(value, Decimal)
    return value


def _number(value: Value) -> Amount:
    return value if isinstance(value, Decimal) else None
