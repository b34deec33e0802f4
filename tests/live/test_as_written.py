"""The written sheets by themselves: what is stored, what formulas are made of, and again."""

from __future__ import annotations

import shutil
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from tests.helpers import run
from tests.judges import compare
from tests.judges.precedents import circles
from tests.judges.stored import SHARED_FUNCTIONS, functions_used, stored_values
from tests.live.books import BOOKS, make
from tests.live.conftest import Books
from tests.live.new_run import COMPUTED

every_book = pytest.mark.parametrize("name", BOOKS)


@every_book
def test_what_is_stored_with_every_formula_is_the_engines(name: str, books: Books) -> None:
    """Also for a viewer that never calculates, the figures are right."""
    book = books(name)
    new, stored = book.new_run, stored_values(book.costed)
    expected = {new.tabs[title]: new.workings(new.first, title) for title in COMPUTED}
    pages = new.pages(new.first)
    assert len(pages) == 7  # In short, Prices, Cost cards, Latest prices, and three more
    for tab, cells in pages.items():
        expected[tab] = {cell: value for cell, value in cells.items() if cell in stored[tab]}
    wrong = [f"{tab}!{each}" for tab in expected for each in compare(expected[tab], stored[tab])]
    assert wrong == []
    assert all(value is not None for tab in expected for value in stored[tab].values())


@every_book
def test_no_range_contains_what_depends_on_it(name: str, books: Books) -> None:
    """Or Excel reports a circle."""
    assert [str(circle) for circle in circles(books(name).costed)] == []


@every_book
def test_every_function_is_one_that_all_programs_compute(name: str, books: Books) -> None:
    book = books(name)
    theirs = functions_used(book.book)  # the person's own formulas may use what they like
    assert functions_used(book.costed) <= SHARED_FUNCTIONS | theirs


@pytest.mark.parametrize("name", ["market_stall", "odd", "gaps"])
def test_the_same_workbook_costed_twice_gives_the_same_bytes(
    name: str, books: Books, tmp_path: Path
) -> None:
    book, again = books(name), tmp_path / "again.xlsx"
    assert run("cost", book.book, "--output", again)[0] in (0, 1)
    assert again.read_bytes() == book.costed.read_bytes()


@pytest.mark.parametrize("name", ["market_stall", "odd", "gaps"])
def test_costing_a_costed_workbook_changes_nothing(name: str, books: Books, tmp_path: Path) -> None:
    """Figures and formulas stay; after the second time, every byte."""
    book = books(name)
    times = [book.costed, tmp_path / "twice.xlsx", tmp_path / "thrice.xlsx"]
    for before, after in pairwise(times):
        assert run("cost", before, "--output", after)[0] in (0, 1)
    assert stored_values(times[1]) == stored_values(times[0])
    assert times[2].read_bytes() == times[1].read_bytes()


def test_one_day_another_day_and_back(tmp_path: Path) -> None:
    """Costed as of one day, of another, and of the first again: nothing of the other is left."""
    book, day = make("odd", tmp_path), date(2026, 11, 25)
    first, other = tmp_path / "first.xlsx", tmp_path / "other.xlsx"
    shutil.copyfile(book, first)
    for on in (day, day):
        assert run("cost", first, "--on", on)[0] in (0, 1)
    shutil.copyfile(first, other)
    for on in (day + timedelta(days=9), day):
        assert run("cost", other, "--on", on)[0] in (0, 1)
    assert stored_values(other) == stored_values(first)
