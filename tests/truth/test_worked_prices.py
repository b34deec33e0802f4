"""Prices, margins, fees and break-evens worked by others, through the main path.

Beside each: its source, and how it reached us, as in test_worked_examples.py. The printed figure is
compared to the printed precision, and the exact figure to 1e-9.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, sheets
from tests.truth.dish import DISH, portion, printed

# A thing bought ready at a round cost, so that only the selling is looked at.

ONE_THING = """
Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Thing | 1         | ea   | 1.00

Recipes
Recipe | Uses  | Amount | Unit
Dish   | Thing | {cost} | ea

Products
Product | Recipe | Current price | Units per pack
Portion | Dish   | {price} | 1
"""


def thing(cost: object, price: object, *texts: str) -> dict[str, Any]:
    return portion(ONE_THING.format(cost=cost, price="" if price is None else price), *texts)


# Break-even, read as one period: the fixed costs are the fee, the units are the period's.


@pytest.mark.parametrize(
    ("fixed", "price", "variable", "units"),
    [
        # W13. Government of Alberta, Agdex 845-11, Business Basics for Alberta Food Processors
        # (read): 12,000 a year, 6 - 4, so 6,000 jars.
        (12000, 6, 4, 6000),
        # W14. Government of Alberta, Agdex 845-3, Pricing Processed Food Products, 2016 (read in
        # a mirror): 2.25 - 1.50 = 0.75; 1,200 -> 1,600 packages.
        (1200, 2.25, 1.50, 1600),
    ],
)
def test_w13_and_w14_break_even(fixed: int, price: float, variable: float, units: int) -> None:
    jar = thing(
        variable,
        price,
        f"""
        Outlets
        Outlet | Fee per day | Hours per day | Units sold per day
        Market | {fixed}     | 0             | 1000
        """,
    )
    assert jar["break_even_units_per_day"] == units


def test_w14_what_a_package_leaves_for_the_fixed_costs() -> None:
    """As above: 2.25 - 1.50 = 0.75."""
    close(thing(1.50, 2.25)["at_current"]["profit"], "0.75")


# W24. Ontario Ministry of Small Business, start-up guide, p. 15, a mug maker (read). A week is the
# period: 3,000 fixed, 50 a case; what a case costs when so many are made.
MUGS = {
    5: 650, 6: 550, 7: 479, 8: 425, 9: 383, 10: 350, 11: 323, 12: 300, 13: 281, 14: 264, 15: 250,
}  # fmt: skip


@pytest.mark.parametrize("cases", MUGS)
def test_w24_what_a_case_of_mugs_costs(cases: int) -> None:
    week = f"Outlets\nOutlet|Fee per day|Hours per day|Units sold per day\nShop|3000|0|{cases}"
    sold = thing(50, 425, week)
    printed(sold["cost"]["total"], str(MUGS[cases]))
    close(sold["cost"]["total"], 3000 / cases + 50)
    assert sold["break_even_units_per_day"] == 8  # printed: at 425 a case
    assert (sold["at_current"]["profit"] >= -1e-9) == (cases >= 8)
    by_batch = thing(50 * cases, None, f"""
        Overheads
        Cost  | Amount | Per
        Fixed | 3000   | batch

        Batches
        Recipe | Makes   | Unit
        Dish   | {cases} | ea
        """)  # fmt: skip
    printed(by_batch["cost"]["total"], str(MUGS[cases]))


# W25. M. Cannella, University of Vermont Extension, Mark-up and Margins to Set Prices, 2013 (read):
# a markup of 18 %, which is a margin of 18/118.
MARKED_UP = {
    "0.80": "0.94", "0.50": "0.59", "0.60": "0.71", "0.70": "0.83", "0.90": "1.06",
    "1.10": "1.30", "1.30": "1.53", "2.50": "2.95", "3.90": "4.60", "4.80": "5.66",
}  # fmt: skip


@pytest.mark.parametrize("cost", MARKED_UP)
def test_w25_a_markup_of_18_percent(cost: str) -> None:
    target = f"Settings\nSetting|Value\nCurrency|USD\nTarget margin %|{18 / 118!r}"
    asked = thing(cost, None, target)
    printed(asked["price"]["at_target_margin"], MARKED_UP[cost])
    close(asked["price"]["at_target_margin"], float(cost) * 1.18)
    back = thing(cost, MARKED_UP[cost])["at_current"]
    assert abs(back["markup"] - 0.18) <= 0.005 / float(cost) + 1e-9  # half a cent of the price


# W15. Regional extension text "Margins and Mark-ups" (read in a mirror).


def test_w15_a_markup_of_half_is_a_margin_of_a_third() -> None:
    sold = thing(2, 3.00)["at_current"]
    close(sold["markup"], "0.5")
    close(sold["margin"], "1/3")


def test_w15_a_margin_of_35_percent_on_two() -> None:
    asked = thing(2, None, "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|35")
    close(asked["price"]["at_target_margin"], "40/13")  # 3.076923
    close(asked["price"]["on_step"], "3.08")  # printed


def test_w15_a_shop_that_sells_at_three_pays_two_ten() -> None:
    """On a margin of 30 %: 3.00 - 30 % = 2.10, and 2.10 on that margin is 3.00 on the shelf."""
    shop = thing(1, 3.00, "Outlets\nOutlet|Kind|Commission %\nShop|commission|30")
    close(shop["at_current"]["profit"] + shop["cost"]["total"], "2.10")
    cafe = thing(
        2.10,
        None,
        """
        Settings
        Setting         | Value
        Currency        | USD
        Target margin % | 0

        Outlets
        Outlet | Kind      | Their margin %
        Cafe   | wholesale | 30
        """,
    )
    close(cafe["price"]["on_step"], "2.10")
    close(cafe["shelf_price"], "3.00")
    close(cafe["shelf_price_with_tax"], "3.00")  # no sales tax is set


def test_w17_what_a_new_card_tariff_adds() -> None:
    """GrowNYC card-fee guide (read): 2.75 % becomes 2.6 % + 0.10; +0.09 on 10, +0.05 on 30."""
    tariffs = """
        Outlets
        Outlet | Hours per day | Card share % | Card fee % | Card fixed fee | Units per sale
        Before | 0             | 100          | 2.75       | 0              | 1
        After  | 0             | 100          | 2.6        | 0.10           | 1
        """
    added = []
    for price in (10, 30):
        answer = priced(sheets(DISH, ONE_THING.format(cost=1, price=price), tariffs))
        before, after = (
            product_of(answer, "Portion", outlet)["at_current"]["profit"]
            for outlet in ("Before", "After")
        )
        added.append(before - after)
    close(added[0], "0.085")
    close(added[1], "0.055")
    assert abs(added[0] - 0.09) <= 0.005 + 1e-9  # printed
    assert abs(added[1] - 0.05) <= 0.005 + 1e-9  # printed


def test_w18_the_tax_inside_a_price() -> None:
    """Class question on tax (read): 60 including 6.75 % holds 3.79 tax; 3.793911 (calc)."""
    sold = thing(
        10,
        60,
        """
        Settings
        Setting                  | Value
        Currency                 | USD
        Sales tax %              | 6.75
        Prices include sales tax | yes
        """,
    )
    tax = 60 - (sold["at_current"]["profit"] + sold["cost"]["total"])
    printed(tax, "3.79")
    close(tax, 60 - 60 / 1.0675)


# Published errors come out right.


def test_w19_a_margin_that_was_printed_as_a_markup() -> None:
    """A pricing question answered wrongly in public (read): 7.20 a dozen, sold at 0.89 each."""
    sold = thing(0.60, 0.89)["at_current"]
    printed(sold["margin"] * 100, "32.58")  # printed there as "markup"
    printed(sold["markup"] * 100, "48.33")
    close(sold["margin"], "29/89")
    close(sold["markup"], "29/60")


def test_w20_a_price_is_not_cost_over_margin() -> None:
    """A student card (read): 5.945 at "68 % gross profit" printed as 5.945 / 0.68 = 8.75."""
    asked = thing(5.945, None, "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|68")
    close(asked["price"]["at_target_margin"], "18.578125")
    printed(asked["price"]["at_target_margin"], "18.58")
    wrong = thing(5.945, 8.75)["at_current"]["margin"]
    printed(wrong * 100, "32.06")  # what the card's 8.75 leaves (calc), where it meant 68


# Identities (calc).


@pytest.mark.parametrize(("margin", "markup"), [(30, "3/7"), (40, "2/3"), (50, "1")])
def test_a_margin_and_its_markup(margin: int, markup: str) -> None:
    """m is markup m / (1 - m): 30 % = 42.857 %, 40 % = 66.667 %, 50 % = 100 %."""
    asked = thing(
        21,  # 21 / 0.7 = 30, 21 / 0.6 = 35, 21 / 0.5 = 42: whole prices, so the step moves none
        None,
        f"Settings\nSetting|Value\nCurrency|USD\nTarget margin %|{margin}",
    )
    close(asked["at_step"]["margin"], margin / 100)
    close(asked["at_step"]["markup"], markup)


def test_a_card_fee_and_a_margin_at_once() -> None:
    """Cost 2.45, card 2.5 % + 0.12, margin 35 % -> 4.112, of which 1.4392 is left (calc)."""
    asked = thing(
        2.45,
        4.112,
        "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|35",
        """
        Outlets
        Outlet | Hours per day | Card share % | Card fee % | Card fixed fee | Units per sale
        Market | 0             | 100          | 2.5        | 0.12           | 1
        """,
    )
    close(asked["price"]["at_target_margin"], "4.112")
    close(asked["at_current"]["profit"], "1.4392")
    close(asked["at_current"]["margin"], "0.35")
