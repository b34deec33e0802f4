"""The blank workbooks: what `new` makes, and that the files checked in are just that."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from costbook.costing.result import CAUTION
from costbook.definitions.fields import InputSheet, Kind
from costbook.definitions.offered import OFFERED
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.writing.blank import blank_workbook
from tests.helpers import read_back, run
from tests.judges.ironcalc_judge import IronCalc

TEMPLATES = Path(__file__).parents[2] / "templates"
STARTER = ["How to start", "Settings", "Purchases", "Recipes", "Batches"]
STARTER += ["Stages", "Packaging", "Products", "Names to choose from"]
FULL = ["How to start", *(sheet.title for sheet in SHEETS), "Names to choose from"]


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


def offers(path: Path, tab: str) -> dict[str, str]:
    """By column, the cells that its drop-downs take the person's own names from."""
    rules = read_back(path)[tab].data_validations.dataValidation
    names = [rule for rule in rules if not rule.formula1.startswith('"')]
    assert all(rule.type == "list" and not rule.showErrorMessage for rule in names)
    return {str(rule.sqref): rule.formula1 for rule in names}


def names_of(column: str) -> str:
    """The names of a column, from the second row to the last that is filled."""
    cells = f"{column}$2:{column.partition('!')[2]}$2001"
    last = f'SUMPRODUCT(MAX(({cells}<>"")*(ROW({cells})-1)))'
    return f"{column}$2:INDEX({cells},MAX(1,{last}))"


CHOOSE = "'Names to choose from'"
BOTH = f"{CHOOSE}!$A$2:INDEX({CHOOSE}!$A$2:$A$501,MAX(1,MIN(500,{CHOOSE}!$B$501+{CHOOSE}!$C$2001)))"
"""Recipes and items in one list, from the first name to the last."""


def test_what_a_recipe_uses_is_chosen_from_recipes_and_items(
    tmp_path: Path, ironcalc: IronCalc
) -> None:
    path = tmp_path / "mine.xlsx"
    run("new", path)
    book = openpyxl.load_workbook(path, data_only=True)
    assert book[CHOOSE.strip("'")].sheet_state == "hidden"
    names = [cell.value for cell in book[CHOOSE.strip("'")]["A"]]
    assert names[1:4] == ["Plain roll (example)", "Flour (example)", None]
    document = ironcalc.open(path)
    typed = {"Batches": ("A4", "Dough"), "Purchases": ("B3", "Salt")}
    for tab, (cell, name) in typed.items():
        document.set(tab, cell, name)
    document.set("Purchases", "B4", "flour (Example)")  # bought again: it stands there once
    document.set("Purchases", "B9", "Oil")
    document.recalculate()
    values = document.values(CHOOSE.strip("'"))
    assert [values.get(f"A{row}") or "" for row in range(2, 8)] == [
        *("Plain roll (example)", "Dough", "Flour (example)", "Salt", "Oil", "")
    ]
    assert (values["B501"], values["C2001"]) == (2, 3)


def test_the_sheet_of_names_is_not_called_one_that_was_not_read(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    run("new", path)
    assert "Not read: How to start.\n" in run("check", path)[1]


def test_drop_downs_offer_the_names_that_stand_elsewhere(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    run("new", path)
    assert offers(path, "Recipes") == {
        "A2:A501": names_of("'Batches'!$A"),
        "B2:B501": BOTH,
    }
    assert offers(path, "Products") == {"B2:B501": names_of("'Batches'!$A")}
    full = tmp_path / "full.xlsx"
    run("new", full, "--full")
    assert offers(full, "Recipes")["B2:B501"] == BOTH
    assert offers(full, "Packaging")["B2:B501"] == names_of("'Items'!$A")
    assert offers(full, "Purchases") == {
        "B2:B501": names_of("'Items'!$A"),
        "C2:C501": names_of("'Suppliers'!$A"),
    }
    assert offers(full, "Products")["J2:J501"] == names_of("'Outlets'!$A")


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.title)
def test_every_name_is_offered_that_another_sheet_has(sheet: InputSheet) -> None:
    names = {field.name for field in sheet.fields if field.kind is Kind.NAME}
    first_said = {"product", "outlet"} if sheet.title in ("Products", "Outlets") else set()
    offered = {name for title, name in OFFERED if title == sheet.title}
    assert offered - {"sold_at"} == names - first_said
    for candidates in OFFERED.values():
        assert all(INPUT_SHEETS[title].field(name) for title, name in candidates)
