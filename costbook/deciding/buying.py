"""The buy list: of each item that is to be bought, the whole packs that are cheapest for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.deciding.pack import Pack
from costbook.deciding.packs import packs_by_item
from costbook.deciding.plan import Need, Plan, cheapest_plan, usable_of
from costbook.deciding.planned_take import taken_in_words
from costbook.definitions.amounts import amount_in_words
from costbook.definitions.rules import ROWS_IN_RANK
from costbook.definitions.units import find_unit

__all__ = ["Bought", "ItemToBuy", "items_to_buy"]

NOTHING: Final = Decimal("0.0000005")
"""Less than this is nothing, as rules round to a millionth before they take up [base]."""
_ALL_OF_IT: Final = Decimal("Infinity")
"""What of the left over is used in time, where nothing says that it spoils."""


@dataclass(frozen=True, slots=True)
class Bought:
    """So many of one pack, and what they cost at the till [money]."""

    item: ItemToBuy
    pack: Pack
    count: Decimal
    cash: Decimal

    @property
    def in_words(self) -> str:
        """``2 × 5 lb``; of a piece cut to weight, how much of it."""
        if self.pack.cut_to_weight:
            return f"{self.item.amount(self.item.to_buy or Decimal(0))}, {self.pack.name}"
        return f"{self.count.normalize():f} × {self.pack.name}"


@dataclass(frozen=True, slots=True)
class Counted:
    """The last count of an item: how much [base], on which day, and whether it is what is on hand.

    It is where nothing is typed as On hand, which is as of now.
    """

    amount: Decimal
    day: date
    day_said: str
    stands: bool


@dataclass(frozen=True, slots=True)
class ItemToBuy:
    """An item of which there is to be something; amounts are as bought [base].

    ``packs`` are all that are known of it, and ``plan`` says how many of each are bought: None
    where nothing is, and where it can't be said. ``lacks`` says why not.
    """

    row: Row
    item: str
    key: str
    large_unit: str
    to_be_there: Decimal | None
    on_hand: Decimal | None
    to_buy: Decimal | None
    packs: tuple[Pack, ...]
    need: Need | None
    plan: Plan | None
    keeps_said: bool
    """Whether it is known how long it keeps, and how much of it is used."""
    lacks: str
    counted: Counted | None

    @property
    def on_hand_in_words(self) -> str:
        """What is on hand; and what was counted, if anything was."""
        have = f"{self.amount(self.on_hand) if self.on_hand else 'none'} on hand"
        if self.counted is None:
            return have
        if self.counted.stands:
            return f"{have}, as counted on {self.counted.day_said}"
        counted = self.amount(self.counted.amount)
        return f"{have}, as typed, and {counted} counted on {self.counted.day_said}"

    @property
    def enough(self) -> bool:
        """Whether what is on hand is enough, but for binary noise."""
        return self.to_buy is not None and self.to_buy < NOTHING

    @property
    def keeps(self) -> bool | None:
        """Whether all that is left over keeps until it is used; None where nobody said."""
        if self.plan is None or not (self.keeps_said or self.plan.lost):
            return None
        return self.plan.lost == 0

    @property
    def bought(self) -> Iterator[Bought]:
        """Each of its packs that is bought; those that more of them are left out of come last."""
        if self.plan is not None:
            yield from self.bought_by(self.plan)

    def bought_by(self, plan: Plan) -> Iterator[Bought]:
        """Each pack that a plan takes, the largest first."""
        taken = [each for each in zip(self.packs, plan.counts, strict=True) if each[1]]
        for pack, count in sorted(taken, key=lambda each: -_held(each[0])):
            yield Bought(self, pack, count, pack.cash(count))

    def amount(self, amount: Decimal) -> str:
        """An amount of it as people read it."""
        return amount_in_words(amount, self.large_unit)

    def in_large_units(self, amount: Decimal | None) -> Decimal | None:
        """An amount in the unit that its prices are said for."""
        unit = find_unit(self.large_unit)
        return None if amount is None or unit is None else amount / unit.factor

    @property
    def any_other_below(self) -> Decimal | None:
        """What what is used costs in the packs taken, for a kg, lb, l, piece or ft [money].

        Any pack that costs less by its content, and of which all is used, is worth taking instead.
        """
        unit = find_unit(self.large_unit)
        if unit is None or self.plan is None or self.need is None:
            return None
        return self.plan.cost / self.need.amount * unit.factor

    @property
    def left_in_words(self) -> str:
        """What is left over, and whether it keeps."""
        plan = self.plan
        if plan is None:
            return ""
        left, lost, none = (self.amount(each) for each in (plan.left_over, plan.lost, Decimal(0)))
        if left == none:
            return "nothing left over"
        if lost == left:
            return f"{left} left over, which spoils before it is used"
        if lost != none:
            return f"{left} left over, of which {lost} spoils before it is used"
        return f"{left} left over" + (", which keeps until it is used" if self.keeps else "")


def items_to_buy(costing: Costing) -> list[ItemToBuy]:
    """Every item of which there is to be something, in the order of Workings."""
    packs = packs_by_item(costing)
    rows = costing.structure.rows["to_buy"]
    found = (_item(costing, row, packs.get(str(row.fixed["item_key"]), ())) for row in rows)
    return [item for item in found if item.to_be_there != 0]


def _item(costing: Costing, row: Row, packs: Sequence[Pack]) -> ItemToBuy:
    figures, use = costing.of(row), costing.of(row.links["item_use"])
    there, on_hand, to_buy = (
        _number(figures, name) for name in ("to_be_there", "held_on_hand", "to_buy")
    )
    to_fill = to_buy is not None and to_buy >= NOTHING
    need = _need(costing, row, packs, to_buy) if to_fill and to_buy else None
    plan = cheapest_plan(packs, need)
    large = costing.of(row.links["prices_now"])["large_unit"]
    return ItemToBuy(
        row=row,
        item=str(row.fixed["item"]),
        key=str(row.fixed["item_key"]),
        large_unit=str(large or ""),
        to_be_there=there,
        on_hand=on_hand,
        to_buy=to_buy,
        packs=tuple(packs),
        need=need,
        plan=plan,
        keeps_said=use["keeps_days"] is not None and need is not None and need.later != _ALL_OF_IT,
        lacks="" if plan or (to_buy is not None and not to_fill) else _lacks(costing, row),
        counted=_counted(costing, row),
    )


def _counted(costing: Costing, row: Row) -> Counted | None:
    """The last count of an item, where there is one that can be read."""
    link = row.links.get("counted_on_hand")
    counted: Figures = costing.of(link) if link else {}
    rank, amount = (counted.get(name) for name in ("counted_rank", "counted_held"))
    if not isinstance(rank, Decimal) or not rank or not isinstance(amount, Decimal):
        return None
    book, day = costing.structure.book, rank // ROWS_IN_RANK
    stands = costing.of(row)["on_hand_cell"] is None
    return Counted(amount, book.day(day), book.written(day), stands)


def _need(costing: Costing, row: Row, packs: Sequence[Pack], amount: Decimal) -> Need | None:
    """What is to be bought, and how much of what is left of it is used before it spoils."""
    if not packs:
        return None
    usable = usable_of(costing, packs[0])
    return Need(amount, Decimal(0), usable, _used_later(costing, row, amount * usable))


def _used_later(costing: Costing, row: Row, ready: Decimal) -> Decimal:
    """What of an item is used after this and before it spoils, ready to use [base].

    By its par, if that is a use a day; else by the batches that it keeps for, else by its use.
    """
    par, use = costing.of(row.links["pars"]), costing.of(row.links["item_use"])
    keeps = _number(use, "keeps_days")
    if not keeps:
        return _ALL_OF_IT
    share = _number(use, "usable_share") or Decimal(1)
    a_day = _number(par, "par_held") if par["order_every_days"] else None
    if a_day:
        return max(Decimal(0), a_day * keeps * share - ready)
    batches, at_once = _number(use, "batches_kept"), _number(use, "taken_ready")
    if batches is not None and at_once is not None:
        return batches * at_once
    in_time = _number(use, "usable_in_time")
    return _ALL_OF_IT if in_time is None else max(Decimal(0), in_time - ready)


def _lacks(costing: Costing, row: Row) -> str:
    """Why it can't be said what to buy: what to ask, or to put right."""
    figures, now = costing.of(row), costing.of(row.links["prices_now"])
    if now["purchase_row"] is None:
        unsold = "No receipt says how it is sold: ask for its size and price."
        return f"{unsold}{taken_in_words(costing, str(row.fixed['item_key']))}"
    if now["price_per_base_unit"] is None:
        return "Its price isn't known: put its receipt right."
    if figures["held_on_hand"] is None:
        return _ON_HAND_LACKS[figures["typed_held"] is None]
    if figures["par_level"] is None:
        return "Its Par can't be counted: put it right on Items."
    if figures["planned_need"] is None:
        return "What the plan takes of it can't be counted: see To put right."
    return "What a pack of it costs in all isn't known: see To put right."


_ON_HAND_LACKS: Final = {
    True: "Its On hand can't be counted: put it right on Items.",
    False: "Its last count can't be read: put it right on Counts.",
}


def _held(pack: Pack) -> Decimal:
    return pack.number("pack_in_units_of_now") or Decimal(0)


def _number(figures: Figures, name: str) -> Decimal | None:
    value = figures[name]
    return value if isinstance(value, Decimal) else None
