"""Suppliers who take no small order: whether what is to be bought from each comes up to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from costbook.book import as_key
from costbook.costing.engine import Costing
from costbook.costing.result import currency_of
from costbook.deciding.compared_item import ComparedItem
from costbook.deciding.pack import money
from costbook.deciding.plan import cheapest_plan, spent_at
from costbook.definitions.currencies import minor_unit

__all__ = ["least_orders", "with_least_orders"]


def with_least_orders(costing: Costing, items: Sequence[ComparedItem]) -> list[ComparedItem]:
    """The items, each told where its cheapest mix asks for an order that a supplier won't take.

    An order is filled with other items too, so what counts is all that the mixes of all items
    take from the supplier together.
    """
    least = least_orders(costing)
    together = {
        key: sum((spent_at(key, item.packs, item.plan) for item in items), Decimal(0))
        for key in least
    }
    small = {key: amount for key, amount in together.items() if amount < least[key][1]}
    return [_told(costing, item, least, small) for item in items]


def least_orders(costing: Costing) -> dict[str, tuple[str, Decimal]]:
    """By supplier's key: its name and least order [money]."""
    found: dict[str, tuple[str, Decimal]] = {}
    for record in costing.structure.book.records("Suppliers"):
        amount, name = record.number("least_order"), record.text("supplier")
        if name and amount is not None and amount > 0:
            found.setdefault(as_key(name), (name, amount))
    return found


def _told(
    costing: Costing,
    item: ComparedItem,
    least: dict[str, tuple[str, Decimal]],
    small: dict[str, Decimal],
) -> ComparedItem:
    from_here = [key for key in small if spent_at(key, item.packs, item.plan)]
    if item.plan is None:
        said = _of_the_cheapest(costing, item, least)
        return replace(item, in_words=f"{item.in_words}{said}")
    said = "".join(
        f" {least[key][0]} takes no order below {_money(costing, least[key][1])}, and what is to "
        f"be bought there comes to {_money(costing, small[key])}."
        for key in from_here
    )
    if said:
        said += _instead(costing, item, small)
    return replace(item, in_words=f"{item.in_words}{said}")


def _instead(costing: Costing, item: ComparedItem, small: dict[str, Decimal]) -> str:
    """The way out: a larger order, or the cheapest mix from the others."""
    other = cheapest_plan(item.packs, item.need, without=small)
    if other is None:
        return " Order more there."
    packs = item.packs_in_words(other)
    return f" Order more there, or take {packs} for {_money(costing, other.cash)}."


def _of_the_cheapest(
    costing: Costing, item: ComparedItem, least: dict[str, tuple[str, Decimal]]
) -> str:
    """Where no need is known: whether the least of the cheapest pack is an order."""
    cheapest = item.packs[0]
    laid_out, there = cheapest.number("cash_tied_up"), least.get(cheapest.supplier_key)
    if there is None or laid_out is None or laid_out >= there[1]:
        return ""
    return f" {there[0]} takes no order below {_money(costing, there[1])}."


def _money(costing: Costing, amount: Decimal) -> str:
    places = minor_unit(currency_of(costing))
    return money(amount, 2 if places is None else places)
