"""Days on a market, a wholesale order, and the everyday decisions, as others worked them.

Beside each: its source, and how it reached us, as in test_worked_examples.py. A day's pay an hour
is a figure of `day`; of `cost --json`, what is left before one's own pay, and the minutes, are.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.deciding.asking import answered
from tests.deciding.season import one_day
from tests.helpers import priced, product_of
from tests.tables import close, row_of, sheets
from tests.truth.dish import DISH, cut, printed

# A small farm's blog on a wholesale order (read): 55 - 3 % = 53.35, packaging 1, 3.25 hours.
ORDER = """
Settings
Setting      | Value
Currency     | USD
Pay per hour | {pay}

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Crop  | 1         | ea   | 0.01
2026-11-01 | Boxes | 1         | ea   | 1.00

Recipes
Recipe | Uses | Amount | Unit
Dish   | Crop | 0      | ea

Stages
Recipe | Stage          | People | Minutes per batch
Dish   | Pick, and pack | 1      | {minutes}

Packaging
Product | Uses  | Amount | Unit | Per
Portion | Boxes | 1      | ea   | batch

Products
Product | Recipe | Units per pack | Wholesale price now
Portion | Dish   | 1              | 55

Outlets
Outlet | Kind      | Card share % | Card fee % | Card fixed fee | Units per sale
Shop   | wholesale | 100          | 3          | 0              | 1
"""


def order(minutes: object, pay: object) -> dict[str, Any]:
    return priced(sheets(DISH, ORDER.format(minutes=minutes, pay=pay)))


@pytest.mark.parametrize(
    ("minutes", "an_hour", "exact"), [(195, "16.11", 52.35 / 3.25), (255, "12.32", 52.35 / 4.25)]
)
def test_an_order_pays_sixteen_an_hour(minutes: int, an_hour: str, exact: float) -> None:
    """Printed: 16 an hour; an hour more, 12.32."""
    answer = order(minutes, 0)
    sold = product_of(answer, "Portion")
    left = sold["at_current"]["profit"]
    close(left + sold["cost"]["packaging"], "53.35")  # printed
    hours = row_of(answer, "recipe", "Dish")["labour_minutes"] / 60
    printed(left / hours, an_hour)
    close(left / hours, exact)
    close(product_of(order(minutes, repr(exact)), "Portion")["at_current"]["profit"], "0")


def test_a_helper_who_speeds_a_market_up_pays_for_himself() -> None:
    """A market farm on card fees (read): 50 a day come back at 1,666 of sales, if he saves 3 %.

    Each dollar of sales leaves three cents more, so 1,667 dollars are the first to pay him.
    """
    sold = product_of(
        priced(
            sheets(
                DISH,
                """
                Purchases
                Date       | Item  | Pack size | Unit | Price per pack
                2026-11-01 | Thing | 1         | ea   | 0.97

                Recipes
                Recipe | Uses  | Amount | Unit
                Dish   | Thing | 1      | ea

                Products
                Product | Recipe | Units per pack | Current price
                Portion | Dish   | 1              | 1.00

                Outlets
                Outlet | Fee per day | Hours per day | Units sold per day
                Market | 50          | 0             | 1000
                """,
            )
        ),
        "Portion",
    )
    assert sold["break_even_units_per_day"] == 1667
    saved = sold["at_current"]["profit"] + sold["cost"]["selling"]
    cut(50 / saved, "1666")


MARKET_WEEK = """
Purchases
Date       | Item | Pack size | Unit | Price per pack
2026-11-01 | Week | 1         | ea   | {week}

Recipes
Recipe | Uses | Amount | Unit
Dish   | Week | 1      | ea
"""


@pytest.mark.parametrize(
    ("week", "more", "then"), [(500, 30, "650"), (650, 20, "780"), (780, 15, "897")]
)
def test_a_week_at_the_market_grows(week: int, more: int, then: str) -> None:
    """Alberta farmers' market decision tool (read): 500, + 30 % 650, + 20 % 780, + 15 % (117)."""
    book = f"{DISH}\n{MARKET_WEEK.format(week=week)}"
    (there,) = answered("try", book, "--price", f"Week=+{more}%")["products"]
    close(there["before"]["cost"]["ingredients"], week)
    close(there["after"]["cost"]["ingredients"], then)
    if then == "897":
        close(there["after"]["cost"]["total"] - there["before"]["cost"]["total"], "117")


GROWN = """
Settings
Setting                  | Value
Currency                 | USD
Sales tax %              | {tax}
Prices include sales tax | no

Market days
Date       | Outlet | Hours | Float | Cash counted
2026-11-07 | Pier   | 5     | 0     | {till}

Sales
Date       | Outlet | Product | Taken | Sold   | Price
2026-11-07 | Pier   | Bun     | 130   | {sold} | {price}
"""


@pytest.mark.parametrize(
    ("sold", "price", "tax", "printed_takings"),
    [(100, 5, 0, 500), (130, 5, 0, 650), (130, 6, 0, 780), (130, 6, 15, 897)],
)
def test_a_market_day_grows_as_the_tool_has_it(
    tmp_path: Path, sold: int, price: int, tax: int, printed_takings: int
) -> None:
    """Alberta farmers' market decision tool (read): 500, + 30 % 650, + 20 % 780, + 15 % (117).

    Its shares are taken one after another; here as packs sold, their price, and a tax on top.
    """
    day = one_day(tmp_path, GROWN.format(sold=sold, price=price, tax=tax, till=printed_takings))
    close(day["takings"]["count"], printed_takings)
    close(day["over_short"], 0)
    before_tax = day["left_for_own_work"] + day["cost_of_what_is_gone"] + day["costs_of_the_day"]
    close(before_tax, 780 if tax else printed_takings)  # 117 of the 897 are the tax


PREPARED = """
Stages
Recipe | Stage | Minutes per batch
Buns   | Bake  | 720
"""


def test_four_hours_are_prepared_for_each_hour_of_selling(tmp_path: Path) -> None:
    """A vendor's rule (common practice, no source): four hours of preparation for each of selling.

    Three hours at the pier sell one batch of twelve hours: fifteen, so an hour brings a fifth of
    what the hours at the pier alone would say. 100.00 less 23.00 gone and 10.00 of fee are 67.00.
    """
    day = one_day(tmp_path, PREPARED)
    close(day["own_hours"], 15)
    close(day["left_for_own_work"], 67)
    close(day["pay_per_hour"], "67/15")


JUICE = """
Purchases
Date       | Item  | Supplier | Pack size | Unit | Price per pack
2026-11-01 | Juice | Large    | 128       | oz   | 3.46
2026-11-01 | Juice | Middle   | 59        | oz   | 3.27
2026-11-01 | Juice | Small    | 48        | oz   | 4.67

Recipes
Recipe | Uses  | Amount | Unit
Dish   | Juice | 1      | oz
"""


def test_w27_the_cheapest_bottle_is_the_largest() -> None:
    """A unit-price question answered wrongly in public (read): 0.055, 0.022 (!) and 0.097 an ounce.

    Printed with it: "59 oz is the best deal". The 128 oz is, at 0.02703125 (calc).
    """
    (juice,) = answered("compare", f"{DISH}\n{JUICE}")["items"]
    assert [pack["pack"] for pack in juice["packs"]] == ["128 oz", "59 oz", "48 oz"]
    by_ounce = [pack["price_per_base_unit"] * 28.349523125 for pack in juice["packs"]]
    close(by_ounce[0], "0.02703125")
    printed(by_ounce[1], "0.055")
    printed(by_ounce[2], "0.097")
    assert juice["in_words"].startswith("The 128 oz from Large is 51.2 % cheaper than the 59 oz")


EGGS_AT_NEW_YEAR = """
Purchases
Date       | Item | Pack size | Unit  | Price per pack
2024-12-01 | Eggs | 1         | dozen | 4.146
2025-01-01 | Eggs | 1         | dozen | 4.953
2025-02-01 | Eggs | 1         | dozen | 5.897
2025-03-01 | Eggs | 1         | dozen | 6.227

Recipes
Recipe | Uses | Amount | Unit
Dish   | Eggs | 12     | ea
"""


@pytest.mark.parametrize(
    ("since", "then"), [("2024-12-15", "4.146"), ("2025-01-15", "4.953"), ("2025-02-15", "5.897")]
)
def test_what_moved_in_the_spring_of_2025(since: str, then: str) -> None:
    """BLS APU0000708111, a dozen grade A large, US city average (read, public domain)."""
    (dish,) = answered("moved", f"{DISH}\n{EGGS_AT_NEW_YEAR}", "--since", since)["products"]
    close(dish["before"], then)
    close(dish["after"], "6.227")
    close(dish["by_item"]["Eggs"], 6.227 - float(then))
