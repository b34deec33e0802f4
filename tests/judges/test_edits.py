"""Random edits: repeatable, of what may be changed only, and the same in a judge and a copy."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter

from tests.judges import Judge
from tests.judges.edits import Copies, Edit, apply, random_changes, undo

ROWS: dict[str, list[list[Any]]] = {
    "Settings": [
        ["Setting", "Value", "Note"],
        ["Business", "Corner stall"],
        ["Pay per hour", 18],
        ["target margin", 0.6],
        ["Costing date", date(2026, 11, 25)],
    ],
    "Purchases": [
        ["Date", "Item", "Supplier", "Packs", "Pack size", "Unit", "Price per pack", "Note"],
        [date(2026, 11, 1), "flour", "Mill", 2, 5, "lb", 3.2, None],
        [date(2026, 11, 8), "flour", "Corner shop", 1, "6 x 500 g", None, 4.1, "typed as text"],
        [date(2026, 11, 9), "film", "Mill", 1, 30, "m", "=2*1.5", None],
    ],
    "Items": [["What we buy"], [], ["Item", "Usable %", "Usual supplier"], ["flour", 0.98, "Mill"]],
    "Recipes": [
        ["Recipe", "Uses", "Amount", "Unit", "Measured"],
        ["dough", "flour", 500, "g", "as bought"],
    ],
    "Prices": [["Product", "Cost"], ["wrap", 1.2]],
}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small book of the person's; Items has a title; Prices is not theirs."""
    path = tmp_path / "stall.xlsx"
    made = xlsxwriter.Workbook(str(path), {"default_date_format": "d mmm yyyy"})
    for name, rows in ROWS.items():
        sheet = made.add_worksheet(name)
        for number, row in enumerate(rows):
            for column, content in enumerate(row):
                sheet.write(number, column, content)
    made.close()
    return path


def test_the_same_seed_gives_the_same_changes(book: Path) -> None:
    assert random_changes(book, seed=4, count=30) == random_changes(book, seed=4, count=30)
    assert random_changes(book, seed=4, count=30) != random_changes(book, seed=5, count=30)


def test_every_column_that_may_be_changed_is_and_no_other(book: Path) -> None:
    changes = random_changes(book, seed=1, count=600)
    touched = {(e.sheet, e.cell) for change in changes for e in change if len(change) == 1}
    assert touched == {
        *(("Settings", cell) for cell in ("B3", "B5")),  # B4 is under "target margin", without %
        *(("Purchases", f"{column}{row}") for column in "AD" for row in (2, 3, 4)),
        *(("Purchases", cell) for cell in ("E2", "E4")),  # E3 is a quantity typed as text
        *(("Purchases", cell) for cell in ("F2", "F3", "F4")),
        *(("Purchases", cell) for cell in ("G2", "G3")),  # G4 is the person's formula
        *(("Items", cell) for cell in ("B4", "C4")),
        *(("Recipes", cell) for cell in ("C2", "D2", "E2")),
    }


def test_numbers_stay_numbers_and_texts_are_known_words(book: Path) -> None:
    kinds: dict[str, Counter[str]] = {}
    for change in random_changes(book, seed=2, count=600):
        for edit in change:
            column = f"{edit.sheet}!{edit.cell[0]}"
            kinds.setdefault(column, Counter())[type(edit.new).__name__] += 1
    numbers = ("Purchases!D", "Purchases!E", "Purchases!G", "Items!B", "Recipes!C")
    assert {kind for column in numbers for kind in kinds[column]} == {"int", "float", "NoneType"}
    assert set(kinds["Purchases!A"]) == {"date", "NoneType"}
    assert set(kinds["Recipes!E"]) == set(kinds["Purchases!F"]) == {"str", "NoneType"}


def test_a_purchase_is_added_below_the_last_like_the_one_in_plain_numbers(book: Path) -> None:
    added = [change for change in random_changes(book, seed=3, count=100) if len(change) > 1]
    assert 2 <= len(added) <= 20
    for change in added:
        cells = {edit.cell: edit.new for edit in change}
        assert {"B5": "flour", "C5": "Mill", "D5": 2, "E5": 5, "F5": "lb"}.items() <= cells.items()
        assert set(cells) == {"A5", "B5", "C5", "D5", "E5", "F5", "G5"}
        assert isinstance(cells["A5"], date)
        assert all(edit.old is None for edit in change)


def test_a_copy_has_the_change_and_the_next_copy_has_it_no_more(book: Path, tmp_path: Path) -> None:
    copies, out = Copies(book), tmp_path / "copy.xlsx"
    copies.write([Edit("Purchases", "A2", date(2026, 11, 1), date(2026, 10, 1))], out)
    first = openpyxl.load_workbook(out)["Purchases"]
    copies.write([Edit("Purchases", "G2", 3.2, None), Edit("Purchases", "B5", None, "oil")], out)
    second = openpyxl.load_workbook(out)["Purchases"]
    assert [str(sheet["A2"].value) for sheet in (first, second)] == [
        "2026-10-01 00:00:00",
        "2026-11-01 00:00:00",
    ]
    assert [sheet["G2"].value for sheet in (first, second)] == [3.2, None]
    assert [sheet["B5"].value for sheet in (first, second)] == [None, "oil"]


def test_a_judge_and_a_copy_hold_the_same_after_every_change(
    judge: Judge, book: Path, tmp_path: Path
) -> None:
    document, copies, out = judge.open(book), Copies(book), tmp_path / "copy.xlsx"
    untouched = {sheet: document.values(sheet) for sheet in document.sheets()}
    for change in random_changes(book, seed=6, count=40):
        apply(document, change)
        copies.write(change, out)
        page = openpyxl.load_workbook(out)
        for edit in change:
            shown = document.values(edit.sheet).get(edit.cell)
            assert shown == as_a_serial(page[edit.sheet][edit.cell].value)
        undo(document, change)
    assert {sheet: document.values(sheet) for sheet in document.sheets()} == untouched
    document.close()


def as_a_serial(value: Any) -> Any:
    """A date as the number of days that a spreadsheet keeps."""
    if isinstance(value, date):
        return (value - type(value)(1899, 12, 30)) / timedelta(days=1)
    return value
