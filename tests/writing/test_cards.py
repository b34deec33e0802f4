"""Cost cards: in kitchen units, with the fillings opened; bench cards; the price list.

The main sample's leek roll: a batch starts 48 and gives 46 good, a pack each. So film 14 in × 48 ×
1.05 = 705.6 in, foil 12 in × 48 = 576 in, labels 46 × 1.03 = 47.38, freezer bags 46, and baking
paper 4 sheets a batch, whatever it gives.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from costbook.round_trip import read_and_cost
from costbook.writing.description import SheetDescription
from costbook.writing.pages.bench import bench_card
from costbook.writing.pages.page import Context, Page
from costbook.writing.sheets import TITLES, describe
from tests.helpers import make_book, read_back, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import sheets

SAMPLE = Path(__file__).parents[2] / "sample_workbooks" / "market_stall.xlsx"
ON = "2026-11-20"

SIX = "Leek & potato rolls, six"

Cells = Sequence[Any]


@pytest.fixture(scope="module")
def costed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("cards") / "out.xlsx"
    run("cost", SAMPLE, "--on", ON, "--output", out)
    return out


@pytest.fixture(scope="module")
def rows(costed: Path) -> list[Cells]:
    return [*read_back(costed, data_only=True)["Cost cards"].iter_rows(values_only=True)]


def card(rows: list[Cells], title: str, end: str | None = None) -> list[Cells]:
    """The rows from a title to one that begins with a word, or with nothing."""
    first = next(at for at, row in enumerate(rows) if row[0] == title)
    last = next(at for at in range(first + 1, len(rows)) if rows[at][0] == end)
    return rows[first:last]


def line(rows: list[Cells], name: str) -> Cells:
    return next(row for row in rows if row[0] == name)


def test_packaging_stands_as_a_batch_takes_it(rows: list[Cells]) -> None:
    leek = card(rows, "Leek & potato roll", f"{SIX}: what differs")
    names = [row[0] for row in leek]
    lines = leek[names.index("Packaging") + 1 : names.index("Labour")]
    assert sorted((row[0], row[2]) for row in lines) == [
        ("Baking paper", "sheet"),
        ("Film", "in"),
        ("Foil", "in"),
        ("Freezer bags", "ea"),
        ("Labels", "ea"),
    ]
    amounts = {str(name): amount for name, amount, *_ in lines}
    expected = {"Film": 705.6, "Foil": 576, "Labels": 47.38, "Freezer bags": 46, "Baking paper": 4}
    assert amounts == pytest.approx(expected)


def test_an_amount_that_is_not_known_is_a_question(tmp_path: Path) -> None:
    book = load_workbook(SAMPLE)
    book["Packaging"]["C4"] = "some"
    book.save(tmp_path / "stall.xlsx")
    out = tmp_path / "out.xlsx"
    run("cost", tmp_path / "stall.xlsx", "--on", ON, "--output", out)
    cards = read_back(out, data_only=True)["Cost cards"]
    film = next(row for row in cards.iter_rows(values_only=True) if row[0] == "Film")
    assert film[1] == "?"


def test_prices_are_for_the_unit_a_thing_is_bought_in(rows: list[Cells]) -> None:
    """Potatoes: 21.00 for 50 lb. Film: 28.50 and half of 6.00 for 2000 ft. Pepper: 100 g."""
    leek = card(rows, "Leek & potato roll", f"{SIX}: what differs")
    assert line(leek, "Potatoes")[3:5] == (pytest.approx(0.42), "lb")
    assert line(leek, "Film")[3:5] == (pytest.approx(31.5 / 2000), "ft")
    assert [line(leek, name)[4] for name in ("Black pepper", "Eggs, large")] == ["kg", "piece"]


def test_a_filling_stands_opened_below_its_line_and_has_a_card(rows: list[Cells]) -> None:
    """4 of the 4.1 kg that a batch of dough gives: 2.5 kg of flour × 4 / 4.1.

    Flour at 17.25 for 25 lb is 0.69 a lb, 1.5212 a kg: 3.8030 for a batch, 3.7102 of it here.
    """
    share, flour = 4 / 4.1, 2.5 / 0.45359237 * 0.69
    leek = card(rows, "Leek & potato roll", f"{SIX}: what differs")
    at = [row[0] for row in leek].index("Roll dough")
    assert [row[0] for row in leek[at + 1 : at + 7]] == [
        *("Strong flour", "Dried yeast", "Salt", "Olive oil", "Whole milk", "Small ingredients")
    ]
    assert leek[at + 1][1:7] == (
        *(pytest.approx(2.5 * share), "kg", pytest.approx(0.69), "lb"),
        *(pytest.approx(flour * share), None),
    )
    opened = sum(row[5] for row in leek[at + 1 : at + 7])
    assert opened == pytest.approx(leek[at][5])
    dough = card(rows, "Roll dough ($)")
    assert line(dough, "Strong flour")[5:7] == (pytest.approx(flour), pytest.approx(flour / 4.1))
    assert line(dough, "Ingredients")[6] == pytest.approx(leek[at][3])
    assert line(dough, "Weigh and mix")[1] == 18


def test_another_pack_of_a_recipe_stands_on_its_card_with_what_differs(rows: list[Cells]) -> None:
    """46 good rolls are 7.667 packs of six, of which 4 % aren't sold: 7.36.

    Labels 7.667 × 1.03, bags 7.667 × 1.02, and 3 + 1.2 × 7.667 = 12.2 minutes to wrap and label;
    film and foil for each roll, paper and all of the recipe's work are as for the single ones.
    """
    assert [row[0] for row in rows if row[0] == SIX] == [SIX, SIX]  # in its card, and in the list
    at = next(n for n, row in enumerate(rows) if row[0] == SIX)
    assert [row[0] for row in rows[at + 1 : at + 4]] == [
        "Saturday market",
        "Corner café",
        "Farm shop",
    ]
    differs = card(rows, f"{SIX}: what differs", "Chickpea & relish roll")
    assert differs[0][6] == pytest.approx(7.36)
    assert [row[0] for row in differs[1:6]] == [
        *("Labels", "Six-pack bags", "Wrap and label", "All else", "Cost made, a pack sold")
    ]
    amounts = [46 / 6 * 1.03, 46 / 6 * 1.02, 3 + 1.2 * 46 / 6]
    assert [row[1] for row in differs[1:4]] == pytest.approx(amounts)
    assert sum(row[6] for row in differs[1:5]) == pytest.approx(differs[5][6])


def test_all_else_of_another_pack_follows(costed: Path, rows: list[Cells]) -> None:
    """Labour at 18 an hour for 15: what differs is dearer, and all else is what is left."""
    at = 1 + next(n for n, row in enumerate(rows) if row[0] == f"{SIX}: what differs")
    with IronCalc() as judge:
        document = judge.open(costed)
        document.set("Settings", "B5", 18)
        document.recalculate()
        now = document.values("Cost cards")
        document.set("Purchases", "I2", "?")
        document.set("Settings", "B5", "?")
        document.recalculate()
        unknown = document.values("Cost cards")
    each = [now[f"G{at + n}"] for n in range(1, 6)]
    assert each[2] == pytest.approx(rows[at + 2][6] * 18 / 15)
    assert sum(map(float, map(str, each[:4]))) == pytest.approx(each[4])
    assert [unknown[f"G{at + n}"] for n in (3, 4, 5)] == ["?", "?", "?"]


def test_what_has_no_line_of_its_own_leaves_nothing_else(tmp_path: Path) -> None:
    book = load_workbook(SAMPLE)
    for title in ("Packaging", "Stages"):
        for row in book[title].iter_rows(min_row=2):
            if row[0].value == SIX:
                row[0].value = "Leek & potato roll"
    book.save(tmp_path / "stall.xlsx")
    out = tmp_path / "out.xlsx"
    run("cost", tmp_path / "stall.xlsx", "--on", ON, "--output", out)
    found = [*read_back(out, data_only=True)["Cost cards"].iter_rows(values_only=True)]
    differs = card(found, f"{SIX}: what differs", "Chickpea & relish roll")
    assert [row[0] for row in differs[1:4]] == ["Labels", "All else", "Cost made, a pack sold"]


def test_bench_cards_begin_on_a_page_without_money(costed: Path, rows: list[Cells]) -> None:
    cards = read_back(costed)["Cost cards"]
    above = {each.id for each in cards.row_breaks.brk}  # a page begins below these rows
    first = next(at for at, row in enumerate(rows) if row[0] == "Bench card, batches")
    assert first - 1 in above


def test_a_bench_card_has_the_recipe_and_its_steps_and_no_money(rows: list[Cells]) -> None:
    first = next(at for at, row in enumerate(rows) if row[0] == "Leek rolls")
    bench = rows[first : first + 12]
    assert bench[1][:5] == ("Bench card, batches", 1, "make", 48, "ea")
    assert bench[2][8] == "Took"
    assert bench[3][:8] == (
        *("Leeks", 3.2, "kg, ready to use", None),
        *("Wash and cut, 2 people", None, None, 28),
    )
    assert line(bench, "Black pepper")[1:3] == ("to taste", None)
    assert [row[4] for row in bench[8:10]] == [
        "Wrap and label: Leek & potato roll",
        "Wrap and label: Leek & potato rolls, six",
    ]
    assert [row[0] for row in bench[10:]] == ["Eggs, large: to glaze", "Notes"]
    dough = next(at for at, row in enumerate(rows) if row[0] == "Roll dough" and not row[1])
    assert rows[dough + 4][4] == "Prove, then wait 75 min"


def test_a_bench_card_follows_the_number_of_batches(costed: Path, rows: list[Cells]) -> None:
    first = next(at for at, row in enumerate(rows) if row[0] == "Leek rolls")
    with IronCalc() as judge:
        document = judge.open(costed)
        document.set("Cost cards", f"B{first + 2}", 3)
        document.set("Stages", "C7", 1)  # Wash and cut, by one alone
        document.recalculate()
        now = document.values("Cost cards")
    assert now[f"D{first + 2}"] == 3 * 48
    assert now[f"B{first + 4}"] == pytest.approx(3 * 3.2)
    assert now[f"H{first + 4}"] == 3 * 28
    assert now[f"E{first + 4}"] == "Wash and cut"


def test_a_bench_card_can_be_made_for_any_number_of_batches() -> None:
    def twice(context: Context) -> SheetDescription:
        page = Page(context, "Cost cards")
        recipes = context.costing.structure.rows["recipes"]
        dough = next(row for row in recipes if row.fixed["recipe"] == "Roll dough")
        bench_card(page, dough, Decimal(2))
        return page.sheet

    told = read_and_cost(SAMPLE, date(2026, 11, 20))
    tabs = {title: title for title in TITLES}
    *_, made, _ = describe(told.costing, (), tabs, more=(twice,))
    assert [made.rows[1][at].value for at in (1, 3)] == [2, Decimal("8.4")]
    assert [made.rows[3][at].value for at in (1, 7)] == [5, 36]


def test_the_price_list_has_what_the_stall_asks_and_nothing_else(rows: list[Cells]) -> None:
    first = max(at for at, row in enumerate(rows) if row[0] == "Tumbledown Lane Kitchen")
    assert [(row[0], row[6]) for row in rows[first + 2 :]] == [
        ("Leek & potato roll", 6.5),
        ("Leek & potato rolls, six", 36),
        ("Chickpea & relish roll", 6),
        ("Spinach & egg wrap", 6.25),
        ("Mushroom flatbread", 8),
        ("Salmon & dill wrap", None),  # no price is typed: a line to write it on
    ]
    assert all(cell in (None, "$") for row in rows[first + 2 :] for cell in (*row[1:6], *row[7:]))


WHOLESALE = """Settings
Setting | Value
Currency | EUR

Purchases
Date | Item | Supplier | Pack size | Unit | Price per pack
2026-11-01 | Flour | Mill | 10 | kg | 12

Recipes
Recipe | Uses | Amount | Unit
Bun | Flour | 1200 | g

Batches
Recipe | Makes | Unit
Bun | 20 | ea

Products
Product | Recipe | Units per pack
Bun | Bun | 1

Outlets
Outlet | Kind | Units sold per day
Cafe | wholesale | 20
"""


def test_without_a_stall_there_is_no_price_list(tmp_path: Path) -> None:
    path = make_book(tmp_path / "in.xlsx", sheets(WHOLESALE))
    run("cost", path, "--output", tmp_path / "out.xlsx")
    cards = read_back(tmp_path / "out.xlsx", data_only=True)["Cost cards"]
    last = [row[0] for row in cards.iter_rows(values_only=True) if row[0]][-1]
    assert last == "Notes"
    flour = next(row for row in cards.iter_rows(values_only=True) if row[0] == "Flour")
    assert flour[1:5] == (1200, "g", pytest.approx(1.2), "kg")
