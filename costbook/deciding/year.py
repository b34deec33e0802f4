"""A year as a tax preparer asks for it: the answer, as data and as lines in their order.

The order is that of a sole proprietor's return, IRS Schedule C, as an example of an order: gross
receipts; part III, the cost of goods sold, from the inventory at the beginning to that at the end;
then expenses. No tax figure, and no advice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Final

from costbook.book import Book
from costbook.deciding.counted import InStock
from costbook.definitions.rounding import in_amount, in_money

__all__ = [
    "CARDS",
    "COMMISSION",
    "FOR_YOUR_PREPARER",
    "OTHER",
    "OVERHEADS",
    "PITCH",
    "TRAVEL",
    "Amount",
    "SalesCap",
    "Year",
    "YearLine",
    "added_up",
    "less",
]

FOR_YOUR_PREPARER: Final = "For your preparer; not a tax figure."

Amount = Decimal | None
"""Money; None where a part of it isn't known."""

PITCH, CARDS, COMMISSION = "Pitch and table fees", "Card fees", "Commission"
TRAVEL, OTHER, OVERHEADS = "Miles, at your cost a mile", "Other costs of market days", "Overheads"
FEES: Final = (PITCH, CARDS, COMMISSION)


def added_up(parts: Iterable[Amount]) -> Amount:
    """The sum of all parts; None where one isn't known."""
    found = Decimal(0)
    for each in parts:
        if each is None:
            return None
        found += each
    return found


def less(one: Amount, other: Amount) -> Amount:
    """The difference; None where one of the two isn't known."""
    return None if one is None or other is None else one - other


@dataclass(frozen=True, slots=True)
class SalesCap:
    """The yearly sales cap that was typed, and what is left of it [money].

    ``reached_on`` is the day on which sales reach it, at their pace since the year's first market
    day; None where that is not within the year, or isn't known.
    """

    typed: Decimal
    left: Amount
    reached_on: date | None

    def in_words(self, book: Book, places: int) -> str:
        """What is left of it, and when sales reach it at this pace."""
        typed, left = in_money(self.typed, places), in_money(self.left, places)
        if self.left is not None and self.left <= 0:
            above = in_money(-self.left, places)
            return f"The cap of {typed} is reached: sales without tax are {above} above it."
        said = f"{left} is left of the cap of {typed}"
        if self.reached_on is None:
            return f"{said}; at this pace it is not reached this year."
        on = book.written(self.reached_on)
        return f"{said}; at the pace since the first market day it is reached on {on}."

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        day = self.reached_on
        return {
            "typed": self.typed,
            "left": self.left,
            "reached_on": day.isoformat() if day else None,
        }


@dataclass(frozen=True, slots=True)
class Year:
    """A year, or what has passed of it: from its first day up to the costing date, both in it.

    ``takings`` has each month's by outlet, with the sales tax in them; ``stock`` what was there at
    cost at the year's beginning and at its end, each with what nobody counted.
    """

    first: date
    until: date
    last: date
    takings: Mapping[str, Mapping[str, Amount]]
    all_takings: Amount
    without_tax: Amount
    cap: SalesCap | None
    purchases: Mapping[str, Amount]
    own_use: Amount
    start: InStock
    end: InStock
    expenses: Mapping[str, Amount]
    miles: Amount
    own_hours: Amount
    own_pay: Amount
    days: int
    days_unknown: int

    @property
    def name(self) -> str:
        """The year in digits; both where it goes over the turn of the year."""
        if self.first.year == self.last.year:
            return str(self.first.year)
        return f"{self.first.year}/{self.last.year}"

    @property
    def outlets(self) -> tuple[str, ...]:
        """The outlets with a market day in it, in the order of their first one."""
        return tuple(dict.fromkeys(name for by in self.takings.values() for name in by))

    @property
    def sales_tax(self) -> Amount:
        """The sales tax in the takings [money]."""
        return less(self.all_takings, self.without_tax)

    @property
    def bought(self) -> Amount:
        """Purchases without those for own use [money]."""
        return less(added_up(self.purchases.values()), self.own_use)

    @property
    def cost_of_goods(self) -> Amount:
        """What was there and bought, less what is left [money]; own pay is no part of it."""
        return less(added_up((self.start.value, self.bought)), self.end.value)

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "year": self.name,
            "from": self.first.isoformat(),
            "until": self.until.isoformat(),
            "takings": self.all_takings,
            "takings_by_month": {month: dict(by) for month, by in self.takings.items()},
            "sales_tax_in_them": self.sales_tax,
            "market_days": self.days,
            "market_days_not_known": self.days_unknown,
            "cap": self.cap.as_data() if self.cap else None,
            "purchases": dict(self.purchases),
            "own_use": self.own_use,
            "stock": {"start": self.start.as_data(), "end": self.end.as_data()},
            "cost_of_goods_sold": self.cost_of_goods,
            "fees": added_up(self.expenses[name] for name in FEES),
            "expenses": dict(self.expenses),
            "miles": self.miles,
            "overheads": self.expenses[OVERHEADS],
            "own_hours": self.own_hours,
            "own_pay_not_counted": self.own_pay,
            "said": FOR_YOUR_PREPARER,
        }

    def lines(self) -> Iterator[YearLine]:
        """The year in the order in which a preparer asks, a section after another."""
        yield from self._receipts()
        yield from self._goods()
        yield from self._expenses()
        note = "in many tax systems what you pay yourself is no cost"
        yield YearLine(OWN_PAY, "Hours of your own", self.own_hours, "there, and in what was sold")
        yield YearLine(OWN_PAY, "At your pay an hour, not counted above", self.own_pay, note)

    def _receipts(self) -> Iterator[YearLine]:
        days = "1 market day" if self.days == 1 else f"{self.days} market days"
        asked = f", {self.days_unknown} of them not known" if self.days_unknown else ""
        yield YearLine(RECEIPTS, "Takings", self.all_takings, f"{days}{asked}")
        yield YearLine(RECEIPTS, "less the sales tax in them", self.sales_tax)
        yield YearLine(RECEIPTS, "Gross receipts", self.without_tax, total=True)
        yield YearLine(RECEIPTS, "Returns and refunds", None, NOT_KEPT)

    def _goods(self) -> Iterator[YearLine]:
        yield YearLine(
            GOODS, "Inventory at the beginning, at cost", self.start.value, self.start.said
        )
        for kind, paid in self.purchases.items():
            yield YearLine(GOODS, f"Purchases: {kind}", paid)
        yield YearLine(GOODS, "less what was bought for own use", self.own_use, OWN_USE_SAID)
        yield YearLine(GOODS, "Cost of labour, helpers'", None, NOT_KEPT)
        yield YearLine(GOODS, "less inventory at the end, at cost", self.end.value, self.end.said)
        yield YearLine(GOODS, "Cost of goods sold, without helpers", self.cost_of_goods, total=True)

    def _expenses(self) -> Iterator[YearLine]:
        for name, paid in self.expenses.items():
            yield YearLine(EXPENSES, name, paid, self._note(name))
        yield YearLine(EXPENSES, "Expenses", added_up(self.expenses.values()), total=True)

    def _note(self, name: str) -> str:
        if name == TRAVEL and self.miles is not None:
            return f"{in_amount(self.miles)} miles"
        return "of a whole year, as typed; without those by the batch" if name == OVERHEADS else ""


RECEIPTS, GOODS = "Receipts", "Cost of goods sold"
EXPENSES, OWN_PAY = "Expenses", "Your own pay"
NOT_KEPT: Final = "not kept here"
OWN_USE_SAID: Final = "items whose Kind on Items is own use"


@dataclass(frozen=True, slots=True)
class YearLine:
    """One line that a preparer asks for: its section, what it is, its figure, a note."""

    section: str
    name: str
    amount: Amount
    note: str = ""
    total: bool = False
