"""Which inputs move profit most: each a tenth up and down, all else as it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.arrays import Array, across, array_of
from costbook.deciding.by_rule import by_rule
from costbook.deciding.trial import TRIAL_SETTINGS
from costbook.deciding.what_ifs import WhatIfs
from costbook.definitions import rules
from costbook.definitions.columns import Computed
from costbook.definitions.rounding import rounded

__all__ = ["TENTH", "Moved", "in_words", "most_moving"]

TENTH: Final = Decimal("0.1")
BEFORE_TAX: Final = Computed(rules.now_before_tax)
LEFT: Final = Computed(rules.slack_to_zero)
"""Profit of a pack at a price: how much its cost may rise until nothing is left."""

MOVE_NO_PROFIT: Final = ("target_margin", "price_step")
"""Settings that say what to charge, and move nothing at today's prices."""


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
    found = [*_items(costing), *_settings(costing)]
    found = [each for each in found if each.reach]
    return sorted(found, key=lambda each: (-each.reach, each.name))[:most]


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


def _settings(costing: Costing) -> list[Moved]:
    """Each setting a tenth less and a tenth more, all in one go: one case each, today's first."""
    now = costing.one("settings")
    fields = [field for field in TRIAL_SETTINGS if field.name not in MOVE_NO_PROFIT]
    values = {field: value for field in fields if (value := _number(now[field.name]))}
    cases = 1 + 2 * len(values)
    settings: dict[str, Array] = {}
    for at, (field, value) in enumerate(values.items()):
        tried = [value] * cases
        tried[1 + 2 * at], tried[2 + 2 * at] = value * (1 - TENTH), value * (1 + TENTH)
        settings[field.name] = array_of(tried)
    profits = _profits(costing, WhatIfs(costing, {}, settings))
    changes = [_plain(profits[at] - profits[0]) for at in range(cases)] if profits else []
    return [
        Moved(field.title, *changes[1 + 2 * at : 3 + 2 * at])
        for at, field in enumerate(values)
        if changes
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
        names = ("total", "fee_share", "tax_in_price")
        total, fees, tax = (cases.of(row, name) for name in names)
        paid = across(BEFORE_TAX, {"price_now": array_of([quoted]), "tax_in_price": tax})
        known = {"counted_price": paid, "fee_share": fees, "total": total}
        profit = profit + across(LEFT, known)
    return [float(each) for each in profit] if rows else []


def _profit(costing: Costing, row: Row) -> Decimal | None:
    """Profit of a pack at the price that counts; None where it isn't known."""
    return by_rule(rules.slack_to_zero, costing.of(row))
