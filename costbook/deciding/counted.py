"""What was in stock on a day, at cost: packs in the freezer, and items that somebody counted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from costbook.book import Book, Value
from costbook.costing.engine import Costing
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
    counts_astray: bool = False
    """Whether a count is of nobody knows what, or when, so that nobody knows what is there."""
    began_later: bool = False
    """Whether no row of the workbook is as old as the day, so that nothing was there."""

    @property
    def value(self) -> Decimal | None:
        """What it cost in all [money]; None where a part isn't known, or nothing was counted."""
        costs = [each.cost for each in self.lines]
        if self.began_later:
            return Decimal(0)
        if self.counts_astray or not costs or None in costs:
            return None
        return sum((each for each in costs if each is not None), Decimal(0))

    @property
    def said(self) -> str:
        """How much of it was counted, and what isn't known of it."""
        if self.began_later:
            return "no row of yours is so old"
        if self.counts_astray:
            return "a row on Counts has no date, or a name that is nobody's"
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
    astray = costing.one("this_year")["counts_astray"] != 0
    return InStock(book, day, tuple(lines), astray, oldest > day)


_DATED = ("Purchases", "Made", "Counts", "Market days", "Sales")
"""Sheets whose rows are of a day."""


def _packs(costing: Costing) -> Iterator[StockLine]:
    """The packs of each product that was ever made, counted or sold, without own work."""
    for figures in costing.figures["year_packs"]:
        if figures["listed"] == 1:
            name, counted = str(figures["product"]), _number(figures["counted_on"])
            packs, cost = (_number(figures[each]) for each in ("packs_left", "packs_at_cost"))
            yield StockLine(name, packs, cost, counted, "packs")


def _items(costing: Costing) -> Iterator[StockLine]:
    """Each item that was counted: its last count, at the price that counts on the day."""
    for figures in costing.figures["year_items"]:
        if figures["listed"] == 1:
            name, unit = str(figures["item"]), _base_unit(figures["measure"])
            amount, cost, day = (
                _number(figures[each]) for each in ("counted_in_base", "item_at_cost", "counted_on")
            )
            yield StockLine(name, amount, cost, day, unit)


def _base_unit(measure: Value) -> str:
    return BASE_UNIT[Measure(int(measure))] if isinstance(measure, Decimal) else "?"


def _number(value: Value) -> Decimal | None:
    return value if isinstance(value, Decimal) else None
