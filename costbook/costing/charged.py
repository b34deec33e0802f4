"""What a pack costs at an outlet, what to charge, and what pays for a day: each one answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.book import Value
from costbook.costing.engine import Costing, Figures
from costbook.costing.lacking import missing_of, uncounted
from costbook.costing.rows import Row
from costbook.definitions.parts import PARTS
from costbook.definitions.rounding import in_money, in_percent

__all__ = ["HEADINGS", "USUAL_MIX", "Charged", "UsualDay", "charged", "usual_days"]

ALONE: Final = "nothing else is sold that day"
USUAL_MIX: Final = "each product sells as many units"
"""What a day's break-even supposes: of one product, and of all of them together."""

HEADINGS: Final = ("Product", "Outlet", "Cost", "Charge", "Margin", "Now", "Margin now", "To do")
"""What the words of a product at an outlet are, from left to right."""


@dataclass(frozen=True, slots=True)
class Charged:
    """A product at an outlet: its cost, the prices, and what each leaves [money/pack, shares]."""

    product: str
    outlet: str
    units_per_pack: Value
    missing: tuple[str, ...]
    uncounted: tuple[str, ...]
    cost: Mapping[str, Value]
    price: Mapping[str, Value]
    at_step: Mapping[str, Value]
    at_current: Mapping[str, Value]
    break_even: Value
    break_even_without_pay: Value
    shelf_price: Value
    shelf_price_with_tax: Value
    advice: Value
    lacks: str

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "product": self.product,
            "outlet": self.outlet or None,
            "units_per_pack": self.units_per_pack,
            "complete": not (self.missing or self.uncounted),
            "missing": list(self.missing),
            "uncounted": list(self.uncounted),
            "cost": dict(self.cost),
            "price": dict(self.price),
            "at_step": dict(self.at_step),
            "at_current": dict(self.at_current),
            "break_even_units_per_day": self.break_even,
            "break_even_units_per_day_without_own_pay": self.break_even_without_pay,
            "break_even_supposes": ALONE,
            "shelf_price": self.shelf_price,
            "shelf_price_with_tax": self.shelf_price_with_tax,
            "advice": self.advice,
        }

    def in_words(self, places: int) -> tuple[str, ...]:
        """A line below ``HEADINGS``, money with that many decimal places."""
        on_step = in_money(self.price["on_step"], places)
        least = self.uncounted and self.price["on_step"] is not None
        return (
            self.product,
            self.outlet or "—",
            in_money(self.cost["total"], places),
            f"at least {on_step}" if least else on_step,
            in_percent(self.at_step["margin"]),
            in_money(self.price["current"], places),
            in_percent(self.at_current["margin"]),
            str(self.advice) + (f" (lacks {self.lacks})" if self.lacks else ""),
        )


def charged(costing: Costing) -> list[Charged]:
    """Every product at every outlet where it is sold."""
    left_out = tuple(part.name for part in uncounted(costing))
    return [_charged(costing, row, left_out) for row in costing.structure.rows["prices"]]


def _charged(costing: Costing, row: Row, left_out: tuple[str, ...]) -> Charged:
    figures = costing.of(row)
    return Charged(
        str(figures["product"]),
        str(figures["outlet"] or ""),
        figures["units_per_pack"],
        tuple(missing_of(costing, row)),
        left_out,
        {name: figures[name] for name in (*(part.name for part in PARTS), "total", "known")},
        {
            "at_target_margin": figures["price_at_target"],
            "on_step": figures["price_on_step"],
            "current": figures["price_now"],
        },
        _left(figures, "step"),
        _left(figures, "now"),
        figures["break_even"],
        figures["break_even_without_pay"],
        figures["shelf_price"],
        figures["shelf_price_with_tax"],
        figures["advice"],
        str(figures["lacks"] or ""),
    )


def _left(figures: Figures, price: str) -> dict[str, Value]:
    return {name: figures[f"{price}_{name}"] for name in ("margin", "markup", "profit")}


@dataclass(frozen=True, slots=True)
class UsualDay:
    """What pays for a day at an outlet, of all its products together [units, packs]."""

    outlet: str
    units_sold_per_day: Value
    units: Value
    packs: Value
    units_without_pay: Value
    whole: bool
    """Whether every part of the cost is counted; else it is at least that."""

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "outlet": self.outlet,
            "units_sold_per_day": self.units_sold_per_day,
            "break_even_units": self.units,
            "break_even_packs": self.packs,
            "break_even_units_without_own_pay": self.units_without_pay,
            "break_even_supposes": USUAL_MIX,
        }

    def in_words(self) -> str:
        """One sentence; empty where what pays for the day isn't known, or nothing is to be paid."""
        if not self.units:
            return ""
        sold = self.units_sold_per_day
        usually = f"; you sell {sold.normalize():f}" if isinstance(sold, Decimal) else ""
        least = "" if self.whole else "at least "
        return (
            f"A day at {self.outlet} is paid for by {least}{self.units} units in all "
            f"({self.packs} packs), if {USUAL_MIX}{usually}."
        )


def usual_days(costing: Costing) -> list[UsualDay]:
    """A day at each outlet, in the usual mix."""
    whole = not costing.one("settings")["uncounted"]
    days = (costing.of(row) for row in costing.structure.rows["days"] if row.sources)
    return [
        UsualDay(
            str(day["outlet"]),
            day["units_sold_per_day"],
            day["break_even"],
            day["break_even_packs"],
            day["break_even_without_pay"],
            whole,
        )
        for day in days
    ]
