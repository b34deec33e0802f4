"""What each day of the season sample brought, worked by hand from what its rows say.

Numbers copied by eye from the sheets Market days and Sales, exact fractions, a day after another.
Chosen where the rules leave room:

- a day's takings are those by count; of a day without Sales, those by its till;
- a pack that is gone, sold or not, costs a batch over the packs MADE: what is sampled and spoiled
  is counted as such, so that the share of *Not sold %* isn't counted a second time;
- the pay to compare with is the pay an hour with what comes on top of it;
- blank Miles, like a blank Fee paid and Other paid, are the outlet's.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from tests.samples.by_hand_season import A_PACK_GONE, MINUTES_OF_A_PACK, OWN_HOUR

__all__ = ["market_days"]

F = Fraction  # short, since every line has one

TAX = F("1.05")  # in every price
NAMES = ("Cabbage dumplings, six", "Lentil soup", "Plum bun")
COSTS = [A_PACK_GONE[name] for name in NAMES]
MINUTES = [MINUTES_OF_A_PACK[name] for name in NAMES]
HARBOUR, YARD = "Harbour market", "Mill yard"


def _day(
    date: str,
    outlet: str,
    weather: str,
    hours: str,
    till: F,
    costs: F,
    goods: tuple[tuple[int, int, int, int], ...] = (),
    prices: tuple[str, str, str] = ("8.50", "4.00", "2.50"),
) -> dict[str, Any]:
    """A day, its goods as taken, sold, sampled, spoiled; its costs without cards and commission."""
    count = sum((F(price) * of[1] for price, of in zip(prices, goods, strict=bool(goods))), F(0))
    takings = count if goods else till
    found: dict[str, Any] = {
        "date": date,
        "outlet": outlet,
        "weather": weather,
        "takings": {"count": count if goods else None, "till": till},
        "over_short": till - count if goods else None,
        "sell_through": None,
        "left_for_own_work": None,
        "own_hours": None,
        "pay_per_hour": None,
        "margin": None,
        "products": [
            _good(name, price, *of)
            for name, price, of in zip(NAMES, prices, goods, strict=bool(goods))
        ],
    }
    if not goods:
        return found
    gone = sum((cost * sum(of[1:]) for cost, of in zip(COSTS, goods, strict=True)), F(0))
    commission = takings / TAX * F("0.10") if outlet == YARD else F(0)
    left = takings / TAX - gone - costs - commission
    making = sum((each * of[1] for each, of in zip(MINUTES, goods, strict=True)), F(0))
    own_hours = F(hours) + making / 60
    return found | {
        "sell_through": F(sum(of[1] for of in goods), sum(of[0] for of in goods)),
        "left_for_own_work": left,
        "own_hours": own_hours,
        "pay_per_hour": left / own_hours,
        "margin": (left - own_hours * OWN_HOUR) / (takings / TAX),
    }


def _good(
    name: str, price: str, taken: int, sold: int, sampled: int, spoiled: int
) -> dict[str, Any]:
    home = taken - sold - sampled - spoiled
    return {
        "product": name,
        "taken": taken,
        "sold": sold,
        "home": home,
        "sell_through": F(sold, taken),
        "takings": F(price) * sold,
    }


# Of every day at the harbour 3.00 is ice, and 18 miles at 0.50 are 9.00; of one in the yard 8 miles
# are 4.00. The till: counted, less the float, and what was paid out and by card.
ICE, HARBOUR_MILES, YARD_MILES = F(3), 18 * F("0.50"), 8 * F("0.50")


def market_days() -> list[dict[str, Any]]:
    """Every day of the season, the first one first."""
    return [
        _day(
            *("2026-08-29", HARBOUR, "sun", "6", F("302.5") - 60 + 242),
            28 + HARBOUR_MILES + 4 + ICE + (242 - F("235.5")),
            ((40, 36, 2, 0), (20, 14, 0, 0), (50, 49, 1, 0)),
        ),
        _day(  # miles left blank: the outlet's
            *("2026-09-05", HARBOUR, "sun", "6", F(306 - 60 + 10 + 276)),
            28 + HARBOUR_MILES + 4 + ICE + (276 - F("268.5")),
            ((44, 44, 0, 0), (20, 12, 0, 0), (50, 44, 2, 0)),
        ),
        _day(  # no payout: 2.5 % of 192, and 0.10 for a card sale of 4 units: of 22 x 6 + 24 + 21
            # = 177 units as much as 192 is of the 335.50 taken
            *("2026-09-12", HARBOUR, "rain", "6.5", F("203.5") - 60 + 192),
            28
            + HARBOUR_MILES
            + 4
            + ICE
            + 192 * F("0.025")
            + 192 / F("335.5") * F("0.10") * F(22 * 6 + 24 + 21) / 4,
            ((44, 22, 0, 0), (24, 24, 0, 0), (50, 21, 0, 5)),
        ),
        _day(
            *("2026-09-13", YARD, "sun", "5", F(287 - 40), YARD_MILES),
            ((20, 18, 0, 0), (12, 6, 0, 0), (30, 28, 2, 0)),
        ),
        _day(  # 12 short
            *("2026-09-19", HARBOUR, "sun", "6", F("294.5") - 60 + 297),
            28 + HARBOUR_MILES + 4 + ICE + (297 - F("289.5")),
            ((44, 41, 0, 0), (20, 15, 0, 0), (54, 54, 0, 0)),
        ),
        _day(
            *("2026-09-26", HARBOUR, "rain", "6", F("211.5") - 60 + 168),
            28 + HARBOUR_MILES + 9 + ICE + (168 - F("163.5")),
            ((36, 20, 2, 0), (28, 28, 0, 0), (40, 15, 0, 4)),
        ),
        _day(
            *("2026-09-27", YARD, "showers", "4.5", F(200 - 40), YARD_MILES),
            ((20, 9, 0, 0), (16, 14, 0, 0), (24, 11, 1, 0)),
        ),
        _day(  # nobody counted what went
            *("2026-10-03", HARBOUR, "windy", "6", F(260 - 60 + 238)),
            28 + HARBOUR_MILES + 4 + ICE + (238 - 232),
        ),
        _day(  # the harvest fair's fee is 40
            *("2026-10-10", HARBOUR, "sun", "6", F(327 - 60 + 20 + 326)),
            40 + HARBOUR_MILES + 4 + ICE + (326 - F("317.5")),
            ((48, 48, 0, 0), (24, 20, 0, 0), (54, 50, 0, 0)),
        ),
        _day(
            *("2026-10-11", YARD, "sun", "5", F(328 - 40), YARD_MILES + F("2.5")),
            ((22, 20, 1, 0), (14, 12, 0, 0), (30, 28, 0, 0)),
        ),
        _day(  # other left blank: the outlet's 4
            *("2026-10-24", HARBOUR, "rain", "6", F(238 - 60 + 196)),
            28 + HARBOUR_MILES + 4 + ICE + (196 - 191),
            ((40, 24, 0, 0), (30, 30, 0, 0), (40, 20, 0, 3)),
        ),
        _day(
            *("2026-10-25", YARD, "sun", "5", F("355.5") - 40, YARD_MILES),
            ((24, 23, 0, 0), (16, 15, 0, 0), (30, 30, 0, 0)),
            ("8.50", "4.00", "2.00"),
        ),
    ]
