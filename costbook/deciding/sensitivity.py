"""Which inputs move profit most: each a tenth up and down, all else as it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite
from typing import Any, Final

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.rows import FigureKey, Row
from costbook.deciding.arrays import Array, across, array_of
from costbook.deciding.by_rule import by_rule
from costbook.deciding.movable import TENTH, movable
from costbook.deciding.what_ifs import WhatIfs
from costbook.definitions import rules
from costbook.definitions.columns import Computed
from costbook.definitions.rounding import rounded

__all__ = ["Moved", "in_words", "most_moving", "profit_of"]

BEFORE_TAX: Final = Computed(rules.now_before_tax)
LEFT: Final = Computed(rules.slack_to_zero)
"""Profit of a pack at a price: how much its cost may rise until nothing is left."""

RESTS_ON: Final = ("total", "fee_share", "tax_in_price")
"""The figures of Prices that profit rests on, at a quoted price."""


@dataclass(frozen=True, slots=True)
class Moved:
    """An input, and what a tenth less and a tenth more of it do to profit [money].

    Profit is that of one pack of every product at its first outlet, at today's prices.
    """

    name: str
    down: Decimal
    up: Decimal

    @property
    def reach(self) -> Decimal:
        """The larger of the two, without its sign."""
        return max(abs(self.down), abs(self.up))

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {"input": self.name, "tenth_less": self.down, "tenth_more": self.up}


def in_words(moving: Sequence[Moved]) -> str:
    """The one thing to know: which input moves profit most."""
    return f"{moving[0].name} moves profit most" if moving else "Nothing known moves profit"


def most_moving(costing: Costing, most: int = 12) -> list[Moved]:
    """The inputs that move profit most, the largest first; those that move nothing left out."""
    found = [*_items(costing), *_movable(costing)]
    found = [each for each in found if each.reach]
    return sorted(found, key=lambda each: (-each.reach, each.name))[:most]


def profit_of(costing: Costing) -> str:
    """Whose profit it is, in words; products of which it isn't known are named."""
    rows = costing.structure.at_first_outlet()
    unknown = [str(row.fixed["product"]) for row in rows if _profit(costing, row) is None]
    outlets = _outlets(costing)
    name = outlets[0].fixed["outlet"] if outlets else ""
    where = f" at {name}" if name else ""
    if len(outlets) > 1:
        where = " at the first outlet where it is sold"
    without = f", without {', '.join(unknown)}, of which it is not known" if unknown else ""
    return (
        f"Profit of one pack of each product{where}, at the price now, else the one to charge"
        f"{without}."
    )


def _outlets(costing: Costing) -> list[Row]:
    """The outlets at which a product's profit is looked at: the first where it is sold."""
    rows = (row.links["outlets"] for row in costing.structure.at_first_outlet())
    return list({row.index: row for row in rows}.values())


def _items(costing: Costing) -> list[Moved]:
    """Cost is linear in the price of each item's pack, so a tenth of it is a tenth of its part."""
    parts: dict[str, Decimal] = {}
    for row in costing.structure.at_first_outlet():
        if _profit(costing, row) is None:
            continue
        for at in row.links["products"].children["pack_needs"]:
            need = costing.structure.rows["pack_needs"][at]
            taken = costing.of(need)["pack_need"]
            bought = costing.of(need.links["prices_now"])
            price, holds = bought["price_per_pack"], bought["whole_pack"]
            known = isinstance(taken, Decimal) and isinstance(price, Decimal)
            if known and isinstance(holds, Decimal) and holds:
                name = str(need.fixed["item"])
                part = taken * price / holds * TENTH  # type: ignore[operator]  # both are known
                parts[name] = parts.get(name, Decimal(0)) + part
    return [Moved(f"Price of {name}", part, -part) for name, part in parts.items()]


def _movable(costing: Costing) -> list[Moved]:
    """All else a tenth less and a tenth more, all in one go: one case each, today's first."""
    inputs = list(movable(costing, _outlets(costing)))
    cases = 1 + 2 * len(inputs)
    figures: dict[FigureKey, Array] = {}
    for at, each in enumerate(inputs):
        for cell, (less, now, more) in each.cells:
            tried = [now] * cases
            tried[1 + 2 * at], tried[2 + 2 * at] = less, more
            figures[cell] = array_of(tried)
    profits = _profits(costing, WhatIfs(costing, {}, others=figures, answers=RESTS_ON))
    changes = [each - profits[0] for each in profits]
    return [
        Moved(each.name, _plain(less), _plain(more))
        for each, less, more in zip(inputs, changes[1::2], changes[2::2], strict=bool(changes))
        if isfinite(less) and isfinite(more)
    ]


def _number(value: Value) -> Decimal | None:
    return value if isinstance(value, Decimal) else None


def _plain(change: float) -> Decimal:
    """A change to a billionth of the currency, so that binary noise is no change."""
    return rounded(Decimal(repr(float(change))), 9)


def _profits(costing: Costing, cases: WhatIfs) -> list[float]:
    """Profit of a pack of every product at today's quoted price, tax and fees as in each case.

    Nothing where no product's profit is known.
    """
    rows = [row for row in costing.structure.at_first_outlet() if _profit(costing, row) is not None]
    profit: Array = array_of([Decimal(0)])
    for row in rows:
        quoted = _number(costing.of(row)["price_now"]) or costing.of(row)["price_on_step"]
        total, fees, tax = (cases.of(row, name) for name in RESTS_ON)
        paid = across(BEFORE_TAX, {"price_now": array_of([quoted]), "tax_in_price": tax})
        known = {"counted_price": paid, "fee_share": fees, "total": total}
        profit = profit + across(LEFT, known)
    return [float(each) for each in profit] if rows else []


def _profit(costing: Costing, row: Row) -> Decimal | None:
    """Profit of a pack at the price that counts; None where it isn't known."""
    return by_rule(rules.slack_to_zero, costing.of(row))
