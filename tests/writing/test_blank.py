"""The blank workbooks: what `new` makes, and that the files checked in are just that."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from costbook.costing.result import CAUTION
from costbook.definitions.sheets import SHEETS
from costbook.writing.blank import blank_workbook
from tests.helpers import run

TEMPLATES = Path(__file__).parents[2] / "templates"
STARTER = ["How to start", "Settings", "Purchases", "Recipes", "Batches"]
STARTER += ["Stages", "Packaging", "Products"]
FULL = ["How to start", *(sheet.title for sheet in SHEETS)]


@pytest.mark.parametrize(("name", "full"), [("starter", False), ("full", True)])
def test_the_templates_are_current(name: str, *, full: bool) -> None:
    """Made anew by: costbook new templates/starter.xlsx (and full.xlsx --full)."""
    assert (TEMPLATES / f"{name}.xlsx").read_bytes() == blank_workbook(full=full)


@pytest.mark.parametrize(("words", "tabs"), [((), STARTER), (("--full",), FULL)])
def test_a_new_workbook_has_its_sheets_notes_and_drop_downs(
    words: tuple[str, ...], tabs: list[str], tmp_path: Path
) -> None:
    path = tmp_path / "mine.xlsx"
    assert run("new", path, *words)[0] == 0
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == tabs
    recipes = book["Recipes"]
    headings = {cell.value: cell for cell in recipes[1]}
    assert list(headings) == [
        *("Recipe", "Uses", "Amount", "Unit", "Measured", "Usable %", "Note"),
    ]
    assert headings["Uses"].comment.text == "An item, or another recipe."
    listed = [str(rule.formula1) for rule in recipes.data_validations.dataValidation]
    assert any("Tbsp" in options for options in listed)
    assert '"as bought,ready to use"' in listed
    assert "%" in recipes.column_dimensions["F"].number_format or "%" in str(
        recipes["F5"].number_format
    )
    shown = [cell.value for row in book["How to start"].iter_rows() for cell in row]
    assert CAUTION in shown


@pytest.mark.parametrize("words", [(), ("--full",)])
def test_an_example_row_nobody_touched_is_no_row(words: tuple[str, ...], tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    run("new", path, *words)
    code, out, err = run("check", path)
    assert (code, err) == (0, "")
    assert out.startswith("Nothing is wrong, and nothing is doubtful.")


def test_the_stages_wait_to_be_timed(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    run("new", path)
    book = openpyxl.load_workbook(path)
    stages = book["Stages"]
    shown = [[cell.value for cell in row[:5]] for row in stages.iter_rows(min_row=2, max_row=4)]
    assert shown == [
        ["Plain roll (example)", stage, 1, None, None]
        for stage in ("Prepare the filling", "Fill and wrap", "Pack and label")
    ]
    # one of the three typed over, with its batch: the others still count for nothing
    stages["A3"] = book["Batches"]["A2"] = book["Recipes"]["A2"] = "Dumpling"
    book.save(path)
    asked = [line for line in run("check", path)[2].splitlines() if "Stages!" in line]
    assert asked == [
        "mine.xlsx: Stages!D3: the stage has no minutes. Time it once and fill them in.",
    ]


def test_a_name_without_an_ending_gets_the_right_one(tmp_path: Path) -> None:
    code, out, _ = run("new", tmp_path / "mine")
    assert code == 0
    assert f"costbook cost {tmp_path / 'mine.xlsx'}\n" in out
    assert [each.name for each in tmp_path.iterdir()] == ["mine.xlsx"]


def test_a_file_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_bytes(b"my recipes")
    code, _, err = run("new", path)
    assert code == 2
    assert "mine.xlsx" in err
    assert path.read_bytes() == b"my recipes"
