"""Market days at the edge of what is asked, said and pushed: the least differences that count."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.deciding.season import ON, STALL, days_of, said_of
from tests.deciding.test_market_days import CARDS, DAYS_SALES, MARKET, SALES, day_text
from tests.deciding.test_season import GOOD, POOR, season_of
from tests.helpers import make_book, run
from tests.tables import sheets

DAY_AT_THE_PIER = f"{MARKET}2026-11-07 | Pier | 3 | 50 | 150 | 0 | 0"


def problems_of(folder: Path, *texts: str) -> list[str]:
    return said_of(folder, DAY_AT_THE_PIER, DAYS_SALES, *texts)[2]


# ---------------------------------------------------------------- what is asked, and what isn't


@pytest.mark.parametrize(
    "typed",
    [
        f"{MARKET}2026-11-25 | Pier | 3 | 50 | 150 | 0 | 0",  # on the costing date
        f"{MARKET}2026-11-07 | Pier | 3 | 50 | 50 | 100 | 100",  # all of it paid out
        f"{MARKET}2026-11-07 | Pier | 3 | | | |",  # nobody counted the till
        f"{MARKET}2026-11-07 | Pier | 3 | 0 | 50 | 100 | 98",
    ],
)
@pytest.mark.parametrize("outlets", [CARDS, ""])
def test_what_is_as_it_should_be_is_not_asked_about(
    typed: str, outlets: str, tmp_path: Path
) -> None:
    """Whether or not anybody pays by card there."""
    sold = DAYS_SALES.replace("2026-11-07", "2026-11-25") if "2026-11-25" in typed else DAYS_SALES
    assert said_of(tmp_path, outlets or STALL, typed, sold)[2] == []


def test_where_nobody_pays_by_card_only_the_cash_is_asked_for(tmp_path: Path) -> None:
    typed = f"{MARKET}2026-11-07 | Pier | 3 | | 150 | | "
    assert problems_of(tmp_path, typed) == [
        (
            "check: Market days!D2: Float is blank, so what the till holds isn't known. "
            "Fill it in; 0 if there was none."
        )
    ]


def test_of_a_row_that_cannot_be_read_no_number_is_said(tmp_path: Path) -> None:
    """31 and some of 30 are too many, and nobody can say how many."""
    typed = f"{SALES}2026-11-07 | Pier | Bun | 30 | 31 | lots | 1 | "
    assert problems_of(tmp_path, typed) == [
        'Sales!F2: "lots" is not a number. Write it with digits, as 12.5.'
    ]


def test_of_a_product_of_nobody_s_no_price_is_asked_for(tmp_path: Path) -> None:
    typed = f"{SALES}2026-11-07 | Pier | Pie | 30 | 20 | | | "
    assert problems_of(tmp_path, typed) == [
        'Sales!C2: no product is called "Pie". Add it to Products.'
    ]


def test_rows_whose_sold_is_missing_are_not_twice_the_same(tmp_path: Path) -> None:
    row = "2026-11-07 | Pier | Bun | 30 | | | | "
    assert [each for each in problems_of(tmp_path, f"{SALES}{row}\n{row}") if "same" in each] == []


OTHER_WAY = {
    "Market days": "\nMarket days\nOutlet | Hours | Float | Cash counted | Date\n",
    "Sales": "\nSales\nPrice | Product | Outlet | Sold | Taken | Date\n",
}


@pytest.mark.parametrize(
    ("sheet", "rows", "cell"),
    [
        ("Market days", "Pier | 3 | 50 | 150 | 2026-11-07\nPier | 3 | 50 | 150 | ", "E3"),
        ("Market days", "Pier | 3 | 50 | 150 | 2026-12-07", "E2"),
        ("Market days", "Pier | 3 | 50 | 150 | 2026-11-07\nPier | 3 | 0 | 0 | 2026-11-07", "E3"),
        ("Sales", "5 | Bun | Pier | 20 | 30 | 2026-11-08", "F2"),
        ("Sales", "5 | Bun | Pier | 20 | 30 | ", "F2"),
    ],
)
def test_the_cell_is_named_wherever_its_column_stands(
    sheet: str, rows: str, cell: str, tmp_path: Path
) -> None:
    found = problems_of(tmp_path, OTHER_WAY[sheet] + rows)
    assert f"{sheet}!{cell}" in {each.removeprefix("check: ").partition(":")[0] for each in found}


# ---------------------------------------------------------------- what a day brought


def test_days_stand_in_their_order_whatever_was_typed_first(tmp_path: Path) -> None:
    rows = "2026-11-14 | Pier | 2 | 0 | 40 | |\n2026-11-07 | Pier | 3 | 50 | 150 | |"
    days = days_of(tmp_path, f"{MARKET}{rows}")
    assert [day["date"] for day in days] == ["2026-11-07", "2026-11-14"]


def test_names_that_nobody_knows_stand_as_they_were_typed(tmp_path: Path) -> None:
    peer = [
        each.replace("Pier", "Peer").replace("Bun", "Bunn")
        for each in (DAY_AT_THE_PIER, DAYS_SALES)
    ]
    [day] = said_of(tmp_path, *peer)[1]["days"]
    assert (day["outlet"], [each["product"] for each in day["products"]]) == ("Peer", ["Bunn"])
    assert day["products"][0]["cost"] is None


def test_hours_that_are_known_are_not_pay_that_is(tmp_path: Path) -> None:
    """Four hours, and flour without a price."""
    stall = STALL.replace("| 10        | kg   | 20.00", "| 10        | kg   | ")
    path = make_book(tmp_path / "stall.xlsx", sheets(stall, DAY_AT_THE_PIER, DAYS_SALES))
    assert "What an hour brought isn't known, for lack of what a pack costs." in day_text(path)


def test_packs_that_nobody_counted_are_a_question(tmp_path: Path) -> None:
    sold = f"{SALES}2026-11-07 | Pier | Bun | | 20 | | | "
    path = make_book(tmp_path / "stall.xlsx", sheets(STALL, DAY_AT_THE_PIER, sold))
    assert "Sold 20 of ? packs taken, ?." in day_text(path)


# ---------------------------------------------------------------- the season


def test_one_day_of_four_on_which_it_sold_out_is_not_often(tmp_path: Path) -> None:
    said = season_of(tmp_path, (20, 20, "sun"), *[GOOD] * 3)
    assert "Keep Bun: 73 % of what was taken along was sold" in said  # 80 of 110


def test_what_pays_as_much_as_is_wished_is_kept(tmp_path: Path) -> None:
    """20 × (3.90 - 1.00) - 10 = 48 for 4 hours."""
    said = season_of(tmp_path, *[GOOD] * 4, price="3.90")
    assert "Keep Pier: half of its 4 days paid 12.00 an hour or more, and 12.00 is wished." in said


def test_days_of_which_nobody_said_the_weather_are_not_dry(tmp_path: Path) -> None:
    said = season_of(tmp_path, *[(30, 20, "")] * 4, *[POOR] * 4)
    assert "In the dry" not in said
    assert "in the dry" not in said


TWO_GOODS = """
Products
Product | Recipe | Units per pack | Current price
Wrap    | Buns   | 1              | 5
Bun     | Buns   | 1              | 5

Outlets
Outlet | Fee per day | Hours per day | Units sold per day
Yard   | 10          | 4             | 40
Pier   | 10          | 4             | 40

Packaging
Product | Uses  | Amount | Unit | Per
all     | Flour | 0      | g    | pack

Market days
Date       | Outlet | Hours | Float | Cash counted
2026-11-07 | Yard   | 3     | 50    | 150
2026-11-08 | Pier   | 3     | 50    | 150

Sales
Date       | Outlet | Product | Taken | Sold
2026-11-07 | Yard   | Wrap    | 10    | 10
2026-11-07 | Yard   | Bun     | 20    | 10
2026-11-08 | Pier   | Bun     | 20    | 10
2026-11-08 | Pier   | Bun     | 20    | {}
"""


def season_data(folder: Path, second: str) -> dict[str, Any]:
    found: dict[str, Any] = said_of(folder, TWO_GOODS.format(second))[1]["season"]
    return found


def test_outlets_and_products_stand_as_they_first_came(tmp_path: Path) -> None:
    found = season_data(tmp_path, "5")
    assert [each["name"] for each in found["outlets"]] == ["Yard", "Pier"]
    assert [each["name"] for each in found["products"]] == ["Wrap", "Bun"]
    assert found["pay_wished"] == 12
    # at the yard all wraps were sold, and half of the buns
    assert [each["sold_out_days"] for each in found["outlets"]] == [1, 0]


def test_a_product_one_row_of_which_is_missing_is_not_judged_by_the_other(tmp_path: Path) -> None:
    """10 at the yard, and 10 and 5 at the pier; or 10 and nobody knows how many."""
    whole, open_yet = (season_data(tmp_path, second)["products"][1] for second in ("5", ""))
    assert (whole["judged"], whole["median"]) == (2, 12.5)
    assert (open_yet["judged"], open_yet["median"]) == (1, 10)


def test_what_share_was_sold_is_a_question_where_nobody_said_how_many_were_taken(
    tmp_path: Path,
) -> None:
    said = season_of(tmp_path, *[("", 20, "sun")] * 4)
    assert "Keep Bun: ? of what was taken along was sold" in said
    assert run("day", tmp_path / "stall.xlsx", "--on", ON)[0] == 0
