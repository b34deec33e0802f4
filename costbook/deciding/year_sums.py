"""Costing → the year that the costing date is in, up to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal
from typing import Final

from costbook.book import Book, Value, as_key
from costbook.costing.engine import Costing
from costbook.costing.engine import cost as cost_structure
from costbook.costing.structure import lay_out
from costbook.deciding.counted import stock_at
from costbook.deciding.market_days import MarketDay, market_days
from costbook.deciding.year import (
    CARDS,
    COMMISSION,
    OTHER,
    OVERHEADS,
    PITCH,
    TRAVEL,
    Amount,
    SalesCap,
    Year,
    added_up,
    less,
)
from costbook.definitions.months import month_number

__all__ = ["the_year", "year_of", "year_until"]

OWN_USE: Final = ("own use", "personal", "private", "household", "home", "family")
"""Words for the Kind of an item that was bought for oneself."""
NOT_SAID: Final = "no Kind on Items"
"""What is bought is called where its item has no Kind."""

_OF_DAYS: Final = {
    PITCH: "day_fee",
    CARDS: "day_card_fee",
    COMMISSION: "day_commission",
    TRAVEL: "day_travel",
    OTHER: "day_other",
}
"""By expense, the column of a market day."""


def year_until(book: Book, day: date) -> tuple[date, date]:
    """The first and the last day of the year, as Settings has it, that a day is in."""
    month = _month_that_begins(book) or 1
    first = date(day.year if day.month >= month else day.year - 1, month, 1)
    return first, date(first.year + 1, month, 1) - timedelta(days=1)


def year_of(book: Book, number: int) -> tuple[date, date]:
    """The first and the last day of the year that begins in a year."""
    return year_until(book, date(number, _month_that_begins(book) or 1, 1))


def _month_that_begins(book: Book) -> int | None:
    """The number of the month on Settings that the year begins with; None if none is named."""
    typed = next((each.text("year_begins") for each in book.records("Settings")), "")
    return month_number(typed)


def the_year(costing: Costing) -> Year:
    """The year that the costing date is in, up to it."""
    structure = costing.structure
    first, last = year_until(structure.book, structure.costed_on)
    until = structure.costed_on
    days = [each for each in market_days(costing) if first <= structure.book.day(each.day) <= until]
    before = cost_structure(lay_out(structure.book, until, first - timedelta(days=1)))
    purchases, hours = _purchases(costing, first), _of(days, "own_hours")
    net = _of(days, "takings_before_tax")
    return Year(
        first,
        until,
        last,
        _by_month(structure.book, days),
        _of(days, "takings"),
        net,
        _cap(costing, net, days, last),
        purchases,
        added_up(each for kind, each in purchases.items() if kind.lower() in OWN_USE),
        stock_at(before),
        stock_at(costing),
        _expenses(costing, days),
        _miles(costing, days),
        hours,
        _times(hours, _number(costing.one("settings")["pay_per_hour"])),
        len(days),
        sum(each.number("takings") is None for each in days),
    )


def _of(days: Sequence[MarketDay], column: str) -> Amount:
    """A figure of every day, added up."""
    return added_up(each.number(column) for each in days)


def _by_month(book: Book, days: Sequence[MarketDay]) -> Mapping[str, Mapping[str, Amount]]:
    """Takings of each month with a market day, by outlet."""
    found: dict[str, dict[str, Amount]] = {}
    for each in days:
        month = book.day(each.day).strftime("%Y-%m")
        so_far = found.setdefault(month, {}).get(each.outlet, Decimal(0))
        found[month][each.outlet] = added_up((so_far, each.number("takings")))
    return found


def _purchases(costing: Costing, first: date) -> Mapping[str, Amount]:
    """What was bought in the year up to the costing date, by the kind of its item."""
    book = costing.structure.book
    begins, ends = book.day_number(first), book.day_number(costing.structure.costed_on)
    kinds = {
        row.fixed["item_key"]: row.sources["Items"].text("item_kind").strip()
        for row in costing.structure.rows["prices_now"]
        if "Items" in row.sources
    }
    named: dict[str, str] = {}
    found: dict[str, Amount] = {}
    for row in costing.structure.rows["purchases"]:
        figures = costing.of(row)
        day = _number(figures["day"])
        if row.sources and day is not None and begins <= day <= ends:
            kind = kinds.get(figures["item_key"]) or NOT_SAID
            kind = named.setdefault(as_key(kind), kind)
            paid = _number(figures["line_total"])
            found[kind] = added_up((found.get(kind, Decimal(0)), paid))
    return found


def _expenses(costing: Costing, days: Sequence[MarketDay]) -> Mapping[str, Amount]:
    """What was paid beside purchases: for market days, and a whole year's overheads as typed."""
    found = {name: _of(days, column) for name, column in _OF_DAYS.items()}
    yearly = _number(costing.one("year")["yearly"])
    found[OVERHEADS] = added_up((yearly, _of(days, "market_day_overheads")))
    return found


def _miles(costing: Costing, days: Sequence[MarketDay]) -> Amount:
    """The miles of all days [miles]: as typed, else the outlet's."""
    by_outlet = {
        costing.of(row)["outlet_key"]: _number(costing.of(row.links["outlets"])["miles_per_day"])
        for row in costing.structure.rows["sold_at"]
    }
    return added_up(
        each.number("miles")
        if each.number("miles_typed")
        else by_outlet.get(each.figures["outlet_key"])
        for each in days
    )


def _cap(costing: Costing, net: Amount, days: Sequence[MarketDay], last: date) -> SalesCap | None:
    """How near the sales without tax are to the cap on Settings, if one is typed."""
    book = costing.structure.book
    records = book.records("Settings")
    typed = next((each.number("yearly_sales_cap") for each in records), None)
    if typed is None:
        return None
    left = less(typed, net)
    if left is None or not net or not days:
        return SalesCap(typed, left, None)
    today = book.day_number(costing.structure.costed_on)
    a_day = net / (today - min(each.day for each in days) + 1)
    reached = book.day(today + (left / a_day).to_integral_value(ROUND_CEILING))
    return SalesCap(typed, left, reached if left > 0 and reached <= last else None)


def _times(one: Amount, other: Amount) -> Amount:
    return None if one is None or other is None else one * other


def _number(value: Value) -> Amount:
    return value if isinstance(value, Decimal) else None
