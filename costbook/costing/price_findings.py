"""Costing → receipts whose price or size is far from what counted before: each said once."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final, NamedTuple

from costbook.book import Record
from costbook.costing.engine import Costing
from costbook.costing.far import how_far, is_far, money_in_full
from costbook.costing.line_findings import place_of
from costbook.costing.rows import Row
from costbook.definitions import rules
from costbook.definitions.amounts import amount_in_words
from costbook.problems import Problem, Severity

__all__ = ["prices_far_from_the_last"]

NEARLY_THE_SAME: Final = Decimal("1.5")
"""Packs of which neither costs so many times the other are at nearly the same price."""


class _Two(NamedTuple):
    """The receipt that counts and the one that counted before, in the unit of the price now."""

    record: Record
    before: Record
    price: Decimal
    price_before: Decimal
    held: Decimal
    held_before: Decimal

    def misses_its_size(self) -> bool:
        """Is the pack of quite another size, at nearly the price of the one before?"""
        paid, paid_before = self.price * self.held, self.price_before * self.held_before
        low, high = sorted((paid, paid_before))
        return is_far(self.held, self.held_before) and high <= low * NEARLY_THE_SAME


def prices_far_from_the_last(costing: Costing) -> Iterator[Problem]:
    """A price, or a size, that is three times what counted before, or a third of it."""
    for row in costing.structure.rows["item_prices"]:
        two = _two(costing, row)
        if two is None:
            continue
        if two.misses_its_size():
            yield _size(costing, row, two)
        elif is_far(two.price, two.price_before):
            yield _price(costing, row, two)


def _two(costing: Costing, row: Row) -> _Two | None:
    """Both receipts of an item; None where there is one only, or they can't be compared."""
    now, before = (costing.of(row.links[name]) for name in ("prices_now", "prices_before"))
    figures = costing.of(row)
    numbers = [
        *(now["purchase_row"], before["purchase_row"]),
        *(figures["price_per_base_unit"], figures["before_in_units_of_now"]),
        *(now["pack_count"], now["size_in_base_units"]),
        *(before["pack_count"], before["size_in_base_units"], figures["before_bridge"]),
    ]
    known = [each for each in numbers if isinstance(each, Decimal)]
    if len(known) < len(numbers):
        return None
    at, at_before, price, price_before, count, size, count_before, size_before, bridge = known
    records = costing.structure.purchases
    held, held_before = rules.whole_pack(count, size), rules.whole_pack(count_before, size_before)
    both = records[int(at)], records[int(at_before)]
    return _Two(*both, price, price_before, held, held_before / bridge)


def _price(costing: Costing, row: Row, two: _Two) -> Problem:
    figures = costing.of(row)
    large = figures["large_unit_size"]
    assert isinstance(large, Decimal)
    now, before = (money_in_full(costing, each * large) for each in (two.price, two.price_before))
    return _doubt(
        costing,
        two.record,
        "price_per_pack",
        f"the price of {figures['item']} is {now} a {figures['large_unit']} here, and was "
        f"{before} in row {two.before.row}: {how_far(two.price, two.price_before)}.",
        "Check the price, the size and the unit.",
    )


def _size(costing: Costing, row: Row, two: _Two) -> Problem:
    figures = costing.of(row)
    unit = str(figures["large_unit"])
    held, before = (amount_in_words(each, unit) for each in (two.held, two.held_before))
    return _doubt(
        costing,
        two.record,
        "pack_size",
        f"a pack of {figures['item']} holds {held} here, and held {before} in row "
        f"{two.before.row} at nearly the same price: {how_far(two.held, two.held_before)}.",
        "Check the size and the unit.",
    )


def _doubt(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.DOUBTFUL, place_of(costing, record, name), what, remedy)
