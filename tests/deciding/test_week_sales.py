"""What happened lately with what is wanted: packs taken, sold and sold out on the last market days.

Sums over the sample's Sales.csv, 11, 24 and 25 October: dumplings 20 + 24 + 23 of 22 + 40 + 24, one
pack sampled; soup 12 + 30 + 15 of 14 + 30 + 16; buns 28 + 20 + 30 of 30 + 40 + 30, three spoiled.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from costbook.round_trip import read_and_cost
from costbook.writing.pages.week import LATELY
from tests.deciding.season import ON, STALL
from tests.helpers import make_book, run
from tests.samples.build import SAMPLES
from tests.tables import sheets
from tests.writing.test_week_page import sheet_of, texts

SEASON = SAMPLES / "market_season.xlsx"
IN_WORDS = {
    "Cabbage dumplings, six": "67 of 86 on 3 days to 2026-10-25, sold out on none",
    "Lentil soup": "57 of 60 on 3 days to 2026-10-25, sold out on 1",
    "Plum bun": "78 of 100 on 3 days to 2026-10-25, sold out on 1",
}

PLAN = """
Plan
Product | Wanted
Bun     | 20
"""
SALES = """
Sales
Date       | Outlet | Product | Taken | Sold | Sampled | Spoiled
{}
"""


def planned(folder: Path, *rows: str) -> tuple[str, list[dict[str, Any]]]:
    """What `plan` says of lately sold buns, and its JSON, with some rows on Sales."""
    path = make_book(folder / "stall.xlsx", sheets(STALL, PLAN, SALES.format("\n".join(rows))))
    said = run("plan", path, "--on", ON)[1].splitlines()[0]
    _, out, _ = run("plan", path, "--on", ON, "--json")
    (product,) = json.loads(out)["products"]
    return said.partition(" Lately sold: ")[2], product["sold_lately"]


def test_the_sample_as_summed_by_hand() -> None:
    _, out, _ = run("plan", SEASON, "--on", "2026-11-20")
    for name, said in IN_WORDS.items():
        (line,) = (
            each for each in out.splitlines() if each.startswith(f"{name}: ") and "wanted" in each
        )
        assert line.endswith(f" Lately sold: {said}.")


def test_it_stands_beside_wanted_on_the_sheet() -> None:
    rows = texts(sheet_of(read_and_cost(SEASON, date(2026, 11, 20)).costing))
    at = next(at for at, row in enumerate(rows) if LATELY in row)
    assert {row[0]: row[6] for row in rows[at + 1 : at + 4]} == IN_WORDS


def test_without_sales_nothing_is_said_of_it(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", sheets(STALL, PLAN))
    assert "Lately" not in run("plan", path, "--on", ON)[1]
    assert "sold_lately" not in run("plan", path, "--on", ON, "--json")[1]
    costing = read_and_cost(path, date.fromisoformat(ON)).costing
    assert all(LATELY not in row for row in texts(sheet_of(costing)))


def test_of_four_days_the_last_three_count_and_one_of_no_pack_taken_is_none(
    tmp_path: Path,
) -> None:
    """5 + 6 + 8 of 10 + 10 + 10; on the 21st nothing was taken, and the 28th is still to come."""
    said, days = planned(
        tmp_path,
        "2026-11-14 | Pier | Bun | 10 | 6",
        "2026-11-01 | Pier | Bun | 99 | 99",
        "2026-11-07 | Pier | Bun | 10 | 5",
        "2026-11-21 | Pier | Bun | 0  | 0",
        "2026-11-22 | Pier | Bun | 10 | 8 | 2",
        "2026-11-28 | Pier | Bun | 10 | 1",
    )
    assert said == "19 of 30 on 3 days to 2026-11-22, sold out on 1."
    assert [each["date"] for each in days] == ["2026-11-07", "2026-11-14", "2026-11-22"]


def test_rows_of_one_day_and_outlet_are_added_up(tmp_path: Path) -> None:
    """20 + 7 of 20 + 10: the first tray sold out, and buns came home all the same."""
    said, days = planned(
        tmp_path, "2026-11-14 | Pier | Bun | 20 | 20", "2026-11-14 | Pier | bun | 10 | 7"
    )
    assert said == "27 of 30 on 1 day to 2026-11-14, sold out on none."
    assert days == [
        {"date": "2026-11-14", "outlet": "Pier", "taken": 30, "sold": 27, "sold_out": False}
    ]


@pytest.mark.parametrize("rows", [(), ("2026-11-14 | Pier | Bun | 0 | 0",)])
def test_what_was_never_taken_along_is_said_to_be_so(tmp_path: Path, rows: tuple[str]) -> None:
    assert planned(tmp_path, *rows) == ("not taken along yet.", [])


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("2026-11-14 | Pier | Bun | 20 |   ", "? of 30 on 2 days"),
        ("2026-11-14 | Pier | Bun |    | 12", "22 of ? on 2 days"),
        ("2026-11-14 | Pier | Bun |    |   ", "? of ? on 2 days"),
        # more than were taken: how many were sold isn't known either
        ("2026-11-14 | Pier | Bun | 20 | 21", "? of 30 on 2 days"),
    ],
)
def test_what_a_half_filled_row_does_not_say_stays_unknown(
    tmp_path: Path, row: str, said: str
) -> None:
    """Beside a day on which 10 of 10 were sold."""
    found, days = planned(tmp_path, "2026-11-07 | Pier | Bun | 10 | 10", row)
    assert found == f"{said} to 2026-11-14, sold out on 1 (1 not known)."
    assert days[1]["sold_out"] is None


@pytest.mark.parametrize("row", ["2026-11-14 | Pier | Bunn | 9 | 9", "| Pier | Bun | 9 | 9"])
def test_a_row_that_may_be_of_it_puts_it_in_doubt(tmp_path: Path, row: str) -> None:
    found, days = planned(tmp_path, "2026-11-07 | Pier | Bun | 10 | 8", row)
    assert found.endswith(
        "8 of 10 on 1 day to 2026-11-07, sold out on none; a row of Sales is in doubt."
    )
    assert len(days) == 1
