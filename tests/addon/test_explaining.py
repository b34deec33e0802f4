"""Where does this come from? The selected cell, of ours or of theirs, back to the receipts."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.addon.office import AddonOffice, Opened
from tests.addon.test_update import opened
from tests.helpers import run

pytestmark = pytest.mark.libreoffice

TITLE = "Where does this come from?"
FIGURES = {
    "CHARGE": "Charge: ",
    "Margin there": "Margin on what to charge: ",
    "Cost before fees": "Cost: ",
    "Price now": "Price now",
}
"""Headings of the table What to charge, in full, on Prices, and how their explanations begin."""


def found_below(document: Opened, heading: str, product: str, outlet: str) -> str:
    """The address of a figure on Prices, by its heading and its row."""
    lines = document.contents()["Prices"]["values"]
    head = next(at for at, line in enumerate(lines) if "Margin there" in line)
    row = next(at for at, line in enumerate(lines) if at > head and line[:2] == [product, outlet])
    return f"{chr(65 + lines[head].index(heading))}{row + 1}"


@pytest.fixture(scope="module")
def costed(samples: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = Path(shutil.copy(samples / "market_stall.xlsx", tmp_path_factory.mktemp("costed")))
    assert run("cost", path)[0] == 0
    return path


def test_a_figure_of_ours_is_explained_for_its_product_and_outlet(
    office: AddonOffice, python: Path, costed: Path
) -> None:
    with opened(office, costed) as document:
        for heading, begins in FIGURES.items():
            cell = found_below(document, heading, "Chickpea & relish roll", "Farm shop")
            document.ask("select", sheet="Prices", cell=cell)
            document.choose("explain")
            about, first, *_ = office.window(TITLE)
            assert about == "Chickpea & relish roll at Farm shop:"
            assert first.startswith(begins)
            office.ask("close_windows")


def test_each_cell_that_a_line_rests_on_is_gone_to(
    office: AddonOffice, python: Path, costed: Path
) -> None:
    with opened(office, costed) as document:
        document.ask("select", sheet="Recipes", cell="C19")
        document.choose("explain")
        assert office.window(TITLE)[:5] == [
            "Recipes!C19, typed by you: Amount: 3.2. It goes into this:",
            "Leeks: 3.2 kg ready, 44 % usable, so 7.27 kg bought at 4.74 a kg = 34.47",
            "            → Recipes!C19",
            "            → Items!C8",
            "            → Purchases!D128:I128",
        ]
        for line, cell in (("→ Items", "Items.C8"), ("→ Purch", "Purchases.D128:I128")):
            office.ask("pick", title=TITLE, beginning=f"            {line}")
            office.ask("press", title=TITLE, button="Go to the cell")
            assert document.ask("selected").replace("Purchases.I", "I") == cell
        assert document.undo_steps == []


def test_a_figure_from_before_the_last_change_is_not_explained_as_another(
    office: AddonOffice, python: Path, costed: Path
) -> None:
    with opened(office, costed) as document:
        cell = found_below(document, "CHARGE", "Chickpea & relish roll", "Farm shop")
        book = document.contents()["Products"]["values"]
        office.ask(
            "set_many", document=document.number, settings=[["Products", len(book) + 1, 1, "Bun"]]
        )
        office.ask(
            "set_many", document=document.number, settings=[["Recipes", 18, 2, "Strong flour"]]
        )
        document.ask("select", sheet="Prices", cell=cell)
        document.choose("explain")
        assert office.window(TITLE) == [
            (
                f"Prices!{cell} is of before you last changed the workbook. Choose Update costs, "
                "and ask again."
            ),
            "Close",
        ]


def test_a_cell_that_nothing_is_read_from_says_so(
    office: AddonOffice, python: Path, costed: Path
) -> None:
    with opened(office, costed) as document:
        document.ask("select", sheet="Recipes", cell="A900")
        document.choose("explain")
        assert office.window(TITLE) == [
            (
                "costbook reads nothing in Recipes!A900. Choose a cell of a row that you filled "
                "in, or a figure on a sheet of costbook's."
            ),
            "Close",
        ]


def test_cells_that_lie_apart_are_not_one(office: AddonOffice, python: Path) -> None:
    with opened(office, None) as document:
        document.ask("select_apart", cells=["A1", "C3"])
        document.choose("explain")
        assert office.window(TITLE) == [
            "Select one cell: a figure of costbook's, or one that you typed.",
            "Close",
        ]
