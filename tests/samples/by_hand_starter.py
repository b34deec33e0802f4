"""What the starter sample must come to, worked by hand.

Straight-line arithmetic with exact fractions; numbers copied by eye. No Items, Overheads or
Outlets sheet, and no kitchen hire: Settings says that there is nothing of those to pay.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

__all__ = ["starter"]

F = Fraction  # short, since every line has one

# Price per base unit as bought, 20 November 2026: the latest receipt of each item.
flour = F("1.10") / 1500  # per g, 14 Nov
flour_before = F("1.05") / 1500
carrots = F("1.80") / 2000  # 14 Nov
carrots_before = F("1.70") / 2000
lentils = F("2.25") / 1000  # 17 Oct, bought once
oil = F("6.90") / 1000  # per ml, 17 Oct, 1 l
oil_before = F("6.40") / 1000
onions = F("1.35") / 1000  # 14 Nov
onions_before = F("1.25") / 1000
beans = (4 * F("1.60") + F(0)) / (4 * 2 * 400)  # 14 Nov, 4 packs of 2 x 400 g
beans_before = F("0.95") / 400
wraps = (3 * F("1.95")) / (3 * 8)  # each, 14 Nov
wraps_before = F("1.85") / 8

# Recipes. No small-ingredient allowance. Carrots are weighed peeled: 85 % on that line.
carrot_rolls = (  # makes 20, 1 reject
    900 * flour + F("1.2") * 1000 * carrots / F("0.85") + 400 * lentils + 120 * oil + 250 * onions
)
bean_wraps = (  # makes 16
    16 * wraps + 1600 * beans + 300 * onions + 40 * oil
)

# Work at 12.00 an hour, and a paper bag for each pack made: 100 for 4.00.
roll_work = F(38) / 60 * 12
wrap_work = F(24) / 60 * 12
bag = F("4.00") / 100

# Per pack sold. Carrot rolls: 19 good singles, 5 % not sold. Bean wraps: 16 / 4 packs, none unsold.
rolls_sold = 19 * (1 - F("0.05"))
roll_parts = {
    "ingredients": carrot_rolls / rolls_sold,
    "packaging": 19 * bag / rolls_sold,
    "labour": roll_work / rolls_sold,
}
roll = (carrot_rolls + 19 * bag + roll_work) / rolls_sold
four_parts = {"ingredients": bean_wraps / 4, "packaging": bag, "labour": wrap_work / 4}
four = (bean_wraps + 4 * bag + wrap_work) / (F(16) / 4)

# Target 60 %, no tax, no fees, a step of 0.10.
roll_at_target = roll / (1 - F("0.60"))
roll_step = ceil(round(roll_at_target, 6) / F("0.10")) * F("0.10")
four_at_target = four / (1 - F("0.60"))
four_step = ceil(round(four_at_target, 6) / F("0.10")) * F("0.10")


def _left(price: F, cost: F) -> dict[str, F]:
    """Margin, markup, profit of a price without tax or fees."""
    return {
        "margin": (price - cost) / price,
        "markup": (price - cost) / cost,
        "profit": price - cost,
    }


def _product(
    name: str, units: int, parts: dict[str, F], cost: F, target: F, step: F, now: F
) -> dict[str, Any]:
    """One product without an outlet."""
    nothing = dict.fromkeys(("kitchen", "overhead", "selling"), F(0))
    return {
        "product": name,
        "outlet": None,
        "units_per_pack": units,
        "complete": True,
        "missing": [],
        "uncounted": [],
        "cost": parts | nothing | {"total": cost, "known": cost},
        "price": {"at_target_margin": target, "on_step": step, "current": now},
        "at_step": _left(step, cost),
        "at_current": _left(now, cost),
        "break_even_units_per_day": None,
    }


def _recipe(name: str, cost: F, good: int, minutes: int) -> dict[str, Any]:
    """A recipe that makes pieces."""
    return {
        "recipe": name,
        "batch_cost": cost,
        "unit_cost": cost / good,
        "unit": "ea",
        "labour_minutes": F(minutes),
    }


def _item(name: str, price: F, unit: str, day: str, before: F | None) -> dict[str, Any]:
    """An item without an Items row: all of it is usable."""
    return {
        "item": name,
        "price_per_base_unit": price,
        "base_unit": unit,
        "usable_share": F(1),
        "date": day,
        "supplier": "Corner shop" if name in ("Red lentils", "Paper bags") else "Mill Road market",
        "change": None if before is None else (price - before) / before,
    }


def starter() -> dict[str, Any]:
    """Everything the starter sample must say on 20 November 2026."""
    return {
        "costed_on": "2026-11-20",
        "currency": "GBP",
        "products": [
            _product(
                *("Carrot & lentil roll", 1, roll_parts, roll),
                *(roll_at_target, roll_step, F("2.50")),
            ),
            _product("Bean wraps, four", 4, four_parts, four, four_at_target, four_step, F("7.00")),
        ],
        "recipes": [
            _recipe("Carrot rolls", carrot_rolls, 19, 38),
            _recipe("Bean wraps", bean_wraps, 16, 24),
        ],
        "items": [
            _item("Plain flour", flour, "g", "2026-11-14", flour_before),
            _item("Carrots", carrots, "g", "2026-11-14", carrots_before),
            _item("Red lentils", lentils, "g", "2026-10-17", None),
            _item("Rapeseed oil", oil, "ml", "2026-10-17", oil_before),
            _item("Onions", onions, "g", "2026-11-14", onions_before),
            _item("White beans", beans, "g", "2026-11-14", beans_before),
            _item("Wraps", wraps, "ea", "2026-11-14", wraps_before),
            _item("Paper bags", bag, "ea", "2026-10-17", None),
        ],
    }
