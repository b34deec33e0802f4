"""Sold at keeps a product out of the outlets that it isn't sold at.

The flatbread takes 500 g, the dozen 6 kg. A market that sells 52 units on each of 52 days sells 52
a week; a café 26 a week. Flatbread at both, the dozen at the café: 52 + 13 flatbreads and, of the
dozen, 13 units a week, each of 500 g: 78 × 0.5 = 39 kg a week.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.writing.pages.in_step import ONE_ROW, STILL_TRUE
from tests.costing.costed import costed_sheets
from tests.helpers import make_book, priced, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import Sheets, sheets
from tests.writing.test_ladder import BOOK

ON = ("--on", "2026-11-20")


def stall(sold_at: object, *, outlets: tuple[str, str] = ("Market", "Cafe")) -> Sheets:
    """The dozen is sold at these outlets; the flatbread everywhere."""
    book = sheets(BOOK)
    heading, flatbread, dozen = book["Products"]
    book["Products"] = [[*heading, "Sold at"], [*flatbread, None], [*dozen, sold_at]]
    named = zip(("Outlet", *outlets), book["Outlets"], strict=True)
    days = ("Days per year", 52, 26)
    book["Outlets"] = [
        [name, *row[1:4], sold, *row[5:], day]
        for (name, row), sold, day in zip(named, ("Units sold per day", 52, 52), days, strict=True)
    ]
    return book


def sold(answer: dict[str, Any]) -> list[tuple[str, str]]:
    return [(each["product"], each["outlet"]) for each in answer["products"]]


EVERYWHERE = [
    *(("Flatbread", "Market"), ("Flatbread", "Cafe")),
    *(("Dozen", "Market"), ("Dozen", "Cafe")),
]


@pytest.mark.parametrize(
    ("typed", "at"),
    [
        (None, ["Market", "Cafe"]),
        ("everywhere", ["Market", "Cafe"]),
        ("Cafe", ["Cafe"]),
        (" cafe , market ", ["Market", "Cafe"]),
        ("Market and Cafe", ["Market", "Cafe"]),
        ("Market; Cafe", ["Market", "Cafe"]),
    ],
)
def test_a_product_is_priced_where_it_is_sold(typed: object, at: list[str]) -> None:
    answer = priced(stall(typed))
    assert [outlet for product, outlet in sold(answer) if product == "Dozen"] == at
    assert not [each for each in answer["problems"] if "outlet" in each["what"]]


def test_an_outlet_may_have_a_comma_or_an_and_in_its_name() -> None:
    answer = priced(stall("Nick, Main St, Bread and Co", outlets=("Bread and Co", "Nick, Main St")))
    # the comma parts what is no name, and so this is asked
    assert [each["what"] for each in answer["problems"] if each["cell"] == "D3"] == [
        'no outlet is called "Nick", so it is shown at all of them.',
        'no outlet is called "Main St", so it is shown at all of them.',
    ]
    assert sold(priced(stall("Nick, Main St", outlets=("Bread and Co", "Nick, Main St"))))[2:] == [
        ("Dozen", "Nick, Main St")
    ]
    assert sold(priced(stall("Bread and Co", outlets=("Bread and Co", "Nick"))))[2:] == [
        ("Dozen", "Bread and Co")
    ]


def test_a_name_that_is_nobodys_is_asked_and_leaves_nothing_out() -> None:
    answer = priced(stall("Caffe"))
    assert sold(answer) == EVERYWHERE
    said = [each for each in answer["problems"] if each["sheet"] == "Products"]
    assert [(each["severity"], each["cell"], each["what"], each["remedy"]) for each in said] == [
        (
            "wrong",
            "D3",
            'no outlet is called "Caffe", so it is shown at all of them.',
            'Did you mean "Cafe"?',
        )
    ]
    said = [each for each in priced(stall("Zzyzx"))["problems"] if each["sheet"] == "Products"]
    assert [each["remedy"] for each in said] == ["Add it to Outlets, or leave the cell empty."]


def test_an_outlet_at_which_nothing_is_sold_is_doubted() -> None:
    book = stall("Cafe")
    book["Products"][1][-1] = "Cafe"
    answer = priced(book)
    assert sold(answer) == [("Flatbread", "Cafe"), ("Dozen", "Cafe")]
    doubts = [each for each in answer["problems"] if each["sheet"] == "Outlets"]
    assert [(each["severity"], each["what"], each["remedy"]) for each in doubts] == [
        (
            "doubtful",
            'no product is sold at "Market", so nothing is shown of it.',
            "Name it in Sold at on Products, if one is.",
        )
    ]


def test_a_week_needs_what_is_sold_where_it_is_sold() -> None:
    everywhere, only = costed_sheets(stall(None)), costed_sheets(stall("Cafe"))
    # 52 + 26 units a week, each of 500 g, whichever product they are of
    for costing in (everywhere, only):
        assert costing.figures["item_use"][0]["needed_per_week"] == 39_000
    sold_a_week = [each["units_per_week"] for each in only.figures["pack_needs"]]
    assert sold_a_week == [65, 13]


def test_what_is_not_sold_somewhere_stands_on_no_sheet_of_it(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall("Cafe"))
    run("cost", path, *ON)
    ours = openpyxl.load_workbook(path, data_only=True)
    for name in ("Prices", "Cost cards", "What moved", "Try a change"):
        rows = [[cell for cell in row if cell] for row in ours[name].iter_rows(values_only=True)]
        assert not [row for row in rows if row[:2] == ["Dozen", "Market"]], name
    assert run("explain", path, "Dozen", "--outlet", "Market", *ON)[2].splitlines() == [
        'costbook: "Dozen" is not sold at "Market". At: Cafe.'
    ]


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [(None, "Cafe", ONE_ROW), ("Cafe", "Market", ONE_ROW), ("Cafe", "cafe", STILL_TRUE)],
)
def test_an_outlet_typed_later_asks_for_a_run(
    before: object, after: str, says: str, tmp_path: Path, ironcalc: IronCalc
) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall(before))
    run("cost", path, *ON)
    document = ironcalc.open(path)
    document.set("Products", "D3", after)
    document.recalculate()
    assert document.values("Prices")["A3"] == says
