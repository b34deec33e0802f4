"""The season by hand: by outlet, by product, in rain; what is said of them; its sheet, live."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from costbook.definitions.weather import is_wet
from tests.deciding.season import ON, STALL
from tests.deciding.test_market_days import DAYS_SALES, MARKET
from tests.helpers import make_book, run
from tests.judges.ironcalc_judge import IronCalc
from tests.samples.build import SAMPLES
from tests.samples.by_hand_days import market_days
from tests.tables import sheets

SEASON = SAMPLES / "market_season.xlsx"


@pytest.fixture(scope="module")
def said() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run("day", SEASON, "--json", "--on", "2026-11-20")[1])
    return found


def paid(outlets: tuple[str, ...], weather: tuple[str, ...]) -> list[Fraction]:
    """Pay an hour of the days worked by hand."""
    days = (day for day in market_days() if day["outlet"] in outlets and day["weather"] in weather)
    return [day["pay_per_hour"] for day in days if day["pay_per_hour"] is not None]


ANY = ("sun", "rain", "showers", "windy")
BOTH = ("Harbour market", "Mill yard")


@pytest.mark.parametrize(
    ("group", "at", "name", "days", "of"),
    [
        ("outlets", 0, "Harbour market", 8, paid(BOTH[:1], ANY)),
        ("outlets", 1, "Mill yard", 4, paid(BOTH[1:], ANY)),
        ("weather", 0, "In the rain (rain, showers)", 4, paid(BOTH, ("rain", "showers"))),
        ("weather", 1, "In the dry (sun, windy)", 8, paid(BOTH, ("sun", "windy"))),
    ],
)
def test_an_outlet_and_a_weather_are_as_the_days_worked_by_hand(
    said: dict[str, Any], group: str, at: int, name: str, days: int, of: list[Fraction]
) -> None:
    found = said["season"][group][at]
    assert (found["name"], found["days"], found["judged"]) == (name, days, len(of))
    for figure, worked in (("median", median(of)), ("best", max(of)), ("worst", min(of))):
        assert found[figure] == pytest.approx(float(worked), rel=1e-12)


def test_the_seasons_hours_are_the_sum_of_its_days(said: dict[str, Any]) -> None:
    days = [day for day in said["days"] if day["outlet"] == "Mill yard"]
    left, hours = (sum(day[name] for day in days) for name in ("left_for_own_work", "own_hours"))
    assert said["season"]["outlets"][1]["pay_per_hour"] == pytest.approx(left / hours)


def test_a_product_over_its_days(said: dict[str, Any]) -> None:
    soup = said["season"]["products"][1]
    sold, taken = (14, 12, 24, 6, 15, 28, 14, 20, 12, 30, 15), 224
    assert (soup["name"], soup["days"], soup["sold_out_days"]) == ("Lentil soup", 11, 3)
    assert (soup["median"], soup["best"], soup["worst"]) == (15, 30, 6)
    assert soup["sell_through"] == pytest.approx(sum(sold) / taken)
    # a pot: 4.00 less tax, at Mill yard less a tenth, less 1.525; 2.5 minutes of theirs
    yard = 6 + 14 + 12 + 15
    net = (4 / 1.05) * (sum(sold) - yard + yard * 0.9)
    assert soup["pay_per_hour"] == pytest.approx((net - 1.525 * 190) / (190 * 2.5 / 60))


def season_of(
    folder: Path, *days: tuple[object, int, str], outlet: str = "Pier", price: str = "5"
) -> str:
    """What is said of days that follow each other: buns taken, buns sold, the weather."""
    market = "\nMarket days\nDate | Outlet | Hours | Weather\n" + "\n".join(
        f"2026-10-{at:02} | {outlet} | 3 | {weather}" for at, (*_, weather) in enumerate(days, 1)
    )
    sold = "\nSales\nDate | Outlet | Product | Taken | Sold\n" + "\n".join(
        f"2026-10-{at:02} | {outlet} | Bun | {taken} | {sold}"
        for at, (taken, sold, _) in enumerate(days, 1)
    )
    stall = STALL.replace("| 5\n\nOutlets", f"| {price}\n\nOutlets")
    path = make_book(folder / "stall.xlsx", sheets(stall, market, sold))
    return run("day", path, "--on", ON)[1]


GOOD, POOR = (30, 20, "sun"), (30, 10, "rain")


def test_an_outlet_that_pays_is_kept_and_a_good_product_too(tmp_path: Path) -> None:
    said = season_of(tmp_path, *[GOOD] * 4)  # 70 for 4 hours
    assert "Keep Pier: half of its 4 days paid 17.50 an hour or more, and 12.00 is wished." in said
    assert (
        "Keep Bun: 67 % of what was taken along was sold, and an hour of making it left 80.00 "
        "before the day was paid." in said
    )


def test_an_outlet_that_does_not_pay_is_to_be_dropped_and_less_taken(tmp_path: Path) -> None:
    said = season_of(tmp_path, *[POOR] * 4)  # 30 for 3.5 hours
    assert (
        "Drop Pier, or raise what it brings: half of its 4 days paid 8.57 an hour or less, and "
        "12.00 is wished." in said
    )
    assert "Take less of Bun: 33 % of what was taken along was sold." in said


def test_what_sells_out_is_pushed_and_what_brings_nothing_dropped(tmp_path: Path) -> None:
    said = season_of(tmp_path, *[(20, 20, "sun")] * 2, *[GOOD] * 2)
    assert "Push Bun: it sold out on 2 of 4 days, so take more along." in said
    said = season_of(tmp_path, *[GOOD] * 4, price="1.50")  # 0.50 for 3 minutes
    assert (
        "Drop Bun, or raise its price: an hour of making it left 10.00 before the day was paid, "
        "and 12.00 is wished." in said
    )


def test_of_two_outlets_the_better_one_is_pushed() -> None:
    out = run("day", SEASON, "--on", "2026-11-20")[1]
    assert (
        "Push Harbour market: half of its 7 days paid 23.67 an hour or more, the most of your "
        "outlets." in out
    )


def test_rain_is_told_apart_where_enough_days_of_both_speak(tmp_path: Path) -> None:
    said = season_of(tmp_path, *[GOOD] * 4, *[POOR] * 4)
    assert (
        "In the rain (rain) half of 4 days paid 8.57 an hour or less; in the dry (sun) half of 4 "
        "days paid 17.50 or less." in said
    )
    assert "In the rain" not in season_of(tmp_path, *[GOOD] * 4, *[POOR] * 3)


def test_three_days_say_nothing(tmp_path: Path) -> None:
    said = season_of(tmp_path, *[GOOD] * 3)
    assert not any(word in said for word in ("Keep", "Push", "Drop", "Take less"))


@pytest.mark.parametrize(
    ("words", "wet"),
    [("Rain", True), ("light showers", True), ("snow", True), ("sunny", False), ("no rain", False)],
)
def test_which_words_mean_rain(words: str, *, wet: bool) -> None:
    assert is_wet(words) is wet


# ---------------------------------------------------------------- the sheet, live


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("season")
    market = f"{MARKET}2026-11-07 | Pier | 3 | 50 | 150 | |"
    path = make_book(folder / "stall.xlsx", sheets(STALL, DAYS_SALES, market))
    assert run("cost", path, "--output", folder / "out.xlsx", "--on", ON)[0] == 0
    return folder / "out.xlsx"


def test_a_day_typed_into_spare_rows_is_the_last_one_without_a_run(
    written: Path, tmp_path: Path
) -> None:
    typed = "2026-11-14 | Pier | 4 | 50 | 200 | |"
    again = make_book(
        tmp_path / "again.xlsx",
        sheets(
            STALL,
            f"{DAYS_SALES}\n2026-11-14 | Pier | Bun | 30 | 30 | | | ",
            f"{MARKET}2026-11-07 | Pier | 3 | 50 | 150 | |\n{typed}",
        ),
    )
    expected = json.loads(run("day", again, "--json", "--on", ON)[1])["days"][1]
    with IronCalc() as judge:
        document = judge.open(written)
        document.set_many(
            [
                *(("Market days", at, value) for at, value in row(3, 46_340, "Pier", 4, 50, 200)),
                *(("Sales", at, value) for at, value in row(3, 46_340, '"', "Bun", 30, 30)),
            ]
        )
        document.recalculate()
        cells = document.values("Season")
    last = last_day(cells)
    assert last[:2] == [46_340, "Pier"]
    names = ("left_for_own_work", "own_hours", "pay_per_hour", "margin")
    for name, found in zip(names, (*last[9:12], last[12]), strict=True):
        assert found == pytest.approx(expected[name]), name


def row(number: int, *values: object) -> list[tuple[str, Any]]:
    """Cells of a row, from column A on."""
    return [(f"{letter}{number}", value) for letter, value in zip("ABCDEFG", values, strict=False)]


def last_day(cells: dict[str, Any]) -> list[Any]:
    """The line below the headings of the last day."""
    at = next(int(cell[1:]) for cell, value in cells.items() if value == "The last day") + 2
    return [cells.get(f"{letter}{at}") for letter in "ABCDEFGHIJKLMN"]


def test_without_a_day_the_sheet_says_so(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", sheets(STALL, MARKET))
    assert run("cost", path, "--output", tmp_path / "out.xlsx", "--on", ON)[0] == 0
    with IronCalc() as judge:
        cells = judge.open(tmp_path / "out.xlsx").values("Season").values()
    assert "No market day that can be read yet: a day has a date and an outlet." in cells


def test_the_front_sheet_has_the_last_day(written: Path) -> None:
    with IronCalc() as judge:
        cells = judge.open(written).values("In short").values()
    said = "2026-11-07, Pier: 4.0 hours of yours: 17.50 an hour, and 12.00 is wished."
    assert f"{said} (2026-11-25)" in cells
