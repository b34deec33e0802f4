"""The whole buy list as one answer: its data, and its words for a phone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from costbook.costing.engine import Costing
from costbook.deciding.buying import Bought, ItemToBuy, items_to_buy
from costbook.deciding.shops import MOST_NAMED, Shop, others_worth_taking, shops
from costbook.definitions.rounding import in_money, in_unit_price

__all__ = ["NOTHING_TO_BUY", "BuyList", "buy_list"]

NOTHING_TO_BUY = "Nothing to buy."


@dataclass(frozen=True, slots=True)
class BuyList:
    """What to buy where, what to ask about, and of what there is enough."""

    shops: tuple[Shop, ...]
    items: tuple[ItemToBuy, ...]
    places: int

    @property
    def asked(self) -> tuple[ItemToBuy, ...]:
        """Items of which it can't be said what to buy."""
        return tuple(item for item in self.items if item.lacks)

    @property
    def asked_by_why(self) -> dict[str, list[ItemToBuy]]:
        """These by what is to be asked, so that one sentence is said once."""
        found: dict[str, list[ItemToBuy]] = {}
        for item in self.asked:
            found.setdefault(item.lacks, []).append(item)
        return found

    @property
    def enough(self) -> tuple[ItemToBuy, ...]:
        """Items of which there is enough."""
        return tuple(item for item in self.items if item.enough)

    @property
    def known(self) -> Decimal:
        """What is paid at all shops for what is known [money]."""
        return sum((shop.total for shop in self.shops), Decimal(0))

    @property
    def total(self) -> Decimal | None:
        """What is paid in all [money]; None while something is to be asked."""
        return None if self.asked else self.known

    @property
    def in_short(self) -> str:
        """The list in one sentence."""
        things = len({each.item.key for shop in self.shops for each in shop.bought})
        if not things and not self.asked:
            return NOTHING_TO_BUY
        where = ", ".join(
            f"{shop.supplier or 'anywhere'} {in_money(shop.total, self.places)}"
            for shop in self.shops
        )
        said = f"{_count(things, 'item')} for {in_money(self.known, self.places)} ({where})"
        some = ", ".join(item.item for item in self.asked)
        ask = f"ask about {some if len(self.asked) <= MOST_NAMED else f'{len(self.asked)} items'}"
        if not things:
            return f"{ask.capitalize()}."
        return f"{said}; {ask}." if self.asked else f"{said}."

    def as_data(self) -> dict[str, Any]:
        """As JSON has it; amounts are as bought, in each item's ``unit``."""
        return {
            "suppliers": [self._shop_data(shop) for shop in self.shops],
            "ask": [{**_amounts(item), "why": item.lacks} for item in self.asked],
            "enough": [_amounts(item) for item in self.enough],
            "total": self.total,
            "known": self.known,
        }

    def _shop_data(self, shop: Shop) -> dict[str, Any]:
        trip = shop.trip
        return {
            "supplier": shop.supplier or None,
            "total": shop.total,
            "least_order": shop.least_order,
            "lines": [self._line_data(each) for each in shop.bought],
            "trip": trip
            and {
                "saves": None if trip.only_there else trip.saves,
                "cost": trip.cost,
                "pays": trip.pays,
                "only_there": [item.item for item in trip.only_there],
                "instead": [_pack_data(each) for each in trip.instead],
            },
        }

    def _line_data(self, bought: Bought) -> dict[str, Any]:
        item = bought.item
        left = item.plan.left_over if item.plan else None
        return {
            **_amounts(item),
            "packs": bought.count,
            "pack": bought.pack.name,
            "cost": bought.cash,
            "left_over": item.in_large_units(left),
            "keeps": item.keeps,
            "others": [
                {
                    "supplier": other.pack.supplier or None,
                    "pack": other.pack.name,
                    "worth_taking_at": other.at,
                }
                for other in others_worth_taking(item, self.places)
            ],
            "any_other_below": item.any_other_below,
        }

    def lines(self) -> Iterator[str]:
        """The list in short lines, shop by shop."""
        yield f"To buy: {self.in_short}" if self.shops or self.asked else self.in_short
        for shop in self.shops:
            yield ""
            yield f"{shop.called}: {in_money(shop.total, self.places)}"
            for each in shop.bought:
                yield f"[ ] {each.item.item}: {each.in_words}, {in_money(each.cash, self.places)}"
            yield from shop.in_words(self.places)
        if self.asked:
            yield from ("", "To ask:")
            for why, items in self.asked_by_why.items():
                if len(items) == 1:
                    yield f"[ ] {items[0].item}: {why}"
                else:
                    yield from (why, *(f"[ ] {item.item}" for item in items))
        if self.shops:
            yield from ("", "Why so much, and what is left:")
            yield from (line for item in self.items if item.plan for line in self._why(item))
        if self.enough:
            yield from ("", "Enough is there:")
            yield from (line for item in self.enough for line in self._why(item))

    def _why(self, item: ItemToBuy) -> Iterator[str]:
        """What is to be there of an item and what is; of what is bought, what is left and why."""
        there = item.amount(item.to_be_there or Decimal(0))
        yield f"{item.item}: {there} to be there, {item.on_hand_in_words}"
        if item.plan is None:
            return
        yield f"  {item.left_in_words}"
        if not item.plan.proved:
            yield "  too many mixes to try them all: this is the best found"
        yield from (f"  {line}" for line in self.another_in_words(item))

    def another_in_words(self, item: ItemToBuy) -> Iterator[str]:
        """At which price another pack is worth taking, in the shelf's own units."""
        others = list(others_worth_taking(item, self.places))
        for other in others:
            at = in_money(other.at, self.places)
            yield f"{other.pack.called} is worth taking at {at} or less"
        if not others and item.any_other_below is not None:
            below = in_unit_price(item.any_other_below, self.places)
            yield f"another pack is worth taking below {below} a {item.large_unit}"


def buy_list(costing: Costing, places: int) -> BuyList:
    """What is to be bought, whole packs of what is cheapest for it; money to so many places."""
    items = items_to_buy(costing)
    return BuyList(tuple(shops(costing, items)), tuple(items), places)


def _amounts(item: ItemToBuy) -> dict[str, Any]:
    amounts = {"need": item.to_be_there, "on_hand": item.on_hand, "to_buy": item.to_buy}
    said = {name: item.in_large_units(amount) for name, amount in amounts.items()}
    counted = item.counted and {
        "amount": item.in_large_units(item.counted.amount),
        "on": item.counted.day.isoformat(),
        "is_on_hand": item.counted.stands,
    }
    return {"item": item.item, **said, "unit": item.large_unit or None, "counted": counted}


def _pack_data(bought: Bought) -> dict[str, Any]:
    return {
        "item": bought.item.item,
        "supplier": bought.pack.supplier or None,
        "packs": bought.count,
        "pack": bought.pack.name,
        "cost": bought.cash,
    }


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"
