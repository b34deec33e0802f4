"""A cost part is its rule, its column and its line in one list: one is added, and followed.

The package is copied, three lines of it are changed as DEVELOPERS.md says, and the copy costs a
workbook: a cleaning-up of 6.00 a batch, known for batches of more than thirty packs.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.definitions.parts import PARTS
from costbook.definitions.workings import TABLES
from tests.copied import copied_into, costed_by, put_before, python
from tests.helpers import Book, make_book
from tests.judges.ironcalc_judge import IronCalc

CLEANING = '''

def cleaning(packs_sold: N) -> N:
    """Cleaning up of a pack sold [money/pack]."""
    return only_if(above(packs_sold, 30), 6 / packs_sold)
'''
COLUMN = '        Column("cleaning", Computed(rules.cleaning), Show.MONEY),\n'
LINE = '    Part("cleaning", "cleaning up", "cleaning (minutes)"),\n'

BOOK: Book = {
    "Settings": [
        ("Setting", "Value"),
        ("Currency", "USD"),
        ("Pay per hour", 12),
        ("Target margin %", 0.5),
        ("No kitchen to pay", "yes"),
        ("No overheads", "yes"),
        ("No selling costs", "yes"),
    ],
    "Purchases": [
        ("Date", "Item", "Pack size", "Unit", "Price per pack"),
        (date(2026, 10, 1), "Flour", 1, "kg", 1),
        (date(2026, 11, 1), "Flour", 1, "kg", 2),
        (date(2026, 11, 1), "Rye", 1, "kg", 2),
    ],
    "Recipes": [
        ("Recipe", "Uses", "Amount", "Unit"),
        ("Dumpling", "Flour", 1, "kg"),
        ("Bun", "Rye", 1, "kg"),
    ],
    "Batches": [("Recipe", "Makes", "Unit"), ("Dumpling", 40, "ea"), ("Bun", 20, "ea")],
    "Stages": [
        ("Recipe", "Stage", "People", "Minutes per batch"),
        ("Dumpling", "Fold", 1, 60),
        ("Bun", "Bake", 1, 60),
    ],
    "Packaging": [("Product", "Uses", "Amount", "Unit"), ("all", "Bag", 0, "ea")],
    "Products": [
        ("Product", "Recipe", "Units per pack"),
        ("Dumpling", "Dumpling", 1),
        ("Bun", "Bun", 1),
    ],
}
# Dumpling: 2.00 of flour, 12.00 of work and 6.00 of cleaning over 40: 0.05 + 0.30 + 0.15 = 0.50,
# and at a margin of a half 1.00. Bun: 2.00 and 12.00 over 20, 0.70, and its cleaning isn't known.


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a copy of the package that knows of a part more."""
    there = tmp_path_factory.mktemp("copy")
    definitions = copied_into(there) / "definitions"
    outlets = "\n\n# ---------------------------------------------------------------- outlets\n"
    put_before(definitions / "rules.py", outlets, CLEANING)
    made = '        Column("made", Computed(rules.made), Show.MONEY),\n'
    put_before(definitions / "workings.py", made, COLUMN)
    put_before(definitions / "parts.py", '    Part(\n        "selling",\n', LINE)
    make_book(there / "stall.xlsx", BOOK)
    return there


@pytest.fixture(scope="module")
def answer(copy: Path) -> Mapping[str, Any]:
    """What the copy says of the workbook, whose costed sheets stand beside it."""
    return costed_by(copy)


Grid = list[list[Any]]


@pytest.fixture(scope="module")
def sheets(copy: Path, answer: Mapping[str, Any]) -> Mapping[str, Grid]:
    assert answer["products"]
    book = openpyxl.load_workbook(copy / "out.xlsx", data_only=True)
    return {name: [[c.value for c in row] for row in book[name]] for name in book.sheetnames}


def test_json_counts_it(answer: Mapping[str, Any]) -> None:
    dumpling = answer["products"][0]
    assert dumpling["cost"]["cleaning"] == pytest.approx(0.15)
    assert dumpling["cost"]["total"] == pytest.approx(0.50)
    assert dumpling["cost"]["known"] == pytest.approx(0.50)
    assert dumpling["price"]["on_step"] == pytest.approx(1.00)
    assert list(dumpling["cost"])[4:7] == ["overhead", "cleaning", "selling"]


def test_where_it_is_unknown_it_is_named_and_what_is_known_goes_without(
    answer: Mapping[str, Any],
) -> None:
    bun = answer["products"][1]
    assert (bun["cost"]["cleaning"], bun["cost"]["total"]) == (None, None)
    assert bun["cost"]["known"] == pytest.approx(0.70)
    assert bun["missing"] == ["cleaning (minutes)"]


def _table(grid: Grid, heading: str) -> list[dict[str, Any]]:
    """The three rows below this heading, by their headings."""
    at = next(number for number, row in enumerate(grid) if heading in row)
    heads = [str(head or "") for head in grid[at]]
    return [dict(zip(heads, row, strict=True)) for row in grid[at + 1 : at + 4]]


def test_the_stack_on_prices_has_a_column_for_it(sheets: Mapping[str, Grid]) -> None:
    dumpling, bun, _ = _table(sheets["Prices"], "Known so far")
    parts = ("Ingredients", "Packaging", "Labour", "Kitchen", "Overhead", "Cleaning", "Selling")
    assert [dumpling[part] for part in parts] == [0.05, 0, 0.30, 0, 0, 0.15, 0]
    assert (dumpling["Profit"], dumpling["CHARGE"], dumpling["Known so far"]) == (0.5, 1, 0.5)
    assert [bun[name] for name in ("Cleaning", "Known so far", "Still lacks")] == [
        "?",
        pytest.approx(0.7),
        "cleaning (minutes)",
    ]


def test_the_bars_on_prices_have_a_part_for_it(copy: Path, sheets: Mapping[str, Grid]) -> None:
    grid = sheets["Prices"]
    at = next(number for number, row in enumerate(grid) if row[2:4] == ["Ingredients", "Packaging"])
    named = {"Product", "Ingredients"}
    shares = [number for number, row in enumerate(grid) if number > at and named <= set(row)]
    heads, dumpling = grid[shares[0]], grid[shares[0] + 2]
    found = dict(zip(heads, dumpling, strict=True))
    assert {name: found[name] for name in ("Ingredients", "Labour", "Cleaning", "Profit")} == {
        "Ingredients": 0.05,
        "Labour": 0.3,
        "Cleaning": 0.15,
        "Profit": 0.5,
    }
    charts = openpyxl.load_workbook(copy / "out.xlsx")["Prices"]._charts
    assert len(charts[0].series) == 9  # seven costs, fees and profit


def test_the_card_has_it_in_the_batch(sheets: Mapping[str, Grid]) -> None:
    grid = [row for row in sheets["Cost cards"] if row[0]]
    lines = {str(row[0]): row for row in reversed(grid)}  # the first of a name: of Dumpling
    assert lines["Cost made, a pack sold"][6] == 0.5
    assert lines["Cleaning"][5:8] == [6, 0.15, pytest.approx(0.3)]


def test_the_bridge_of_what_moved_ends_at_a_cost_that_has_it(sheets: Mapping[str, Grid]) -> None:
    steps = {row[0]: row[3] for row in sheets["What moved"] if row[0] in ("Cost then", "Cost now")}
    assert steps == {"Cost then": pytest.approx(0.475), "Cost now": pytest.approx(0.50)}


def test_the_live_formulas_count_it(copy: Path, answer: Mapping[str, Any]) -> None:
    assert answer["products"]
    with IronCalc() as judge:
        document = judge.open(copy / "out.xlsx")
        document.set("Batches", "B2", 80)  # 2.00, 12.00 and 6.00 over 80, and twice that
        document.recalculate()
        found = list(document.values("Prices").values())
    assert [found.count(figure) > 0 for figure in (0.025, 0.15, 0.075, 0.25, 0.50)] == [True] * 5


def test_the_sample_of_the_readme_has_a_bar_for_it(copy: Path, answer: Mapping[str, Any]) -> None:
    assert answer["products"]
    (copy / "answer.json").write_text(json.dumps(answer), encoding="utf-8")
    program = (
        "import json; from pathlib import Path; from tests.readme_sample import Money, bars; "
        "answer = json.loads(Path('answer.json').read_text()); "
        "print(bars(answer['products'][0], Money('USD')))"
    )
    assert f"{'cleaning up':<24} $0.15  ██\n" in python(copy, "-c", program)


def test_every_part_made_is_lines_or_a_line_on_the_card_with_columns_that_are_there() -> None:
    made, priced = TABLES["products"].index, TABLES["prices"].index
    for part in PARTS:
        table = made if part.made else priced
        named = {part.name, part.what_is_known, part.batch, part.minutes} - {""}
        named |= {part.lacks} if part.lack_of_rows else set()
        assert named <= set(table), part.name
        assert {part.name, part.what_is_known} <= set(priced), part.name
