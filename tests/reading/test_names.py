"""Names as tired people type them: ditto marks, other spaces, letters that only look different."""

from __future__ import annotations

from typing import Any

import pytest

from tests.reading.costed import costed
from tests.tables import row_of, sheets

STALL = """
Settings
Setting         | Value
Currency        | USD
Pay per hour    | 18
Target margin % | 35

Purchases
Date       | Item        | Supplier  | Packs | Pack size | Unit | Price per pack
2026-11-01 | Flour       | Mill Lane | 1     | 5         | kg   | 5
2026-11-01 | Eggs, large | Hill Farm | 1     | 30        | ct   | 9

Items
Item        | Usable % | Usual supplier
Flour       |          |
Eggs, large |          | Hill Farm

Recipes
Recipe | Uses        | Amount | Unit
Roll   | Flour       | 1000   | g
Roll   | Eggs, large | 10     | ea

Batches
Recipe | Makes | Unit
Roll   | 10    | ea

Stages
Recipe | Stage | Minutes per batch
Roll   | Mix   | 10

Products
Product | Recipe | Units per pack
Roll    | Roll   | 1
"""


def with_receipts(*rows: list[object]) -> dict[str, Any]:
    """What is said of the stall with more receipts."""
    book = sheets(STALL)
    book["Purchases"] += rows
    return costed(book)


def said(answer: dict[str, Any]) -> list[str]:
    return [f"{each['sheet']}!{each['cell']}: {each['what']}" for each in answer["problems"]]


MARKS = ['"', " ” ", "''", "〃", "ditto", "Ditto", "do.", "idem", "same", '-"-', "as\u00a0above"]
REPEATED = "this was read as a ditto mark: it repeats the cell above."


@pytest.mark.parametrize("mark", MARKS)
def test_a_ditto_mark_repeats_the_cell_above(mark: str) -> None:
    # the mark's receipt is the newest: 12 for 30 eggs, from Hill Farm, on the day above
    answer = with_receipts(
        ["2026-11-08", "Eggs, large", "Hill Farm", 1, 30, "ct", 10.5],
        [mark, mark, mark, 1, 30, "ct", 12],
    )
    eggs = row_of(answer, "item", "Eggs, large")
    assert (eggs["price_per_base_unit"], eggs["supplier"]) == (0.4, "Hill Farm")
    assert [each for each in said(answer) if REPEATED in each] == [
        f"Purchases!{column}5: {REPEATED}" for column in "ABC"
    ]


def test_a_dash_is_no_mark() -> None:
    answer = with_receipts(["2026-11-08", "Eggs, large", "-", 1, 30, "ct", 12])
    assert REPEATED not in str(answer["problems"])


def test_two_hundred_marks_are_said_once() -> None:
    eggs: list[object] = ["2026-11-08", "Eggs, large", "Hill Farm", 1, 30, "ct", 12]
    rows: list[list[object]] = [
        ["2026-11-08", '"', "Hill Farm", 1, 30, "ct", 12 + at] for at in range(200)
    ]
    told = [each for each in said(with_receipts(eggs, *rows)) if REPEATED in each]
    assert told == [f"Purchases!B5: {REPEATED} So it is in rows 6–204."]


def test_a_mark_with_nothing_above_is_asked() -> None:
    book = sheets(STALL)
    book["Purchases"][1][2] = '"'
    book["Recipes"][1][0] = "ditto"
    nothing = "this was read as a ditto mark, and there is nothing above that it repeats."
    assert [each for each in said(costed(book)) if nothing in each] == [
        f"Purchases!C2: {nothing}",
        f"Recipes!A2: {nothing}",
    ]
