"""What was in stock on a day, at cost: packs in the freezer, and items that somebody counted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from costbook.book import Book, Value
from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.definitions import rules
from costbook.definitions.columns import WORTHS, Computed
from costbook.definitions.rounding import in_amount
from costbook.definitions.units import BASE_UNIT, Measure

__all__ = ["InStock", "StockLine", "stock_at"]


@dataclass(frozen=True, slots=True)
class StockLine:
    """One thing in stock: its amount in its base unit, or in packs, and its cost [money].

    ``counted_on`` is the day of the last count; None where there is none, or for packs that Made
    alone has.
    """

    name: str
    amount: Decimal | None
    cost: Decimal | None
    counted_on: Decimal | None
    unit: str

    @property
    def said(self) -> str:
        """How much of what."""
        amount = in_amount(self.amount)
        return f"{self.name}, {amount} {self.unit}"

    def as_data(self, book: Book) -> dict[str, Any]:
        """As JSON has it."""
        day = self.counted_on
        return {
            "what": self.name,
            "amount": self.amount,
            "unit": self.unit,
            "cost": self.cost,
            "counted_on": None if day is None else book.day(day).isoformat(),
        }


@dataclass(frozen=True, slots=True)
class InStock:
    """All that is known to be in stock on a day, at what it cost by the receipts up to then."""

    book: Book
    day: Decimal
    lines: tuple[StockLine, ...]
    began_later: bool = False
    """Whether no row of the workbook is as old as the day, so that nothing was there."""

    @property
    def value(self) -> Decimal | None:
        """What it cost in all [money]; None where a part isn't known, or nothing was counted."""
        costs = [each.cost for each in self.lines]
        if self.began_later:
            return Decimal(0)
        if not costs or None in costs:
            return None
        return sum((each for each in costs if each is not None), Decimal(0))

    @property
    def said(self) -> str:
        """How much of it was counted, and what isn't known of it."""
        if self.began_later:
            return "no row of yours is so old"
        if not self.lines:
            return "nothing was counted up to then"
        unknown = [each.name for each in self.lines if each.cost is None]
        if unknown:
            return f"not known: {'; '.join(unknown)}"
        return f"{len(self.lines)} things, only what was counted or made"

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "on": self.book.day(self.day).isoformat(),
            "value": self.value,
            "lines": [each.as_data(self.book) for each in self.lines],
        }


def stock_at(costing: Costing) -> InStock:
    """What is in stock on the costing date; only what was made or counted up to then."""
    book = costing.structure.book
    lines = (*_packs(costing), *_items(costing))
    day = book.day_number(costing.structure.costed_on)
    days = (each.number("day") for sheet in _DATED for each in book.records(sheet))
    oldest = min((each for each in days if each is not None), default=day)
    return InStock(book, day, tuple(lines), oldest > day)


_DATED = ("Purchases", "Made", "Counts", "Market days", "Sales")
"""Sheets whose rows are of a day."""


def _packs(costing: Costing) -> Iterator[StockLine]:
    """The packs of each product that was ever made, counted or sold, without own work."""
    costs = {each["product"]: _number(each["cost_of_a_pack"]) for each in _gone(costing)}
    for figures in costing.figures["freezer"]:
        packs, counted = _number(figures["packs_left"]), _number(figures["counted_on"])
        nothing = packs == 0 and counted is None and not figures["made_since"]
        if not nothing:
            cost = _times(packs, costs.get(figures["product"]))
            yield StockLine(str(figures["product"]), packs, cost, counted, "packs")


def _gone(costing: Costing) -> list[Figures]:
    return costing.figures["packs_gone"]


def _items(costing: Costing) -> Iterator[StockLine]:
    """Each item that was counted: its last count, at the price that counts on the day."""
    for now in costing.structure.rows["prices_now"]:
        last = _last_count(costing, str(now.fixed["item_key"]))
        if last is not None:
            amount = _times(_number(last["amount"]), _number(last["unit_factor"]))
            each = _price_in(costing, now, last["measure"])
            cost = amount if amount == 0 else _times(amount, each)
            unit, day = _base_unit(last["measure"]), _number(last["day_so_far"])
            yield StockLine(str(now.fixed["item"]), amount, cost, day, unit)


def _last_count(costing: Costing, key: str) -> Figures | None:
    """The last row of Counts that is of an item; None where there is none yet."""
    found = [
        (rank, at)
        for at, figures in enumerate(costing.figures["counts"])
        if figures["what_key"] == key
        if (rank := _number(figures["count_rank"])) is not None
    ]
    return costing.figures["counts"][max(found)[1]] if found else None


def _price_in(costing: Costing, now: Row, measure: Value) -> Decimal | None:
    """What a base unit of a measure of an item costs [money/base], over its bridges."""
    figures, items = costing.of(now), costing.of(now.links["items"])
    worth = [_worth(items, each) for each in (measure, figures["measure"])]
    values = (measure, worth[0], figures["measure"], worth[1])
    crossed = _BRIDGE.figure(values)
    return _times(_number(figures["price_per_base_unit"]), _number(crossed))


_BRIDGE = Computed(rules.bridge)


def _worth(items: Figures, measure: Value) -> Value:
    return items[WORTHS[int(measure) - 1]] if isinstance(measure, Decimal) else None


def _base_unit(measure: Value) -> str:
    return BASE_UNIT[Measure(int(measure))] if isinstance(measure, Decimal) else "?"


def _times(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return None if one is None or other is None else one * other


def _number(value: Value) -> Decimal | None:
    return value if isinstance(value, Decimal) else None
