"""What a person types on our sheets is kept, or said: never thrown away in silence."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.comments import Comment  # type: ignore[import-not-found]  # left out of the stubs
from openpyxl.styles import Font

from costbook.ours.imprint import unfolded
from costbook.ours.kept import remembered
from costbook.package.workbook_file import WorkbookFile
from tests.helpers import read_back, run
from tests.judges.libreoffice import LibreOffice
from tests.write_back.books import ON, small

REMEDY = "Put notes on a sheet of your own, or in a Note column."


@pytest.fixture(scope="module")
def costed_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = small(tmp_path_factory.mktemp("once") / "stall.xlsx")
    assert run("cost", book, *ON)[0] == 0
    return book


@pytest.fixture
def costed(costed_once: Path, tmp_path: Path) -> Path:
    """The small workbook, costed once."""
    return Path(shutil.copy(costed_once, tmp_path / "stall.xlsx"))


def type_into(book: Path, *cells: tuple[str, str, str | float]) -> None:
    opened = openpyxl.load_workbook(book)
    for tab, cell, value in cells:
        opened[tab][cell] = value
    opened.save(book)


def doubts(book: Path, *more: object) -> list[dict[str, Any]]:
    code, out, err = run("cost", book, "--json", *ON, *more)
    assert code in (0, 1), err
    problems: list[dict[str, Any]] = json.loads(out)["problems"]
    return problems


def typed(book: Path, *more: object) -> list[tuple[str, str, str]]:
    """What `cost` says was typed on our sheets: tab, cell, sentence."""
    return [
        (each["sheet"], each["cell"], each["what"])
        for each in doubts(book, *more)
        if each["remedy"] == REMEDY
    ]


def cell_where(book: Path, tab: str, *, formula: bool) -> str:
    """The last cell of a tab that holds one of our formulas, or one of our texts."""
    cells = [
        cell.coordinate
        for row in read_back(book)[tab].iter_rows()
        for cell in row
        if isinstance(cell.value, str) and cell.value.startswith("=") is formula
    ]
    return str(cells[-1])


def backup_of(book: Path) -> str:
    """The newest backup, as the sentences name it."""
    folder = book.parent / f"{book.stem} backups"
    return f"{folder.name}/{max(folder.iterdir(), key=lambda each: each.stat().st_mtime).name}"


def test_a_note_and_a_figure_typed_on_our_sheets_are_said_with_the_backup(costed: Path) -> None:
    figure = cell_where(costed, "Cost cards", formula=True)
    type_into(costed, ("Prices", "Z3", "talk to Ann"), ("Cost cards", figure, 99.5))
    found = typed(costed)
    where = f"here; this sheet is written anew, so it stands only in {backup_of(costed)}."
    assert found == [
        ("Prices", "Z3", f'you typed "talk to Ann" {where}'),
        ("Cost cards", figure, f'you typed "99.5" {where}'),
    ]
    backup = costed.parent / backup_of(costed)
    assert read_back(backup)["Prices"]["Z3"].value == "talk to Ann"


def test_what_is_typed_is_found_whatever_it_is_and_looks_like(costed: Path) -> None:
    label = cell_where(costed, "Prices", formula=False)
    opened = openpyxl.load_workbook(costed)
    opened["Prices"][label] = "my own words"  # in place of words of ours
    opened["Prices"]["Z4"] = "=B2*1.1"
    opened["Prices"]["Z5"] = "bold"
    opened["Prices"]["Z5"].font = Font(bold=True)
    opened["What moved"]["Z6"] = 0.15
    opened["What moved"]["Z6"].number_format = "0%"
    opened["About"]["Z7"] = opened["About"]["A1"].value  # words of ours where none stood
    opened["About"]["Z8"].comment = Comment("ask the market about this", "Ann")
    opened.save(costed)
    found = {(tab, cell): what for tab, cell, what in typed(costed)}
    where = f"; this sheet is written anew, so it stands only in {backup_of(costed)}."
    assert found == {
        ("Prices", label): f'you typed "my own words" here{where}',
        ("Prices", "Z4"): f'you typed "=B2*1.1" here{where}',
        ("Prices", "Z5"): f'you typed "bold" here{where}',
        ("What moved", "Z6"): f'you typed "0.15" here{where}',
        ("About", "Z7"): f'you typed "About these sheets" here{where}',
        ("About", "Z8"): f'your note "ask the market about this" is here{where}',
    }


def test_a_tick_in_a_printed_box_is_no_change_and_a_note_there_is_one(tmp_path: Path) -> None:
    """Two doubts on To put right, each with a box to tick: one is ticked, one written into."""
    book = small(tmp_path / "stall.xlsx")
    type_into(book, ("Recipes", "C2", "½"), ("Recipes", "C3", "1 ½"))
    assert run("cost", book, *ON)[0] in (0, 1)
    sheet = read_back(book)["To put right"]
    heads = next(cell.row for cell in sheet["A"] if cell.value == "Done")
    places = [sheet.cell(at, 2).value for at in (heads + 1, heads + 2)]
    assert all(places)
    first, second = f"A{heads + 1}", f"A{heads + 2}"
    for tick in ("x", "✓", 1, "done"):
        type_into(book, ("To put right", first, tick))
        assert typed(book) == []
    type_into(book, ("To put right", first, "x"), ("To put right", second, "ask Ann"))
    assert [(tab, cell) for tab, cell, _ in typed(book)] == [("To put right", second)]


def test_a_second_run_alone_finds_nothing(costed: Path) -> None:
    assert typed(costed) == []


def test_so_many_cells_are_counted(costed: Path) -> None:
    type_into(costed, *(("Prices", f"Z{row}", f"note {row}") for row in range(1, 31)))
    found = typed(costed)
    assert len(found) == 21
    assert found[-1][:2] == ("Prices", "")
    assert found[-1][2].startswith("10 more cells hold what you typed; this sheet is written anew")


def test_a_long_text_is_cut(costed: Path) -> None:
    type_into(costed, ("Prices", "Z3", "  remember to ask Ann " + "very " * 200))
    text = "remember to ask Ann very very very very very very very very…"
    assert f'you typed "{text}" here' in typed(costed)[0][2]


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


def test_rows_put_into_a_sheet_of_ours_are_not_taken_for_typing(costed: Path) -> None:
    opened = openpyxl.load_workbook(costed)
    opened["Prices"].insert_rows(5, 2)
    opened["Prices"]["A5"] = "this week"
    opened.save(costed)
    assert [(tab, cell) for tab, cell, _ in typed(costed)] == [("Prices", "A5")]


def test_a_renamed_tab_is_still_known(costed: Path) -> None:
    opened = openpyxl.load_workbook(costed)
    opened["Prices"]["Z3"] = "talk to Ann"
    opened["Prices"].title = "What to charge (2026)"
    opened["Products"].title = "My & our products"
    names: Any = opened["What to charge (2026)"]
    for name, mark in names.defined_names.items():
        if name.startswith("costbook_"):  # openpyxl, unlike a program, leaves references be
            mark.attr_text = "'What to charge (2026)'!$A$1"
    opened.save(costed)
    assert [(tab, cell) for tab, cell, _ in typed(costed)] == [("What to charge (2026)", "Z3")]


def test_without_the_memory_nothing_is_said(costed: Path) -> None:
    type_into(costed, ("Prices", "Z3", "talk to Ann"))
    opened = openpyxl.load_workbook(costed)
    del opened["Memory"]
    opened.save(costed)
    assert typed(costed) == []
    left = unfolded(remembered(WorkbookFile(costed.read_bytes())).left)
    assert left.sheets.keys() >= {"Prices", "Workings"}


def test_a_memory_that_somebody_wrote_over_does_no_harm(costed: Path) -> None:
    type_into(costed, ("Prices", "Z3", "talk to Ann"), ("Memory", "A4", "x" * 100))
    assert typed(costed) == []


# ---------------------------------------------------------------- boxes


def box_of(book: Path, name: str) -> str:
    tab = read_back(book)["Try a change"]
    return f"C{next(cell.row for cell in tab['A'] if cell.value == name)}"


def test_what_is_typed_into_a_box_is_kept(costed: Path) -> None:
    pay = box_of(costed, "Pay per hour")
    type_into(costed, ("Try a change", pay, 21))
    assert typed(costed) == []
    assert read_back(costed)["Try a change"][pay].value == 21
    assert typed(costed) == []


def test_a_trial_of_an_item_that_is_gone_is_said(costed: Path) -> None:
    item = str(read_back(costed)["Purchases"]["B2"].value)
    type_into(costed, ("Try a change", box_of(costed, item), 7.5))
    opened = openpyxl.load_workbook(costed)
    for tab in ("Purchases", "Items", "Recipes", "Packaging"):
        for row in opened[tab].iter_rows() if tab in opened.sheetnames else ():
            for cell in row:
                cell.value = "Another thing" if cell.value == item else cell.value
    opened.save(costed)
    name = item.lower().replace(",", "")
    said = [each for each in doubts(costed) if each["sheet"] == "Try a change"]
    assert [(each["what"], each["remedy"]) for each in said] == [
        (
            f'your trial price 7.5 for "{name}" was taken away, as no item is called so any more.',
            "Type it again beside the item's new name.",
        )
    ]


# ---------------------------------------------------------------- another file


def test_what_is_typed_in_an_output_is_said_when_it_is_written_anew(tmp_path: Path) -> None:
    own, other = small(tmp_path / "stall.xlsx"), tmp_path / "priced.xlsx"
    assert run("cost", own, *ON, "--output", other)[0] == 0
    assert not [each for each in doubts(own, "--output", other) if not each["sheet"]]
    type_into(other, ("Prices", "Z3", "talk to Ann"))
    said = doubts(own, "--output", other)
    backup = f"priced backups/{max((tmp_path / 'priced backups').iterdir()).name}"
    assert [each["what"] for each in said if each["remedy"] == REMEDY] == [
        f'you typed "talk to Ann" here; this sheet is written anew, so it stands only in {backup}.'
    ]
    assert [(each["what"], each["remedy"]) for each in said if not each["sheet"]] == [
        (
            (
                "priced.xlsx was saved by another program since costbook wrote it. It is written "
                f"anew from stall.xlsx, so what you changed there stands only in {backup}."
            ),
            "Type receipts and recipes into stall.xlsx, or cost priced.xlsx itself.",
        )
    ]


def test_what_is_typed_in_the_workbook_is_said_when_another_is_written(costed: Path) -> None:
    type_into(costed, ("Prices", "Z3", "talk to Ann"))
    before = costed.read_bytes()
    assert [what for _, _, what in typed(costed, "--output", costed.with_name("other.xlsx"))] == [
        'you typed "talk to Ann" here; this sheet is written anew, so it stands only in stall.xlsx.'
    ]
    assert costed.read_bytes() == before


def test_an_output_keeps_its_earlier_costings_and_its_boxes(tmp_path: Path) -> None:
    own, other = small(tmp_path / "stall.xlsx"), tmp_path / "priced.xlsx"
    assert run("cost", own, "--on", "2026-11-10", "--output", other)[0] == 0
    pay = box_of(other, "Pay per hour")
    type_into(other, ("Try a change", pay, 21))
    assert typed(own, "--output", other) == []
    opened = openpyxl.load_workbook(other)
    assert opened["Try a change"][pay].value == 21
    days = {str(cell.value)[:10] for cell in opened["Earlier costings"]["A"] if cell.is_date}
    assert "2026-11-10" in days


# ---------------------------------------------------------------- other programs


@pytest.mark.libreoffice
def test_saving_in_libreoffice_is_not_taken_for_typing(
    costed: Path, libreoffice: LibreOffice
) -> None:
    document = libreoffice.open(costed)
    document.set("Purchases", "E2", 77)
    document.recalculate()
    document.set("Prices", "Z3", "talk to Ann")
    document.set("Prices", "Z4", "=B2*1.1")
    saved = costed.with_name("saved.xlsx")
    document.save_as(saved)
    document.close()
    assert [(tab, cell) for tab, cell, _ in typed(saved)] == [("Prices", "Z3"), ("Prices", "Z4")]
