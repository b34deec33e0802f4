"""The sheet The week and its bench cards, against the plan worked by hand in ``weeks.py``."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from costbook.costing.engine import Costing
from costbook.definitions.columns import Show
from costbook.round_trip import read_and_cost
from costbook.writing.description import SheetDescription
from costbook.writing.pages.week import THE_WEEK
from costbook.writing.sheets import describe, titles_for
from tests.deciding.weeks import BOOK, DAY, planned, with_rows
from tests.helpers import Book, make_book, run
from tests.judges.ironcalc_judge import IronCalc


def sheet_of(costing: Costing, title: str = THE_WEEK) -> SheetDescription:
    tabs = {each: each for each in titles_for(costing.structure.book)}
    return next(each for each in describe(costing, (), tabs) if each.title == title)


def week_sheet(folder: Path, book: Book = BOOK) -> SheetDescription:
    return sheet_of(read_and_cost(make_book(folder / "stall.xlsx", book), DAY).costing)


def texts(sheet: SheetDescription) -> list[list[object]]:
    """The cells of each row, numbers to three places."""
    found: list[list[object]] = []
    for row in sorted(sheet.rows):
        cells = [cell.value for _, cell in sorted(sheet.rows[row].items())]
        found.append([round(v, 3) if isinstance(v, Decimal) else v for v in cells])
    return found


def card(sheet: SheetDescription, recipe: str) -> list[list[object]]:
    """The rows of a recipe's bench card, without what stands on none of them."""
    row, _ = sheet.anchors[f"planned: {recipe}"]
    end = min((at for at in sheet.page_breaks if at > row), default=sheet.next_row)
    shown = [sheet.rows[at] for at in range(row, end) if at in sheet.rows]
    return [[cell.value for cell in each.values() if cell.value is not None] for each in shown]


def test_it_says_what_to_make_and_what_that_takes(tmp_path: Path) -> None:
    told = [[*row[:6]] for row in texts(week_sheet(tmp_path))]
    number = Decimal
    for row in (
        ["Leek roll, single", 40, 0, 40, 44, 4],
        ["Leek roll, six", 5, 0, 5, 5, 0],
        ["Leek filling", number("1.4"), number("4.2"), 0, 42, 42],
        ["Leek roll", number("3.5"), 70, 3, 199, 188],
        ["Your minutes", 230, "too little time"],
        ["Too few by", 30],
        ["The kitchen, booked", 180],
        ["Packs in the freezer then", 49, "too little room"],
        ["All of it", number("174.31")],
    ):
        assert row in told


def test_each_recipe_planned_has_a_card_on_a_page_of_its_own_without_money(tmp_path: Path) -> None:
    sheet = week_sheet(tmp_path)
    assert len(sheet.page_breaks) == 2  # the filling and the roll
    first = sheet.page_breaks[0]
    shown = {cell.look.show for cell in sheet.cells() if cell.row >= first}
    assert shown.isdisjoint({Show.MONEY, Show.FINE_MONEY, Show.UNIT_PRICE})
    filling, roll = (card(sheet, name) for name in ("Leek filling", "Leek roll"))
    assert filling[1] == [
        "Bench card, batches",
        Decimal("1.4"),
        "make",
        Decimal("4.2"),
        "kg",
        "Day",
    ]
    assert roll[1] == ["Bench card, batches", Decimal("3.5"), "make", 84, "ea", "Day"]
    assert roll[2] == ["Batch code", "26-330", "or your own"]  # 26 November, in no leap year
    assert roll[4] == ["Flour", 3150, "g, 37.5 g each", "Set up", 20]  # once, not 3.5 times
    assert roll[5] == ["Leek filling", Decimal("4.2"), "kg, 50 g each", "Roll, 2 people", 84]
    assert roll[6] == ["Box: Leek roll, six", 11]
    assert filling[4][:3] == ["Leek", Decimal("3.5"), "kg"]  # by weight: no piece has any of it


def test_a_card_says_the_allergens_of_all_that_goes_in_and_shouts_what_is_unknown(
    tmp_path: Path,
) -> None:
    """Flour goes into the roll, leek into the filling inside it; of leek nobody said anything."""
    items = [("Item", "Allergens"), ("Flour", "wheat, may contain soya"), ("Leek", None)]
    rows = [row for row in texts(week_sheet(tmp_path, {**BOOK, "Items": items})) if row]
    typed = "Allergens typed, at the last run."
    said = [row[0] for row in rows if str(row[0]).startswith(typed)]
    assert said == [
        f"{typed} Contains: [UNKNOWN]. [ALLERGENS UNKNOWN: Leek]",
        f"{typed} Contains: wheat. May contain: soybeans. [ALLERGENS UNKNOWN: Leek]",
    ]


def test_how_a_food_was_measured_stands_beside_it_and_a_recipe_is_ready_as_it_is_made(
    tmp_path: Path,
) -> None:
    measured = [("Measured", "ready to use", "ready to use", "as bought")]
    lines = list(zip(*zip(*BOOK["Recipes"], strict=True), *measured, strict=True))
    sheet = week_sheet(tmp_path, {**BOOK, "Recipes": lines})
    filling, roll = (card(sheet, name) for name in ("Leek filling", "Leek roll"))
    assert filling[4][:3] == ["Leek", Decimal("3.5"), "kg, ready to use"]
    assert [row[:3] for row in roll[4:6]] == [
        ["Flour", 3150, "g, as bought, 37.5 g each"],
        ["Leek filling", Decimal("4.2"), "kg, 50 g each"],
    ]


def test_what_is_rounded_has_its_exact_figure_beside_it(tmp_path: Path) -> None:
    lines = [
        ("Leek roll", "Flour", 900, "g"),
        ("Leek roll", "Eggs", 3, "ea"),
        ("Leek roll", "Salt", 1, "tsp"),
        ("Leek roll", "Yeast", 7, "g"),
        ("Leek filling", "Leek", 2.5, "kg"),
    ]
    book = {**with_rows("Recipes", *lines), "Plan": planned(("Leek roll, single", 33))["Plan"]}
    roll = card(week_sheet(tmp_path, book), "Leek roll")  # one batch and a half
    assert [row[:3] for row in roll[4:8]] == [
        ["Flour", 1350, "g, 37.5 g each"],
        ["Eggs", Decimal("4.5"), "ea"],
        ["Salt", Decimal("1.5"), "tsp"],
        ["Yeast", 10, "g, exactly 10.5, 0.29 g each"],
    ]


def test_it_follows_what_is_typed(tmp_path: Path) -> None:
    out = tmp_path / "out.xlsx"
    stall = make_book(tmp_path / "stall.xlsx", BOOK)
    run("cost", stall, "--on", DAY, "--output", out)
    more = [*list(BOOK["Plan"])[1:], ("Leek roll, six", 8)]
    then = read_and_cost(make_book(tmp_path / "then.xlsx", planned(*more)), DAY).costing
    before = sheet_of(read_and_cost(stall, DAY).costing)
    with IronCalc() as judge:
        document = judge.open(out)
        document.set_many([("Plan", "A5", "Leek roll, six"), ("Plan", "B5", 8)])
        document.recalculate()
        shown = {title: document.values(title) for title in (THE_WEEK, "In short")}
    compared = 0
    for title in (THE_WEEK, "In short"):
        for cell in sheet_of(then, title).cells():
            found = shown[title].get(f"{chr(65 + cell.column)}{cell.row + 1}")
            compared += bool(cell.formula)
            if isinstance(cell.value, Decimal):
                assert found == pytest.approx(float(cell.value)), (title, cell)
            elif cell.formula and title == THE_WEEK:
                assert (found or "") == (cell.value or ""), (title, cell)
    assert compared > 80
    assert before.rows.keys() == sheet_of(then).rows.keys()
    said = [str(value) for value in shown["In short"].values() if "packs, " in str(value)]
    # 40 and 13 × 6 of 22 a batch: 5.5 batches; 20 once, 132 by two, 2.2 × 30 for the filling
    assert said == ["53 packs, 350 minutes of your work, too little time, too little room."]


def test_a_row_of_nobody_s_is_asked_above_all(tmp_path: Path) -> None:
    sheet = week_sheet(tmp_path, planned(("Leek rol", 5)))
    asked = "A row of Plan names no product of yours: till it does, nothing is known."
    assert [asked] in texts(sheet)
    assert ["Leek roll, single", "?", 0, "?", "?", "?"] in [row[:6] for row in texts(sheet)]


def test_where_nobody_said_how_much_there_is_nothing_is_missing(tmp_path: Path) -> None:
    rows = [row for row in BOOK["Settings"] if row[0] != "Minutes I have"][1:]
    told = texts(week_sheet(tmp_path, with_rows("Settings", *rows)))
    assert ["Minutes you have", "—"] in told
    assert ["Too few by", "—"] in told


@pytest.mark.parametrize(
    ("row", "words"),
    [
        # two batches: 20 once, 2 × 24 by two, 0.8 × 30 for the filling
        (("Leek roll, single", 44), "44 packs, 140 minutes of your work."),
        # half a batch: 20, 12 by two, 0.2 × 30
        (("Leek roll, six", 1), "1 pack, 50 minutes of your work."),
        (("Leek roll, six", 0), "Nothing."),
        (("Leek rol", 3), "How many is not known yet."),
    ],
)
def test_in_short_says_it_in_a_line(tmp_path: Path, row: tuple[str, int], words: str) -> None:
    path = make_book(tmp_path / "stall.xlsx", planned(row))
    sheet = sheet_of(read_and_cost(path, DAY).costing, "In short")
    lines = [r for r in texts(sheet) if r[0] == "To make"]
    assert lines == [["To make", words]]
    run("cost", path, "--on", DAY, "--output", tmp_path / "out.xlsx")
    with IronCalc() as judge:
        document = judge.open(tmp_path / "out.xlsx")
        document.recalculate()
        assert words in document.values("In short").values()


def test_without_a_plan_there_is_no_such_sheet() -> None:
    told = read_and_cost(Path("sample_workbooks/starter.xlsx"), date(2026, 11, 20))
    assert THE_WEEK not in titles_for(told.costing.structure.book)


def test_a_plan_takes_no_more_sheets_than_a_price_does(tmp_path: Path) -> None:
    needed = ("Settings", "Purchases", "Batches", "Products", "Plan")
    book = {name: BOOK[name] for name in needed}
    book["Recipes"] = with_rows("Recipes", ("Leek roll", "Leek", 2.5, "kg"))["Recipes"]
    path = make_book(tmp_path / "stall.xlsx", book)
    status, _, _ = run("cost", path, "--on", DAY)
    assert status == 1  # a filling that nothing goes into
    with IronCalc() as judge:
        document = judge.open(path)
        document.recalculate()
        # 3.5 batches of 5.00 with a tenth on top, and an hour of the kitchen for nothing
        assert 19.25 in document.values(THE_WEEK).values()
