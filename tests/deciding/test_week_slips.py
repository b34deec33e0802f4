"""What people mistype on Plan, and beside it: the cell is named, and no sum is smaller for it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Final

import pytest

from costbook.deciding.buy_list import buy_list
from costbook.deciding.week import week
from costbook.problems import Severity
from costbook.round_trip import Costed
from tests.deciding.weeks import BOOK, costed, planned, with_rows
from tests.helpers import Book

TUB: Final = ("Filling, tub", "Leek filling", "500 g")
STOCKED: Final[Book] = {
    **with_rows("Products", *list(BOOK["Products"])[1:], TUB),
    "Items": [
        ("Item", "On hand", "On hand unit", "Par", "Par unit", "Order every days",
         "Comes after days", "Keeps days (your figure, not a safe storage life)"),
        ("Leek", 500, "g", None, None, None, None, 9),
        ("Flour", 1, "kg", 800, "g", 3, 2, 90),
        ("Bag", 12, "ea", 60, "ea", None, None, None),
    ],
}  # fmt: skip
CELLS: Final = (
    *(("Plan", 1, column) for column in (1, 3)),
    *(("Batches", 2, column) for column in (4, 5)),
    ("Stages", 2, 7),
    *(("Items", 2, column) for column in (1, 3, 5, 6, 7)),
    *(("Items", row, column) for row, column in ((1, 1), (1, 2), (3, 2), (3, 4))),
)
"""Sheet, row and column, both from nought, of each cell that only the week ahead asks for."""
SLIPS: Final = ("lots", -3, date(2026, 11, 28), "#REF!", "ask Ann", "3 sacks")


def slipped(sheet: str, row: int, column: int, value: object) -> Book:
    """The book with one cell typed otherwise."""
    rows = [list(each) for each in STOCKED[sheet]]
    rows[row][column : column + 1] = [value]
    return {**STOCKED, sheet: rows}


def sums(done: Costed) -> tuple[Decimal | None, Decimal | None]:
    """What the plan costs, and what the list comes to."""
    found = week(done.costing)
    assert found is not None
    cost = found.whole["cost"]
    return cost if isinstance(cost, Decimal) else None, buy_list(done.costing, 2).total


@pytest.mark.parametrize("cell", CELLS, ids=lambda cell: f"{cell[0]} {cell[1]} {cell[2]}")
def test_a_cell_that_cannot_be_read_is_named_and_lowers_no_sum(
    tmp_path: Path, cell: tuple[str, int, int]
) -> None:
    sheet, row, column = cell
    before = sums(costed(tmp_path, STOCKED))
    assert None not in before
    for value in SLIPS:
        done = costed(tmp_path, slipped(sheet, row, column, value))
        place = f"{chr(ord('A') + column)}{row + 1}"
        named = {each.place.cell for each in done.problems if each.place.sheet == sheet}
        assert place in named, value
        for once, now in zip(before, sums(done), strict=True):
            assert once is not None
            assert now is None or now >= once, value


def said(folder: Path, book: Book) -> list[str]:
    """What is said of its sheet Plan, without the file's name."""
    problems = costed(folder, book).problems
    return [str(each) for each in problems if each.place.sheet == "Plan"]


def test_batches_that_cannot_be_read_leave_the_recipe_open(tmp_path: Path) -> None:
    done = costed(tmp_path, planned(("Leek roll, single", 40, None, "two or so")))
    found = week(done.costing)
    assert found is not None
    assert (found.products[0].figures["out"], found.whole["cost"]) == (None, None)


def test_batches_without_a_product_may_be_of_any(tmp_path: Path) -> None:
    done = costed(tmp_path, planned(("Leek roll, single", 40), (None, None, "the café", 2)))
    found = week(done.costing)
    assert found is not None
    assert found.whole["cost"] is None


def test_fewer_batches_than_others_take_are_asked_about(tmp_path: Path) -> None:
    """40 rolls are two batches, each with 0.4 of one of filling: 0.8, and half of one is typed."""
    book = {**STOCKED, "Plan": planned(("Leek roll, single", 40), (TUB[0], 1, None, 0.5))["Plan"]}
    done = costed(tmp_path, book)
    assert said(tmp_path, book) == [
        (
            "Plan!D3: other recipes take 0.8 batches of this one, and 0.5 are typed. "
            "Type as many at least, or leave the cell empty."
        )
    ]
    found = week(done.costing)
    assert found is not None
    assert (found.products[1].figures["out"], found.whole["cost"]) == (None, None)
    enough = {**book, "Plan": planned(("Leek roll, single", 40), (TUB[0], 1, None, 0.8))["Plan"]}
    assert said(tmp_path, enough) == []


def test_a_part_of_a_pack_is_doubted(tmp_path: Path) -> None:
    book = planned(("Leek roll, six", 2.5))
    [only] = [each for each in costed(tmp_path, book).problems if each.place.sheet == "Plan"]
    assert (only.severity, only.place.cell) == (Severity.DOUBTFUL, "B2")
    assert f"{only.what} {only.remedy}" == (
        "2.5 packs are wanted, and only whole ones come out. Type a whole number."
    )


def test_the_same_wish_twice_is_doubted(tmp_path: Path) -> None:
    """Thirty for Saturday and thirty for the café are two wishes; twice for Saturday may be one."""
    saturday = ("Leek roll, single", 30, "Saturday")
    assert said(tmp_path, planned(saturday, ("Leek roll, single", 30, "the café"))) == []
    assert said(tmp_path, planned(saturday, saturday)) == [
        (
            "Plan!A3: this line says the same as row 2, and both count. "
            "Take one away, if it was typed twice."
        )
    ]


def test_more_batches_than_in_a_year_are_doubted(tmp_path: Path) -> None:
    """52 batches a year are 1,144 good rolls; 1,166 are 53."""
    assert said(tmp_path, planned(("Leek roll, single", 1144))) == []
    assert said(tmp_path, planned(("Leek roll, single", 1), ("Leek roll, single", 1165))) == [
        "Plan!B3: this takes 53 batches, and you make 52 a year. Look whether the number is right."
    ]


@pytest.mark.parametrize(("on_hand", "doubted"), [(34.3, False), (34.4, True), (50_000, True)])
def test_more_on_hand_than_is_used_in_a_year_is_doubted(
    tmp_path: Path, on_hand: float, doubted: bool
) -> None:
    """52 batches a year, of three products as often: two thirds of rolls, each with 900 g + 10 %.

    52 × 2/3 × 0.99 kg = 34.32 kg.
    """
    done = costed(tmp_path, slipped("Items", 2, 1, on_hand))
    sentence = (
        "Items!B3: so much is on hand as is not used in a year. "
        "Look whether the amount and its unit are right."
    )
    assert (sentence in map(str, done.problems)) is doubted


def test_a_count_of_more_than_a_year_s_use_is_doubted_where_it_stands(tmp_path: Path) -> None:
    counts = [("Date", "What", "Amount", "Unit"), (date(2026, 11, 24), "Flour", 34.4, "kg")]
    book = {**slipped("Items", 2, 1, None), "Counts": counts}
    said = [str(each) for each in costed(tmp_path, book).problems if each.place.sheet == "Counts"]
    assert said == [
        (
            "Counts!C2: so much is on hand as is not used in a year. "
            "Look whether the amount and its unit are right."
        )
    ]
