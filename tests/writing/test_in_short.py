"""In short: the first sheet of ours, with what to raise first, live, and a line for all else.

A flatbread of 1.00 made, at a margin of a half on steps of 0.50: 2.00 at the market, where it is
sold for 1.50 (a quarter below). A dozen is 12.00 made and 24.00 to charge; it is sold for 20.00
(a sixth below).
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.costing.result import CAUTION
from tests.deciding.test_in_short import DAYS, MADE, PLAN, crowded
from tests.helpers import costed, make_book, read_back, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import sheets
from tests.writing.test_ladder import BOOK

ON = ("--on", "2026-11-20")
PRICED = BOOK.replace("Units per pack\n", "Units per pack | Current price\n").replace(
    "Flatbread | Flatbread | 1\n", "Flatbread | Flatbread | 1 | 1.5\n"
).replace("Dozen     | Flatbread | 12\n", "Dozen     | Flatbread | 12 | 20\n").replace(
    "    Cafe   | stall | 0          | 0             | 10                 | 20           | 0\n", ""
)  # fmt: skip


def stall(folder: Path, text: str = PRICED) -> Path:
    return costed(make_book(folder / "stall.xlsx", sheets(text)), *ON)


def shown(path: Path) -> dict[str, Any]:
    sheet = read_back(path, data_only=True)["In short"]
    return {cell.coordinate: cell.value for row in sheet for cell in row if cell.value is not None}


def first_line(values: dict[str, Any]) -> int:
    return 1 + next(int(cell[1:]) for cell, value in values.items() if value == "Product")


def lines(values: dict[str, Any]) -> dict[str, str]:
    """What is said of each other thing, by what it is about."""
    about = ("What moved", "What to buy", "To put right", "Old prices")
    return {v: values[f"B{cell[1:]}"] for cell, v in values.items() if v in about}


def test_what_is_furthest_below_stands_first(tmp_path: Path) -> None:
    values = shown(stall(tmp_path))
    at = first_line(values)
    row = [values.get(f"{column}{at}") for column in "ABCDEF"]
    assert row[:4] == ["Flatbread", "Market", 1.5, 2]
    assert row[4] == pytest.approx((1.5 - 1) / 1.5)
    assert row[5] == 0.5
    assert [values.get(f"{column}{at + 1}") for column in "ABCD"] == ["Dozen", "Market", 20, 24]
    assert f"C{at + 2}" not in values


def test_it_follows_a_price_and_says_when_there_is_nothing_to_raise(
    tmp_path: Path, ironcalc: IronCalc
) -> None:
    path = stall(tmp_path)
    at = first_line(shown(path))
    document = ironcalc.open(path)
    document.set("Products", "D3", 12)  # the dozen: half of 24.00
    document.recalculate()
    assert document.values("In short")[f"A{at}"] == "Dozen"
    document.set("Products", "D2", 2)
    document.set("Products", "D3", 24)
    document.recalculate()
    assert document.values("In short")[f"A{at}"] == "Nothing to raise."


def test_a_price_that_is_not_known_is_not_called_enough(tmp_path: Path, ironcalc: IronCalc) -> None:
    path = stall(tmp_path, PRICED.replace("kg   | 2\n", "kg   |\n"))
    at = first_line(shown(path))
    assert shown(path)[f"A{at}"] == "No price to charge is known yet."
    document = ironcalc.open(path)
    document.set("Purchases", "E2", 2)
    document.recalculate()
    assert document.values("In short")[f"A{at}"] == "Flatbread"


def test_of_two_alike_both_are_shown_the_first_row_first(tmp_path: Path) -> None:
    values = shown(stall(tmp_path, PRICED.replace("12 | 20\n", "12 | 18\n")))
    at = first_line(values)
    assert [values[f"A{at}"], values[f"A{at + 1}"]] == ["Flatbread", "Dozen"]


def test_one_line_each_for_what_moved_what_is_missing_and_what_is_old(tmp_path: Path) -> None:
    assert lines(shown(stall(tmp_path))) == {
        "What moved": "No price changed. (2026-11-20)",
        "To put right": "Nothing. (2026-11-20)",
        "Old prices": "None.",
    }


def test_what_is_wrong_and_what_is_old_are_counted_and_the_first_is_named(tmp_path: Path) -> None:
    text = PRICED.replace("2026-11-01 | Flour", "2026-09-01 | Flour")
    said = lines(shown(stall(tmp_path, text)))
    assert said["Old prices"] == "1 is old: Flour, 80 days."
    assert said["To put right"] == "Nothing is wrong; 1 to check. (2026-11-20)"
    wrong = text.replace("Dozen     | Flour | 0 ", "Dozne     | Film  | 0 ")
    said = lines(shown(stall(tmp_path, wrong.replace("Flatbread | Bake ", "Flat      | Bake "))))
    assert said["To put right"] == (
        'Stages!A2: no recipe or product is called "Flat". Did you mean "Flatbread"? '
        "And 1 more. (2026-11-20)"
    )
    older = text.replace("    2026-09-01", "    2026-08-01 | Salt | 1 | kg | 1\n    2026-09-01")
    assert lines(shown(stall(tmp_path, older)))["Old prices"] == "2 are old: Salt, 111 days."


def test_the_pack_that_saves_most_is_named_with_what_it_saves(tmp_path: Path) -> None:
    """5 kg a week: 10 kg in 14 days, 20.00 as usual and 10.00 in a sack of ten."""
    text = (
        PRICED
        + """
    Items
    Item  | Use per week
    Flour | 5 kg

    Offers
    Item  | Supplier | Pack size | Unit | Price per pack
    Flour | Barn     | 10        | kg   | 10
"""
    )
    said = lines(shown(stall(tmp_path, text)))["What to buy"]
    assert said == ("Flour: 1 × (10 kg from Barn) for 14 days saves 10.00. (2026-11-20)")


def test_an_old_price_is_to_be_asked_before_it_is_bought(tmp_path: Path) -> None:
    """As above, with the sack seen nineteen days ago."""
    text = f"""{PRICED}
    Items
    Item  | Use per week
    Flour | 5 kg

    Offers
    Item  | Supplier | Pack size | Unit | Price per pack | Seen on
    Flour | Barn     | 10        | kg   | 10             | {{day}}
"""
    old = "Flour: 1 × (10 kg from Barn) for 14 days saves 10.00."
    said = lines(shown(stall(tmp_path, text.format(day="2026-11-12"))))["What to buy"]
    assert said == f"{old} Ask first: the price is of 2026-11-12. (2026-11-20)"
    said = lines(shown(stall(tmp_path, text.format(day="2026-11-13"))))["What to buy"]
    assert said == f"{old} (2026-11-20)"


def test_old_prices_are_counted_live(tmp_path: Path, ironcalc: IronCalc) -> None:
    """From 1 August to 20 November are 111 days; 20 September is 61 days before."""
    text = PRICED.replace("    2026-11-01", "    2026-08-01 | Salt | 1 | kg | 1\n    2026-11-01")
    document = ironcalc.open(stall(tmp_path, text))
    assert lines(document.values("In short"))["Old prices"] == "1 is old: Salt, 111 days."
    document.set("Purchases", "A3", (date(2026, 9, 20) - date(1899, 12, 30)).days)
    document.recalculate()
    assert lines(document.values("In short"))["Old prices"] == "2 are old: Salt, 111 days."
    document.set("Purchases", "A2", (date(2026, 11, 20) - date(1899, 12, 30)).days)
    document.recalculate()
    assert lines(document.values("In short"))["Old prices"] == "1 is old: Flour, 61 days."


def test_it_is_the_first_tab_of_a_workbook_that_new_made_else_the_first_of_ours(
    tmp_path: Path,
) -> None:
    made = tmp_path / "made.xlsx"
    run("new", made)
    book = openpyxl.load_workbook(made)
    for sheet, rows in sheets(PRICED).items():
        if sheet in book.sheetnames:
            for number, row in enumerate(rows, 1):
                for column, value in enumerate(row, 1):
                    book[sheet].cell(number, column).value = value
    book.save(made)
    for _ in range(2):  # and it stays there
        run("cost", made, *ON)
        assert read_back(made).sheetnames[:2] == ["In short", "How to start"]
    own = read_back(stall(tmp_path)).sheetnames
    assert own[own.index("In short") - 1 : own.index("In short") + 2] == [
        *("Outlets", "In short", "Prices"),
    ]


def test_each_line_leads_to_its_sheet_and_the_cautions_stand_below(tmp_path: Path) -> None:
    path = stall(tmp_path)
    sheet = read_back(path)["In short"]
    links = {
        str(cell.value): cell.hyperlink.location for row in sheet for cell in row if cell.hyperlink
    }
    for about, tab in (("What moved", "What moved"), ("Old prices", "Latest prices")):
        assert links[about] == f"'{tab}'!A1"
    assert CAUTION in shown(path).values()


def test_cost_says_the_same_first(tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(PRICED))
    said = run("cost", book, *ON)[1].partition("\n\n")[0].splitlines()
    least = "at least " if "at least" in said[0] else ""
    assert said[:2] == [
        f"Raise: Flatbread at Market from 1.50 to {least}2.00.",
        f"Raise: Dozen at Market from 20.00 to {least}24.00.",
    ]
    on_the_sheet = lines(shown(book))
    assert said[2:] == [
        f"{about}: {words.removesuffix(' (2026-11-20)')}" for about, words in on_the_sheet.items()
    ]


def test_cost_says_that_there_is_nothing_to_raise(tmp_path: Path) -> None:
    dear = PRICED.replace("| 1 | 1.5\n", "| 1 | 2\n").replace("| 12 | 20\n", "| 12 | 24\n")
    book = make_book(tmp_path / "stall.xlsx", sheets(dear))
    assert run("cost", book, *ON)[1].startswith("Raise: Nothing to raise.\nWhat moved: ")


def test_cost_says_that_no_price_is_known(tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", {"Products": [["Product", "Recipe"]]})
    said = run("cost", book, *ON)[1]
    assert said.startswith("Raise: No price to charge is known yet.\nWhat moved: ")


@pytest.mark.parametrize(("text", "least"), [(PRICED, 5), (crowded(PLAN, DAYS, MADE), 8)])
def test_there_are_eight_lines_at_most_and_each_is_a_link(
    tmp_path: Path, text: str, least: int
) -> None:
    path = stall(tmp_path, text)
    sheet = read_back(path)["In short"]
    values = shown(path)
    at = first_line(values)
    said = [row for row in range(at, sheet.max_row) if values.get(f"A{row}")]
    said = [row for row in said if values[f"A{row}"] not in ("To know", CAUTION)]
    assert least <= len(said) <= 8
    assert all(sheet[f"A{row}"].hyperlink for row in said)
