"""The year of the season sample, worked by hand, and its order: IRS Schedule C, as an example.

The order was read in an archived IRS Publication 334: gross receipts, returns; part III: inventory
at beginning, purchases less what was taken for own use, cost of labour ("do not include any amounts
paid to yourself"), inventory at end, cost of goods sold; then expenses.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import openpyxl
import pytest

from tests.helpers import read_back, run
from tests.samples.by_hand_days import market_days
from tests.samples.by_hand_season import A_PACK_GONE
from tests.test_house import HOUSE

F = Fraction
SEASON = HOUSE / "sample_workbooks" / "market_season.xlsx"


def asked(path: Path = SEASON, *more: str) -> dict[str, Any]:
    code, out, err = run("year", path, *more, "--json")
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    return found


def near(value: Fraction | str | int) -> Any:
    return pytest.approx(float(F(value)))


@pytest.fixture(scope="module")
def season() -> dict[str, Any]:
    return asked()


def with_settings(folder: Path, **settings: str | int) -> Path:
    """The season sample with more rows on Settings, and other cells changed by their address."""
    book = openpyxl.load_workbook(SEASON)
    for name, value in settings.items():
        if "_at_" in name:
            sheet, cell = name.split("_at_")
            book[sheet][cell] = value
        else:
            book["Settings"].append([name.replace("_", " "), value])
    book.save(folder / "stall.xlsx")
    return folder / "stall.xlsx"


def test_takings_by_month_and_outlet(season: dict[str, Any]) -> None:
    """August 484.50; September 532 + 335.50 + 543.50 + 319.50 and 247 + 160; October with the day
    of which only the till is known, 438 + 613 + 374, and 288 + 315.50. In all 4650.50."""
    assert season["takings_by_month"] == {
        "2026-08": {"Harbour market": near("484.5")},
        "2026-09": {"Harbour market": near("1730.5"), "Mill yard": near("407")},
        "2026-10": {"Harbour market": near("1425"), "Mill yard": near("603.5")},
    }
    assert (season["year"], season["from"], season["until"]) == ("2026", "2026-01-01", "2026-11-20")
    assert season["takings"] == near("4650.5")
    assert season["sales_tax_in_them"] == near(F("4650.5") - F("4650.5") / F("1.05"))
    assert (season["market_days"], season["market_days_not_known"]) == (12, 0)


def test_the_year_is_the_sum_of_its_days(season: dict[str, Any]) -> None:
    days = [each["takings"] for each in market_days()]
    assert season["takings"] == near(sum((F(each["count"] or each["till"]) for each in days), F(0)))


def test_purchases_by_kind(season: dict[str, Any]) -> None:
    """51.50 in August, 50.20 and 91.00 in October; packaging is 12.50 + 8 + 4."""
    assert season["purchases"] == {"ingredient": near("192.7"), "packaging": near("24.5")}
    assert season["own_use"] == 0


def test_expenses(season: dict[str, Any]) -> None:
    """Seven pitches of 28 and one of 40; cards, one without its payout; 10 % of the yard's net; 8 x
    18 and 4 x 8 miles at 0.50; 7 x 4 with pegs of 9 and 2.50; insurance, and ice on eight days."""
    cards = F("6.5") + F("7.5") * 2 + F("4.5") + 6 + F("8.5") + 5
    cards += 192 * F("0.025") + 192 / F("335.5") * F("0.10") * F(177) / 4
    assert season["expenses"] == {
        "Pitch and table fees": near(7 * 28 + 40),
        "Card fees": near(cards),
        "Commission": near((F(407) + F("603.5")) / F("1.05") / 10),
        "Miles, at your cost a mile": near(88),
        "Other costs of market days": near(7 * 4 + 9 + F("2.5")),
        "Overheads": near(360 + 8 * 3),
    }
    assert season["miles"] == 8 * 18 + 4 * 8
    assert season["overheads"] == near(384)


def test_stock_at_cost(season: dict[str, Any]) -> None:
    """No receipt is older. Left are 19, 15 and 9 packs, 9 kg of flour and 4 of lentils."""
    dumplings, soup, bun = A_PACK_GONE.values()
    packs = 19 * dumplings + 15 * soup + 9 * bun
    end = packs + 9000 * F("0.0009") + 4000 * F("0.0025")
    assert season["stock"]["start"]["value"] == 0
    assert season["stock"]["end"]["value"] == near(end)
    assert season["cost_of_goods_sold"] == near(F("192.7") + F("24.5") - end)


def test_own_pay_is_apart_and_unknown_while_a_day_is(season: dict[str, Any]) -> None:
    """Nobody counted what went on 3 October, so its own hours in the kitchen aren't known."""
    assert (season["own_hours"], season["own_pay_not_counted"]) == (None, None)
    assert season["said"] == "For your preparer; not a tax figure."


def test_the_order_is_the_one_in_which_a_preparer_asks() -> None:
    _, out, _ = run("year", SEASON)
    asked_for = (
        *("Takings", "less the sales tax in them", "Gross receipts", "Returns and refunds"),
        *("Inventory at the beginning, at cost", "Purchases: ingredient", "Purchases: packaging"),
        *("less what was bought for own use", "Cost of labour, helpers'"),
        *("less inventory at the end, at cost", "Cost of goods sold, without helpers"),
        *("Pitch and table fees", "Card fees", "Commission", "Miles, at your cost a mile"),
        *("Other costs of market days", "Overheads", "Expenses", "Hours of your own"),
        "At your pay an hour, not counted above",
    )
    lines = out.splitlines()
    places = [
        next(at for at, line in enumerate(lines) if line.startswith(name + " "))
        for name in asked_for
    ]
    assert places == sorted(places)
    assert "For your preparer; not a tax figure." in lines


def test_what_is_left_of_a_cap(tmp_path: Path) -> None:
    """4429.05 without tax in the 84 days from 29 August to 20 November are 52.73 a day: the 1570.95
    that are left of 6000 are reached in 30 days, on 20 December; those of 10,000 not this year."""
    path = with_settings(tmp_path, Yearly_sales_cap=6000)
    left = 6000 - F("4650.5") / F("1.05")
    assert asked(path)["cap"] == {"typed": 6000, "left": near(left), "reached_on": "2026-12-20"}
    said = (
        "1,570.95 is left of the cap of 6,000.00; at the pace since the first market day it is "
        "reached on 2026-12-20."
    )
    assert said in run("year", path)[1].splitlines()
    path = with_settings(tmp_path, Yearly_sales_cap=10000)
    assert asked(path)["cap"]["reached_on"] is None
    said = "5,570.95 is left of the cap of 10,000.00; at this pace it is not reached this year."
    assert said in run("year", path)[1].splitlines()
    path = with_settings(tmp_path, Yearly_sales_cap=4000)
    said = "The cap of 4,000.00 is reached: sales without tax are 429.05 above it."
    assert said in run("year", path)[1].splitlines()


def test_a_year_may_begin_in_any_month(tmp_path: Path) -> None:
    found = asked(with_settings(tmp_path, Year_begins="Oct"))
    assert (found["year"], found["from"]) == ("2026/2027", "2026-10-01")
    assert found["takings"] == near(F(1425) + F("603.5"))
    before = asked(tmp_path / "stall.xlsx", "2025")
    assert (before["year"], before["until"]) == ("2025/2026", "2026-09-30")
    assert before["takings"] == near(F("484.5") + F("1730.5") + 407)
    # flour and lentils were counted in October, and dumplings by the rows of Made and Sales
    assert [each["what"] for each in before["stock"]["end"]["lines"]] == list(A_PACK_GONE)


def test_what_was_bought_for_oneself_is_taken_out(tmp_path: Path) -> None:
    """Sugar, 2.20 and 3 x 2.40."""
    found = asked(with_settings(tmp_path, Items_at_B8="own use"))
    assert found["purchases"] == {
        "ingredient": near(F("192.7") - F("9.4")),
        "packaging": near("24.5"),
        "own use": near("9.4"),
    }
    assert found["own_use"] == near("9.4")


def test_a_day_that_is_not_known_makes_the_year_unknown_and_not_smaller(tmp_path: Path) -> None:
    path = tmp_path / "stall.xlsx"
    book = openpyxl.load_workbook(SEASON)
    book["Market days"]["E9"] = "?"  # the day that only the till knows
    book.save(path)
    _, out, _ = run("year", path, "--json")
    found = json.loads(out)
    assert (found["takings"], found["market_days_not_known"]) == (None, 1)
    assert found["takings_by_month"]["2026-10"]["Harbour market"] is None


@pytest.mark.parametrize(("cell", "typed"), [("A4", None), ("B4", "Fluor")])
def test_a_count_of_nobody_knows_what_or_when_leaves_the_stock_unknown(
    tmp_path: Path, cell: str, typed: str | None
) -> None:
    path = tmp_path / "stall.xlsx"
    book: Any = openpyxl.load_workbook(SEASON)
    book["Counts"][cell] = typed
    book.save(path)
    found = json.loads(run("year", path, "--json")[1])
    assert found["stock"]["end"]["value"] is None
    assert found["cost_of_goods_sold"] is None
    said = "a row on Counts has no date, or a name that is nobody's"
    assert said in run("year", path)[1]


LOST: Final = {
    "a market day": ("Market days", "A5", "a row on Market days has no date or no outlet"),
    "a sale": ("Sales", "A5", "a row on Sales is of no market day"),
    "a receipt": ("Purchases", "A5", "a receipt has no date"),
}


@pytest.mark.parametrize("of", LOST)
def test_a_row_of_no_day_leaves_the_sums_open_that_it_may_belong_to(
    tmp_path: Path, of: str
) -> None:
    sheet, cell, lacks = LOST[of]
    path = tmp_path / "stall.xlsx"
    book: Any = openpyxl.load_workbook(SEASON)
    book[sheet][cell] = None
    book.save(path)
    found = json.loads(run("year", path, "--json")[1])
    assert found["lacks"] == lacks
    if of == "a receipt":
        assert None in found["purchases"].values()
        assert found["takings"] == near("4650.5")
    else:
        assert (found["takings"], found["fees"], found["miles"]) == (None, None, None)
        assert found["purchases"] == {"ingredient": near("192.7"), "packaging": near("24.5")}


def test_a_year_yet_to_come_and_a_book_without_days_are_refused(tmp_path: Path) -> None:
    assert run("year", SEASON, "2027")[2] == (
        "costbook: The year 2027 begins after the costing date, 2026-11-20. Give an earlier year, "
        "or cost on a later date with --on.\n"
    )
    path = HOUSE / "sample_workbooks" / "starter.xlsx"
    said = f'Add it: costbook new --add "Market days" --add Sales {path}'
    assert run("year", path)[2] == f"costbook: starter.xlsx has no sheet Market days. {said}\n"


def test_a_month_that_is_none_is_doubted(tmp_path: Path) -> None:
    path = with_settings(tmp_path, Year_begins="spring")
    assert asked(path)["from"] == "2026-01-01"
    said = (
        'no month is called "spring", so the year begins in January. Type the name of a month, or '
        "its number."
    )
    assert said in run("year", path)[2]


def test_the_sheet_shows_it(tmp_path: Path) -> None:
    out = tmp_path / "out.xlsx"
    run("cost", SEASON, "--output", out)
    rows = list(read_back(out, data_only=True)["The year"].iter_rows(values_only=True))
    shown = {row[0]: row[1] for row in rows}
    assert shown["Takings"] == 4650.5
    assert shown["Gross receipts"] == near(F("4650.5") / F("1.05"))
    assert shown["Returns and refunds"] == "?"
    assert "For your preparer; not a tax figure." in shown


def test_its_help_says_what_it_does() -> None:
    said = "Add up the year for your tax preparer, in the order in which it is asked."
    assert said in " ".join(run("year", "--help")[1].split())
