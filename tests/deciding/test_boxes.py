"""The boxes of Try a change: what is typed there works at once, and is there after the next run."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.costing.engine import Costing
from costbook.deciding.trial import Trial, tried
from costbook.writing.pages.try_a_change import typed_cells
from tests.deciding.asking import ON, STALL, asked, item_keys, number, read
from tests.deciding.test_moved import ROLLS
from tests.deciding.test_what_ifs import price_sets
from tests.helpers import read_back, run, save
from tests.judges import Document, Judge, Value, position
from tests.tables import close, sheets

TAB = "Try a change"
FIGURES = {
    "Cost": "total",
    "CHARGE": "price_on_step",
    "Margin now": "now_margin",
    "Profit now": "now_profit",
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The main sample, costed."""
    out = tmp_path_factory.mktemp("boxes") / "costed.xlsx"
    assert run("cost", STALL, "--output", out, "--on", ON)[0] == 0
    return out


def box(costing: Costing, name: str) -> str:
    """The address of the box of a setting, by its column, or of an item, by its name."""
    rows = costing.structure.rows["prices_now"]
    cells = typed_cells(TAB, len(rows))
    keys = [str(row.fixed["item"]) for row in rows]
    cell = cells["price", keys.index(name)] if name in keys else cells[name, 0]
    return cell.rpartition("!")[2].replace("$", "")


Shown = dict[tuple[str, str, str], Value]
"""What the page says of a product at an outlet, under a heading."""


def shown(values: dict[str, Value]) -> Shown:
    """The table of products on Try a change, by product, outlet and heading."""
    grid: dict[tuple[int, int], Value] = {position(cell): value for cell, value in values.items()}
    (top, left) = next(at for at, value in grid.items() if value == "Product")
    heads = {
        column: str(value)
        for (row, column), value in grid.items()
        if row == top and column > left + 1
    }
    found: Shown = {}
    for (row, column), name in grid.items():
        if column == left and row > top and (row, left + 1) in grid:
            outlet = str(grid[row, left + 1])
            for at, heading in heads.items():
                found[str(name), outlet, heading] = grid.get((row, at), "")
    return found


def agree(found: Shown, before: Costing, after: Costing) -> None:
    """Every before, after and difference on the page is what the engine gives."""
    checked = 0
    for row in before.structure.rows["prices"]:
        product, outlet = str(row.fixed["product"]), str(row.fixed["outlet"] or "—")
        for name, column in FIGURES.items():
            one, other = before.of(row)[column], after.of(row)[column]
            known = isinstance(one, Decimal) and isinstance(other, Decimal)
            difference = number(other) - number(one) if known else None
            for word, figure in (("before", one), ("after", other), ("difference", difference)):
                value = found[product, outlet, f"{name}, {word}"]
                if figure is None:
                    assert value == "?"
                else:
                    assert value == pytest.approx(float(number(figure)), rel=1e-9, abs=1e-9)
                checked += 1
    assert checked == 12 * len(before.structure.rows["prices"])


@pytest.fixture(scope="module")
def opened() -> Iterator[dict[Judge, Document]]:
    """The costed sample as each judge has it open: opening takes longer than the rest."""
    documents: dict[Judge, Document] = {}
    yield documents
    for document in documents.values():
        document.close()


@pytest.fixture
def document(judge: Judge, book: Path, opened: dict[Judge, Document]) -> Iterator[Document]:
    """The costed sample, open in a judge; its boxes are emptied afterwards."""
    if judge not in opened:
        opened[judge] = judge.open(book)
    yield opened[judge]
    every = typed_cells(TAB, len(read(STALL).structure.rows["prices_now"])).values()
    cells = (cell.rpartition("!")[2].replace("$", "") for cell in every)
    opened[judge].set_many((TAB, cell, None) for cell in cells)
    opened[judge].follow()


def type_in(document: Document, costing: Costing, boxes: dict[str, float | str | None]) -> Shown:
    document.set_many([(TAB, box(costing, name), value) for name, value in boxes.items()])
    document.follow()
    return shown(document.values(TAB))


def test_what_is_typed_into_the_boxes_is_followed_at_once(document: Document) -> None:
    """Prices, settings as 35 and as 0.08, one after the other; then the boxes are emptied."""
    costing = read(STALL)
    keys = item_keys(costing)
    boxes: dict[str, float | str | None] = {}
    prices: dict[str, Decimal] = {}
    settings: dict[str, Decimal] = {}
    agree(shown(document.values(TAB)), costing, costing)
    for name, typed, meant in (
        ("Eggs, large", 19.46, "19.46"),
        ("Film", 31.35, "31.35"),
        ("target_margin", 35, "0.35"),
        ("sales_tax", 0.08, "0.08"),
        ("pay_per_hour", 20, "20"),
        ("price_step", 0.1, "0.1"),
        ("booking_block_minutes", 60, "60"),
    ):
        boxes[name] = typed
        if name in keys:
            prices[keys[name]] = Decimal(meant)
        else:
            settings[name] = Decimal(meant)
        found = type_in(document, costing, boxes)
        agree(found, costing, tried(costing, Trial(prices, settings)))
    agree(type_in(document, costing, dict.fromkeys(boxes)), costing, costing)


def test_what_is_no_price_changes_nothing_and_a_number_below_zero_leaves_it_unknown(
    document: Document,
) -> None:
    costing = read(STALL)
    agree(type_in(document, costing, {"Leeks": "dear", "pay_per_hour": "a lot"}), costing, costing)
    found = type_in(document, costing, {"Leeks": -1, "pay_per_hour": None})
    assert found["Leek & potato roll", "Saturday market", "Cost, after"] == "?"
    assert found["Spinach & egg wrap", "Saturday market", "Cost, difference"] == 0


def test_a_share_above_its_limit_is_refused_as_on_settings_live(document: Document) -> None:
    costing = read(STALL)
    found = type_in(document, costing, {"on_costs": 600})
    assert found["Spinach & egg wrap", "Saturday market", "Cost, after"] == "?"
    said = document.values(TAB)["A4"]
    assert said == "Pay on-costs % is 600 %. Type a percentage of 100 at most."
    type_in(document, costing, {"on_costs": 100, "price_step": 0})
    said = document.values(TAB)["A4"]
    assert said == "Price step is 0. Type a number above zero, or leave the cell empty."
    found = type_in(document, costing, {"on_costs": 100, "price_step": None})
    assert document.values(TAB).get("A4") in (None, "")
    agree(found, costing, tried(costing, Trial({}, {"on_costs": Decimal(1)})))


def test_which_pack_a_price_is_for_stands_beside_it_and_a_price_far_off_is_doubted_live(
    document: Document,
) -> None:
    """Leeks are bought by 10 lb for 19.00: the price of a pound, 1.90, would be far off."""
    costing = read(STALL)
    beside = box(costing, "Leeks").removeprefix("C")
    values = document.values(TAB)
    assert [values[f"{column}{beside}"] for column in "BDE"] == [19, 10, "lb"]
    for typed, said in (
        (1.90, "far off"),
        (9.50, ""),
        (28.50, ""),
        (28.51, "far off"),
        ("5/lb", "no number"),
        (None, ""),
    ):
        type_in(document, costing, {"Leeks": typed})
        assert document.values(TAB).get(f"F{beside}", "") == said


@pytest.mark.libreoffice
@pytest.mark.parametrize("judge", ["libreoffice"], indirect=True)
def test_twenty_of_a_thousand_price_sets_are_followed(document: Document) -> None:
    """The sets of test_what_ifs, every item's price at once."""
    costing = read(STALL)
    sets, keys = price_sets(costing, 2026, 1000), item_keys(costing)
    for at in range(0, 1000, 50):
        trial = Trial({key: prices[at] for key, prices in sets.items()}, {})
        boxes = {name: float(trial.prices[key]) for name, key in keys.items() if key in sets}
        agree(type_in(document, costing, {**boxes}), costing, tried(costing, trial))


# ---------------------------------------------------------------- written by the command


def stored(book: Path) -> Shown:
    """What the page says to a viewer that doesn't calculate."""
    sheet: Any = read_back(book, data_only=True)[TAB]
    cells = (cell for row in sheet.iter_rows() for cell in row if cell.value is not None)
    return shown({cell.coordinate: cell.value for cell in cells})


def typed_in(book: Path) -> dict[str, object]:
    """What stands in the boxes, by the name beside them."""
    sheet: Any = read_back(book)[TAB]
    rows = ((row[0].value, row[2].value) for row in sheet.iter_rows(min_row=2))
    return {str(name): value for name, value in rows if value not in (None, "Try")}


def test_with_a_file_named_the_boxes_hold_the_trial_and_the_page_says_what_the_command_says(
    tmp_path: Path,
) -> None:
    book, out = save(sheets(ROLLS), tmp_path), tmp_path / "trial.xlsx"
    words = ("--price", "Eggs=+40%", "--set", "Target margin %=35", "--output", out, "--on", ON)
    (roll,) = asked("try", book, *words)["products"]
    again = run("try", book, *words)[1]
    assert f"Written: {out}, with your trial on the sheet Try a change." in again.splitlines()
    assert typed_in(out) == {"Eggs": 14.7, "Target margin %": 0.35}
    found = stored(out)
    for heading, group, name in (
        ("Cost", "cost", "total"),
        ("AT LEAST", "price", "on_step"),
        ("Margin now", "at_current", "margin"),
        ("Profit now", "at_current", "profit"),
    ):
        for side in ("before", "after"):
            close(found["Roll", "—", f"{heading}, {side}"], str(roll[side][group][name]))


def test_a_trial_of_the_command_stands_alone_and_leaves_the_boxes_of_the_workbook(
    tmp_path: Path,
) -> None:
    """The workbook holds another trial; what is written elsewhere shows what the command says."""
    book, out = save(sheets(ROLLS), tmp_path), tmp_path / "trial.xlsx"
    assert run("cost", book, "--on", ON)[0] == 0
    type_into(book, {"Flour": 9, "target_margin": 0.5})
    assert run("try", book, "--price", "Eggs=12", "--output", out, "--on", ON)[0] == 0
    assert typed_in(out) == {"Eggs": 12}
    assert typed_in(book) == {"Flour": 9, "Target margin %": 0.5}


def type_into(book: Path, boxes: dict[str, object]) -> None:
    costing = read(book)
    opened: Any = openpyxl.load_workbook(book)
    for name, value in boxes.items():
        opened[TAB][box(costing, name)].value = value
    opened.save(book)


def test_what_was_typed_is_there_and_counts_after_the_next_run(tmp_path: Path) -> None:
    """Numbers typed as texts become numbers; another text stays, and changes nothing.

    Eggs at 12.00 are 0.40 each, 0.60 a roll; flour at 3.00 is 0.1875; film stays 0.1875: 0.975.
    """
    book = save(sheets(ROLLS), tmp_path)
    assert run("cost", book, "--on", ON)[0] == 0
    boxes = {"Eggs": 12, "Flour": "$3.00", "Film": "ask Ann", "target_margin": "35 %"}
    type_into(book, {**boxes, "price_step": 0.1})
    for copy in ("a copy.xlsx", "a copy of it.xlsx"):
        assert run("cost", book, "--on", ON)[0] == 0
        assert typed_in(book) == {
            "Eggs": 12,
            "Flour": 3,
            "Film": "ask Ann",
            "Target margin %": 0.35,
            "Price step": 0.1,
        }
        found = stored(book)
        close(found["Roll", "—", "Cost, after"], "0.975")
        close(found["Roll", "—", "AT LEAST, after"], "1.5")  # 0.975 / 0.65 = 1.50
        close(found["Roll", "—", "Cost, before"], "0.8375")
        book = Path(shutil.copy(book, tmp_path / copy))


def test_boxes_follow_their_items_where_others_come_between(tmp_path: Path) -> None:
    """An item that is listed above moves every box down a row."""
    book = save(sheets(ROLLS), tmp_path)
    assert run("cost", book, "--on", ON)[0] == 0
    type_into(book, {"Eggs": 12})
    opened: Any = openpyxl.load_workbook(book)
    opened["Purchases"].insert_rows(2)
    for column, value in enumerate((ON, "Anise", 1, "kg", 30), 1):
        opened["Purchases"].cell(2, column).value = value
    opened.save(book)
    assert run("cost", book, "--on", ON)[0] == 0
    assert typed_in(book) == {"Eggs": 12}
