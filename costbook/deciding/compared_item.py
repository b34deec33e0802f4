"""An item's packs side by side, as one answer: its data and its words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from costbook.book import Book
from costbook.deciding.pack import SOURCES, Pack, money, plain
from costbook.deciding.plan import Need, Plan
from costbook.definitions.amounts import amount_in_words
from costbook.definitions.units import find_unit

__all__ = ["ComparedItem"]


@dataclass(frozen=True, slots=True)
class ComparedItem:
    """An item's packs, those whose price stands first and the cheapest of them on top.

    ``in_words`` is the finding; ``plan`` covers ``need``, and ``usual_cost`` is what that costs in
    the pack bought last [money].
    """

    item: str
    key: str
    base_unit: str
    large_unit: str
    packs: tuple[Pack, ...]
    in_words: str
    need: Need | None
    plan: Plan | None
    usual_cost: Decimal | None

    def plan_in_words(self, places: int) -> str:
        """What to buy, what is paid and left over, and what of it is used costs; or nothing."""
        plan, need = self.plan, self.need
        if plan is None or need is None:
            return ""
        usual = "" if self.usual_cost is None else f", as usual {money(self.usual_cost, places)}"
        sure = "" if plan.proved else " (the best found; there are too many mixes to try them all)"
        return (
            f"For {need.in_words}: {self.packs_in_words(plan)} for {money(plan.cash, places)} "
            f"in cash{sure}, {self._left(plan)}; what is used costs "
            f"{money(plan.cost, places)}{usual}."
        )

    def packs_in_words(self, plan: Plan) -> str:
        """How many of which packs: ``1 × (25 lb from Mill) and 2 × (5 lb from Shop)``."""
        counted = zip(self.packs, plan.counts, strict=True)
        return " and ".join(
            f"{self._amount(self.need.amount)} of it ({pack.called})"
            if pack.cut_to_weight and self.need
            else f"{plain(count)} × ({pack.called})"
            for pack, count in counted
            if count
        )

    def _left(self, plan: Plan) -> str:
        """What is left over, and what of it spoils."""
        left, lost = (self._amount(each) for each in (plan.left_over, plan.lost))
        if left == self._amount(Decimal(0)):
            return "nothing left over"
        if lost == left:
            return f"{left} left over that spoils"
        spoils = "" if lost == self._amount(Decimal(0)) else f", of which {lost} spoils"
        return f"{left} left over{spoils}"

    def a_large_unit(self, pack: Pack, price: str) -> Decimal | None:
        """A price of a pack for a kg, lb, l, piece or ft, as the item is read [money]."""
        value, unit = pack.number(price), find_unit(self.large_unit)
        return None if value is None or unit is None else value * unit.factor

    def _amount(self, amount: Decimal) -> str:
        return amount_in_words(amount, self.large_unit)

    def as_data(self, book: Book) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "item": self.item,
            "base_unit": self.base_unit or None,
            "packs": [_pack_data(pack, book) for pack in self.packs],
            "in_words": self.in_words,
            "need": self.need and self.need.amount,
            "need_days": self.need and self.need.days,
            "mix": self._mix_data(),
        }

    def _mix_data(self) -> dict[str, Any] | None:
        if self.plan is None:
            return None
        return {
            "packs": [
                {"supplier": pack.supplier or None, "pack": pack.name, "count": count}
                for pack, count in zip(self.packs, self.plan.counts, strict=True)
                if count
            ],
            "cash": self.plan.cash,
            "cost": self.plan.cost,
            "left_over": self.plan.left_over,
            "spoils": self.plan.lost,
            "usual_cost": self.usual_cost,
            "proved_cheapest": self.plan.proved,
        }


def _pack_data(pack: Pack, book: Book) -> dict[str, Any]:
    figures, day = pack.figures, pack.day
    return {
        "supplier": pack.supplier or None,
        "pack": pack.name,
        "price_per_pack": figures["price_per_pack"],
        "price_per_base_unit": figures["compared_price"],
        "price_per_base_unit_ready": figures["compared_ready"],
        "price_per_base_unit_used": figures["used_price"],
        "used_part": figures["used_part"],
        "cash_tied_up": figures["cash_tied_up"],
        "break_even_spoilage": pack.spoilage["break_even_spoilage"],
        "from": SOURCES[pack.row.table],
        "date": None if day is None else book.day(day).isoformat(),
        "overtaken": not pack.stands,
    }
