"""What a pack of the season sample costs, worked by hand; its days are in ``by_hand_days``.

Straight-line arithmetic with exact fractions; numbers copied by eye. The dough goes whole into a
batch of dumplings, and a helper who is paid 12 an hour folds them. Choices as in ``by_hand``.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

__all__ = ["A_PACK_GONE", "MINUTES_OF_A_PACK", "OWN_HOUR", "UNITS", "season"]

F = Fraction  # short, since every line has one

# Price per base unit as bought, 20 November 2026: the latest receipt of each item, and the one
# before; what was bought once has none.
ITEMS: dict[str, tuple[F, str, F | int, str, F | None]] = {
    "Plain flour": (F("9.00") / 10_000, "g", 1, "2026-10-02", F("8.40") / 10_000),
    "Cabbage": (F("6.00") / 5000, "g", F("0.80"), "2026-10-16", F("5.50") / 5000),
    "Mushrooms": (F("12.00") / 2000, "g", F("0.97"), "2026-10-16", F("11.00") / 2000),
    "Red lentils": (F("12.50") / 5000, "g", 1, "2026-10-02", F("11.50") / 5000),
    "Carrots": (F("5.00") / 5000, "g", F("0.89"), "2026-10-16", F("4.50") / 5000),
    "Plums": (F("9.00") / 3000, "g", 1, "2026-10-16", F("8.40") / 3000),
    "Sugar": (F("2.40") / 2000, "g", 1, "2026-10-02", F("2.20") / 2000),
    "Soup pots": (F("12.50") / 50, "ea", 1, "2026-08-28", None),
    "Paper trays": (F("8.00") / 100, "ea", 1, "2026-08-28", None),
    "Paper bags": (F("4.00") / 100, "ea", 1, "2026-08-28", None),
}
FROM_THE_FARM = ("Cabbage", "Mushrooms", "Carrots", "Plums")

# A batch of each recipe: vegetables as bought, no small-ingredient allowance.
dough = 2000 * F("0.0009")  # 1.80
dumplings = dough + 2000 * F("0.0012") + 1000 * F("0.006")  # 10.20
soup = 2000 * F("0.0025") + 3000 * F("0.001")  # 8.00
buns = 1500 * F("0.0009") + 1200 * F("0.003") + 500 * F("0.0012")  # 5.55

# Work: an hour of their own at 14 and 5 % on top, one of the helper's at 12 and 5 % on top.
OWN_HOUR = 14 * F("1.05")
helper = 96 * F("0.5") / 60 * 12 * F("1.05")  # folds 96, half a minute each
own_dumplings = 12 + 30 + 18  # with the dough's 12
own_trays = 16 * F("0.5")
own_soup = 25 + 5 + 20 * 1
own_buns = 30 + 5

# The kitchen at 9.00 an hour in half hours: 12 + 30 + 48 + 18 + 12 waiting + 8 = 128 minutes are
# five of them; 25 + 5 + 40 waiting + 20 = 90 are three; 30 + 5 + 25 waiting = 60 are two.
kitchen_dumplings, kitchen_soup, kitchen_buns = 5 * F("4.50"), 3 * F("4.50"), 2 * F("4.50")

# Insurance of 360 over 120 batches, and 1.00 of cleaning stuff with each.
overhead = F(360) / 120 + 1

DUMPLINGS, SOUP, BUN = "Cabbage dumplings, six", "Lentil soup", "Plum bun"
UNITS = {DUMPLINGS: 6, SOUP: 1, BUN: 1}
PACKS_MADE = {DUMPLINGS: F(16), SOUP: F(20), BUN: F(28)}  # 96 / 6, 20, 30 less 2 rejects
PACKS_SOLD = {DUMPLINGS: F(16), SOUP: 20 * F("0.95"), BUN: 28 * F("0.90")}
PRICES_NOW = {DUMPLINGS: F("8.50"), SOUP: F("4.00"), BUN: F("2.50")}

# What a batch takes: ingredients, packaging of every pack made, labour, kitchen, overhead.
BATCH = {
    DUMPLINGS: (
        *(dumplings, 16 * F("0.08"), (own_dumplings + own_trays) / 60 * OWN_HOUR + helper),
        *(kitchen_dumplings, overhead),
    ),
    SOUP: (soup, 20 * F("0.25"), F(own_soup) / 60 * OWN_HOUR, kitchen_soup, overhead),
    BUN: (buns, 28 * F("0.04"), F(own_buns) / 60 * OWN_HOUR, kitchen_buns, overhead),
}

# A pack that is gone, sold or not: what it cost without their own work, over the packs MADE, since
# what is cut up or thrown away is counted as such. And their own minutes in it.
A_PACK_GONE = {
    DUMPLINGS: (dumplings + 16 * F("0.08") + helper + kitchen_dumplings + overhead) / 16,
    SOUP: (soup + 20 * F("0.25") + kitchen_soup + overhead) / 20,
    BUN: (buns + 28 * F("0.04") + kitchen_buns + overhead) / 28,
}
MINUTES_OF_A_PACK = {
    DUMPLINGS: (own_dumplings + own_trays) / 16,
    SOUP: F(own_soup) / 20,
    BUN: F(own_buns) / 28,
}

# Selling. Harbour market, a stall: fee 28, 18 miles at 0.50, other 4, 3.00 of ice, 6 hours; 260
# units. Half is paid by card: 2.5 %, and 0.10 for each sale of 4 units. Mill yard, on commission of
# 10 %: 8 miles, 5 hours, 140 units; no ice, which belongs to stalls.
harbour_day, harbour_fixed = 28 + 18 * F("0.5") + 4 + 3 + 6 * OWN_HOUR, F("0.5") * F("0.10") / 4
yard_day = 8 * F("0.5") + 5 * OWN_HOUR
OUTLETS = {  # a unit, percentage fees with the 5 % tax in what cards take, fixed fee, a day
    "Harbour market": (
        *(harbour_day / 260 + harbour_fixed, F("0.5") * F("0.025") * F("1.05")),
        *(harbour_fixed, harbour_day),
    ),
    "Mill yard": (yard_day / 140, F("0.10"), F(0), yard_day),
}


def _left(quoted: F, cost: F, fees: F) -> dict[str, F]:
    """Margin, markup, profit of a price with 5 % tax in it."""
    net = quoted / F("1.05")
    all_cost = cost + net * fees
    return {
        "margin": (net - all_cost) / net,
        "markup": (net - all_cost) / all_cost,
        "profit": net - all_cost,
    }


def _product(name: str, outlet: str) -> dict[str, Any]:
    """One product at one outlet: target 15 %, steps of 0.25, prices with 5 % tax in them."""
    a_unit, fees, fixed, day = OUTLETS[outlet]
    names = ("ingredients", "packaging", "labour", "kitchen", "overhead")
    parts = {part: of / PACKS_SOLD[name] for part, of in zip(names, BATCH[name], strict=True)}
    parts["selling"] = a_unit * UNITS[name]
    cost, now = sum(parts.values(), F(0)), PRICES_NOW[name]
    at_target = cost / (1 - F("0.15") - fees) * F("1.05")
    step = ceil(round(at_target, 6) / F("0.25")) * F("0.25")
    net = now / F("1.05") / UNITS[name]
    kept = net * (1 - fees) - fixed - sum(BATCH[name], F(0)) / PACKS_SOLD[name] / UNITS[name]
    return {
        "product": name,
        "outlet": outlet,
        "units_per_pack": UNITS[name],
        "complete": True,
        "missing": [],
        "uncounted": [],
        "cost": parts | {"total": cost, "known": cost},
        "price": {"at_target_margin": at_target, "on_step": step, "current": now},
        "at_step": _left(step, cost, fees),
        "at_current": _left(now, cost, fees),
        "break_even_units_per_day": ceil(round(day / kept, 6)),
    }


def _recipe(name: str, cost: F, good: int, unit: str, minutes: int) -> dict[str, Any]:
    return {
        "recipe": name,
        "batch_cost": cost,
        "unit_cost": cost / good,
        "unit": unit,
        "labour_minutes": F(minutes),
    }


def _item(name: str) -> dict[str, Any]:
    price, unit, usable, day, before = ITEMS[name]
    return {
        "item": name,
        "price_per_base_unit": price,
        "base_unit": unit,
        "usable_share": F(usable),
        "date": day,
        "supplier": "Bramble Farm" if name in FROM_THE_FARM else "Weir Street Stores",
        "change": None if before is None else (price - before) / before,
    }


def season() -> dict[str, Any]:
    """What a pack of the season sample costs on 20 November 2026, and is to be sold at."""
    return {
        "costed_on": "2026-11-20",
        "currency": "USD",
        "products": [_product(name, outlet) for name in UNITS for outlet in OUTLETS],
        "recipes": [
            _recipe("Dumpling dough", dough, 3, "kg", 12),
            _recipe("Cabbage dumplings", dumplings, 96, "ea", own_dumplings + 48),
            _recipe("Lentil soup", soup, 20, "ea", own_soup),
            _recipe("Plum buns", buns, 28, "ea", own_buns),
        ],
        "items": [_item(name) for name in ITEMS],
    }
