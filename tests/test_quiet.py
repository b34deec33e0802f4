"""A command says what is doubtful in its answer, and counts the rest in one line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from costbook.problems import Place, Problem, Severity, to_check
from tests.helpers import run, save
from tests.tables import sheets

ON = ("--on", "2026-11-25")

STALL = """
Settings
Setting  | Value
Currency | USD
Target margin % | 40

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 5 lb bag  |      | 2.00
2026-07-01 | Salt  | 1         | kg   | 1.00

Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g
Wrap   | Salt  | 5      | g

Batches
Recipe | Makes | Unit
Wrap   | 12    | ea

Products
Product | Recipe | Units per pack
Single  | Wrap   | 1
"""

OLD = "Purchases!A3: the price of Salt is 147 days old. Type a newer receipt when you have one."
READ = 'Purchases!C2: "5 lb bag" was read as 5 lb.'


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return save(sheets(STALL), tmp_path)


def test_how_a_text_was_read_is_counted_and_no_doubt(stall: Path, tmp_path: Path) -> None:
    _, out, err = run("cost", stall, "--output", tmp_path / "out.xlsx", *ON)
    assert err.splitlines() == [
        f"stall.xlsx: check: {OLD}",
        "stall.xlsx: 1 other thing to look at: `costbook check stall.xlsx` lists it.",
    ]
    assert "To put right: Nothing is wrong; 1 to check." in out.splitlines()
    assert "0 wrong, 1 to check. 1 text was read as what it seems to mean." in out.splitlines()


def test_many_old_prices_are_one_line(tmp_path: Path) -> None:
    """Three of them are said one by one; 30 days are the limit where nobody typed another."""
    foods = ("Salt", "Oats", "Rice", "Peas")
    receipts = "".join(f"\n2026-07-01 | {each} | 1 | kg | 2" for each in foods[1:])
    lines = "".join(f"\nWrap | {each} | 5 | g" for each in foods[1:])
    text = STALL.replace("kg   | 1.00", f"kg | 1.00{receipts}").replace(
        "5      | g", f"5 | g{lines}"
    )
    _, _, err = run("check", save(sheets(text), tmp_path), *ON)
    (said,) = (line for line in err.splitlines() if "days" in line)
    assert said == (
        "stall.xlsx: check: Purchases!A3: this price is more than 30 days old. So it is in rows "
        "4–6. Type a newer receipt when you have one."
    )


def test_check_lists_every_text_and_so_does_json(stall: Path) -> None:
    code, out, err = run("check", stall, *ON)
    assert (code, out.splitlines()[0]) == (
        0, "0 wrong, 1 to check. 1 text was read as what it seems to mean.",
    )  # fmt: skip
    assert f"stall.xlsx: check: {READ} Nothing, if that is right." in err.splitlines()
    whole = json.loads(run("cost", stall, "--json", "--output", stall.with_name("o.xlsx"), *ON)[1])
    assert {each["cell"] for each in whole["problems"]} == {"A3", "C2"}


def test_where_nothing_is_doubtful_texts_read_are_said_all_the_same(tmp_path: Path) -> None:
    path = save(sheets(STALL.replace("2026-07-01", "2026-11-01")), tmp_path)
    assert run("check", path, *ON)[1].splitlines()[0] == (
        "Nothing is wrong, and nothing is doubtful. "
        "1 text was read as what it seems to mean."
    )  # fmt: skip


def test_two_texts_are_counted_together(tmp_path: Path) -> None:
    two = STALL.replace("2026-07-01 | Salt  | 1         | kg", "2026-11-01 | Salt  | 1 kg bag  |")
    path = save(sheets(two), tmp_path)
    assert run("check", path, *ON)[1].splitlines()[0] == (
        "Nothing is wrong, and nothing is doubtful. "
        "2 texts were read as what they seem to mean."
    )  # fmt: skip


def test_explain_shows_beside_the_line_how_its_text_was_read(stall: Path) -> None:
    _, out, err = run("explain", stall, "Single", "ingredients", *ON)
    lines = out.splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("   Flour"))
    assert lines[at + 1] == f"      read: {READ}"
    assert f"      check: {OLD}" in lines
    assert err == ""


def test_compare_says_what_touches_the_item_and_counts_the_rest(stall: Path) -> None:
    _, _, err = run("compare", stall, "Flour", *ON)
    assert err == "stall.xlsx: 2 other things to look at: `costbook check stall.xlsx` lists them.\n"
    _, _, err = run("compare", stall, "Salt", *ON)
    assert err.splitlines() == [
        f"stall.xlsx: check: {OLD}",
        "stall.xlsx: 1 other thing to look at: `costbook check stall.xlsx` lists it.",
    ]


def test_only_doubts_are_to_check() -> None:
    doubt = Problem(Severity.DOUBTFUL, Place("Items", "A2"), "Odd.")
    wrong = Problem(Severity.WRONG, Place("Items", "A2"), "Wrong.")
    read = Problem(Severity.DOUBTFUL, Place("Items", "A2"), "Read.", as_read=True)
    assert to_check([doubt, wrong, read, read, doubt]) == 2
    assert to_check([wrong, read]) == 0
