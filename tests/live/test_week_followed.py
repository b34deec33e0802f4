"""The plan is a log: what is typed into a spare row of it, or changed, counts without a run.

Every figure of Workings that a program then shows is compared with a new run of the engine.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from costbook.costing.engine import Costing
from costbook.definitions.session_workings import SESSION_TABLES
from costbook.definitions.week_workings import WEEK_TABLES
from costbook.round_trip import read_and_cost
from costbook.writing.folded import laid_out
from costbook.writing.layout import lay_out_tables
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
        for table in (*SESSION_TABLES, *WEEK_TABLES)
        for row in costing.structure.rows[table.name]
        for column in laid_out(table.name)
    }


def is_shown(found: object, wanted: object) -> bool:
    """Does a cell show a figure? An unknown is an empty text."""
    if isinstance(wanted, Decimal):
        return isinstance(found, float) and abs(found - float(wanted)) < 1e-9 * max(1, abs(found))
    return (found or "") == (wanted or "")
