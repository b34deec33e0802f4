# ruff: noqa: E501 - one line a case, however long its sentence is
"""Every sentence about what was made, counted and measured, word for word: one line a case."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.helpers import make_book, run
from tests.stock.books import ON, day, stall

# fmt: off
TWICE = "this line says the same as row 2, and both count. Take one away, if it was typed twice."
MADE = (day(9), "Bun, single", 22, 1, 90, "A2", None)
CASES: list[tuple[str, dict[str, list[tuple[Any, ...]]], str]] = [
    ("nobody's", {"Made": [(day(9), "Pie", 22)]}, 'Made!B2: no product is called "Pie", so its packs are counted nowhere. Add it to Products, or clear the row.'),
    ("near", {"Made": [(day(9), "Bun, singel", 22)]}, 'Made!B2: no product is called "Bun, singel", so its packs are counted nowhere. Did you mean "Bun, single"?'),
    ("no day", {"Made": [(None, "Bun, single", 22)]}, "Made!A2: the day is missing, so how many are left is not known. Fill in the cell."),
    ("no packs", {"Made": [(day(9), "Bun, single", None, 1)]}, "Made!C2: how many packs were made is missing. Fill in the cell."),
    ("no product", {"Made": [(day(9), None, 22)]}, "Made!B2: the row has no Product, so it was left out. Fill it in, or clear the row."),
    ("use by", {"Made": [(*MADE[:6], day(8))]}, "check: Made!G2: the use-by date is before the day they were made. Correct one of the two dates."),
    ("to come", {"Made": [(day(26), *MADE[1:])]}, "check: Made!A2: this is dated after the costing date, 2026-11-25, so it doesn't count yet. Check the year, or cost on a later date."),
    ("counted nobody", {"Counts": [(day(8), "Pie", 2)]}, 'Counts!B2: no product or item is called "Pie", so the count says nothing. Add it to Products, or clear the row.'),
    ("counted no day", {"Counts": [(None, "Bun, six", 2)]}, "Counts!A2: the day of the count is missing. Fill in the cell."),
    ("counted nothing", {"Counts": [(day(8), "Bun, six", None)]}, "Counts!C2: how much was counted is missing. Fill in the cell."),
    ("weighed", {"Counts": [(day(8), "Bun, six", 2, "kg")]}, 'Counts!D2: a product is counted in packs, not in "kg". Count the packs, and leave Unit empty.'),
    ("no unit", {"Counts": [(day(8), "Rye", 2)]}, "Counts!D2: the unit is missing. Type one: g, oz, ml, cup, ct, in …"),
    ("odd unit", {"Counts": [(day(8), "Rye", 2, "heap")]}, 'Counts!D2: "heap" is no unit. Type one: g, oz, ml, cup, ct, in …'),
    ("a wrapper", {"Counts": [(day(8), "Rye", 2, "bags")]}, 'Counts!D2: "bags" says not how much is in one. Type one: g, oz, ml, cup, ct, in …'),
    ("both", {"Counts": [(day(8), "Bun, six", 2)], "Items": [("Bun, six", 1, None)]}, 'check: Counts!B2: "Bun, six" is a product and an item, and the count is of both. Give one of them another name.'),
    ("test of nobody", {"Tests": [(day(2), "Pie", "yield", 10, 5, "g")]}, 'Tests!B2: no item is called "Pie", so the test says nothing. Type it as it stands there.'),
    ("stage of nobody", {"Tests": [(day(2), "Knead", "time", None, None, None, 5, 5)]}, 'Tests!B2: no stage is called "Knead", so the test says nothing. Type it as it stands there.'),
    ("no kind", {"Tests": [(day(2), "Rye", None, 10, 5, "g")]}, "Tests!C2: the kind of test is missing: yield or time. Fill in the cell."),
    ("no in", {"Tests": [(day(2), "Rye", "yield", None, 5, "g")]}, "Tests!D2: what was weighed before is missing. Fill in the cell."),
    ("no out", {"Tests": [(day(2), "Rye", "yield", 10, None, "g")]}, "Tests!E2: what was left is missing. Fill in the cell."),
    ("no unit of it", {"Tests": [(day(2), "Rye", "yield", 10, 5, None)]}, "Tests!F2: the unit of In and Out is missing. Fill in the cell."),
    ("odd unit of it", {"Tests": [(day(2), "Rye", "yield", 10, 5, "lbx")]}, 'Tests!F2: "lbx" is no unit. Type one: g, oz, ml, cup, ct, in …'),
    ("made twice", {"Made": [MADE, MADE]}, f"check: Made!B3: {TWICE}"),
    ("counted twice", {"Counts": [(day(8), "Bun, six", 2), (day(8), "Bun, six", 2)]}, f"check: Counts!B3: {TWICE}"),
    ("tested twice", {"Tests": [(day(2), "Rye", "yield", 10, 5, "g")] * 2}, f"check: Tests!B3: {TWICE}"),
    ("no minutes", {"Tests": [(day(2), "Shape", "time", None, None, None, None, 5)]}, "Tests!G2: the minutes are missing. Fill in the cell."),
    ("no units", {"Tests": [(day(2), "Shape", "time", None, None, None, 5, None)]}, "Tests!H2: it is not said how many units were done. Fill in the cell."),
    ("two stages", {"Tests": [(day(2), "Shape", "time", None, None, None, 5, 5)], "Stages": [("Bun", "Shape", 0, 2), ("Bun, six", "Shape", 0, 2)]}, 'check: Tests!B2: 2 stages are called "Shape", and the test counts for each of them. Give them names of their own if they differ.'),
    ("one below zero", {"Sales": [(day(21), "Bun, six", 4)]}, 'Products!A3: 1 more pack of "Bun, six" went than was there. Look for a row that is missing on Made, or count what is left, on Counts.'),
    ("counted to come", {"Counts": [(day(26), "Bun, six", 2)]}, "check: Counts!A2: this is dated after the costing date, 2026-11-25, so it doesn't count yet. Check the year, or cost on a later date."),
    ("below zero", {"Sales": [(day(21), "Bun, six", 5)]}, 'Products!A3: 2 more packs of "Bun, six" went than was there. Look for a row that is missing on Made, or count what is left, on Counts.'),
]
# fmt: on


@pytest.mark.parametrize(
    ("changes", "sentence"), [case[1:] for case in CASES], ids=[c[0] for c in CASES]
)
def test_it_is_said_in_these_words(
    changes: dict[str, list[tuple[Any, ...]]], sentence: str, tmp_path: Path
) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall(changes))
    _, _, said = run("freezer", path, "--on", ON)
    assert f"stall.xlsx: {sentence}" in said.splitlines()


def test_the_cell_is_named_wherever_its_column_stands(tmp_path: Path) -> None:
    changes: dict[str, list[tuple[Any, ...]]] = {
        "Sales": [(day(21), "Bun, six", 5, None, None)],
        "Counts": [(day(26), "Rye", 2, "kg")],
    }
    book = {title: [row[::-1] for row in rows] for title, rows in stall(changes).items()}
    _, _, said = run("freezer", make_book(tmp_path / "stall.xlsx", book), "--on", ON)
    assert 'Products!D3: 2 more packs of "Bun, six"' in said
    assert "Counts!D2: this is dated after the costing date" in said


def test_a_row_of_the_costing_date_counts(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall({"Made": [(day(25), "Bun, six", 3)]}))
    assert "after the costing date" not in run("freezer", path, "--on", ON)[2]


def test_what_is_bought_under_a_name_near_a_product_s_is_no_slip(tmp_path: Path) -> None:
    """Singles' wrap is called nearly as they are, and has no row on Items."""
    changes = {
        "Purchases": [*stall()["Purchases"][1:], (day(1), "Bun, singles", 100, "ea", 4)],
        "Counts": [(day(8), "Bun, singles", 80, "ea")],
    }
    _, out, said = run("freezer", make_book(tmp_path / "stall.xlsx", stall(changes)), "--on", ON)
    assert said == ""
    assert "?" not in next(line for line in out.splitlines() if line.startswith("Bun, single "))


def test_nothing_is_said_where_all_is_well(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", stall())
    assert run("freezer", path, "--on", ON)[2] == ""
