"""The buy list by shop: what each takes, whether that is an order, and whether its trip pays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal
from typing import Final

from costbook.book import Record
from costbook.costing.engine import Costing
from costbook.costing.names import first_of
from costbook.deciding.buying import Bought, ItemToBuy
from costbook.deciding.least_orders import least_orders
from costbook.deciding.pack import Pack, money
from costbook.deciding.plan import Plan, as_cheap_at, cheapest_plan, spent_at
from costbook.definitions.rounding import rounded

__all__ = ["MOST_NAMED", "Another", "Shop", "Trip", "others_worth_taking", "shops"]


MOST_NAMED: Final = 3
"""Items that a sentence names; of more it says how many."""


@dataclass(frozen=True, slots=True)
class Trip:
    """What buying at a shop saves against buying all of that elsewhere [money].

    ``instead`` is what the others have for it, and ``only_there`` what none of them has. Yearly
    costs are left out: they are paid anyhow. ``cost`` is that of a trip, None where nobody said.
    """

    saves: Decimal
    cost: Decimal | None
    instead: tuple[Bought, ...]
    only_there: tuple[ItemToBuy, ...]

    @property
    def pays(self) -> bool | None:
        """Whether the trip is worth it; None where its cost isn't known."""
        if self.only_there:
            return True
        return None if self.cost is None else self.saves >= self.cost


@dataclass(frozen=True, slots=True)
class Shop:
    """What is bought at one supplier. ``trip`` is None where it is the only one."""

    supplier: str
    key: str
    bought: tuple[Bought, ...]
    least_order: Decimal | None
    spent: Decimal
    """At the packs' own prices, as a least order counts [money]."""
    trip: Trip | None

    @property
    def called(self) -> str:
        """Its name, or words where receipts name none."""
        return self.supplier or "Anywhere (no supplier on its receipts)"

    @property
    def total(self) -> Decimal:
        """What is paid there [money]."""
        return sum((each.cash for each in self.bought), Decimal(0))

    def in_words(self, places: int) -> Iterator[str]:
        """What speaks against buying there, and what the trip is worth."""
        if self.least_order is not None and self.spent < self.least_order:
            yield (
                f"{self.called} takes no order below {money(self.least_order, places)}, and this "
                f"comes to {money(self.spent, places)}: order more, or buy it elsewhere."
            )
        if self.trip is not None:
            yield self._trip_in_words(self.trip, places)

    def _trip_in_words(self, trip: Trip, places: int) -> str:
        if trip.only_there:
            names = [item.item for item in trip.only_there]
            some = ", ".join(names) if len(names) <= MOST_NAMED else f"{len(names)} of these"
            return f"{self.called} is the only shop known for {some}."
        saves = f"Buying at {self.called} saves {money(trip.saves, places)}"
        if trip.saves < 0:  # the trips there, or a membership, speak for this shop all the same
            less = money(-trip.saves, places)
            saves = f"Elsewhere what is used of it costs {less} less, before the trip there"
        if trip.cost is None:
            pays = " against the other shops: the trip pays if it costs less"
            return f"{saves}." if trip.saves < 0 else f"{saves}{pays}."
        cost = money(trip.cost, places)
        if trip.pays:
            return f"{saves}, and its trip costs {cost}: it pays."
        instead = ", ".join(
            f"{each.in_words} of {each.item.item} at {each.pack.supplier or 'another shop'}"
            for each in trip.instead
        )
        return f"{saves}, and its trip costs {cost}: it doesn't pay. Take {instead} instead."


def shops(costing: Costing, items: Sequence[ItemToBuy]) -> list[Shop]:
    """The shops that the list takes something from, the one that gets most first."""
    found: dict[str, list[Bought]] = {}
    for each in (bought for item in items for bought in item.bought):
        found.setdefault(each.pack.supplier_key, []).append(each)
    least = least_orders(costing)
    records = first_of(costing.structure.book.records("Suppliers"), "supplier")
    made = [
        Shop(
            supplier=bought[0].pack.supplier,
            key=key,
            bought=tuple(bought),
            least_order=least[key][1] if key in least else None,
            spent=sum((spent_at(key, i.packs, i.plan) for i in items if i.plan), Decimal(0)),
            trip=_trip(key, bought, records.get(key)) if len(found) > 1 else None,
        )
        for key, bought in found.items()
    ]
    return sorted(made, key=lambda shop: -shop.total)


def _trip(key: str, bought: Sequence[Bought], record: Record | None) -> Trip:
    """What it costs more to leave a shop out."""
    saves, instead, only_there = Decimal(0), list[Bought](), list[ItemToBuy]()
    for item in {each.item.key: each.item for each in bought}.values():
        other = cheapest_plan(item.packs, item.need, without=(key,))
        if other is None:
            only_there.append(item)
            continue
        instead += item.bought_by(other)
        saves += _used(item, other) - _used(item, item.plan)
    cost = record.number("trip_cost") if record else None
    return Trip(saves, cost, tuple(instead), tuple(only_there))


def _used(item: ItemToBuy, plan: Plan | None) -> Decimal:
    """What the need costs of what a plan lays out [money]: what keeps is worth what was paid."""
    assert plan is not None
    assert item.need is not None
    amount = item.need.amount
    return plan.cash * amount / (amount + plan.left_over - plan.lost)


@dataclass(frozen=True, slots=True)
class Another:
    """A pack that isn't taken, and the price of it at which it would be [money]."""

    pack: Pack
    at: Decimal


def others_worth_taking(item: ItemToBuy, places: int) -> Iterator[Another]:
    """Each other pack whose price stands, with the price at which it would fill the need as well.

    To the coin below, so that at that price it is the cheaper one.
    """
    if item.plan is None or item.need is None:
        return
    for pack, count in zip(item.packs, item.plan.counts, strict=True):
        price = None if count or not pack.stands else as_cheap_at(pack, item.need, item.plan.cost)
        if price is not None and price > 0:
            yield Another(pack, rounded(price, places, ROUND_DOWN))
