"""What a market day brought: by hand, by the command, and what it leaves open."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.deciding.season import ON, STALL, days_of, one_day, said_of
from tests.helpers import make_book, run
from tests.samples.build import SAMPLES
from tests.samples.test_samples import differences
from tests.tables import close, sheets

SEASON = SAMPLES / "market_season.xlsx"


# ---------------------------------------------------------------- by hand


def test_every_day_of_the_sample_is_as_worked_by_hand() -> None:
    expected = json.loads((SAMPLES / "market_season.expected.json").read_text("utf-8"))
    code, out, err = run("day", SEASON, "--json", "--on", "2026-11-20")
    found = json.loads(out)
    assert (code, err) == (0, "")
    assert len(found["days"]) == len(expected["market_days"]) == 12
    for worked, day in zip(expected["market_days"], found["days"], strict=True):
        assert list(differences({**worked, "products": []}, {**day, "products": []})) == []
        for good, sold in zip(worked["products"], day["products"], strict=True):
            assert list(differences(good, sold)) == []


def test_a_day_in_the_head(tmp_path: Path) -> None:
    day = one_day(tmp_path)
    assert day["takings"] == {"count": 100, "till": 100}  # 20 × 5; 150 - 50
    assert (day["over_short"], day["cost_of_what_is_gone"]) == (0, 23)  # 20 + 1 + 2 at 1.00
    assert (day["costs_of_the_day"], day["left_for_own_work"]) == (10, 67)
    assert day["own_hours"] == 4  # 3 there, and 20 × 3 minutes
    assert (day["pay_per_hour"], day["pay_wished"]) == (16.75, 12)
    close(day["margin"], "19/100")  # 67 - 4 × 12 of 100
    (bun,) = day["products"]
    assert (bun["home"], bun["sold_out"]) == (7, False)
    close(day["sell_through"], "2/3")


def test_tax_that_comes_on_top_is_in_the_till_and_in_no_takings_without_it(tmp_path: Path) -> None:
    taxed = "Sales tax % | 10\nPrices include sales tax | no"
    stall = STALL.replace("No overheads       | yes", f"No overheads | yes\n{taxed}")
    day = one_day(tmp_path, stall)
    assert day["takings"]["count"] == pytest.approx(110)  # 20 × 5.50
    assert day["left_for_own_work"] == pytest.approx(67)


def test_a_cafe_is_sold_to_at_its_price_without_tax(tmp_path: Path) -> None:
    cafe = """
Outlets
Outlet | Kind      | Fee per day | Hours per day | Units sold per day
Pier   | wholesale | 10          | 4             | 40

Products
Product | Recipe | Units per pack | Current price | Wholesale price now
Bun     | Buns   | 1              | 5             | 3
"""
    assert one_day(tmp_path, cafe)["takings"]["count"] == 60


HELPED = """
Stages
Recipe | Stage | Minutes per batch | Pay per hour
Buns   | Bake  | 60                |
Buns   | Shape | 30                | 8
"""


def test_a_helpers_pay_is_a_cost_and_his_minutes_are_not_ones_own(tmp_path: Path) -> None:
    day = one_day(tmp_path, HELPED)
    close(day["cost_of_what_is_gone"], "138/5")  # 23 packs at 1.20: 4.00 more over 20
    assert day["own_hours"] == 4


INSIDE = """
Recipes
Recipe | Uses  | Amount | Unit
Dough  | Flour | 20     | kg
Buns   | Dough | 10     | kg

Batches
Recipe | Makes | Unit
Dough  | 20    | kg
Buns   | 20    | ea

Stages
Recipe | Stage | Minutes per batch | Pay per hour
Dough  | Knead | 40                |
Dough  | Weigh | 30                | 8
Buns   | Bake  | 40                |
"""


def test_work_in_a_recipe_used_inside_comes_along_in_its_share(tmp_path: Path) -> None:
    day = one_day(tmp_path, INSIDE)
    assert day["own_hours"] == 4  # 40 minutes, and half of 40
    close(day["cost_of_what_is_gone"], "253/10")  # 23 at 1.10: half of 4.00 over 20 more


NOT_SOLD = """
Products
Product | Recipe | Units per pack | Current price | Not sold %
Bun     | Buns   | 1              | 5             | 10
"""


def test_what_is_sampled_and_spoiled_isnt_counted_a_second_time(tmp_path: Path) -> None:
    assert one_day(tmp_path, NOT_SOLD)["cost_of_what_is_gone"] == 23


# ---------------------------------------------------------------- as others worked them


ORDER = """
Outlets
Outlet | Kind      | Fee per day | Hours per day | Units sold per day | Card share % | Card fee %
Shop   | wholesale | 0           | 3.25          | 1                  | 100          | 3

Products
Product | Recipe | Units per pack | Wholesale price now
Bun     | Buns   | 1              | 55

Stages
Recipe | Stage | Minutes per batch
Buns   | Pick  | 0

Market days
Date       | Outlet | Hours | Card takings
2026-11-07 | Shop   | {hours}  | 55

Sales
Date       | Outlet | Product | Taken | Sold
2026-11-07 | Shop   | Bun     | 1     | 1
"""


@pytest.mark.parametrize(("hours", "exact"), [("3.25", 52.35 / 3.25), ("4.25", 52.35 / 4.25)])
def test_a_wholesale_order_pays_sixteen_an_hour(tmp_path: Path, hours: str, exact: float) -> None:
    """A small farm's blog on a wholesale order (read).

    55 less 3 % are 53.35, packaging is 1, and 3.25 hours: printed, 16 an hour; an hour more, 12.32.
    """
    day = one_day(tmp_path, ORDER.format(hours=hours))
    assert day["left_for_own_work"] == pytest.approx(52.35)  # a bun is 1.00, as the packaging was
    close(day["pay_per_hour"], repr(exact))
    assert round(day["pay_per_hour"], 2) in (16.11, 12.32)


HELPER = """
Market days
Date       | Outlet | Hours | Float | Cash counted | Other paid
2026-11-07 | Pier   | 5     | 0     | 8330         | {other}

Sales
Date       | Outlet | Product | Taken | Sold
2026-11-07 | Pier   | Bun     | 1666  | 1666
"""


def test_a_helper_of_fifty_a_day_pays_for_himself(tmp_path: Path) -> None:
    """A market farm on card fees (read): 50 a day come back at 1,666 of sales, if he saves 3 %.

    Saved are 3 cents of each, 49.98 of 1,666.
    """
    alone, helped = (
        one_day(tmp_path, HELPER.format(other=other))["left_for_own_work"] for other in (0, 50)
    )
    assert alone - helped == 50
    assert pytest.approx(alone - helped, abs=0.03) == 1666 * 0.03


# ---------------------------------------------------------------- properties


SPLIT = """
Market days
Date       | Outlet | Hours | Float | Cash counted | Weather
2026-11-07 | Pier   | 1     |       | 70           | sun
2026-11-07 | Pier   | 2     | 50    | 80           |
"""


def test_a_day_in_two_rows_is_the_same_day(tmp_path: Path) -> None:
    whole, split = one_day(tmp_path), one_day(tmp_path, SPLIT)
    assert split == whole


SOLD_IN_TWO = """
Sales
Date       | Outlet | Product | Taken | Sold | Sampled | Spoiled
2026-11-07 | Pier   | Bun     | 18    | 13   | 1       |
2026-11-07 | pier   | bun     | 12    | 7    |         | 2
"""


def test_a_product_in_two_rows_brings_the_same_day(tmp_path: Path) -> None:
    whole, split = one_day(tmp_path), one_day(tmp_path, SOLD_IN_TWO)
    assert {**split, "products": []} == {**whole, "products": []}


@pytest.mark.parametrize("day", range(12))
def test_till_and_count_agree_where_nothing_is_lost(day: int) -> None:
    _, out, _ = run("day", SEASON, "--json", "--on", "2026-11-20")
    found = json.loads(out)["days"][day]
    takings = found["takings"]
    lost = 12 if found["date"] == "2026-09-19" else 0
    if takings["count"] is not None:
        assert takings["till"] == pytest.approx(takings["count"] - lost)


# ---------------------------------------------------------------- what is open


def test_a_day_without_sales_is_judged_by_its_till(tmp_path: Path) -> None:
    nothing_sold = "\nSales\nDate | Outlet | Product | Taken | Sold\n"
    code, answer, problems = said_of(tmp_path, nothing_sold)
    (day,) = answer["days"]
    assert (code, problems) == (0, [])
    assert day["takings"] == {"count": None, "till": 100}
    assert (day["costs_of_the_day"], day["pay_per_hour"]) == (10, None)
    assert day["lacks"] == "rows on Sales"


CARDS = """
Outlets
Outlet | Fee per day | Hours per day | Units sold per day | Card share % | Card fee %
Pier   | 10          | 4             | 40                 | 50           | 2
"""

TEN_BUNS = "2026-11-07 | Pier | Bun | 30 | 10 | | | "
MARKET = (
    "\nMarket days\nDate | Outlet | Hours | Float | Cash counted | Card takings | Card payout\n"
)
SALES = "\nSales\nDate | Outlet | Product | Taken | Sold | Sampled | Spoiled | Price\n"


@pytest.mark.parametrize(
    ("typed", "cell", "sentence"),
    [
        (
            f"{MARKET}2026-11-07 | Peer | 3 | 50 | 150 | | ",
            "Market days!B2",
            'no outlet is called "Peer". Did you mean "Pier"?',
        ),
        (
            f"{SALES}2026-11-07 | Market | Bun | 30 | 20 | | | ",
            "Sales!B2",
            'no outlet is called "Market". Add it to Outlets.',
        ),
        (
            f"{SALES}2026-11-07 | Pier | Pie | 30 | 20 | | | ",
            "Sales!C2",
            'no product is called "Pie". Add it to Products.',
        ),
        (
            f"{SALES}2026-11-07 | | Bun | 30 | 20 | | | ",
            "Sales!B2",
            "the row has no Outlet, so it belongs to no day. Fill it in, as on Market days.",
        ),
        (
            f"{SALES} | Pier | Bun | 30 | 20 | | | ",
            "Sales!A2",
            "the date is missing, so the row belongs to no day. Fill it in.",
        ),
        (
            f"{SALES}2026-11-08 | Pier | Bun | 30 | 20 | | | ",
            "Sales!A2",
            (
                "Market days has no row for 2026-11-08 at Pier, so these sales count nowhere. "
                "Add the day there, or put the date right."
            ),
        ),
        (
            f"{SALES}2026-11-07 | Pier | Bun | 30 | 31 | | | ",
            "Sales!E2",
            "31 were sold, sampled or spoiled, and 30 taken along. Put Taken or Sold right.",
        ),
        (
            f"{SALES}2026-11-07 | Pier | Bun | 30 | | | | ",
            "Sales!E2",
            "how many were sold is missing. Fill in Sold; 0 if none was.",
        ),
        (
            f"{MARKET}2026-11-07 | Pier | | 50 | 150 | | ",
            "Market days!C2",
            "Hours is blank, so what an hour brought isn't known. Fill in your own hours that day.",
        ),
    ],
)
def test_what_is_open_is_asked(typed: str, cell: str, sentence: str, tmp_path: Path) -> None:
    code, answer, problems = said_of(tmp_path, typed)
    assert code == 1
    assert f"{cell}: {sentence}" in problems
    assert all(day["pay_per_hour"] is None for day in answer.get("days", ()))


UNPRICED = """
Products
Product | Recipe | Units per pack
Bun     | Buns   | 1
"""


def test_a_price_that_stands_nowhere_is_asked(tmp_path: Path) -> None:
    code, answer, problems = said_of(
        tmp_path, UNPRICED, f"{SALES}2026-11-07 | Pier | Bun | 9 | 8 | | | "
    )
    asked = "what a pack was sold at isn't known. Fill in Price here, or the price now on Products."
    assert (code, answer["days"][0]["takings"]["count"]) == (1, None)
    assert f"Sales!H2: {asked}" in problems


@pytest.mark.parametrize(
    ("typed", "cell", "sentence"),
    [
        (
            f"{MARKET}2026-11-07 | Pier | 3 | | 150 | 100 | ",
            "Market days!D2",
            "Float is blank, so what the till holds isn't known. Fill it in; 0 if there was none.",
        ),
        (
            f"{MARKET}2026-11-07 | Pier | 3 | 50 | 150 | | ",
            "Market days!F2",
            (
                "Card takings is blank, so what the till holds isn't known. "
                "Fill it in; 0 if there was none."
            ),
        ),
        (
            f"{MARKET}2026-11-07 | Pier | 3 | 50 | | 100 | ",
            "Market days!E2",
            (
                "Cash counted is blank, so what the till holds isn't known. "
                "Fill it in; 0 if there was none."
            ),
        ),
        (
            f"{MARKET}2026-11-07 | Pier | 3 | 50 | 50 | 100 | 101",
            "Market days!G2",
            "Card payout is more than Card takings, so the fees are below nothing. Check the two.",
        ),
        (
            f"{MARKET}2026-11-07 | Pier | 3 | 50 | 50 | 100 | 98\n2026-11-07 | Pier | 1 | | | |",
            "Market days!A3",
            (
                "row 2 is of the same day at this outlet: the two were added up. "
                "Nothing, if that is right; else delete one of them."
            ),
        ),
        (
            f"{MARKET}2026-12-07 | Pier | 3 | 50 | 50 | 100 | 98",
            "Market days!A2",
            "2026-12-07 is after the costing date. Check the date.",
        ),
        (
            f"{SALES}{TEN_BUNS}\n{TEN_BUNS}",
            "Sales!C3",
            "row 2 says the same: both count. Delete one, if it was typed twice.",
        ),
    ],
)
def test_what_is_doubtful_is_said(typed: str, cell: str, sentence: str, tmp_path: Path) -> None:
    _, _, problems = said_of(tmp_path, CARDS, typed)
    assert f"check: {cell}: {sentence}" in problems


@pytest.mark.parametrize(
    ("sold", "said"),
    [
        ((10, 13, 14, 40), "3.0 times as much"),  # the middle of 13 and 14, against 4.5
        ((10, 13, 13, 40), ""),
        ((40, 40, 40), ""),  # three days say nothing yet
        ((2, 1, 2, 1), "33 % of that"),
        ((40, 40, 40, None), ""),
    ],
)
def test_what_an_outlet_sells_a_day_is_held_against_what_was_sold(
    sold: tuple[int | None, ...], said: str, tmp_path: Path
) -> None:
    days = [f"2026-11-0{at} | Pier | Bun | 99 | {'' if n is None else n} | | | "
            for at, n in enumerate(sold, 1)]  # fmt: skip
    typed = [f"2026-11-0{at} | Pier | 3 | | | |" for at in range(1, len(sold) + 1)]
    outlets = "\nOutlets\nOutlet | Units sold per day\nPier | 4.5\n"
    _, _, problems = said_of(tmp_path, outlets, MARKET + "\n".join(typed), SALES + "\n".join(days))
    usual = {"3.0 times as much": "13.5", "33 % of that": "1.5"}.get(said)
    sentence = (
        f"check: Outlets!B2: on 4 market days {usual} units were usually sold here a day, and 4.5 "
        f"are typed: {said}. Type what you sell a day, in singles: a pack of six is six."
    )
    assert (sentence in problems) == bool(said)
    assert any("were usually sold" in each for each in problems) == bool(said)


def test_an_unreadable_figure_makes_its_day_unknown_and_no_smaller(tmp_path: Path) -> None:
    typed = f"{MARKET}2026-11-07 | Pier | some | 50 | 150 | |".replace("Card takings", "Fee paid")
    day = one_day(tmp_path, typed)
    assert (day["own_hours"], day["pay_per_hour"], day["costs_of_the_day"]) == (None, None, 10)
    fee = one_day(tmp_path, typed.replace("| some |", "| 3 |").replace("150 | |", "150 | some |"))
    assert (fee["costs_of_the_day"], fee["left_for_own_work"]) == (None, None)


# ---------------------------------------------------------------- the command


def test_the_last_day_in_short_lines() -> None:
    code, out, err = run("day", SEASON, "--on", "2026-11-20")
    assert (code, err) == (0, "")
    assert out.splitlines()[:5] == [
        "2026-10-25, Mill yard, sun",
        "Takings 315.50 by count, 315.50 by the till: the two agree.",
        "Sold 68 of 70 packs taken, 97.1 %; sold out: Plum bun.",
        (
            "Without sales tax 300.48, less 113.04 for what is gone and 34.05 for the day: 153.39 "
            "left for your own work."
        ),
        "7.9 hours of yours: 19.47 an hour, and 14.70 is wished.",
    ]


@pytest.mark.parametrize(
    ("date", "lines"),
    [
        ("2026-09-19", ["the till is 12.00 short."]),
        (
            "2026-10-03",
            [
                "Takings 438.00 by the till; there are no rows on Sales to compare them with.",
                "What an hour brought isn't known, for lack of rows on Sales.",
            ],
        ),
    ],
)
def test_the_day_that_is_asked_for(date: str, lines: list[str]) -> None:
    code, out, _ = run("day", SEASON, date, "--on", "2026-11-20")
    assert (code, out.startswith(date)) == (0, True)
    assert [line for line in lines if line not in out] == []


def test_a_till_that_is_over_or_unknown_is_said(tmp_path: Path) -> None:
    over = f"{MARKET}2026-11-07 | Pier | 3 | 50 | 151 | |"
    path = make_book(tmp_path / "stall.xlsx", sheets(STALL, DAYS_SALES, over))
    assert "Takings 100.00 by count, 101.00 by the till: the till is 1.00 over." in day_text(path)
    open_till = f"{MARKET}2026-11-07 | Pier | 3 | | | |"
    path = make_book(tmp_path / "open.xlsx", sheets(STALL, DAYS_SALES, open_till))
    assert "Takings 100.00 by count, ? by the till.\n" in day_text(path)


DAYS_SALES = f"{SALES}2026-11-07 | Pier | Bun | 30 | 20 | | | "


def day_text(path: Path) -> str:
    return run("day", path, "--on", ON)[1]


def test_what_can_not_be_answered_is_refused(tmp_path: Path) -> None:
    add = 'costbook new --add "Market days" --add Sales starter.xlsx'
    assert run("day", SAMPLES / "starter.xlsx") == (
        2,
        "",
        (
            "costbook: starter.xlsx has no market day that can be read. Put the sheets into it, "
            f"and fill them in: {add}\n"
        ),
    )
    empty = make_book(tmp_path / "stall.xlsx", sheets(STALL, MARKET))
    assert run("day", empty)[2] == (
        "costbook: stall.xlsx has no market day that can be read. Fill in Market days and Sales, a "
        "row a day and one for each product on it.\n"
    )
    assert run("day", SEASON, "2026-01-01")[2] == (
        "costbook: Market days has no day on 2026-01-01. Give another; the last is 2026-10-25.\n"
    )


# ---------------------------------------------------------------- the season


def test_the_sum_over_the_days_is_the_seasons(tmp_path: Path) -> None:
    days = days_of(
        tmp_path,
        f"{MARKET}2026-11-07 | Pier | 3 | 50 | 150 | |\n2026-11-14 | Pier | 2 | 0 | 40 | |",
    )
    assert [day["takings"]["till"] for day in days] == [100, 40]
