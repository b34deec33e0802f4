"""Prices, margins, fees, tax and break-even: each sum stands beside its figure."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from costbook.costing.charged import UsualDay
from tests.helpers import make_book, product_of, run
from tests.money_rules.wraps import STALL, WRAPS, answer, single
from tests.tables import close, sheets


def asked(margin: object, *texts: str, more: str = "") -> dict[str, Any]:
    """A wrap of 2.10 (12,600 g of flour a batch) at a target margin, with more settings."""
    return single(
        f"Settings\nSetting | Value\nCurrency | USD\nTarget margin % | {margin}\n{more}",
        "Recipes\nRecipe|Uses|Amount|Unit\nWrap|Flour|12600|g",
        *texts,
    )


@pytest.mark.parametrize("margin", [65, 0.65])
def test_two_ten_at_65_percent_is_six(margin: float) -> None:
    price = asked(margin)["price"]  # 2.10 / 0.35 = 6.00, to the cent
    close(price["at_target_margin"], "6")
    assert price["on_step"] == 6.0


def test_a_price_goes_up_to_the_next_step() -> None:
    # 2.10 / 0.70 = 3.00; 2.10 / 0.69 = 3.0434...
    assert asked(30, more="Price step | 0.25")["price"]["on_step"] == 3.0
    assert asked(31, more="Price step | 0.25")["price"]["on_step"] == 3.25
    assert asked(31)["price"]["on_step"] == 3.05  # the cent, where no step is given


def test_margin_markup_and_profit_at_the_step() -> None:
    at_step = asked(31, more="Price step | 0.25")["at_step"]
    close(at_step["profit"], "1.15")  # 3.25 - 2.10
    close(at_step["margin"], "23/65")
    close(at_step["markup"], "23/42")


OUTLET = (
    "Outlets\n"
    "Outlet | Kind | Commission % | Card share % | Card fee % | Target margin % | Hours per day"
)


def test_commission_and_card_fees_come_off_the_price() -> None:
    # 1 - 0.30 - 0.15 - 0.80 x 0.025 = 0.53: 2.10 / 0.53
    shop = asked(30, f"{OUTLET}\nShop | commission | 15 | 80 | 2.5 |")
    close(shop["price"]["at_target_margin"], "210/53")
    # on the step 3.97: 3.97 - 2.10 - 3.97 x 0.17 = 1.1951
    close(shop["at_step"]["profit"], "1.1951")
    close(shop["at_step"]["margin"], 1.1951 / 3.97)
    close(shop["at_step"]["markup"], 1.1951 / (3.97 - 1.1951))


def test_the_card_takes_its_part_of_the_tax_too() -> None:
    # 1 - 0.30 - 1.00 x 0.05 x 1.10 = 0.645; the tax is added at the till
    stall = asked(30, f"{OUTLET}\nStall |  | 0 | 100 | 5 | | 0", more="Sales tax % | 10")
    close(stall["price"]["at_target_margin"], 2.10 / 0.645)


def test_prices_that_include_tax_are_quoted_with_it_and_margins_without() -> None:
    inside = "Sales tax % | 10\nPrices include sales tax | yes"
    stall = asked(
        30, "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1|3.85", more=inside
    )
    close(stall["price"]["at_target_margin"], "3.30")  # 2.10 / 0.70 = 3.00, + 10 %
    close(stall["price"]["on_step"], "3.30")
    close(stall["at_step"]["margin"], "0.30")
    close(stall["price"]["current"], "3.85")
    close(stall["at_current"]["profit"], "1.40")  # 3.85 / 1.10 - 2.10
    close(stall["at_current"]["margin"], "0.40")


def test_commission_is_on_the_price_without_tax() -> None:
    inside = "Sales tax % | 10\nPrices include sales tax | yes"
    shop = asked(30, f"{OUTLET}\nShop | commission | 20 | 0 | 0 |", more=inside)
    close(shop["price"]["at_target_margin"], "4.62")  # 2.10 / 0.50 = 4.20, + 10 %


def test_a_wholesale_price_carries_no_tax() -> None:
    inside = "Sales tax % | 10\nPrices include sales tax | yes"
    headings = "Product|Recipe|Units per pack|Current price|Wholesale price now"
    products = f"Products\n{headings}\nSingle|Wrap|1|4.40|2.80"
    cafe = asked(30, f"{OUTLET}\nCafe | wholesale | 0 | 0 | 0 |", products, more=inside)
    close(cafe["price"]["at_target_margin"], "3")
    close(cafe["price"]["current"], "2.80")
    close(cafe["at_current"]["margin"], "0.25")  # (2.80 - 2.10) / 2.80


def test_the_wholesale_price_now_is_never_guessed_from_the_stalls() -> None:
    products = "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1|4.40"
    cafe = asked(30, f"{OUTLET}\nCafe | wholesale | 0 | 0 | 0 |", products)
    assert cafe["price"]["current"] is None
    assert cafe["at_current"] == {"margin": None, "markup": None, "profit": None}


def test_the_nearest_target_counts() -> None:
    products = "Products\nProduct|Recipe|Units per pack|Target margin %\nSingle|Wrap|1| 40"
    outlets = f"{OUTLET}\nShop | commission | 0 | 0 | 0 | 50\nStall | | 0 | 0 | 0 | | 0"
    settings = "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|30"
    lines = "Recipes\nRecipe|Uses|Amount|Unit\nWrap|Flour|12600|g"
    found = answer(settings, products, outlets, lines)
    close(product_of(found, "Single", "Shop")["price"]["at_target_margin"], "4.20")
    close(product_of(found, "Single", "Stall")["price"]["at_target_margin"], "3.50")
    close(asked(30)["price"]["at_target_margin"], "3.00")


def test_a_cafes_shelf_price_has_their_margin_and_then_the_tax() -> None:
    # 2.10 / 0.70 = 3.00 to charge and asked now; the cafe keeps 40 %: 5.00, with 10 % tax 5.50
    headings = "Product|Recipe|Units per pack|Wholesale price now"
    cafe = asked(
        30,
        f"Products\n{headings}\nSingle|Wrap|1|3.00",
        "Outlets\nOutlet | Kind | Their margin %\nCafe | wholesale | 40",
        more="Sales tax % | 10",
    )
    close(cafe["shelf_price"], "5")
    close(cafe["shelf_price_with_tax"], "5.50")


@pytest.mark.parametrize("commission", [70, 80])
def test_no_price_leaves_the_margin_where_fees_take_the_rest(commission: int) -> None:
    found = answer(
        "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|30",
        f"{OUTLET}\nShop | commission | {commission} | 0 | 0 |",
    )
    price = product_of(found, "Single")["price"]
    assert (price["at_target_margin"], price["on_step"]) == (None, None)
    assert any(problem["severity"] == "wrong" for problem in found["problems"])


@pytest.mark.parametrize(
    ("currency", "price"),
    [("USD", 3.05), ("JPY", 4.0), ("KWD", 3.044)],
)
def test_the_blank_step_is_the_currencys_minor_unit(currency: str, price: float) -> None:
    """2.10 / 0.69 = 3.0434...: cents, whole yen, thousandths of a dinar (ISO 4217)."""
    found = answer(
        f"Settings\nSetting | Value\nCurrency | {currency}\nTarget margin % | 31",
        "Recipes\nRecipe|Uses|Amount|Unit\nWrap|Flour|12600|g",
    )
    assert found["currency"] == currency
    assert product_of(found, "Single")["price"]["on_step"] == price


# Break-even


def test_break_even_is_in_whole_units_a_day_with_own_pay() -> None:
    # day 35 + 14 + 3 + 4 + 90 = 146; a single at 1.10 leaves 1.00 over its 0.10: 146
    now = "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1| 1.10"
    assert single(STALL, now, outlet="Market")["break_even_units_per_day"] == 146
    now = "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1| 1.11"
    assert single(STALL, now, outlet="Market")["break_even_units_per_day"] == 145  # 144.55...


def test_break_even_without_own_pay_asks_for_fewer() -> None:
    # day 146 - 90 of own pay = 56; 56 / 1.00
    now = "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1|1.10"
    found = single(STALL, now, outlet="Market")
    assert found["break_even_units_per_day_without_own_pay"] == 56


def test_break_even_of_a_six_pack_is_still_in_units() -> None:
    now = "Products\nProduct | Recipe | Units per pack | Current price\nSix | Wrap | 6 | 6.60"
    six = product_of(answer(STALL, now), "Six", "Market")
    assert six["break_even_units_per_day"] == 146


TWO = """
Products
Product | Recipe | Units per pack | Current price
Single  | Wrap   | 1              | 1.10
Six     | Wrap   | 6              | 6.00
"""


def test_the_day_is_paid_for_by_all_products_in_the_usual_mix() -> None:
    """A single leaves 1.00, a unit of a six (6.00 - 0.60) / 6 = 0.90: 0.95 on average.

    146.00 / 0.95 = 153.7 units; half of them single, half in sixes are 153.7 x 7 / 12 = 89.6 packs.
    Before own pay 56.00 / 0.95 = 58.9. Alone, the six would have to sell 146.00 / 0.90 = 162.2.
    """
    found = answer(STALL, TWO)
    assert found["days"][0] == {
        "outlet": "Market",
        "units_sold_per_day": 100,
        "break_even_units": 154,
        "break_even_packs": 90,
        "break_even_units_without_own_pay": 59,
        "break_even_supposes": "each product sells as many units",
    }
    six = product_of(found, "Six", "Market")
    assert six["break_even_units_per_day"] == 163
    assert six["break_even_supposes"] == "nothing else is sold that day"


def test_the_day_is_said_by_the_command(tmp_path: Path) -> None:
    """The wraps have neither work nor packaging, so that it takes at least so many."""
    book = make_book(tmp_path / "stall.xlsx", sheets(WRAPS, STALL, TWO))
    out = run("cost", book, "--output", tmp_path / "out.xlsx", "--on", "2026-11-25")[1]
    assert (
        "A day at Market is paid for by at least 154 units in all (90 packs), if each product "
        "sells as many units; you sell 100."
    ) in out.splitlines()


def test_nothing_is_said_of_a_day_that_costs_nothing() -> None:
    nothing = Decimal(0)
    assert UsualDay("Cafe", None, nothing, nothing, nothing, whole=True).in_words() == ""


def test_the_day_is_not_known_while_what_a_unit_of_one_product_leaves_is_not() -> None:
    """Never the average of those that happen to be known."""
    other = f"{TWO.rstrip()}\nOther | Nothing | 1 | 2.00\n"
    day, *_ = answer(STALL, other)["days"]
    assert (day["break_even_units"], day["break_even_packs"]) == (None, None)


def test_a_day_on_which_each_unit_loses_is_never_paid_for() -> None:
    day, *_ = answer(STALL, TWO.replace("1.10", "0.05").replace("6.00", "0.30"))["days"]
    assert (day["break_even_units"], day["break_even_packs"]) == (None, None)


def test_without_outlets_there_is_no_day() -> None:
    assert answer(TWO)["days"] == []


def test_break_even_is_after_fees_and_without_tax() -> None:
    # 2.20 / 1.10 = 2.00; less 10 % commission 0.20, card 5 % of 2.20 0.11, fixed 0.09, made 0.10:
    # 1.50 a unit, 30.00 a day: 20
    found = single(
        "Settings\nSetting|Value\nCurrency|USD\nSales tax %|10\nPrices include sales tax|yes",
        "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1| 2.20",
        """
        Outlets
        Outlet | Kind       | Fee per day | Units sold per day | Commission % | Card share % | Card fee % | Card fixed fee | Units per sale
        Shop   | commission | 30          | 60                 | 10           | 100          | 5          | 0.18           | 2
        """,  # noqa: E501  # a wide sheet
    )
    assert found["break_even_units_per_day"] == 20


def test_break_even_without_a_price_now_is_at_the_step() -> None:
    # (0.10 + 1.40) / 0.50 = 3.00; 3.00 - 0.10 = 2.90; 140 / 2.90 = 48.3: 49
    found = single(
        "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|50",
        "Outlets\nOutlet|Fee per day|Units sold per day|Hours per day\nMarket|140|100|0",
    )
    assert found["break_even_units_per_day"] == 49


def test_a_pack_sold_at_a_loss_never_breaks_even() -> None:
    now = "Products\nProduct|Recipe|Units per pack|Current price\nSingle|Wrap|1| 0.10"
    assert single(STALL, now, outlet="Market")["break_even_units_per_day"] is None
