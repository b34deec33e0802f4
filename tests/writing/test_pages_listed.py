"""Our sheets are those of one list, each made under the title that it is listed by."""

from __future__ import annotations

from datetime import date

import pytest

from costbook.writing import sheets
from costbook.writing.description import SheetDescription
from costbook.writing.pages.page import Context, Page
from tests.deciding.asking import costed
from tests.deciding.test_moved import ROLLS

COSTING = costed(ROLLS, date(2026, 10, 1))


def titles(*more: str) -> list[str]:
    tabs = {title: title for title in (*sheets.TITLES, *more)}
    return [page.title for page in sheets.describe(COSTING, (), tabs)]


def test_each_page_stands_in_its_place_under_its_title() -> None:
    assert titles() == list(sheets.TITLES)


def day_page(context: Context) -> SheetDescription:
    return Page(context, "Day").sheet


def test_a_page_is_a_line_of_the_list(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheets, "PAGES", {"Day": day_page, **sheets.PAGES})
    assert titles("Day") == ["Day", *sheets.TITLES]


@pytest.mark.parametrize("has_it", [True, False])
def test_a_page_may_need_something_of_the_workbook(
    monkeypatch: pytest.MonkeyPatch, has_it: bool
) -> None:
    monkeypatch.setattr(sheets, "PAGES", {"Day": day_page, **sheets.PAGES})
    more = {"Day": lambda _book: has_it}
    monkeypatch.setattr(sheets, "ONLY_IF", {**sheets.ONLY_IF, **more})
    wanted = sheets.titles_for(COSTING.structure.book)
    assert wanted == (("Day", *sheets.TITLES) if has_it else sheets.TITLES)
    made = sheets.describe(COSTING, (), {title: title for title in wanted})
    assert [page.title for page in made] == list(wanted)


def test_memory_says_what_it_is_and_is_out_of_sight() -> None:
    tabs = {title: title for title in sheets.TITLES}
    memory = next(each for each in sheets.describe(COSTING, (), tabs) if each.title == "Memory")
    assert memory.hidden
    assert memory.rows[1][0].value == (
        "What costbook left on its sheets, in short, so that its next run can tell what you typed "
        "there. Please leave it as it is."
    )
