"""Which columns of Workings are laid out, and how long a formula gets with others within it."""

from __future__ import annotations

import random
import re
import sys
from collections import Counter
from pathlib import Path

import pytest
from openpyxl import load_workbook

from costbook.costing.rows import Row
from costbook.definitions.workings import TABLES
from costbook.round_trip import read_and_cost
from costbook.writing.description import SheetDescription
from costbook.writing.folded import laid_out
from costbook.writing.layout import Layout, lay_out_tables
from costbook.writing.pointed_at import POINTED_AT
from costbook.writing.sheets import describe, titles_for
from tests.deciding.test_buy_list import LESSON, SHELVES
from tests.helpers import save
from tests.random_books import COSTED_ON, random_book
from tests.stock.books import Sheets, stall
from tests.tables import sheets

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
LONGEST, DEEPEST = 8192, 64
"""Letters of a formula, and levels of functions in it, that Excel takes (its published limits)."""


BAGGED = (None, "Bag", "time", None, None, None, 12, 8)
"""A stage of a product, timed: of which only minutes per batch are typed."""


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> list[list[SheetDescription]]:
    books = [
        SAMPLES / f"{name}.xlsx" for name in ("market_stall", "market_season", "everything_wrong")
    ]
    for seed in range(4):
        folder = tmp_path_factory.mktemp("random")
        books.append(save(random_book(random.Random(f"folded{seed}"), gaps=seed == 0), folder))
    return [_described(book) for book in books]


def _described(book: Path) -> list[SheetDescription]:
    costed = read_and_cost(book, COSTED_ON)
    tabs = {title: title for title in titles_for(costed.costing.structure.book)}
    return describe(costed.costing, costed.problems, tabs, costed.remembered)


def test_no_formula_is_longer_or_deeper_than_excel_takes(
    described: list[list[SheetDescription]],
) -> None:
    formulas = [cell.formula for sheets in described for sheet in sheets for cell in sheet.cells()]
    assert max(len(formula) for formula in formulas) < LONGEST
    assert max(_depth(formula) for formula in formulas) < DEEPEST


def _depth(formula: str) -> int:
    """How deep brackets stand in brackets, those in texts left out."""
    deepest = at = 0
    for part in formula.split('"')[::2]:
        for letter in part:
            at += (letter == "(") - (letter == ")")
            deepest = max(deepest, at)
    return deepest


def test_depth_is_of_brackets_outside_texts() -> None:
    assert _depth('=IF(ISNUMBER(A1),"((((",(1))') == 2


@pytest.mark.parametrize("name", TABLES)
def test_columns_that_are_laid_out_keep_their_order(name: str) -> None:
    table = TABLES[name]
    shown = list(laid_out(name))
    assert shown == [column.name for column in table.columns if column.name in shown]
    assert list(laid_out(name).values()) == list(range(len(shown)))


def test_what_only_relays_another_is_read_where_that_one_stands() -> None:
    assert "packs_sold" not in laid_out("pack_needs")
    assert "products_row" not in laid_out("prices")


def test_a_page_points_past_what_only_relays_another() -> None:
    batch, product = Row("recipes", 2), Row("products", 1)
    product.links["recipes"] = batch
    layout = Layout("Workings", {"recipes": 10, "products": 5}, {"recipes": 3, "products": 3})
    assert "batch_cost" not in laid_out("products")
    assert layout.absolute(product, "batch_cost") == layout.absolute(batch, "batch_cost")
    assert layout.absolute(Row("products", 0), "batch_cost") == '""', "it has no recipe"


def test_a_row_of_a_log_reads_the_marks_of_what_stands_above_without_a_cell_for_the_row() -> None:
    shown = laid_out("purchases")
    assert "item_row" not in shown
    assert "day_row" not in shown
    assert "supplier_row" in shown, "the name of the supplier is read there"


def test_what_one_formula_reads_stands_within_it() -> None:
    assert "price_before_tax" not in laid_out("prices")
    assert "room" in laid_out("prices"), "two tables read it"


def test_no_formula_looks_through_the_receipts_twice_for_the_same() -> None:
    costing = read_and_cost(SAMPLES / "market_stall.xlsx", COSTED_ON).costing
    keys = lay_out_tables(costing.structure, "Workings").column_range("purchases", "item_key")
    looking = re.compile(rf"[MS][A-Z]+IFS\([^()]*(?:\([^()]*\)[^()]*)*{re.escape(keys)}[^()]*\)")
    found = [
        Counter(looking.findall(cell.formula))
        for sheet in _described(SAMPLES / "market_stall.xlsx")
        for cell in sheet.cells()
    ]
    assert sum(map(len, found)) > 100
    assert max(max(each.values(), default=0) for each in found) == 1


def test_what_the_run_writes_stands_on_pages_as_it_is() -> None:
    """No formula makes it, so none has to fetch it."""
    sheets = {sheet.title: sheet for sheet in _described(SAMPLES / "market_stall.xlsx")}
    for title in ("Latest prices", "Cost cards"):
        shown = [cell for cell in sheets[title].cells() if cell.value == "Strong flour"]
        assert shown
        assert not any(cell.formula for cell in shown)
    costed = read_and_cost(SAMPLES / "market_stall.xlsx", COSTED_ON).costing
    layout, rows = lay_out_tables(costed.structure, "Workings"), costed.structure.rows
    assert layout.is_written(rows["items"][0], "item")
    assert not layout.is_written(rows["item_prices"][0], "day"), "a receipt's, relayed"
    assert not layout.is_written(rows["settings"][0], "today")


def test_what_nothing_reads_is_not_written() -> None:
    assert "unit_cost" not in laid_out("recipes")


def test_pages_point_at_each_column_that_is_said_to_be_pointed_at(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A column that a page points at and isn't said to be would end the run."""
    asked, letter, absolute = set(), Layout.letter, Layout.absolute

    def lettered(layout: Layout, table: str, column: str) -> str:
        frame = sys._getframe(1)
        while frame.f_code.co_filename.endswith("layout.py") and frame.f_back:
            frame = frame.f_back
        if Path(frame.f_code.co_filename).parent.name == "pages":
            asked.add((table, column))
        return letter(layout, table, column)

    def addressed(layout: Layout, row: Row, column: str) -> str:
        asked.add((row.table, column))  # also where it only relays another
        return absolute(layout, row, column)

    monkeypatch.setattr(Layout, "letter", lettered)
    monkeypatch.setattr(Layout, "absolute", addressed)
    for seed in range(6):
        folder = tmp_path / str(seed)
        folder.mkdir()
        _described(save(random_book(random.Random(f"pages{seed}"), gaps=False), folder))
    _described(SAMPLES / "market_stall.xlsx")
    _described(SAMPLES / "market_season.xlsx")
    season = load_workbook(SAMPLES / "market_season.xlsx")
    season["Settings"].append(("Yearly sales cap", 6000))
    season.save(tmp_path / "capped.xlsx")
    _described(tmp_path / "capped.xlsx")
    by_the_batch: Sheets = {"Stages": [("Bun, six", "Bag", 5, None)], "Tests": [BAGGED]}
    _described(save(stall(by_the_batch), tmp_path, "bagged.xlsx"))
    seen = (
        "Offers\nItem | Supplier | Pack size | Unit | Price per pack\nFlour | Depot | 25 | lb | 5"
    )
    _described(save(sheets(SHELVES + LESSON.strip(), seen), tmp_path, "bought.xlsx"))
    named = {(table, name) for table, names in POINTED_AT.items() for name in names}
    assert named - asked == set()


def test_a_column_without_cells_has_no_address() -> None:
    layout = Layout("Workings", {"recipes": 7}, {"recipes": 1})
    with pytest.raises(KeyError, match=r"recipes\.unit_cost has no cells"):
        layout.letter("recipes", "unit_cost")


def test_a_pack_that_no_other_is_compared_with_has_no_row() -> None:
    costing = read_and_cost(SAMPLES / "market_stall.xlsx", COSTED_ON).costing
    layout = lay_out_tables(costing.structure, "Workings")
    packs = [
        row for table in ("packs_bought", "packs_seen") for row in costing.structure.rows[table]
    ]
    of_item = Counter(row.fixed["item_key"] for row in packs)
    shown = [row for row in packs if layout.has_cells(row)]
    assert shown == [row for row in packs if of_item[row.fixed["item_key"]] > 1]
    assert 0 < len(shown) < len(packs)
    bought = [layout.row_number(row) for row in shown if row.table == "packs_bought"]
    assert bought == list(range(bought[0], bought[0] + layout.count["packs_bought"]))
