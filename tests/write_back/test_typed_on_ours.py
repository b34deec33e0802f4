"""What a person types on our sheets is kept, or said: never thrown away in silence."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.helpers import run
from tests.judges.libreoffice import LibreOffice

STARTER = Path(__file__).parents[2] / "sample_workbooks" / "starter.xlsx"
ON = ("--on", "2026-11-20")
REMEDY = "Put notes on a sheet of your own, or in a Note column."


@pytest.fixture
def costed(tmp_path: Path) -> Path:
    """The starter sample, costed once."""
    book = tmp_path / "stall.xlsx"
    shutil.copyfile(STARTER, book)
    assert run("cost", book, *ON)[0] == 0
    return book


def type_into(book: Path, *cells: tuple[str, str, str | float]) -> None:
    opened = openpyxl.load_workbook(book)
    for tab, cell, value in cells:
        opened[tab][cell] = value
    opened.save(book)


def typed(book: Path, *more: object) -> list[tuple[str, str, str]]:
    """What `cost` says was typed on our sheets: tab, cell, sentence."""
    code, out, err = run("cost", book, "--json", *ON, *more)
    assert code in (0, 1), err
    problems: list[dict[str, Any]] = json.loads(out)["problems"]
    return [
        (each["sheet"], each["cell"], each["what"]) for each in problems if each["remedy"] == REMEDY
    ]


def formula_cell(book: Path, tab: str) -> str:
    """The last cell of a tab that holds one of our formulas."""
    cells = [
        cell.coordinate
        for row in openpyxl.load_workbook(book)[tab].iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.startswith("=")
    ]
    return str(cells[-1])


def test_a_note_and_a_figure_typed_on_our_sheets_are_said_with_the_backup(costed: Path) -> None:
    figure = formula_cell(costed, "Cost cards")
    type_into(costed, ("Prices", "Z3", "talk to Ann"), ("Cost cards", figure, 99.5))
    end = "here; this sheet is written anew, so it stands only in stall backups/stall (before "
    found = typed(costed)
    assert [(tab, cell) for tab, cell, _ in found] == [("Prices", "Z3"), ("Cost cards", figure)]
    assert found[0][2].startswith(f'you typed "talk to Ann" {end}')
    assert found[1][2].startswith(f'you typed "99.5" {end}')
    backups = sorted((costed.parent / "stall backups").iterdir())
    assert openpyxl.load_workbook(backups[-1])["Prices"]["Z3"].value == "talk to Ann"


def test_a_second_run_alone_finds_nothing(costed: Path) -> None:
    assert typed(costed) == []


def test_new_rows_of_the_person_are_not_taken_for_typing(costed: Path) -> None:
    opened = openpyxl.load_workbook(costed)
    sheet = opened["Products"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    last = sheet.max_row
    for head, column in heads.items():
        sheet.cell(last + 1, column).value = sheet.cell(last, column).value
        if head == "Product":
            sheet.cell(last + 1, column).value = "One more"
    opened.save(costed)
    assert typed(costed) == []


def test_what_is_typed_into_a_box_is_kept(costed: Path) -> None:
    tab = openpyxl.load_workbook(costed)["Try a change"]
    row = next(cell.row for cell in tab["A"] if cell.value == "Pay per hour")
    type_into(costed, ("Try a change", f"C{row}", 21))
    assert typed(costed) == []
    assert openpyxl.load_workbook(costed)["Try a change"][f"C{row}"].value == 21


@pytest.mark.libreoffice
def test_saving_in_libreoffice_is_not_taken_for_typing(
    costed: Path, libreoffice: LibreOffice
) -> None:
    document = libreoffice.open(costed)
    document.recalculate()
    document.set("Prices", "Z3", "talk to Ann")
    saved = costed.with_name("saved.xlsx")
    document.save_as(saved)
    document.close()
    assert [(tab, cell) for tab, cell, _ in typed(saved)] == [("Prices", "Z3")]


def test_an_output_of_an_earlier_run_is_replaced_and_a_file_of_ones_own_is_not(
    tmp_path: Path,
) -> None:
    other, own = tmp_path / "priced.xlsx", tmp_path / "own.xlsx"
    for _ in range(2):
        assert run("cost", STARTER, *ON, "--output", other)[0] == 0
    own.write_bytes(STARTER.read_bytes())
    code, _, err = run("cost", STARTER, *ON, "--output", own)
    assert code == 2
    assert "own.xlsx" in err
    assert own.read_bytes() == STARTER.read_bytes()
