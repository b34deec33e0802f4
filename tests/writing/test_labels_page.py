"""The sheet Labels: where it stands, what is on each label, two by four on a page."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from costbook.costing.result import CAUTION
from costbook.deciding.labels import DRAFT
from costbook.ours.kept import NOTHING_REMEMBERED
from costbook.round_trip import read_and_cost
from costbook.writing.description import SheetDescription
from costbook.writing.pages.labels import LABELS
from costbook.writing.paper import page_breaks, row_heights
from costbook.writing.sheets import TITLES, describe, titles_for
from tests.deciding.label_books import ROLL, changed
from tests.helpers import run, save
from tests.judges.ironcalc_judge import IronCalc
from tests.samples.build import SAMPLES
from tests.tables import sheets

ON = date(2026, 11, 26)
LIST = (
    "Ingredients: Filling (leek, cheddar (milk, salt), cream (milk), salt), wheat flour, egg, salt."
)


def described(folder: Path, changes: dict[str, str] | None = None) -> SheetDescription:
    """The sheet Labels of the workbook, after changes."""
    costed = read_and_cost(save(sheets(changed(changes or {})), folder), ON)
    tabs = {title: title for title in titles_for(costed.costing.structure.book)}
    made = describe(costed.costing, costed.problems, tabs, NOTHING_REMEMBERED)
    (page,) = [each for each in made if each.title == LABELS]
    return page


def products(count: int, net: str = "12 | oz") -> dict[str, str]:
    return {"Leek roll": "\n".join(f"Roll {number} | Roll | 1 | {net}" for number in range(count))}


def column(page: SheetDescription, at: int) -> list[str]:
    """The texts of a column, from above."""
    return [str(cells[at].value) for _, cells in sorted(page.rows.items()) if at in cells]


def test_it_stands_where_an_item_says_anything_for_a_label(tmp_path: Path) -> None:
    for item, has_it in (("Salt | | salt", True), ("Salt | none |", False)):
        text = f"Items\nItem | Allergens | Label name\n{item}\n\nRecipes\nRecipe | Uses | Amount"
        costed = read_and_cost(save(sheets(ROLL, text), tmp_path), ON)
        titles = titles_for(costed.costing.structure.book)
        assert (LABELS in titles) is has_it
        assert set(titles) - {LABELS} == set(TITLES)


@pytest.mark.parametrize("name", ["market_stall", "starter"])
def test_no_sample_that_says_nothing_for_a_label_has_one(name: str) -> None:
    """The stall names allergens, as people did before there were labels."""
    costed = read_and_cost(SAMPLES / f"{name}.xlsx", ON)
    assert titles_for(costed.costing.structure.book) == TITLES


def test_a_label_has_all_its_lines_and_says_that_it_is_a_draft(tmp_path: Path) -> None:
    page = described(tmp_path)
    texts = column(page, 0)
    assert texts[-7:] == [
        "Leek roll",
        LIST,
        "Contains: milk, eggs, wheat.",
        "Net Wt 12 oz (340 g)",
        "Batch 26-330. Packed 2026-11-26.",
        "Hill stall, 1 Mill Lane, Ourtown",
        DRAFT,
    ]
    assert CAUTION in texts


def test_that_they_are_drafts_as_of_the_run_stands_on_each_page(tmp_path: Path) -> None:
    page = described(tmp_path)
    assert page.repeated_rows == (1, 1)
    assert page.rows[1][0].value == f"{DRAFT}. As of the run of 2026-11-26."


def test_what_is_unknown_stands_on_the_label_and_first_on_the_sheet(tmp_path: Path) -> None:
    page = described(tmp_path, {"Salt ": "Salt | | | | | | salt"})
    assert "NOT FINISHED. ALLERGENS UNKNOWN: Salt." in column(page, 0)
    first = next(cells for cells in page.rows.values() if cells[0].value == "Items!F7")
    assert first[0].link == "Items!F7" or first[0].link == "'Items'!F7"
    assert first[1].value == (
        'the allergens of "Salt" are unknown. Type those that its pack names, or none.'
    )


@pytest.mark.parametrize(("count", "pages"), [(1, 1), (8, 1), (9, 2), (17, 3)])
def test_eight_stand_on_a_printed_page(tmp_path: Path, count: int, pages: int) -> None:
    """After the page that says what is to be put right."""
    page = described(tmp_path, products(count))
    assert len(page_breaks(page, row_heights(page))) == pages


def test_a_label_of_many_words_takes_the_room_it_needs(tmp_path: Path) -> None:
    long = {"Salt ": f"Salt | | | | | none | {'salt of the earth, ' * 140}"}
    page = described(tmp_path, {**products(8), **long})
    heights = row_heights(page)
    assert max(heights.values()) < Decimal(409)
    assert len(page_breaks(page, heights)) > 1
    assert " ".join(column(page, 0)).count("salt of the earth") == 4 * 2 * 140


def test_labels_side_by_side_end_on_one_line(tmp_path: Path) -> None:
    two = {"Leek roll": "A | Roll | 1 | 12 | oz\nB | Roll | 1 | |"}
    page = described(tmp_path, two)
    (last,) = [
        at for at, cells in page.rows.items() if {DRAFT} == {c.value for c in cells.values()}
    ]
    assert page.rows[last - 3][0].value == "Net Wt 12 oz (340 g)"
    assert page.rows[last - 3][3].value == "[NET WEIGHT UNKNOWN]"


OUT_OF_DATE = (
    "OUT OF DATE: run costbook again, and print none of these. Draft: verify against local law."
)


@pytest.mark.parametrize(
    ("sheet", "cell", "typed", "stale"),
    [
        ("Items", "F7", "celery", True),
        ("Items", "F7", None, True),
        ("Items", "G3", "spring leek", True),
        ("Items", "F7", " None ", False),  # said in other letters
        ("Recipes", "A10", "Filling", True),
        ("Items", "C7", 0.9, False),
    ],
)
def test_what_changes_on_items_is_seen_on_each_page(
    tmp_path: Path, sheet: str, cell: str, typed: object, *, stale: bool
) -> None:
    """By a spreadsheet program, after the run."""
    book, out = save(sheets(ROLL), tmp_path), tmp_path / "out.xlsx"
    run("cost", book, "--output", out, "--on", "2026-11-26")
    with IronCalc() as judge:
        document = judge.open(out)
        assert document.values(LABELS)["A2"] == f"{DRAFT}. As of the run of 2026-11-26."
        document.set_many([(sheet, cell, typed)])  # type: ignore[list-item]  # any kind of cell
        document.recalculate()
        assert (document.values(LABELS)["A2"] == OUT_OF_DATE) is stale


def test_without_words_for_a_label_no_table_of_labels_stands_on_workings(tmp_path: Path) -> None:
    nothing = {
        f"{name:7} |": f"{name} | | | | | none |"
        for name in ("Flour", "Leek", "Cheddar", "Egg", "Cream", "Salt")
    }
    for changes, rows in (({}, 6), (nothing, 0)):
        costed = read_and_cost(save(sheets(changed(changes)), tmp_path), ON)
        assert len(costed.costing.structure.rows["label_items"]) == rows
