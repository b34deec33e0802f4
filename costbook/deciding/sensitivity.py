"""Which inputs move profit most: each a tenth up and down, all else as it is."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.trial import TRIAL_SETTINGS, Trial, tried

__all__ = ["TENTH", "Moved", "most_moving"]

TENTH: Final = Decimal("0.1")


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


def most_moving(costing: Costing, most: int = 12) -> list[Moved]:
    """The inputs that move profit most, the largest first; those that move nothing left out."""
    found = [*_items(costing), *_settings(costing)]
    found = [each for each in found if each.reach]
    return sorted(found, key=lambda each: (-each.reach, each.name))[:most]


def _first_prices(costing: Costing) -> list[Row]:
    """Each product at its first outlet."""
    first = costing.structure.rows["outlets"][0]
    return [row for row in costing.structure.rows["prices"] if row.links["outlets"] is first]


def _items(costing: Costing) -> list[Moved]:
    """Cost is linear in the price of each item's pack, so a tenth of it is a tenth of its part."""
    parts: dict[str, Decimal] = {}
    for row in _first_prices(costing):
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
    found = []
    now = costing.one("settings")
    for field in TRIAL_SETTINGS:
        value = now[field.name]
        if (
            isinstance(value, Decimal)
            and value
            and field.name not in ("target_margin", "price_step")
        ):
            down, up = (
                _change(costing, Trial({}, {field.name: value * factor}))
                for factor in (1 - TENTH, 1 + TENTH)
            )
            found.append(Moved(field.title, down, up))
    return found


def _change(costing: Costing, trial: Trial) -> Decimal:
    """What a trial does to the profit of one pack of each product, at today's prices."""
    after = tried(costing, trial)
    change = Decimal(0)
    for row in _first_prices(costing):
        before_profit = _profit(costing, row)
        price = costing.of(row)["counted_price"]
        figures = after.of(row)
        total, fees = figures["total"], figures["fee_share"]
        if before_profit is None or not isinstance(price, Decimal):
            continue
        if isinstance(total, Decimal) and isinstance(fees, Decimal):
            change += price * (1 - fees) - total - before_profit
    return change


def _profit(costing: Costing, row: Row) -> Decimal | None:
    """Profit of a pack at the price that counts; None where it isn't known."""
    figures = costing.of(row)
    price, fees, total = (figures[name] for name in ("counted_price", "fee_share", "total"))
    if isinstance(price, Decimal) and isinstance(fees, Decimal) and isinstance(total, Decimal):
        return price * (1 - fees) - total
    return None
