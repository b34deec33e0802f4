"""What moved: each item's part of a product's change in cost, and the price at which it turns."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any, Final

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.by_rule import by_rule
from costbook.deciding.old_prices import OldPrice, old_prices
from costbook.definitions import rules
from costbook.definitions.rounding import in_money, rounded

__all__ = ["MARKS", "Moves", "ProductMoved", "Turning", "moves", "turning_prices"]

MARKS: Final = {"target": rules.turning_at_target, "zero": rules.turning_at_zero}
"""The marks a margin may fall to, and the rule that gives the pack price there."""

STEPS_AT_MOST: Final = 7
"""Items that are a step of their own from the cost then to the cost now."""


@dataclass(frozen=True, slots=True)
class Turning:
    """The price per pack of an item at which a product's margin falls to a mark [money]."""

    item: str
    price_per_pack: Decimal
    now_per_pack: Value
    at: str


@dataclass(frozen=True)
class ProductMoved:
    """A product at an outlet: its cost then and now, each item's part, and what turns it.

    Costs then are those of today's recipes at the prices of then, so that the parts add up to
    the change exactly, in whatever order the prices changed.
    """

    row: Row
    before: Value
    after: Value
    change: Value
    change_share: Value
    by_item: tuple[tuple[str, Value], ...]
    moved_by: tuple[Row, ...]
    """What it takes of each item whose price moved, or isn't known."""
    price_now: Value
    margin_now: Value
    restoring_price: Value
    charge: Value
    packs_that_pay: Value
    turning: tuple[Turning, ...]
    known_share: Value
    """The change as a share of what is known of its cost [1]: by this it is ranked."""
    ranked_with: str
    """The product that differs from it in the number of its units alone, and has the rank."""

    @property
    def product(self) -> str:
        """Its name."""
        return str(self.row.fixed["product"])

    @property
    def outlet(self) -> str:
        """Where it is sold; empty where that isn't said."""
        return str(self.row.fixed["outlet"] or "")

    @cached_property
    def parts(self) -> tuple[tuple[str, Decimal], ...]:
        """The items that moved its cost, and by how much [money], the largest first."""
        found = [(item, part) for item, part in self.by_item if isinstance(part, Decimal) and part]
        return tuple(sorted(found, key=lambda each: -abs(each[1])))

    @property
    def steps(self) -> tuple[tuple[str, Decimal], ...]:
        """Its parts as steps from the cost then to the cost now: the smallest are one."""
        shown, rest = self.parts[:STEPS_AT_MOST], self.parts[STEPS_AT_MOST:]
        if not rest:
            return shown
        return (*shown, ("Other items", sum((part for _, part in rest), Decimal(0))))

    @property
    def size(self) -> Decimal:
        """How far its cost is known to have moved as a share, without its sign [1]."""
        return abs(self.known_share) if isinstance(self.known_share, Decimal) else Decimal(0)

    def most(self, places: int) -> str:
        """The item that moved it most, and how: ``Eggs added 0.23``; empty where none did."""
        if not self.parts:
            return ""
        item, part = self.parts[0]
        word = "added" if part > 0 else "took off"
        return f"{item} {word} {rounded(abs(part), places):f}"

    def hold(self, places: int) -> str:
        """Until when its price holds, by the item whose price has least room; or nothing."""
        price = self.price_now or self.charge
        ahead = [
            (now, turn)
            for turn in self.turning
            if isinstance(now := turn.now_per_pack, Decimal) and now
            if turn.at == "target" and turn.price_per_pack > now
        ]
        if not ahead or price is None:
            return ""
        now, first = min(ahead, key=lambda each: each[1].price_per_pack / each[0])
        where = f" at {self.outlet}" if self.outlet else ""
        return (
            f"{self.product}{where}: hold {in_money(price, places)} until a pack of {first.item} "
            f"passes {in_money(first.price_per_pack, places)} (now {in_money(now, places)})."
        )

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "product": self.product,
            "outlet": self.outlet or None,
            "before": self.before,
            "after": self.after,
            "change": self.change,
            "change_share": self.change_share,
            "ranked_with": self.ranked_with or None,
            "by_item": dict(self.by_item),
            "price_now": self.price_now,
            "margin_now": self.margin_now,
            "restoring_price": self.restoring_price,
            "packs_that_pay": self.packs_that_pay,
            "turning": [asdict(each) for each in self.turning],
        }


@dataclass(frozen=True)
class Moves:
    """What moved since a day: each product at each outlet; and old prices.

    The largest rise as a share of cost comes first. A product that differs from another in number
    alone, as a six of a roll, has no rank of its own.
    """

    since: date
    costed_on: date
    day: str
    """The latter as the workbook writes its days."""
    products: tuple[ProductMoved, ...]
    old: tuple[OldPrice, ...]

    @property
    def ranked(self) -> tuple[ProductMoved, ...]:
        """The products that have a rank of their own."""
        return tuple(each for each in self.products if not each.ranked_with)

    @property
    def not_ranked(self) -> tuple[tuple[str, str], ...]:
        """The products without, each with the one that it moves as."""
        pairs = ((each.product, each.ranked_with) for each in self.products if each.ranked_with)
        return tuple(dict.fromkeys(pairs))

    @property
    def most_moved(self) -> ProductMoved | None:
        """The product whose cost moved most as a share, up or down; None where none did.

        Of two that moved alike, the one that stands first on Products.
        """
        moved = [each for each in self.ranked if each.parts]
        return max(moved, key=lambda each: (each.size, -each.row.index), default=None)

    def message(self, places: int) -> str:
        """The one thing to know: which item did most to the product that moved most."""
        return f"As costed on {self.day}: {self.said(places)}"

    def said(self, places: int) -> str:
        """The same without its day."""
        most = self.most_moved
        return f"{most.most(places)} for a pack of {most.product}." if most else "no price changed."

    def in_words(self, places: int) -> list[str]:
        """Until when each price holds, and which prices are old."""
        alike = (f"{product}: as {other}." for product, other in self.not_ranked)
        held = (each.hold(places) for each in self.ranked)
        return [*alike, *filter(None, held), *(each.in_words(places) for each in self.old)]

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "costed_on": self.costed_on.isoformat(),
            "since": self.since.isoformat(),
            "products": [each.as_data() for each in self.products],
            "old_prices": [each.as_data() for each in self.old],
        }


def moves(costing: Costing) -> Moves:
    """What moved since the day that Settings or the command give."""
    since, structure = costing.one("settings")["moved_since"], costing.structure
    assert isinstance(since, Decimal)
    products = tuple(_product(costing, row) for row in _ranked(costing))
    day = structure.book.day(since)
    return Moves(
        day, structure.costed_on, structure.day_in_words, products, tuple(old_prices(costing))
    )


def _ranked(costing: Costing) -> list[Row]:
    """The rows of products, the largest rise first as a share of cost; those unknown last."""

    def rise(row: Row) -> Decimal:
        order = costing.of(row.links["moves"])["move_order"]
        assert isinstance(order, Decimal)  # what is unknown has the lowest
        return order

    return sorted(costing.structure.rows["prices"], key=rise, reverse=True)


def _product(costing: Costing, row: Row) -> ProductMoved:
    figures, moved = costing.of(row), costing.of(row.links["moves"])
    needs = [(need, costing.of(need)["need_moved"]) for need in _needs(costing, row)]
    return ProductMoved(
        row=row,
        before=moved["cost_then"],
        after=figures["total"],
        change=moved["moved"],
        change_share=moved["moved_share"],
        by_item=tuple((str(each.fixed["item"]), part) for each, part in needs),
        moved_by=tuple(each for each, part in needs if part != 0),
        price_now=figures["price_now"],
        margin_now=figures["now_margin"],
        restoring_price=moved["restoring_price"],
        charge=figures["price_on_step"],
        packs_that_pay=moved["packs_that_pay"],
        turning=tuple(turning_prices(costing, row)),
        known_share=moved["moved_share_known"],
        ranked_with="" if moved["ranked"] == 1 else _first_of_its_recipe(row),
    )


def _first_of_its_recipe(price: Row) -> str:
    return str(price.links["moves"].links["moves"].fixed["product"])


def _needs(costing: Costing, price: Row) -> list[Row]:
    """What a pack takes of each item."""
    needs = price.links["products"].children["pack_needs"]
    return [costing.structure.rows["pack_needs"][at] for at in needs]


def turning_prices(costing: Costing, price: Row) -> Iterator[Turning]:
    """The pack price of each item at which the product's margin falls to each mark."""
    moved = costing.of(price.links["moves"])
    for need in _needs(costing, price):
        bought = costing.of(need.links["prices_now"])
        known = {**bought, **costing.of(need), **moved}
        for mark, rule in MARKS.items():
            turned = by_rule(rule, known)
            if turned is not None:
                item = str(need.fixed["item"])
                yield Turning(item, turned, bought["price_per_pack"], mark)
