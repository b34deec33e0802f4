"""What the main sample must come to, worked by hand: selling, prices, margins, break-even.

What a pack costs to make comes from by_hand_prices, by_hand_made and by_hand_packs; here each
outlet's own arithmetic follows with literal numbers, in the order of the design's money rules.
Exact fractions throughout, written out as floats at the very end.

`python -m tests.samples.by_hand` writes the .expected.json files beside the sample workbooks, and
only where none is there yet.

Where the design leaves room, this is what was chosen:

- a blank Rejects, Not sold %, Spare %, waiting, overlap, commission or card cell counts as 0, and a
  blank People is not used in the samples;
- a product's own stage counts in the kitchen's clock of that product, and its minutes per unit go
  with the packs made (good / units per pack), as packaging per pack does;
- a used recipe brings its stages by amount / good amount, its minutes per unit by its own makes;
- `recipes`: the unit is the base unit of what the batch makes, the unit cost is per good unit
  (makes - rejects), and labour minutes are people's minutes with the used recipes' share in;
- `change` of an item is a fraction of the price before, null where it was bought once;
- a discount row lowers the line by packs x price, its packs being 1 where blank;
- a wholesale row is without sales tax throughout; the commission outlet's price, like the stall's,
  is quoted with tax in, and commission is taken from the price without it;
- break-even without a price now is at the price on the step; a café's day is a delivery day.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import Any

from tests.samples.by_hand_buying import to_buy
from tests.samples.by_hand_days import market_days
from tests.samples.by_hand_made import RECIPES
from tests.samples.by_hand_packs import MADE
from tests.samples.by_hand_prices import ITEMS
from tests.samples.by_hand_season import season
from tests.samples.by_hand_starter import starter
from tests.samples.by_hand_week import week_ahead

__all__ = ["EXPECTED", "market_stall"]

F = Fraction  # short, since every line has one

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"

# --- 6. Selling a unit, and a day, at each outlet -----------------------------------------------
own_hour = 15 * F("1.08")  # pay with on-costs

# Saturday market, a stall: fee 35, 24 miles at 0.70, other 5, ice 6 and 80 % of the gazebo's 5 a
# market day, 6 hours; 140 units a day. Cards: 60 % of sales, 2.6 % and 0.10, 3 units a sale.
market_day = 35 + 24 * F("0.70") + 5 + (6 + 5 * F("0.8")) + 6 * own_hour
market_fixed = F("0.6") * F("0.10") / 3
market_unit = market_day / 140 + market_fixed
market_fees = F("0.6") * F("0.026") * (1 + F("0.05"))  # the fee is on the price with 5 % tax

# Corner café, wholesale: 6 miles, three quarters of an hour, 30 units a delivery. No fees, no tax.
cafe_day = 6 * F("0.70") + F("0.75") * own_hour
cafe_unit = cafe_day / 30

# Farm shop, on commission: 10 miles, half an hour, 25 units; it keeps 20 % of the price before tax.
shop_day = 10 * F("0.70") + F("0.5") * own_hour
shop_unit = shop_day / 25
shop_fees = F("0.20")

# What each product is sold at now (None: no price yet), and the target where it has its own.
PRICES_NOW = {
    "Leek & potato roll": (F("6.50"), F("4.75")),
    "Leek & potato rolls, six": (F("36.00"), None),
    "Chickpea & relish roll": (F("6.00"), F("3.90")),
    "Spinach & egg wrap": (F("6.25"), F("4.25")),
    "Mushroom flatbread": (F("8.00"), F("6.25")),
    "Salmon & dill wrap": (None, F("7.75")),
}
OWN_TARGET = {"Salmon & dill wrap": F("0.40")}
SETTINGS_TARGET = F("0.30")


# --- 7. The price: at the target, on the step of 0.25, margins, break-even ----------------------
def stepped(quoted: F, step: F) -> F:
    """The quoted price up to the next step; rounded to a millionth first."""
    return ceil(round(quoted, 6) / step) * step


def left(price: F | None, cost: F, fees: F, tax: F) -> dict[str, F | None]:
    """Margin, markup and profit at a quoted price: both without tax, fees a share of the price."""
    if price is None:
        return {"margin": None, "markup": None, "profit": None}
    net = price / (1 + tax)
    all_cost = cost + net * fees
    profit = net - all_cost
    return {"margin": profit / net, "markup": profit / all_cost, "profit": profit}


def days_units(price: F, units: int, made: F, fees: F, tax: F, fixed: F, day: F) -> int | None:
    """Units a day that pay the day: day / (price a unit after fees - cost made a unit)."""
    a_unit = price / (1 + tax) / units
    kept = a_unit * (1 - fees) - fixed - made / units
    return ceil(round(day / kept, 6)) if kept > 0 else None


def row(
    product: str,
    outlet: str,
    a_unit: F,
    fees: F,
    tax: F,
    target: F,
    now: F | None,
    fixed: F,
    day: F,
) -> dict[str, Any]:
    """One product at one outlet, from what it costs to make and the outlet's numbers above."""
    units, *parts = MADE[product]
    made = sum(parts, F(0))
    selling = a_unit * units  # a pack of six carries six units of it
    at_target = (made + selling) / (1 - target - fees) * (1 + tax)
    step = stepped(at_target, F("0.25"))
    names = ("ingredients", "packaging", "labour", "kitchen", "overhead")
    total = made + selling
    return {
        "product": product,
        "outlet": outlet,
        "units_per_pack": units,
        "complete": True,
        "uncounted": [],
        "missing": [],
        "cost": dict(zip(names, parts, strict=True))
        | {"selling": selling, "total": total, "known": total},
        "price": {"at_target_margin": at_target, "on_step": step, "current": now},
        "at_step": left(step, total, fees, tax),
        "at_current": left(now, total, fees, tax),
        "break_even_units_per_day": days_units(now or step, units, made, fees, tax, fixed, day),
    }


def at_market(name: str) -> dict[str, Any]:
    """The stall: prices quoted with 5 % tax in; the product's own target, else 30 %."""
    target = OWN_TARGET.get(name, SETTINGS_TARGET)
    now = PRICES_NOW[name][0]
    return row(
        *(name, "Saturday market", market_unit, market_fees, F("0.05"), target, now),
        *(market_fixed, market_day),
    )


def at_cafe(name: str) -> dict[str, Any]:
    """The café: no tax, no fees; the outlet's own target of 25 %, whatever the product's."""
    now = PRICES_NOW[name][1]
    return row(name, "Corner café", cafe_unit, F(0), F(0), F("0.25"), now, F(0), cafe_day)


def at_shop(name: str) -> dict[str, Any]:
    """The farm shop: 20 % commission on the price without tax; quoted with tax in."""
    target = OWN_TARGET.get(name, SETTINGS_TARGET)
    now = PRICES_NOW[name][0]
    return row(name, "Farm shop", shop_unit, shop_fees, F("0.05"), target, now, F(0), shop_day)


# --- 8. The whole answer, in the shape of `cost --json` -----------------------------------------
def item_row(name: str) -> dict[str, Any]:
    """An item: its price as bought and how it changed since the receipt before."""
    price, unit, usable, day, supplier, before = ITEMS[name]
    return {
        "item": name,
        "price_per_base_unit": price,
        "base_unit": unit,
        "usable_share": usable,
        "date": day,
        "supplier": supplier,
        "change": None if before is None else (price - before) / before,
    }


def recipe_row(name: str) -> dict[str, Any]:
    """A recipe: a batch, a good unit of it, and the minutes people spend."""
    cost, good, unit, minutes = RECIPES[name]
    return {
        "recipe": name,
        "batch_cost": cost,
        "unit_cost": cost / good,
        "unit": unit,
        "labour_minutes": minutes,
    }


def market_stall() -> dict[str, Any]:
    """Everything the main sample must say on 20 November 2026."""
    return {
        "costed_on": "2026-11-20",
        "currency": "USD",
        "products": [at(name) for name in MADE for at in (at_market, at_cafe, at_shop)],
        "recipes": [recipe_row(name) for name in RECIPES],
        "items": [item_row(name) for name in ITEMS],
    }


EXPECTED: dict[str, Callable[[], dict[str, Any]]] = {
    "market_stall": market_stall,
    "market_season": lambda: {
        **season(),
        "market_days": market_days(),
        "week": week_ahead(),
        "buy": to_buy(),
    },
    "starter": starter,
}


def as_json(value: object) -> str:
    """The figures as JSON text, each fraction as the nearest double."""
    return json.dumps(value, indent=1, ensure_ascii=False, default=float) + "\n"


def main(words: list[str]) -> int:
    """Write the expectations that are not there; with --again, all of them anew."""
    for name, worked in EXPECTED.items():
        path = SAMPLES / f"{name}.expected.json"
        if path.exists() and "--again" not in words:
            sys.stdout.write(f"{path.name} is there already; add --again to write it anew\n")
        else:
            path.write_text(as_json(worked()), encoding="utf-8")
            sys.stdout.write(f"wrote {path.name}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
