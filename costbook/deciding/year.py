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
from costbook.definitions.columns import Computed
from costbook.definitions.rounding import in_amount, in_money
from costbook.definitions.year_rules import cost_of_goods

__all__ = [
    "BEGINNING",
    "COST_OF_GOODS",
    "FOR_YOUR_PREPARER",
    "NOT_SAID",
    "TRAVEL",
    "Amount",
    "SalesCap",
    "Year",
    "YearLine",
    "added_up",
]

FOR_YOUR_PREPARER: Final = "For your preparer; not a tax figure."

Amount = Decimal | None
"""Money; None where a part of it isn't known."""

PITCH, CARDS, COMMISSION = "Pitch and table fees", "Card fees", "Commission"
TRAVEL, OTHER, OVERHEADS = "Miles, at your cost a mile", "Other costs of market days", "Overheads"


def added_up(parts: Iterable[Amount]) -> Amount:
    """The sum of all parts; None where one isn't known."""
    found = Decimal(0)
    for each in parts:
        if each is None:
            return None
        found += each
    return found


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

    ``sums`` has the figures of the table of the year by column; ``takings`` each month's by outlet,
    with the sales tax in them; ``kinds`` what was bought of each Kind on Items; ``stock`` what was
    there at cost at the year's beginning and at its end, each with what nobody counted.
    """

    first: date
    until: date
    last: date
    sums: Mapping[str, Amount]
    lacks: str
    takings: Mapping[str, Mapping[str, Amount]]
    cap: SalesCap | None
    kinds: Mapping[str, Amount]
    start: InStock
    end: InStock

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
    def purchases(self) -> Mapping[str, Amount]:
        """What was bought of each kind, and of items without one."""
        return {**self.kinds, NOT_SAID: self.sums["bought_otherwise"]}

    @property
    def cost_of_goods(self) -> Amount:
        """What was there and bought, less what is left [money]; own pay is no part of it."""
        values = (self.start.value, self.sums["bought_for_sale"], self.end.value)
        found = Computed(cost_of_goods).figure(values)
        return found if isinstance(found, Decimal) else None

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "year": self.name,
            "from": self.first.isoformat(),
            "until": self.until.isoformat(),
            "takings": self.sums["year_takings"],
            "takings_by_month": {month: dict(by) for month, by in self.takings.items()},
            "sales_tax_in_them": self.sums["year_sales_tax"],
            "market_days": self.sums["days_there"],
            "market_days_not_known": self.sums["days_not_known"],
            "lacks": self.lacks or None,
            "cap": self.cap.as_data() if self.cap else None,
            "purchases": {kind: paid for kind, paid in self.purchases.items() if paid != 0},
            "own_use": self.sums["own_use"],
            "stock": {"start": self.start.as_data(), "end": self.end.as_data()},
            "cost_of_goods_sold": self.cost_of_goods,
            "fees": self.sums["year_fees"],
            "expenses": {name: self.sums[column] for name, column in EXPENSES_PAID},
            "miles": self.sums["year_miles"],
            "overheads": self.sums["year_overheads"],
            "own_hours": self.sums["year_own_hours"],
            "own_pay_not_counted": self.sums["year_own_pay"],
            "said": FOR_YOUR_PREPARER,
        }

    def lines(self) -> Iterator[YearLine]:
        """The year in the order in which a preparer asks, a section after another."""
        yield from self._receipts()
        yield from self._goods()
        yield from self._expenses()
        note = "in many tax systems what you pay yourself is no cost"
        hours = "there, and in what was sold"
        yield self._of(OWN_PAY, "Hours of your own", "year_own_hours", hours)
        yield self._of(OWN_PAY, "At your pay an hour, not counted above", "year_own_pay", note)

    def _of(
        self, section: str, name: str, column: str, note: str = "", *, total: bool = False
    ) -> YearLine:
        return YearLine(section, name, self.sums[column], note, total, column)

    def _receipts(self) -> Iterator[YearLine]:
        yield self._of(RECEIPTS, "Takings", "year_takings", self._days())
        yield self._of(RECEIPTS, "less the sales tax in them", "year_sales_tax")
        yield self._of(RECEIPTS, "Gross receipts", "year_net", total=True)
        yield YearLine(RECEIPTS, "Returns and refunds", None, NOT_KEPT)

    def _days(self) -> str:
        if self.lacks:
            return f"not known: {self.lacks}"
        days, unknown = (int(self.sums[each] or 0) for each in ("days_there", "days_not_known"))
        asked = f", {unknown} of them not known" if unknown else ""
        return f"1 market day{asked}" if days == 1 else f"{days} market days{asked}"

    def _goods(self) -> Iterator[YearLine]:
        before, after = self.start, self.end
        yield YearLine(GOODS, BEGINNING, before.value, before.said)
        for kind, paid in self.purchases.items():
            yield YearLine(GOODS, f"Purchases: {kind}", paid, kind=kind)
        yield self._of(GOODS, "less what was bought for own use", "own_use", OWN_USE_SAID)
        yield YearLine(GOODS, "Cost of labour, helpers'", None, NOT_KEPT)
        yield self._of(GOODS, "less inventory at the end, at cost", "stock_at_cost", after.said)
        yield YearLine(GOODS, COST_OF_GOODS, self.cost_of_goods, total=True)

    def _expenses(self) -> Iterator[YearLine]:
        for name, column in EXPENSES_PAID:
            yield self._of(EXPENSES, name, column, self._note(name))
        yield self._of(EXPENSES, "Expenses", "year_expenses", total=True)

    def _note(self, name: str) -> str:
        miles = self.sums["year_miles"]
        if name == TRAVEL and miles is not None:
            return f"{in_amount(miles)} miles"
        return "of a whole year, as typed; without those by the batch" if name == OVERHEADS else ""


RECEIPTS, GOODS = "Receipts", "Cost of goods sold"
EXPENSES, OWN_PAY = "Expenses", "Your own pay"
BEGINNING, COST_OF_GOODS = (
    "Inventory at the beginning, at cost",
    "Cost of goods sold, without helpers",
)
NOT_KEPT: Final = "not kept here"
OWN_USE_SAID: Final = "items whose Kind on Items is own use"
NOT_SAID: Final = "no Kind on Items"
"""What is bought is called where its item has no Kind, or none that was there at the run."""
EXPENSES_PAID: Final = (
    (PITCH, "year_pitches"),
    (CARDS, "year_card_fees"),
    (COMMISSION, "year_commission"),
    (TRAVEL, "year_travel"),
    (OTHER, "year_other"),
    (OVERHEADS, "year_overheads"),
)
"""What was paid beside purchases, each with its column of the table of the year."""


@dataclass(frozen=True, slots=True)
class YearLine:
    """One line that a preparer asks for: its section, what it is, its figure, a note.

    ``column`` is that of the table of the year that has it, ``kind`` that of purchases.
    """

    section: str
    name: str
    amount: Amount
    note: str = ""
    total: bool = False
    column: str = ""
    kind: str = ""
