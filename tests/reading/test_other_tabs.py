# ruff: noqa: E501 - one line a sentence, however long it is
"""Tabs that are like one of the sheets and not it: read, asked or said, never passed over."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.helpers import Book, make_book, priced, run
from tests.judges import Judge
from tests.live.following import cost_book, differences
from tests.live.test_names_followed import edit
from tests.reading.costed import costed
from tests.reading.test_layouts import (
    BATCHES,
    PLAIN,
    PRODUCTS,
    PURCHASES,
    RECIPES,
    STAGES,
    Rows,
    figures,
    without,
)
from tests.tables import sheets

OVERHEADS: Rows = [["Cost", "Amount", "Per"], ["Gas", 2, "batch"]]


def said(answer: dict[str, Any]) -> list[str]:
    return [
        f"{p['severity']} {p['sheet']}{'!' * bool(p['cell'])}{p['cell']}: {p['what']} {p['remedy']}"
        for p in answer["problems"]
    ]


def of_tab(answer: dict[str, Any], tab: str) -> list[str]:
    return [line for line in said(answer) if line.split(" ", 1)[1].startswith(tab)]


def part(answer: dict[str, Any], name: str) -> float | None:
    cost: dict[str, float | None] = answer["products"][0]["cost"]
    return cost[name]


def receipts(*rows: list[object]) -> Rows:
    return [PURCHASES[0], *rows]


FLOUR: list[object] = ["2026-11-01", "Flour", "Mill", 1, 2, "kg", 1.5]
DEARER: list[object] = ["2026-11-01", "Flour", "Mill", 1, 2, "kg", 3]


# ---------------------------------------------------------------- receipts


def asked(sheet: str, rows: str, tab: str = "") -> str:
    tab = tab or sheet
    return (
        f'this tab has the headings of {sheet} too, and {rows} on "{tab}"; until there is one tab, what rests on {sheet} is not known. '
        f'Copy its rows below those of "{tab}" and delete it; or move it to another workbook, if they don\'t count.'
    )


@pytest.mark.parametrize(
    "tab", ["Purchases (2)", "Purchases_2", "Copy of Purchases", "Receipts", "x"]
)
def test_a_copy_that_was_kept_up_to_date_is_asked(tab: str) -> None:
    answer = costed({**PLAIN, tab: receipts(FLOUR, DEARER)})
    assert part(answer, "ingredients") is None
    assert part(answer, "total") is None
    assert answer["products"][0]["price"]["on_step"] is None
    assert all(item["price_per_base_unit"] is None for item in answer["items"])
    assert said(answer)[0] == f"wrong {tab}!A1: " + asked("Purchases", "1 row that isn't")
    assert not any("has no price" in line for line in said(answer))


def test_a_receipt_of_another_tab_counts_for_its_own_supplier() -> None:
    """The mill's older receipt counts where the mill is the usual supplier."""
    newer: list[object] = ["2026-11-09", "Flour", "Shop", 1, 2, "kg", 9]
    older: list[object] = ["2026-11-05", "Flour", "Mill", 1, 2, "kg", 3]
    book: Book = {**PLAIN, "Purchases": [*PURCHASES, newer], "2025": receipts(older, older)}
    assert part(costed(book), "ingredients") is not None
    usual: Rows = [["Item", "Usual supplier", "Kind"], ["Flour", "Mill"]]
    answer = costed({**book, "Items": usual})
    assert part(answer, "ingredients") is None
    assert of_tab(answer, "2025") == ["wrong 2025!A1: " + asked("Purchases", "2 rows that aren't")]


def test_a_copy_whose_rows_are_all_there_is_said() -> None:
    answer = costed({**PLAIN, "Purchases (2)": receipts(FLOUR)})
    assert figures(answer) == figures(costed(PLAIN))
    assert of_tab(answer, "Purchases (2)") == [
        'doubtful Purchases (2)!A1: this tab was not read: all its rows stand on "Purchases" too. Delete it once you don\'t need it.'
    ]


YEARS = {
    "2024": receipts(["2024-11-01", "Flour", "Mill", 1, 2, "kg", 1], ["2024-11-01", "Fat", "Mill", 1, 1, "kg", 3]),
    "2025": receipts(["2025-11-01", "Flour", "Mill", 1, 2, "kg", 1.2]),
    "2026": PURCHASES,
}  # fmt: skip


def test_of_a_tab_a_year_the_latest_is_read_and_older_ones_are_said() -> None:
    answer = costed({**without("Purchases"), **YEARS})
    plain = costed(PLAIN)
    assert answer["products"] == plain["products"]
    assert of_tab(answer, "202") == [
        'doubtful 2024!A1: this tab has the headings of Purchases too, and was not read: what counts is newer. Copy its rows to "2026", if you want them.',
        'doubtful 2025!A1: this tab has the headings of Purchases too, and was not read: what counts is newer. Copy its rows to "2026", if you want them.',
        'doubtful 2026!A1: by its headings, this was read as the sheet Purchases. If that is right, you may rename the tab "Purchases".',
    ]


def test_a_year_with_an_item_that_was_not_bought_since_is_asked() -> None:
    """Leeks were last bought in 2025 but for one line without a day."""
    leeks: list[object] = [None, "Leeks", "Barn", 2, 500, "g", 9]
    answer = costed({**without("Purchases"), **YEARS, "2025": receipts(leeks)})
    assert part(answer, "ingredients") is None
    assert of_tab(answer, "2025") == [
        "wrong 2025!A1: " + asked("Purchases", "1 row that isn't", "2026")
    ]


# ---------------------------------------------------------------- other sheets


@pytest.mark.parametrize(
    ("sheet", "rows", "unknown"),
    [
        ("Recipes", [RECIPES[0], ["Leek roll", "Flour", 1000, "g", None]], "ingredients"),
        ("Batches", [BATCHES[0], ["Leek roll", 20, "ea"]], "ingredients"),
        ("Stages", [STAGES[0], ["Leek roll", "Bake", 1, 50]], "labour"),
        ("Overheads", [OVERHEADS[0], ["Rent", 100, "month"]], "overhead"),
        ("Products", [PRODUCTS[0], ["Leek roll, single", "Leek roll", 2, 2.5]], "ingredients"),
    ],
)
def test_more_rows_of_a_sheet_on_another_tab_are_asked(
    sheet: str, rows: Rows, unknown: str
) -> None:
    book = {**PLAIN, "Overheads": OVERHEADS}
    answer = costed({**book, f"{sheet} (2)": rows})
    assert part(costed(book), unknown) is not None
    assert part(answer, unknown) is None
    assert part(answer, "total") is None
    assert of_tab(answer, f"{sheet} (2)") == [
        f"wrong {sheet} (2)!A1: " + asked(sheet, "1 row that isn't")
    ]


MOVE = 'Copy its rows below those of "{}" and delete it; or move it to another workbook, if they don\'t count.'


def test_a_log_a_supplier_is_asked_for_what_is_bought_only_on_the_other() -> None:
    mill, barn = receipts(*PURCHASES[1:2]), receipts(*PURCHASES[2:])
    answer = costed({**without("Purchases"), "Mill": mill, "Barn": barn})
    assert part(answer, "ingredients") is None
    assert of_tab(answer, "Mill") == [
        'wrong Mill!A1: this tab was not read, and only there stands what is needed of Purchases: "Flour". '
        + MOVE.format("Barn")
    ]


def test_recipes_that_are_sold_and_stand_only_on_another_tab_are_asked() -> None:
    pie: Rows = [RECIPES[0], ["Pie", "Flour", 100, "g", None]]
    products: Rows = [*PRODUCTS, ["Pie", "Pie", 1, 3]]
    answer = costed({**PLAIN, "Products": products, "Recipes winter": pie})
    roll, sold = answer["products"]
    assert (roll["cost"]["ingredients"], sold["cost"]["ingredients"]) == (
        part(costed(PLAIN), "ingredients"),
        None,
    )
    assert of_tab(answer, "Recipes winter") == [
        'wrong Recipes winter!A1: this tab was not read, and only there stands what is needed of Recipes: "Pie". '
        + MOVE.format("Recipes")
    ]


def test_recipes_that_nothing_needs_are_said() -> None:
    answer = costed({**PLAIN, "Ideas": [RECIPES[0], ["Pie", "Flour", 100, "g", None]]})
    assert answer["products"] == costed(PLAIN)["products"]
    assert of_tab(answer, "Ideas") == [
        'doubtful Ideas!A1: this tab has the headings of Recipes too, and was not read: no cost rests on its rows. Copy its rows to "Recipes", if you want them.'
    ]


def test_offers_on_two_tabs_change_no_cost() -> None:
    offers: Rows = [
        ["Item", "Supplier", "Pack size", "Unit", "Price per pack"],
        ["Flour", "Shop", 5, "kg", 4],
    ]
    more: Rows = [offers[0], ["Flour", "Cash and carry", 25, "kg", 15]]
    answer = costed({**PLAIN, "Offers": offers, "Quotes of May": more})
    assert answer["products"] == costed(PLAIN)["products"]
    assert of_tab(answer, "Quotes of May") == [
        'doubtful Quotes of May!A1: this tab has the headings of Offers too, and was not read: no cost rests on its rows. Copy its rows to "Offers", if you want them.'
    ]


TWO_TABS = """
Settings
Setting         | Value
Currency        | USD
Costing date    | 2026-11-25
Pay per hour    | 18
Target margin % | 35

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 5         | kg   | 6.5

Receipts of May
Date       | Item  | Pack size | Unit | Price per pack
2026-11-09 | Flour | 5         | kg   | 9.5

Recipes
Recipe | Uses  | Amount | Unit
Roll   | Flour | 900    | g

Batches
Recipe | Makes | Unit
Roll   | 24    | ea

Stages
Recipe | Stage | Minutes per batch
Roll   | Mix   | 12

Stages (2)
Recipe | Stage | Minutes per batch
Roll   | Bake  | 30

Products
Product | Recipe | Units per pack | Current price
Roll    | Roll   | 1              | 4
"""


def test_the_figures_of_a_sheet_that_is_on_two_tabs_are_unknown_in_the_live_sheets_too(
    judge: Judge, tmp_path: Path
) -> None:
    path = make_book(tmp_path / "stall.xlsx", sheets(TWO_TABS))
    book = cost_book(path, tmp_path / "costed.xlsx")
    tally = differences(judge, book, [edit("Purchases!E2", 6.5, 7)])
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    [product] = book.new_run.first.costing.figures["products"]
    assert (product["ingredients"], product["labour"]) == (None, None)


# ---------------------------------------------------------------- recipes apart


LINES: Rows = [["Ingredient", "Qty", "Unit", "EP %"], *(row[1:] for row in RECIPES[1:])]


@pytest.mark.parametrize(("tab", "above"), [("Leek roll", []), ("Sheet7", [["LEEK ROLL"], []])])
def test_a_recipe_on_a_tab_of_its_own_is_recognised(tab: str, above: Rows) -> None:
    answer = costed({**without("Recipes"), tab: [*above, *LINES]})
    assert part(answer, "ingredients") is None
    name = tab if not above else "LEEK ROLL"
    assert of_tab(answer, tab) == [
        f'wrong {tab}!A{1 + len(above)}: this tab was not read: it looks like the recipe "{name}" on its own. Copy its lines to the sheet Recipes, each with "{name}" in front of it under the heading Recipe.'
    ]


def test_a_recipe_as_a_block_is_recognised() -> None:
    answer = costed({**PLAIN, "Recipes": [["Leek roll"], *LINES]})
    assert part(answer, "ingredients") is None
    assert [line for line in said(answer) if line.startswith("wrong Recipes!")] == [
        'wrong Recipes!A2: there is no heading "Recipe". One block a recipe is not read: put this heading before the lines, and "Leek roll" below it in each line.'
    ]  # fmt: skip


# ---------------------------------------------------------------- tabs of other things


def test_tabs_that_look_like_ours_are_named_once() -> None:
    list_: Rows = [["Item", "Qty", "Unit"], ["Salt", 1, "kg"]]
    answer = costed({**PLAIN, "Shopping": list_, "Settings (2)": [["Pay", 99]]})
    assert figures(answer) == figures(costed(PLAIN))
    assert said(answer)[0] == (
        'doubtful Shopping: these tabs were not read: "Shopping", "Settings (2)". If there are rows for costing, copy them to the sheet that they belong to.'
    )
    (one,) = of_tab(costed({**PLAIN, "Shopping": list_}), "Shopping")
    assert one.startswith('doubtful Shopping: this tab was not read: "Shopping". ')


def test_tabs_of_other_things_are_named_without_a_fuss(tmp_path: Path) -> None:
    more: Book = {"Diary": [["Saturday", "wet"], ["Sunday", 14]], "Ideas": [["Pies?"]], "Blank": []}
    path = make_book(tmp_path / "stall.xlsx", {**PLAIN, **more})
    code, out, err = run("check", path, "--on", "2026-11-25")
    assert (code, err) == (0, "")
    assert out.startswith("Nothing is wrong, and nothing is doubtful.\nNot read: Diary, Ideas.\n")
    assert priced(path)["not_read"] == ["Diary", "Ideas"]
    assert "\nNot read: Diary, Ideas.\n" in run("cost", path, "--on", "2026-11-25")[1]


def test_our_own_sheets_and_copies_of_them_are_no_other_tabs(tmp_path: Path) -> None:
    written = tmp_path / "costed.xlsx"
    priced(make_book(tmp_path / "stall.xlsx", PLAIN), output=written)
    book = openpyxl.load_workbook(written)
    book.copy_worksheet(book["Latest prices"]).title = "Latest prices (2)"
    book.save(written)
    answer = costed(written)
    assert (answer["not_read"], said(answer)) == ([], said(costed(PLAIN)))


def test_more_than_eight_tabs_are_counted() -> None:
    list_: Rows = [["Item", "Qty", "Unit"], ["Salt", 1, "kg"]]
    answer = costed({**PLAIN, **{f"List {at}": list_ for at in range(11)}})
    assert '"List 7" and 3 more.' in said(answer)[0]
