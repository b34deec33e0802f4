"""`new --add SHEET FILE`: a missing sheet is put in, and nothing else of the workbook changes."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from costbook.package.graft import with_sheets
from tests.helpers import make_book, read_back, run
from tests.package.making import corpus, faults, file_of, parts, plain, quiet

STARTER = Path(__file__).parent.parent / "sample_workbooks" / "starter.xlsx"
ON = ("--on", "2026-11-20")
TOUCHED = {
    "[Content_Types].xml",
    "xl/_rels/workbook.xml.rels",
    "xl/styles.xml",
    "xl/workbook.xml",
}
"""The parts that must gain entries for one more sheet."""


ALL = (
    *("Settings", "Purchases", "Items", "Recipes", "Batches", "Stages", "Packaging", "Products"),
    *("Overheads", "Outlets", "Offers", "Suppliers", "Plan", "Market days", "Sales"),
    *("Made", "Counts", "Tests"),
)


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return Path(shutil.copy(STARTER, tmp_path / "my stall.xlsx"))


def tabs(path: Path) -> list[str]:
    return openpyxl.load_workbook(path, read_only=True).sheetnames


def test_the_sheet_stands_before_ours_and_all_else_is_as_it_was(stall: Path) -> None:
    run("cost", stall, *ON)
    before, theirs = tabs(stall), parts(stall.read_bytes())
    code, out, err = run("new", "--add", "Overheads", "--add", "offers", stall)
    assert (code, err) == (0, "")
    assert out.startswith(
        f"Added to {stall}: Overheads, Offers. Fill in, save, and run\n"
        f'  costbook cost "{stall}"\n'
        "Your workbook as it was: "
    )
    first_of_ours = before.index("In short")
    assert tabs(stall) == [
        *before[:first_of_ours], "Overheads", "Offers", *before[first_of_ours:]
    ]  # fmt: skip
    after = parts(stall.read_bytes())
    changed = {name for name, data in theirs.items() if after.get(name) != data}
    assert changed <= TOUCHED
    assert faults(stall.read_bytes()) == []


def test_its_example_row_counts_for_nothing(stall: Path) -> None:
    def prices() -> str:
        return run("cost", stall, *ON)[1].partition("Written")[0]

    before = prices()
    run("new", "--add", "Offers", stall)
    assert prices() == before
    assert read_back(stall)["Offers"]["A2"].value == "Flour (example)"


def test_a_workbook_that_counts_from_1904_gets_its_example_day(tmp_path: Path) -> None:
    path = tmp_path / "mac.xlsx"
    with xlsxwriter.Workbook(path, {"date_1904": True}) as book:
        book.add_worksheet("Recipes").write_row(0, 0, ["Recipe", "Uses", "Amount", "Unit"])
    assert run("new", "--add", "Purchases", path)[0] == 0
    day = read_back(path)["Purchases"]["A2"].value
    assert str(day).startswith("2026-01-05")
    assert "Purchases!" not in run("check", path)[2]  # the example isn't counted


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("Stages",), "my stall.xlsx has a sheet Stages already. Fill that in."),
        (("Stags",), 'No sheet to fill in is called "Stags". Did you mean "Stages"?'),
        (
            ("Weather",),
            f'No sheet to fill in is called "Weather". There are: {", ".join(ALL)}.',
        ),
        (
            ("Offers", "--full"),
            "--full makes a new workbook, and --add fills up one. Give one of them.",
        ),
    ],
)
def test_what_can_not_be_added_is_said(words: tuple[str, ...], sentence: str, stall: Path) -> None:
    before = stall.read_bytes()
    assert run("new", "--add", *words, stall) == (2, "", f"costbook: {sentence}\n")
    assert stall.read_bytes() == before


def test_a_sheet_under_another_name_is_named_with_its_tab(tmp_path: Path) -> None:
    path = make_book(
        tmp_path / "stall.xlsx", {"Work steps": [["Recipe", "Stage", "Minutes per batch"]]}
    )
    assert run("new", "--add", "Stages", path)[2] == (
        "costbook: stall.xlsx has a sheet Stages already, on its tab Work steps. Fill that in.\n"
    )


def test_a_message_that_asks_for_a_sheet_says_how(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", {"Recipes": [["Recipe", "Uses", "Amount", "Unit"]]})
    said = run("check", path)[2]
    assert (
        "stall.xlsx: Batches: this sheet is missing. Add it, to be filled in: "
        "costbook new --add Batches stall.xlsx\n"
    ) in said


def test_every_foreign_workbook_takes_one_more_sheet() -> None:
    book = openpyxl.Workbook()
    book.active.title = "Stages"
    saved = io.BytesIO()
    book.save(saved)
    for name, theirs in {"plain": plain("Mine"), **corpus()}.items():
        new = with_sheets(file_of(theirs), quiet(saved.getvalue())).content
        before, after = parts(theirs), parts(new)
        kept = [part for part in before if after.get(part) == before[part]]
        assert len(before) - len(kept) <= len(TOUCHED) + 1, name  # and the calculation chain


def test_a_tab_of_that_name_is_refused_by_the_graft() -> None:
    with pytest.raises(ValueError, match="bears the name"):
        with_sheets(file_of(plain("Stages")), plain("stages"))


def test_an_added_sheet_offers_the_names_of_the_workbook_it_is_put_into(tmp_path: Path) -> None:
    path = make_book(
        tmp_path / "stall.xlsx",
        {
            "Bills": [["Till"], ["Date", "Shop", "Item", "Pack size", "Unit", "Price per pack"]],
            "Recipes": [["Recipe", "Uses", "Amount", "Unit"]],
        },
    )
    run("new", "--add", "Items", path)
    rules = read_back(path)["Items"].data_validations.dataValidation
    offered = {str(rule.sqref): rule.formula1.split(":")[0] for rule in rules}
    assert offered["A2:A501"] == "'Bills'!$C$3"
    assert offered["H2:H501"] == "'Bills'!$B$3"


def test_what_is_lacking_is_described_each_for_itself_and_nothing_written(stall: Path) -> None:
    before = stall.read_bytes()
    code, out, _ = run("describe", stall, "--blank", "--json")
    said = json.loads(out)
    lacking = [title for title in ALL if title not in tabs(stall)]
    assert code == 0
    assert [each["title"] for each in said["lacking"]] == lacking
    assert [sheet["tab"] for sheet in said["drawn"]["sheets"]] == lacking
    assert said["drawn"]["order"] == [*tabs(stall), *lacking]
    offers = next(sheet for sheet in said["drawn"]["sheets"] if sheet["tab"] == "Offers")
    assert all("'Suppliers'" not in source for *_, source in offers["choices"])
    assert stall.read_bytes() == before
    assert run("describe", stall, "--blank")[1].startswith(f"{len(lacking)} sheets, ")


def test_a_tab_that_bears_the_name_for_another_use_is_not_offered(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.create_chartsheet().title = "Plan"
    book.save(tmp_path / "charts.xlsx")
    code, out, _ = run("describe", tmp_path / "charts.xlsx", "--blank", "--json")
    assert code == 0
    assert "Plan" not in [each["title"] for each in json.loads(out)["lacking"]]
