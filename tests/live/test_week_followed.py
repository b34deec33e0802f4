"""The plan is a log: what is typed into a spare row of it, or changed, counts without a run.

Every figure of Workings that a program then shows is compared with a new run of the engine.
"""

from __future__ import annotations

import random
from decimal import Decimal
from pathlib import Path

import pytest

from costbook.costing.engine import Costing
from costbook.definitions.buying_workings import BUYING_TABLES
from costbook.definitions.session_workings import SESSION_TABLES
from costbook.definitions.week_workings import WEEK_TABLES
from costbook.round_trip import read_and_cost
from costbook.writing.folded import laid_out
from costbook.writing.layout import lay_out_tables
from tests.deciding.test_week_slips import STOCKED
from tests.deciding.weeks import BOOK, DAY, planned, with_rows
from tests.helpers import Book, make_book, run
from tests.judges.ironcalc_judge import IronCalc

Edit = tuple[str, str, float | str | None]

PLAN = [tuple(row) for row in BOOK["Plan"]][1:]
FILLING, ROLL = [tuple(row) for row in BOOK["Batches"]][1:]
COOK, SET_UP, ROLLING, BOX = [tuple(row) for row in BOOK["Stages"]][1:]
SETTINGS = [tuple(row) for row in BOOK["Settings"]][1:]

CHANGES: dict[str, tuple[list[Edit], Book]] = {
    "as it was": ([], BOOK),
    "a spare row": (
        [("Plan", "A5", "Leek roll, six"), ("Plan", "B5", 20)],
        planned(*PLAN, ("Leek roll, six", 20)),
    ),
    "a spare row of nobody's": (
        [("Plan", "A5", "Leek rol"), ("Plan", "B5", 20)],
        planned(*PLAN, ("Leek rol", 20)),
    ),
    "a spare row without a number": (
        [("Plan", "A5", "Leek roll, six")],
        planned(*PLAN, ("Leek roll, six",)),
    ),
    "batches of their own choice": (
        [("Plan", "D2", 2)],
        planned((*PLAN[0][:3], 2), *PLAN[1:]),
    ),
    "batches that can't be read": (
        [("Plan", "D2", "two or so")],
        planned((*PLAN[0][:3], "two or so"), *PLAN[1:]),
    ),
    "nothing wanted": (
        [("Plan", f"B{row}", 0) for row in (2, 3, 4)],
        planned(*((name, 0, what) for name, _, what, *_ in PLAN)),
    ),
    "batches in thirds, and of its own": (
        [("Batches", "E3", 0.25), ("Batches", "F2", "yes")],
        with_rows("Batches", (*FILLING[:5], "yes"), (*ROLL[:4], 0.25)),
    ),
    "a set-up for each": (
        [("Stages", "H3", "no")],
        with_rows("Stages", COOK, (*SET_UP[:7], "no"), ROLLING, BOX),
    ),
    "more time, no freezer": (
        [("Settings", "B11", 300), ("Settings", "B12", None)],
        with_rows("Settings", *SETTINGS[:9], ("Minutes I have", 300)),
    ),
}


@pytest.fixture(scope="module")
def stall(tmp_path_factory: pytest.TempPathFactory) -> tuple[Costing, Path]:
    """The book before any change: as the engine has it, and as `cost` wrote it."""
    folder = tmp_path_factory.mktemp("week")
    before, out = make_book(folder / "stall.xlsx", BOOK), folder / "out.xlsx"
    run("cost", before, "--on", DAY, "--output", out)
    return read_and_cost(before, DAY).costing, out


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_of_the_plan_is_followed(
    stall: tuple[Costing, Path], tmp_path: Path, change: str
) -> None:
    edits, book = CHANGES[change]
    first, out = stall
    then = read_and_cost(make_book(tmp_path / "then.xlsx", book), DAY).costing
    with IronCalc() as judge:
        document = judge.open(out)
        for sheet, cell, value in edits:
            document.set(sheet, cell, value)
        document.recalculate()
        shown = document.values("Workings")
    wanted = figures_by_place(then)
    wrong = [
        (place, shown.get(address), wanted[place][1])
        for place, (address, _) in figures_by_place(first).items()
        if not is_shown(shown.get(address), wanted[place][1])
    ]
    assert wrong == []


def figures_by_place(costing: Costing) -> dict[tuple[str, int, str], tuple[str, object]]:
    """Every figure of the plan that has a cell: its table, row and column; its address."""
    layout = lay_out_tables(costing.structure, "Workings")
    return {
        (table.name, row.index, column): (layout.cell(row, column), costing.of(row)[column])
        for table in (*SESSION_TABLES, *WEEK_TABLES, *BUYING_TABLES)
        for row in costing.structure.rows[table.name]
        for column in laid_out(table.name)
    }


def is_shown(found: object, wanted: object) -> bool:
    """Does a cell show a figure? An unknown is an empty text."""
    if isinstance(wanted, Decimal):
        return isinstance(found, float) and abs(found - float(wanted)) < 1e-9 * max(1, abs(found))
    return (found or "") == (wanted or "")


NUMBERS: list[tuple[str, int, int, tuple[float, ...]]] = [
    *(("Plan", row, 1, (0, 3, 17, 46, 120)) for row in (1, 2, 3)),
    ("Plan", 2, 3, (1, 2, 5.5)),
    *(("Batches", row, 4, (0.25, 0.5, 1, 2)) for row in (1, 2)),
    ("Batches", 2, 3, (0, 1, 4)),
    ("Batches", 1, 1, (2, 3, 7.5)),
    *(("Recipes", row, 2, (0.5, 1.2, 2.5)) for row in (1, 2)),
    *(("Stages", row, 4, (0, 0.5, 2)) for row in (3, 4)),
    *(("Settings", row, 1, (30, 45, 200)) for row in (8, 10, 11)),
    *(("Items", row, 1, (0, 1, 12, 700)) for row in (1, 2, 3)),
    *(("Items", row, 3, (1, 60, 900)) for row in (2, 3)),
    ("Items", 2, 5, (1, 3, 7)),
    ("Items", 2, 6, (0, 2)),
    *(("Products", row, 2, (1, 4, 6)) for row in (1, 2)),
    *(("Packaging", 1, 2, (1, 2)),),
]
"""Cells that the week ahead rests on: sheet, row and column from nought, and what may be typed."""


@pytest.mark.parametrize("seed", range(8))
def test_any_edits_of_what_the_week_rests_on_are_followed(tmp_path: Path, seed: int) -> None:
    draw = random.Random(seed)
    book = {name: [list(row) for row in rows] for name, rows in STOCKED.items()}
    before = tmp_path / "stall.xlsx"
    run("cost", make_book(before, STOCKED), "--on", DAY, "--output", tmp_path / "out.xlsx")
    first = read_and_cost(before, DAY).costing
    with IronCalc() as judge:
        document = judge.open(tmp_path / "out.xlsx")
        for at in range(4):
            for sheet, row, column, values in draw.sample(NUMBERS, 5):
                value = draw.choice(values)
                book[sheet][row][column : column + 1] = [value]
                document.set(sheet, f"{chr(ord('A') + column)}{row + 1}", value)
            document.recalculate()
            shown = document.values("Workings")
            wanted = figures_by_place(
                read_and_cost(make_book(tmp_path / f"{at}.xlsx", book), DAY).costing
            )
            wrong = [
                (place, shown.get(address), wanted[place][1])
                for place, (address, _) in figures_by_place(first).items()
                if not is_shown(shown.get(address), wanted[place][1])
            ]
            assert wrong == []
