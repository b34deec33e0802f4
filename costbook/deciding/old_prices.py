"""Prices that are old, and what they would do if they had moved as they usually do."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from statistics import median
from typing import Any

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.deciding.pack import money
from costbook.deciding.receipts import receipts
from costbook.definitions.rounding import in_percent

__all__ = ["OldPrice", "old_prices"]


@dataclass(frozen=True, slots=True)
class OldPrice:
    """An item whose price is older than Settings allow.

    ``usual_change`` is the middle one of the changes from receipt to receipt, without their signs
    [1]; None where its price never changed. ``rises`` says what a pack of each product that takes
    the item would cost more if the price had risen so [money], the largest first.
    """

    item: str
    age_days: Decimal
    usual_change: Decimal | None
    rises: tuple[tuple[str, Decimal], ...]

    def in_words(self, places: int) -> str:
        """How old it is, and what a usual rise would do to the product that it moves most."""
        old = f"The price of {self.item} is {self.age_days} days old"
        if self.usual_change is None:
            return f"{old}, and has never changed; look what it costs now."
        product, rise = self.rises[0]
        return (
            f"{old}. It usually changes by {in_percent(self.usual_change)}; a rise like that would "
            f"add {money(rise, places)} to {product}."
        )

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "item": self.item,
            "age_days": self.age_days,
            "usual_change": self.usual_change,
            "rises": dict(self.rises),
        }


def old_prices(costing: Costing) -> list[OldPrice]:
    """The items that a product takes at an old price, the largest rise first, then the oldest."""
    limit = costing.one("settings")["stale_after_days"]
    usual = _usual_changes(costing)
    needs = _need_costs(costing)
    found = []
    for row in costing.structure.rows["item_prices"]:
        age, item = costing.of(row)["age_days"], str(row.fixed["item"])
        key = row.links["prices_now"].fixed["item_key"]
        if not isinstance(age, Decimal) or not isinstance(limit, Decimal) or age <= limit:
            continue
        change = usual.get(key)
        parts = [] if change is None else [(of, cost * change) for of, cost in needs.get(key, ())]
        rises = sorted(parts, key=lambda each: -each[1])
        if key in needs:
            found.append(OldPrice(item, age, change, tuple(rises)))
    return sorted(found, key=lambda old: (-old.rises[0][1] if old.rises else 0, -old.age_days))


def _need_costs(costing: Costing) -> dict[Value, list[tuple[str, Decimal]]]:
    """By item: what a pack of each product pays for it [money]."""
    found: dict[Value, list[tuple[str, Decimal]]] = defaultdict(list)
    for need in costing.figures["pack_needs"]:
        cost = need["need_cost"]
        if isinstance(cost, Decimal) and cost:
            found[need["item_key"]].append((str(need["product"]), cost))
    return found


def _usual_changes(costing: Costing) -> dict[Value, Decimal]:
    """By item: the middle one of all changes from one receipt to the next, without signs [1]."""
    prices: dict[tuple[Value, Value], list[Decimal]] = defaultdict(list)
    for line, price in receipts(costing):
        prices[line["item_key"], _measure(costing, line["unit_row"])].append(price)
    changes: dict[Value, list[Decimal]] = defaultdict(list)
    for (item, _), those in prices.items():
        changes[item] += [abs(new / old - 1) for old, new in pairwise(those) if new != old]
    return {item: median(those) for item, those in changes.items() if those}


def _measure(costing: Costing, unit_row: Value) -> Value:
    return costing.figures["units"][int(str(unit_row)) - 1]["measure"]
