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


def status(answer: dict[str, Any]) -> int:
    """1 where something is wrong, as the exit status."""
    return int(any(each["severity"] == "wrong" for each in answer["problems"]))


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


# ---------------------------------------------------------------- nearly another's name


def test_a_usable_share_under_nearly_the_items_name_leaves_it_unknown() -> None:
    book = sheets(STALL)
    book["Items"][1] = ["Flours", 80, None]
    answer = costed(book)
    assert status(answer) == 1
    assert answer["products"][0]["cost"]["ingredients"] is None


def test_a_row_for_both_names_answers_that() -> None:
    book = sheets(STALL)
    book["Items"] += [["Flours", 80, None]]
    answer = costed(book)
    # 1000 g of flour at 5 for 5 kg, and 10 eggs at 9 for 30: 1.00 + 3.00, over 10 rolls
    assert answer["products"][0]["cost"]["ingredients"] == 0.4
    assert said(answer) == []


@pytest.mark.parametrize("supplier", [None, "Hillfarm", "Market"])
def test_a_newer_receipt_not_from_the_usual_supplier_is_said(supplier: str | None) -> None:
    answer = with_receipts(["2026-11-08", "Eggs, large", supplier, 1, 30, "ct", 12])
    assert row_of(answer, "item", "Eggs, large")["price_per_base_unit"] == 0.3
    assert (
        "Purchases!C4: this receipt of Eggs, large (2026-11-08, 30 ct at 12) is newer than the "
        in (" ".join(said(answer)))
    )


@pytest.mark.parametrize("day", ["2026-11-01", "2026-10-20", "2026-12-24"])
def test_of_receipts_that_are_not_newer_nothing_is_said(day: str) -> None:
    answer = with_receipts([day, "Eggs, large", "Market", 1, 30, "ct", 12])
    assert "newer" not in str(said(answer))


def test_the_newest_of_many_set_aside_is_said_once() -> None:
    rows: list[list[object]] = [
        [f"2026-11-{day:02}", "Eggs, large", "Market", 1, 30, "ct", 12] for day in range(2, 20)
    ]
    told = [each for each in said(with_receipts(*rows)) if "newer" in each]
    assert [each.partition(":")[0] for each in told] == ["Purchases!C21"]


MISSPELT = [
    "Egs, large",
    "Eggs large",
    "eggs,large",
    "Large eggs",
    "Eggs",
    "Egg, large",
    "Eggs, lagre",
    "Egs, lareg",
]


@pytest.mark.parametrize("name", MISSPELT)
def test_a_newest_receipt_under_nearly_the_items_name_is_said(name: str) -> None:
    answer = with_receipts(["2026-11-08", name, "Hill Farm", 1, 30, "ct", 12])
    price = row_of(answer, "item", "Eggs, large")["price_per_base_unit"]
    told = [each for each in said(answer) if "is used nowhere" in each]
    assert price == 0.4 or told == [
        f'Purchases!B4: "{name}" is used nowhere, and "Eggs, large" is nearly the same name.'
    ]


QUIET = ["Coffee", "Butter", "Napkins", "Rye meal", "Salt", "Tea 2"]


@pytest.mark.parametrize("name", QUIET)
def test_of_other_things_bought_nothing_is_said(name: str) -> None:
    assert said(with_receipts(["2026-11-08", name, "Market", 1, 1, "kg", 12])) == []


def test_two_suppliers_with_many_receipts_are_two() -> None:
    flour: list[list[object]] = [
        [f"2026-10-{day:02}", "Flour", shop, 1, 1, "kg", 1]
        for shop in ("Mill Lane", "Mill Lade")
        for day in range(1, 4)
    ]
    assert said(with_receipts(*flour)) == []


# ---------------------------------------------------------------- one name, however it is drawn

THE_SAME = {
    "a line break": "Eggs,\nlarge",
    "a tab": "Eggs,\tlarge",
    "a thin space": "Eggs,\u2009large",
    "a figure space": "Eggs,\u2007large",
    "a no-break space": "Eggs,\u00a0large",
    "a zero-width space": "Eg\u200bgs, large",
    "a byte order mark": "\ufeffEggs, large",
    "a soft hyphen": "Eggs, lar\u00adge",
    "direction marks": "\u200eEggs, large\u200f",
    "direction isolates": "\u2066Eggs, large\u2069",
    "full-width letters": "Ｅｇｇｓ， ｌａｒｇｅ",
    "a line separator": "Eggs,\u2028large",
}


@pytest.mark.parametrize("how", THE_SAME)
@pytest.mark.parametrize("where", ["Purchases", "Items", "Recipes"])
def test_names_that_differ_in_what_is_not_seen_are_one(how: str, where: str) -> None:
    book = sheets(STALL)
    book[where][2][0 if where == "Items" else 1] = THE_SAME[how]
    answer = costed(book)
    assert (said(answer), answer["products"][0]["cost"]["ingredients"]) == ([], 0.4)


ACCENTS = [
    ("Crème fraîche", "Cre\u0300me frai\u0302che"),
    ("Miller's flour", "Miller’s flour"),
    ("All-purpose flour", "All–purpose flour"),
    ("Flour 00", "Flour ００"),
]


@pytest.mark.parametrize(("one", "other"), ACCENTS)
def test_accents_and_signs_drawn_otherwise_are_the_same(one: str, other: str) -> None:
    book = sheets(STALL)
    book["Items"][1][0] = book["Purchases"][1][1] = one
    book["Recipes"][1][1] = other
    assert said(costed(book)) == []


def test_suppliers_are_the_same_too() -> None:
    answer = with_receipts(["2026-11-08", "Eggs, large", "Hill\u200b\u2009Farm", 1, 30, "ct", 12])
    assert (said(answer), row_of(answer, "item", "Eggs, large")["price_per_base_unit"]) == ([], 0.4)


def test_a_name_of_nothing_to_be_seen_is_blank() -> None:
    answer = with_receipts(["2026-11-08", "\u200b", "Hill Farm", 1, 30, "ct", 12])
    assert "Purchases!B4: the row has no Item, so it was left out." in said(answer)


def test_a_slip_in_a_line_is_asked_there_alone() -> None:
    book = sheets(STALL)
    book["Recipes"][2][1] = "Egs, large"
    assert said(costed(book)) == ['Recipes!B3: no item is called "Egs, large".']


def test_an_offer_under_nearly_the_items_name_is_said() -> None:
    book = sheets(STALL)
    book["Offers"] = [
        ["Item", "Supplier", "Pack size", "Unit", "Price per pack"],
        ["Flower", "Mill Lane", 25, "kg", 20],
    ]
    assert said(costed(book)) == [
        'Offers!A2: "Flower" is used nowhere, and "Flour" is nearly the same name.'
    ]


def test_what_a_supplier_costs_under_nearly_its_name_is_said() -> None:
    book = sheets(STALL)
    book["Suppliers"] = [["Supplier", "Membership per year"], ["Mil Lane", 60]]
    assert [each for each in said(costed(book)) if "read as another" in each] == [
        'Suppliers!A2: "Mil Lane" is read as another supplier than "Mill Lane".'
    ]
