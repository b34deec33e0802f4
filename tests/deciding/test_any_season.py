"""What must be so for any season: small ones drawn at random, at two outlets with two products."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, Final

from hypothesis import given, settings
from hypothesis import strategies as st

from costbook.costing.engine import Costing
from costbook.costing.findings import find
from costbook.deciding.market_days import market_days
from costbook.deciding.season import season
from costbook.deciding.stock import in_freezer
from costbook.deciding.year_sums import the_year
from tests.deciding.asking import read
from tests.deciding.season import STALL
from tests.tables import Sheets, sheets

FIRST: Final = date(2026, 12, 27)  # so that some days are of the year before
PRICES: Final = {"Bun": Decimal(5), "Bun, six": Decimal("26.5")}

TWO_OF_EACH: Final = """
Products
Product  | Recipe | Units per pack | Current price
Bun      | Buns   | 1              | 5
Bun, six | Buns   | 6              | 26.50

Outlets
Outlet | Fee per day | Hours per day | Cost per mile | Units sold per day | Card share % | Card fee %
Pier   | 10          | 4             | 0.50          | 40                 | 25           | 2
Square | 25.5        | 6             | 0.50          | 40                 | 25           | 2

Packaging
Product | Uses  | Amount | Unit | Per
all     | Flour | 0      | g    | pack
"""  # noqa: E501 - a table is read in one piece


@dataclass(frozen=True)
class Sold:
    """A row of Sales [packs]."""

    product: str
    sold: int
    sampled: int
    spoiled: int
    came_home: int

    @property
    def gone(self) -> int:
        return self.sold + self.sampled + self.spoiled


@dataclass(frozen=True)
class Day:
    """A day at an outlet, and what its till must hold for what was sold [money]."""

    day: date
    outlet: str
    hours: int
    float_cash: int
    by_card: int  # percent
    miles: int
    weather: str
    sold: tuple[Sold, ...]

    @property
    def takings(self) -> Decimal:
        return sum((each.sold * PRICES[each.product] for each in self.sold), Decimal(0))

    @property
    def in_rows(self) -> tuple[list[Any], list[Any]]:
        """Cash counted, card takings, hours, float and miles on two rows that add up to the day."""
        card = self.takings * self.by_card / 100
        cash = self.takings - card + self.float_cash
        first = [1, self.float_cash, Decimal(0), card, self.miles, self.weather]
        return first, [self.hours - 1, Decimal(0), cash, Decimal(0), 0, ""]


ROW_OF_SALES = st.tuples(*(st.integers(0, 12) for _ in range(4)))


@st.composite
def days(draw: st.DrawFn) -> list[Day]:
    """One to four days, at most one a day and outlet."""
    wheres = st.tuples(st.integers(0, 40), st.sampled_from(["Pier", "Square"]))
    found = []
    for after, outlet in draw(st.lists(wheres, min_size=1, max_size=4, unique=True)):
        goods = draw(st.sets(st.sampled_from(sorted(PRICES)), min_size=1))
        sold = tuple(Sold(name, *draw(ROW_OF_SALES)) for name in sorted(goods))
        hours, in_float, card = (draw(st.integers(*ends)) for ends in ((2, 9), (0, 80), (0, 100)))
        weather = draw(st.sampled_from(["", "sun", "rain"]))
        miles = draw(st.integers(0, 30))
        day = FIRST + timedelta(days=after)
        found.append(Day(day, outlet, hours, in_float, card, miles, weather, sold))
    return found


def book_of(season_drawn: list[Day], *, split: bool = False) -> Sheets:
    """The stall with these days, each in one row or in two."""
    book = sheets(STALL, TWO_OF_EACH)
    titles = ("Date", "Outlet", "Hours", "Float", "Cash counted", "Card takings", "Miles")
    book["Market days"] = [[*titles, "Weather"]]
    book["Sales"] = [["Date", "Outlet", "Product", "Taken", "Sold", "Sampled", "Spoiled"]]
    for day in season_drawn:
        one, other = day.in_rows
        whole = [[a + b for a, b in zip(one[:5], other[:5], strict=True)] + one[5:]]
        for row in (one, other) if split else whole:
            book["Market days"].append([day.day, day.outlet, *row])
        for each in day.sold:
            taken = each.gone + each.came_home
            counts = (taken, each.sold, each.sampled, each.spoiled)
            book["Sales"].append([day.day, day.outlet, each.product, *counts])
    return book


def costed(book: Sheets) -> Costing:
    return read(book, on=date(2027, 3, 1))


few = settings(max_examples=6, deadline=None, derandomize=True)


@few
@given(days())
def test_days_split_in_two_rows_are_the_same_season(drawn: list[Day]) -> None:
    one, two = (costed(book_of(drawn, split=split)) for split in (False, True))
    whole, split, book = market_days(one), market_days(two), one.structure.book
    assert len(whole) == len(drawn)
    assert all(each.number("pay_an_hour") is not None for each in whole)
    assert [each.as_data(book) for each in split] == [each.as_data(book) for each in whole]
    assert season(split) == season(whole)


@few
@given(days())
def test_till_and_count_agree_where_nothing_is_lost_and_differ_by_what_is(drawn: list[Day]) -> None:
    book = book_of(drawn)
    # 7 more were in the till in the morning, and aren't in it now
    book["Market days"][1][3] = drawn[0].float_cash + 7
    costing = costed(book)
    found = {(each.outlet, each.day): each.figures for each in market_days(costing)}
    assert len(found) == len(drawn)
    for day in drawn:
        figures = found[day.outlet, costing.structure.book.day_number(day.day)]
        assert figures["takings_by_count"] == day.takings
        assert figures["over_short"] == (-7 if day is drawn[0] else 0)


@few
@given(days())
def test_the_year_is_the_sum_of_its_days(drawn: list[Day]) -> None:
    """Added up from what was drawn, not from the days as costed; December is another year's."""
    year = the_year(costed(book_of(drawn)))
    months: dict[str, dict[str, Decimal]] = {}
    for day in (each for each in drawn if each.day.year == 2027):
        month = months.setdefault(day.day.isoformat()[:7], {})
        month[day.outlet] = month.get(day.outlet, Decimal(0)) + day.takings
    data = year.as_data()
    assert data["takings_by_month"] == months
    assert data["takings"] == sum((sum(each.values()) for each in months.values()), Decimal(0))


MADE = st.lists(st.tuples(st.integers(0, 40), st.sampled_from(sorted(PRICES)), st.integers(1, 40)))
COUNT = st.none() | st.tuples(st.integers(0, 40), st.integers(0, 30))


@settings(max_examples=12, deadline=None, derandomize=True)
@given(days(), MADE, COUNT)
def test_stock_is_never_below_zero_without_a_word(
    drawn: list[Day], made: list[tuple[int, str, int]], count: tuple[int, int] | None
) -> None:
    """Made less gone, from the last count on, that of the evening; less than nothing is told."""
    book = book_of(drawn)
    book["Made"] = [["Date", "Product", "Packs"]]
    book["Made"] += [[FIRST + timedelta(days=at), name, packs] for at, name, packs in made]
    book["Counts"] = [["Date", "What", "Amount"]]
    if count:
        book["Counts"].append([FIRST + timedelta(days=count[0]), "Bun", count[1]])
    costing = costed(book)
    told = [each.what for each in (*costing.structure.book.problems, *find(costing))]
    for product in in_freezer(costing):
        since, left = date.min, 0
        if count and product.product == "Bun":
            since, left = FIRST + timedelta(days=count[0]), count[1]
        left += sum(
            packs
            for at, name, packs in made
            if name == product.product and FIRST + timedelta(days=at) > since
        )
        left -= sum(
            each.gone
            for day in drawn
            for each in day.sold
            if each.product == product.product and day.day > since
        )
        named = any(f'"{product.product}" went than was there' in each for each in told)
        assert (product.packs, named) == ((left, False) if left >= 0 else (None, True))
