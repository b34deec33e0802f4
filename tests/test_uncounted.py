"""No price to charge while a part of the cost is not counted: it is the least to ask.

20 dumplings of 0.5 kg of flour at 2.00 and 1 kg of filling at 8.00: 9.00 a batch, 0.45 each, and
at a target margin of a half 0.90.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.helpers import Book, make_book, priced, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import Sheets, sheets

ON = ("--on", "2026-11-20")
DUMPLINGS = """
    Settings
    Setting           | Value
    Currency          | USD
    Pay per hour      | 12
    Target margin %   | 50
    No kitchen to pay | yes
    No overheads      | yes
    No selling costs  | yes

    Purchases
    Date       | Item    | Pack size | Unit | Price per pack
    2026-11-01 | Flour   | 1         | kg   | 2
    2026-11-01 | Filling | 1         | kg   | 8

    Recipes
    Recipe   | Uses    | Amount | Unit
    Dumpling | Flour   | 0.5    | kg
    Dumpling | Filling | 1      | kg

    Batches
    Recipe   | Makes | Unit
    Dumpling | 20    | ea

    Products
    Product  | Recipe   | Units per pack | Current price
    Dumpling | Dumpling | 1              | 0.8
"""
WITH_NOUGHTS = (
    DUMPLINGS
    + """
    Stages
    Recipe   | Stage | Minutes per batch
    Dumpling | Fold  | 0

    Packaging
    Product  | Uses | Amount | Unit | Per
    Dumpling | Bag  | 0      | ea   | pack
"""
)


def without(book: str, *lines: str) -> Sheets:
    """The workbook without some of its lines."""
    assert all(line in book for line in lines)
    kept = (line for line in book.splitlines() if not line.strip().startswith(lines))
    return sheets("\n".join(kept) if lines else book)


def dumpling(book: Book) -> dict[str, Any]:
    found: dict[str, Any] = priced(book)["products"][0]
    return found


def test_without_work_and_packaging_the_price_is_the_least_to_ask() -> None:
    found = dumpling(sheets(DUMPLINGS))
    assert (found["complete"], found["uncounted"]) == (False, ["labour", "packaging"])
    assert (found["missing"], found["advice"]) == ([], "raise at least to this")
    assert found["price"]["on_step"] == pytest.approx(0.90)
    assert found["cost"]["total"] == pytest.approx(0.45)


def test_rows_with_a_nought_make_it_a_price_to_charge() -> None:
    found = dumpling(sheets(WITH_NOUGHTS))
    assert (found["complete"], found["uncounted"]) == (True, [])
    assert (found["missing"], found["advice"]) == ([], "raise")
    assert found["price"]["on_step"] == pytest.approx(0.90)


@pytest.mark.parametrize(
    ("line", "part"),
    [
        ("No kitchen to pay", "kitchen"),
        ("No overheads", "overhead"),
        ("No selling costs", "selling"),
    ],
)
def test_kitchen_overheads_and_selling_are_counted_once_they_are_declared(
    line: str, part: str
) -> None:
    found = dumpling(without(WITH_NOUGHTS, line))
    assert (found["complete"], found["uncounted"]) == (False, [part])


def test_a_hire_of_nought_is_an_answer_too() -> None:
    hired = WITH_NOUGHTS.replace("No kitchen to pay | yes", "Kitchen hire per hour | 0")
    assert dumpling(sheets(hired))["uncounted"] == []


def test_the_command_and_explain_say_at_least(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", sheets(DUMPLINGS))
    said = (
        "No price to charge yet: at least, without: your work, packaging (no rows on Stages; no "
        "rows on Packaging).\n"
    )
    _, out, _ = run("cost", path, "--output", tmp_path / "out.xlsx", *ON)
    assert "at least 0.90" in out
    assert said in out
    _, out, _ = run("explain", path, "Dumpling", *ON)
    assert said in out
    _, out, _ = run("explain", path, "Dumpling", "--json", *ON)
    assert json.loads(out)["uncounted"] == ["labour", "packaging"]


def test_every_heading_says_at_least(tmp_path: Path) -> None:
    """On each sheet that would say CHARGE, but for the notes on what the word means."""
    assert headings(DUMPLINGS, tmp_path) == {f"AT LEAST{rest}" for rest in RESTS}
    assert headings(WITH_NOUGHTS, tmp_path) == {f"CHARGE{rest}" for rest in RESTS}


RESTS = ("", ", before", ", after", ", difference")


def headings(book: str, folder: Path) -> set[str]:
    path = make_book(folder / "stall.xlsx", sheets(book))
    run("cost", path, "--output", folder / "out.xlsx", *ON)
    written = openpyxl.load_workbook(folder / "out.xlsx", data_only=True).worksheets
    cells = (cell.value for sheet in written for row in sheet for cell in row)
    return {
        text for text in cells if str(text).startswith(("CHARGE", "AT LEAST")) and len(text) < 30
    }


def test_prices_and_the_card_name_what_is_not_counted_and_follow_settings(tmp_path: Path) -> None:
    path = make_book(tmp_path / "stall.xlsx", without(WITH_NOUGHTS, "No overheads"))
    run("cost", path, "--output", tmp_path / "out.xlsx", *ON)
    where = "No price to charge yet. These are the least to ask, without: {}. Fill in their sheets"
    card = "No price to charge yet. At least this, without: {}."
    with IronCalc() as judge:
        document = judge.open(tmp_path / "out.xlsx")
        document.recalculate()
        assert starting(document.values("Prices"), where.format("overheads"))
        assert card.format("overheads") in document.values("Cost cards").values()
        document.set("Settings", "B5", "no")  # No kitchen to pay
        document.recalculate()
        both = "the kitchen, overheads"
        assert starting(document.values("Prices"), where.format(both))
        assert card.format(both) in document.values("Cost cards").values()
        assert "without: the kitchen, overheads" in document.values("Prices").values()


def starting(values: dict[str, Any], text: str) -> bool:
    return any(str(value).startswith(text) for value in values.values())
