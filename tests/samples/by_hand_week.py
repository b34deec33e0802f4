"""What the season sample's plan asks for, worked by hand.

Dumplings: 24 + 8 trays are 192, two batches of 96, with two of dough. Soup: 30 of 20 a batch,
which can be made in halves: one and a half. Buns: 36 of 28 good ones a batch: two, and 20 to spare.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from tests.samples.by_hand_season import OWN_HOUR, buns, dough, dumplings, overhead, soup

__all__ = ["week_ahead"]

F = Fraction  # short, since every line has one

HALF = F(3, 2)  # batches of soup
HELPER = 12 * F("1.05")  # an hour of the one who folds

# Minutes of work, and what they are paid. The helper folds 2 x 96, half a minute each.
dough_minutes = F(2 * 12)
own_dumplings = 2 * (30 + 18) + 32 * F("0.5")
folding = 2 * 96 * F("0.5")
soup_minutes = HALF * (25 + 5) + 30 * 1
bun_minutes = F(2 * (30 + 5))
own_minutes = dough_minutes + own_dumplings + soup_minutes + bun_minutes
minutes = own_minutes + folding

# By the clock, with what waits: twice 12 for dumplings, 40 a batch of soup, 25 one of buns.
clock = minutes + 2 * 12 + HALF * 40 + 2 * 25  # 511, 18 blocks of half an hour


def _product(name: str, wanted: int, out: int, said: list[str]) -> dict[str, Any]:
    figures = {"wanted": wanted, "in_freezer": 0, "to_make": wanted, "out": out}
    return {"product": name, **figures, "spare": out - wanted, "for": said}


def _recipe(name: str, batches: F | int, units: int, own: F, cost: F, helped: F) -> dict[str, Any]:
    figures = {"batches": batches, "units": units, "minutes": own + helped, "own_minutes": own}
    pay = own / 60 * OWN_HOUR + helped / 60 * HELPER
    return {"recipe": name, **figures, "cost": cost + pay}


def week_ahead() -> dict[str, Any]:
    """What `plan` says of the season sample."""
    trays, pots, bags = 32 * F("0.08"), 30 * F("0.25"), 56 * F("0.04")
    parts = {
        "ingredients": 2 * dumplings + HALF * soup + 2 * buns,
        "packaging": trays + pots + bags,
        "labour": own_minutes / 60 * OWN_HOUR + folding / 60 * HELPER,
        "kitchen": 18 * F("4.50"),
        "overhead": (2 + HALF + 2) * overhead,
    }
    none = F(0)
    filled = 2 * (dumplings - dough)  # what the dough's own line has is not counted again
    return {
        "products": [
            _product("Cabbage dumplings, six", 32, 32, ["Harbour market", "Mill yard"]),
            _product("Lentil soup", 30, 30, ["Harbour market"]),
            _product("Plum bun", 36, 56, ["Harbour market"]),
        ],
        "recipes": [
            _recipe("Dumpling dough", 2, 6, dough_minutes, 2 * dough, none),
            _recipe("Cabbage dumplings", 2, 192, own_dumplings, filled + trays, folding),
            _recipe("Lentil soup", HALF, 30, soup_minutes, HALF * soup + pots, none),
            _recipe("Plum buns", 2, 36, bun_minutes, 2 * buns + bags, none),
        ],
        "kitchen": {
            "clock_minutes": clock,
            "minutes": 540,
            "blocks": 18,
            "cost": parts["kitchen"],
        },
        "minutes": minutes,
        "own_minutes": own_minutes,
        "minutes_there": 300,
        "minutes_over": 0,
        "freezer": {"packs": 32 + 30 + 56, "holds": 120, "over": 0},
        "parts": parts,
        "uncounted": [],
        "cost": sum(parts.values(), F(0)),
    }
