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
    """On a margin of 30 %: 2.10 / 0.70 = 3.00; the price now and the price to charge are 2.10."""
    cafe = thing(
        1.05,
        None,
        """
        Settings
        Setting         | Value
        Currency        | USD
        Target margin % | 50

        Products
        Product | Recipe | Units per pack | Wholesale price now
        Portion | Dish   | 1              | 2.10

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
    printed(5.945 / 0.68, "8.74")  # and the card's 8.75 is not even that


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
