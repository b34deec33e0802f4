"""`explain --cell`: a figure of ours back to its sources, a typed one to what it goes into."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from tests.helpers import run
from tests.judges import address
from tests.test_house import HOUSE

ON = ("--on", "2026-11-20")


@pytest.fixture(scope="module")
def stall(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("cell") / "stall.xlsx"
    shutil.copy(HOUSE / "sample_workbooks" / "market_stall.xlsx", path)
    assert run("cost", path, *ON)[0] == 0
    return path


def told(stall: Path, cell: str) -> tuple[str, str]:
    """What is said of a cell, and its first line."""
    code, out, _ = run("explain", stall, "--cell", cell, *ON)
    assert code == 0
    about, first, *_ = out.splitlines()
    return about, first


def refused(stall: Path, *words: str) -> str:
    code, out, err = run("explain", stall, *words)
    assert (code, out) == (2, "")
    return err


def test_every_figure_that_prices_shows_leads_to_what_explain_says_of_it(stall: Path) -> None:
    """The headings of What to charge, in full, against `explain PRODUCT FIGURE --outlet OUTLET`."""
    shown = openpyxl.load_workbook(stall, data_only=True)["Prices"]
    rows = [[cell.value for cell in row] for row in shown.iter_rows(max_row=80)]
    head = next(at for at, row in enumerate(rows) if "Margin there" in row)
    figures = {"Cost before fees": "total", "CHARGE": "price on step", "Margin now": "now margin"}
    for row in range(head + 2, head + 5):
        product, outlet = (str(shown.cell(row, at).value) for at in (1, 2))
        for heading, figure in figures.items():
            cell = address(row, rows[head].index(heading) + 1)
            out = run("explain", stall, "--cell", f"Prices!{cell}", "--json", *ON)[1]
            by_name = run("explain", stall, product, figure, "--outlet", outlet, "--json", *ON)[1]
            assert json.loads(out)["about"] == f"{product} at {outlet}:"
            assert json.loads(out)["lines"] == json.loads(by_name)["lines"]


def test_a_name_leads_to_the_first_figure_on_its_right(stall: Path) -> None:
    tab = openpyxl.load_workbook(stall, data_only=True)["Latest prices"]
    row = next(row for row in range(1, 60) if tab.cell(row, 1).value == "Leeks")
    assert told(stall, f"Latest prices!A{row}")[0] == "Leeks:"


@pytest.mark.parametrize(
    ("cell", "about", "begins"),
    [
        ("Recipes!C19", "Recipes!C19, typed by you: Amount: 3.2.", "Leeks: 3.2 kg ready, 44 %"),
        ("settings!$B$7", "Settings!B7, typed by you: Target margin %: 30.0 %.", "Target margin"),
        ("Items!C8", "Items!C8, typed by you: Usable %: 44.0 %.", "Large unit price ready: "),
        ("Purchases!A128", "Purchases!A128, typed by you: Date: 2026-11-13.", "Price per base "),
        ("Batches!B6", "Batches!B6, typed by you: Makes: 48.", "Leek rolls, a batch: "),
        ("Outlets!C2", "Outlets!C2, typed by you: Fee per day: 35.", "Saturday market, a day: "),
        ("Products!G2", "Products!G2, typed by you: Current price: 6.5.", "Margin now: "),
    ],
)
def test_a_typed_cell_leads_to_what_it_goes_into(
    stall: Path, cell: str, about: str, begins: str
) -> None:
    said, first = told(stall, cell)
    assert said == f"{about} It goes into this:"
    assert first.startswith(begins)


def test_a_cell_made_of_several_figures_names_each(stall: Path) -> None:
    about, first = told(stall, "In short!A6")  # what to raise: every product's price at each outlet
    assert about.endswith(" is made of these figures:")
    assert first.startswith("Leek & potato roll at Saturday market: Charge: ")


def test_what_cannot_be_explained_says_so(stall: Path) -> None:
    assert refused(stall, "--cell", "Prices") == (
        'costbook: "Prices" names no cell. Name it with its sheet, as Prices!E12.\n'
    )
    assert refused(stall, "--cell", "Pricse!A1") == (
        'costbook: No sheet of this workbook is called "Pricse". Did you mean "Prices"?\n'
    )
    assert refused(stall, "--cell", "Prices!A1") == (
        "costbook: No figure of the costing stands in Prices!A1. "
        "Choose a figure on that sheet, or a name that stands left of one.\n"
    )
    assert refused(stall, "--cell", "Recipes!A900") == (
        "costbook: costbook reads nothing in Recipes!A900. Choose a cell of a row that you filled "
        "in, or a figure on a sheet of costbook's.\n"
    )
