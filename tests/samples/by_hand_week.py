"""What the season sample's plan asks for, worked by hand.

Of 24 + 8 trays of dumplings 19 are in the freezer: 13 are 78, a batch of 96, with one of dough. Of
30 pots of soup 15 are there, and 15 are three quarters of a batch, made in halves: one. Of 36 buns
9 are there, and 27 are one batch of 28 good ones.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from tests.samples.by_hand_season import OWN_HOUR, buns, dough, dumplings, overhead, soup

__all__ = ["week_ahead"]

F = Fraction  # short, since every line has one

IN_FREEZER = {"Cabbage dumplings, six": 19, "Lentil soup": 15, "Plum bun": 9}
HELPER = 12 * F("1.05")  # an hour of the one who folds

# Minutes of work, and what they are paid. The helper folds 96, half a minute each.
dough_minutes = F(12)
own_dumplings = 30 + 18 + 16 * F("0.5")
folding = 96 * F("0.5")
soup_minutes = F(25 + 5 + 20 * 1)
bun_minutes = F(30 + 5)
own_minutes = dough_minutes + own_dumplings + soup_minutes + bun_minutes
minutes = own_minutes + folding

# By the clock, with what waits: 12 for dumplings, 40 for soup, 25 for buns.
clock = minutes + 12 + 40 + 25  # 278, 10 blocks of half an hour


# The last three days of each, as typed on Sales: taken, sold, and whether nothing came home.
LAST_DAYS = (
    ("2026-10-11", "Mill yard"),
    ("2026-10-24", "Harbour market"),
    ("2026-10-25", "Mill yard"),
)
SOLD = {
    "Cabbage dumplings, six": ((22, 20, False), (40, 24, False), (24, 23, False)),
    "Lentil soup": ((14, 12, False), (30, 30, True), (16, 15, False)),
    "Plum bun": ((30, 28, False), (40, 20, False), (30, 30, True)),
}


def _product(name: str, wanted: int, out: int, said: list[str]) -> dict[str, Any]:
    there = IN_FREEZER[name]
    figures = {"wanted": wanted, "in_freezer": there, "to_make": wanted - there, "out": out}
    lately = [
        {"date": day, "outlet": outlet, "taken": taken, "sold": sold, "sold_out": sold_out}
        for (day, outlet), (taken, sold, sold_out) in zip(LAST_DAYS, SOLD[name], strict=True)
    ]
    spare = out - (wanted - there)
    return {"product": name, **figures, "spare": spare, "for": said, "sold_lately": lately}


def _recipe(name: str, batches: F | int, units: int, own: F, cost: F, helped: F) -> dict[str, Any]:
    figures = {"batches": batches, "units": units, "left_over": F(0)}  # all is in whole packs
    figures |= {"minutes": own + helped, "own_minutes": own}
    pay = own / 60 * OWN_HOUR + helped / 60 * HELPER
    return {"recipe": name, **figures, "cost": cost + pay}


def week_ahead() -> dict[str, Any]:
    """What `plan` says of the season sample."""
    trays, pots, bags = 16 * F("0.08"), 20 * F("0.25"), 28 * F("0.04")
    parts = {
        "ingredients": dumplings + soup + buns,
        "packaging": trays + pots + bags,
        "labour": own_minutes / 60 * OWN_HOUR + folding / 60 * HELPER,
        "kitchen": 10 * F("4.50"),
        "overhead": 3 * overhead,
    }
    none = F(0)
    filled = dumplings - dough  # what the dough's own line has is not counted again
    return {
        "products": [
            _product("Cabbage dumplings, six", 32, 16, ["Harbour market", "Mill yard"]),
            _product("Lentil soup", 30, 20, ["Harbour market"]),
            _product("Plum bun", 36, 28, ["Harbour market"]),
        ],
        "recipes": [
            _recipe("Dumpling dough", 1, 3, dough_minutes, dough, none),
            _recipe("Cabbage dumplings", 1, 78, own_dumplings, filled + trays, folding),
            _recipe("Lentil soup", 1, 15, soup_minutes, soup + pots, none),
            _recipe("Plum buns", 1, 27, bun_minutes, buns + bags, none),
        ],
        "kitchen": {
            "clock_minutes": clock,
            "minutes": 300,
            "blocks": 10,
            "cost": parts["kitchen"],
        },
        "minutes": minutes,
        "own_minutes": own_minutes,
        "minutes_there": 300,
        "minutes_over": 0,
        "freezer": {"packs": sum(IN_FREEZER.values()) + 16 + 20 + 28, "holds": 120, "over": 0},
        "parts": parts,
        "uncounted": [],
        "cost": sum(parts.values(), F(0)),
    }
