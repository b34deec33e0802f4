"""The price ladder follows what is picked in its boxes, and the next run keeps the choice.

A flatbread of 1.00 made, sold at the market without fees and to a café that takes 20 %. At a
margin of a half, on steps of 0.50: 2.00 at the market; at the café p × 0.8 − 1.00 = p ÷ 2, so
p = 3.33, on the step 3.50.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.helpers import costed, make_book, read_back, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import sheets

BOOK = """
    Settings
    Setting           | Value
    Currency          | USD
    Pay per hour      | 12
    Target margin %   | 50
    Price step        | 0.5
    No kitchen to pay | yes
    No overheads      | yes

    Purchases
    Date       | Item  | Pack size | Unit | Price per pack
    2026-11-01 | Flour | 1         | kg   | 2

    Recipes
    Recipe    | Uses  | Amount | Unit
    Flatbread | Flour | 5      | kg

    Batches
    Recipe    | Makes | Unit
    Flatbread | 10    | ea

    Stages
    Recipe    | Stage | Minutes per batch
    Flatbread | Bake  | 0

    Packaging
    Product   | Uses  | Amount | Unit | Per
    Flatbread | Flour | 0      | kg   | pack
    Dozen     | Flour | 0      | kg   | pack

    Products
    Product   | Recipe    | Units per pack
    Flatbread | Flatbread | 1
    Dozen     | Flatbread | 12

    Outlets
    Outlet | Kind | Fee per day | Hours per day | Units sold per day | Commission % | Card share %
    Market | stall | 0          | 0             | 10                 | 0            | 0
    Cafe   | stall | 0          | 0             | 10                 | 20           | 0
"""
ON = ("--on", "2026-11-20")
AT_THE_MARKET = [0.50, 1.00, 1.50, 2.00, 2.50, 3.00, 3.50], [-0.5, 0, 0.5, 1, 1.5, 2, 2.5]
AT_THE_CAFE = [2.00, 2.50, 3.00, 3.50, 4.00, 4.50, 5.00], [0.6, 1.0, 1.4, 1.8, 2.2, 2.6, 3.0]


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return costed(make_book(tmp_path / "stall.xlsx", sheets(BOOK)), *ON)


def boxes_row(path: Path) -> int:
    prices = read_back(path)["Prices"]
    return 1 + next(int(row[0].row) for row in prices if row[0].value == "Pick a product")


def ladder(values: Any, row: int) -> tuple[list[Any], list[Any]]:
    lines = [[values.get(f"{column}{at}") for column in "DEFGHIJ"] for at in (row, row + 1)]
    return lines[0], lines[1]


def stored(path: Path) -> dict[str, Any]:
    prices = read_back(path, data_only=True)["Prices"]
    return {cell.coordinate: cell.value for row in prices for cell in row}


def close_to(lines: tuple[list[float], list[float]]) -> tuple[Any, Any]:
    return pytest.approx(lines[0]), pytest.approx(lines[1])


def test_the_ladder_is_that_of_what_is_picked(stall: Path, ironcalc: IronCalc) -> None:
    row = boxes_row(stall)
    values = stored(stall)
    assert (values[f"A{row}"], values[f"B{row}"]) == ("Flatbread", "Market")
    assert ladder(values, row) == close_to(AT_THE_MARKET)
    document = ironcalc.open(stall)
    document.set("Prices", f"B{row}", "cafe")  # a capital doesn't matter
    document.recalculate()
    assert ladder(document.values("Prices"), row) == close_to(AT_THE_CAFE)
    document.set("Prices", f"A{row}", "Bun")
    document.recalculate()
    assert ladder(document.values("Prices"), row) == (["?"] * 7, ["?"] * 7)


def test_the_next_run_keeps_the_choice_and_says_nothing_of_it(stall: Path) -> None:
    row = boxes_row(stall)
    book = openpyxl.load_workbook(stall)
    book["Prices"][f"B{row}"] = "Cafe"
    book.save(stall)
    _, out, err = run("cost", stall, *ON)
    assert "you typed" not in out + err
    values = stored(stall)
    assert (values[f"A{row}"], values[f"B{row}"]) == ("Flatbread", "Cafe")
    assert ladder(values, row) == close_to(AT_THE_CAFE)


def test_what_is_sold_no_more_is_not_kept(stall: Path) -> None:
    row = boxes_row(stall)
    book = openpyxl.load_workbook(stall)
    book["Prices"][f"A{row}"] = "Bun"
    book.save(stall)
    run("cost", stall, *ON)
    assert ladder(stored(stall), row) == close_to(AT_THE_MARKET)


def test_the_boxes_offer_what_is_sold_and_where(stall: Path) -> None:
    book = openpyxl.load_workbook(stall)
    row = boxes_row(stall)
    offered = {
        str(each.sqref): each.formula1 for each in book["Prices"].data_validations.dataValidation
    }
    for cell, names in ((f"A{row}", ["Flatbread", "Dozen"]), (f"B{row}", ["Market", "Cafe"])):
        area = offered[cell].rpartition("!")[2].replace("$", "")
        assert [each[0].value for each in book["Workings"][area]] == names
