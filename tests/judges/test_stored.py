"""Stored values read and made wrong, one wrong formula, the functions in use, and circles."""

from __future__ import annotations

import time
import zipfile
from pathlib import Path

import pytest
import xlsxwriter

from tests.judges import CannotJudge, ErrorValue
from tests.judges.books import write_book
from tests.judges.precedents import Area, circles, precedents, precedents_by_range
from tests.judges.stored import (
    SHARED_FUNCTIONS,
    formulas,
    functions_used,
    stored_values,
    with_one_wrong_formula,
    with_wrong_stored_values,
)


@pytest.fixture
def stored(tmp_path: Path) -> Path:
    """A workbook with a value of every kind stored with a formula."""
    path = tmp_path / "stored.xlsx"
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Köche & Co")
    sheet.write("A1", 7)
    sheet.write_formula("B1", "=A1/2", None, 3.5)
    sheet.write_formula("B2", '="a"&A1', None, "a7")
    sheet.write_formula("B3", '=""', None, "")  # XlsxWriter stores that as nothing
    sheet.write_formula("B4", "=A1>2", None, True)
    sheet.write_formula("B5", "=1/0", None, "#DIV/0!")
    book.close()
    return path


def test_stored_values_are_read_with_their_kinds(stored: Path) -> None:
    assert stored_values(stored) == {
        "Köche & Co": {"B1": 3.5, "B2": "a7", "B3": None, "B4": True, "B5": ErrorValue("#DIV/0!")}
    }


def test_every_stored_value_is_made_wrong_and_nothing_else(stored: Path, tmp_path: Path) -> None:
    out = tmp_path / "wrong.xlsx"
    assert with_wrong_stored_values(stored, out) == 5
    assert stored_values(out) == {
        "Köche & Co": {
            "B1": 1238.0,
            "B2": "a7 (stale)",
            "B3": 1234.5,
            "B4": False,
            "B5": 1234.5,
        }
    }
    assert formulas(out) == formulas(stored)
    assert other_parts(out) == other_parts(stored)


def test_a_copy_differs_in_the_one_wrong_formula(stored: Path, tmp_path: Path) -> None:
    out = tmp_path / "control.xlsx"
    with_one_wrong_formula(stored, out, "Köche & Co", "B1", "=A1/4")
    assert formulas(out)["Köche & Co"] == {**formulas(stored)["Köche & Co"], "B1": "A1/4"}
    assert stored_values(out) == stored_values(stored)


@pytest.mark.parametrize(
    ("cell", "formula", "said"),
    [
        ("A1", "=1", "Köche & Co!A1 holds no formula"),
        ("B1", "=A1/2", "Köche & Co!B1 can't be made wrong this way"),
    ],
)
def test_a_control_that_would_control_nothing_is_refused(
    stored: Path, tmp_path: Path, cell: str, formula: str, said: str
) -> None:
    with pytest.raises(CannotJudge) as refusal:
        with_one_wrong_formula(stored, tmp_path / "out.xlsx", "Köche & Co", cell, formula)
    assert str(refusal.value) == said


def other_parts(path: Path) -> dict[str, bytes]:
    """A package's parts, without its sheets."""
    with zipfile.ZipFile(path) as package:
        names = [name for name in package.namelist() if "worksheets/" not in name]
        return {name: package.read(name) for name in names}


def test_functions_in_use_are_named_not_those_in_texts(tmp_path: Path) -> None:
    cells = {
        "A1": '=IF(B1="SUM(1)",_xlfn.MAXIFS(C:C,D:D,"x"),LOG10(2))',
        "A2": "='XLOOKUP(1)'!A1+ ROUND (2,0)",
    }
    book = write_book(tmp_path / "used.xlsx", {"S": cells, "XLOOKUP(1)": {}})
    assert functions_used(book) == {"IF", "_xlfn.MAXIFS", "LOG10", "ROUND"}
    assert functions_used(book) - SHARED_FUNCTIONS == {"LOG10"}


@pytest.mark.parametrize(
    "name", ["XLOOKUP", "LET", "LAMBDA", "FILTER", "AGGREGATE", "CONVERT", "MAXIFS", "IFNA"]
)
def test_what_the_three_programs_do_not_share_is_not_in_the_list(name: str) -> None:
    assert name not in SHARED_FUNCTIONS


def test_a_formula_looks_at_cells_ranges_and_columns() -> None:
    formula = (
        "IF(A1=\"B2:B9\",SUM($C$3:D4),INDEX('It''s mine'!$F:$G,3)+LOG10(E5)+1E-7"
        "*Other!A9)&5:6&TRUE&#N/A"
    )
    assert [str(area) for area in precedents("S", "Z1", formula)] == [
        "S!A1",
        "S!C3:D4",
        "It's mine!F1:G1048576",
        "S!E5",
        "Other!A9",
        "S!A5:XFD6",
    ]


@pytest.mark.parametrize(
    ("formula", "unknown"),
    [
        ("SUM(my_prices)", "my_prices"),
        ("SUM(Table1[Price])", "Table1[Price]"),
        ('INDIRECT("A1")', "INDIRECT"),
        ("OFFSET(A1,1,0)", "OFFSET"),
        ("SUM(INDEX(A:A,1):INDEX(A:A,2))", ":"),
        ("[1]Prices!A1", "[1]Prices"),
    ],
)
def test_what_can_not_be_followed_is_refused(formula: str, unknown: str) -> None:
    with pytest.raises(CannotJudge) as refusal:
        precedents("S", "A1", formula)
    assert str(refusal.value) == f"S!A1: {unknown} can't be followed to cells"


def test_a_book_without_circles_has_none(tmp_path: Path) -> None:
    cells = {"A1": 1, "B1": "=A1*2", "B2": "=SUM(B$1:B1)", "C1": "=INDEX($B:$B,1)"}
    book = write_book(tmp_path / "fine.xlsx", {"S": cells, "T": {"A1": "=S!C1"}})
    assert precedents_by_range(book)["S", 2, 2] == (Area("S", 1, 2, 1, 2),)
    assert circles(book) == []


@pytest.mark.parametrize(
    ("sheets", "said"),
    [
        (
            {"S": {"A1": "=SUM(A1:A3)"}},
            ["S!A1 looks at S!A1:A3, where S!A1 depends on it"],
        ),
        (  # INDEX would look at row 9 only, and Excel still calls it a circle
            {"S": {"B2": "=INDEX($C:$C,9)", "C4": "=B2+1"}},
            [
                "S!B2 looks at S!C1:C1048576, where S!C4 depends on it",
                "S!C4 looks at S!B2, where S!B2 depends on it",
            ],
        ),
        (  # through another sheet, and through a cell inside a wide range
            {
                "S": {"A1": "=T!A1", "A2": "=A3", "A3": 1},
                "T": {"A1": "=MAX(U!A:C)", "B1": "=SUM(S!A2:A3)"},
                "U": {"B7": "=S!A1&T!B1"},
            },
            [
                "S!A1 looks at T!A1, where T!A1 depends on it",
                "T!A1 looks at U!A1:C1048576, where U!B7 depends on it",
                "U!B7 looks at S!A1, where S!A1 depends on it",
            ],
        ),
    ],
)
def test_a_circle_is_found(
    tmp_path: Path, sheets: dict[str, dict[str, object]], said: list[str]
) -> None:
    found = circles(write_book(tmp_path / "circle.xlsx", sheets))
    assert [str(circle) for circle in found] == said


def test_thirty_thousand_formulas_are_walked_in_seconds() -> None:
    """A running total of 15,000 rows beside 15,000 whole-column look-ups, then one circle."""
    looks_at: dict[tuple[str, int, int], tuple[Area, ...]] = {}
    for row in range(1, 15_001):
        looks_at["S", row, 2] = (Area("S", 1, 1, row, 1),)
        looks_at["S", row, 3] = (Area("S", 1, 2, 1_048_576, 2), Area("S", row, 2, row, 2))
    started = time.monotonic()
    assert circles(looks_at) == []
    looks_at["S", 7, 1] = (Area("S", 9_000, 3, 9_000, 3),)
    found = {circle.formula for circle in circles(looks_at)}
    # Row 7 and those below add up A7; of the look-ups, only row 9000's is looked at by A7.
    assert found == {"S!A7", "S!C9000", *(f"S!B{row}" for row in range(7, 15_001))}
    assert time.monotonic() - started < 10
