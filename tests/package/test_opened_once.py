"""A run opens each file once, and what it finds there stays as it was found."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Any

import pytest

from costbook.package.graft import graft, with_sheets
from costbook.package.workbook_file import WorkbookFile
from costbook.package.xml import serialise
from tests.helpers import run
from tests.package.making import TITLES, grafted, named, our_book, plain, rich, tab_names
from tests.write_back.books import ON, small

ONCE_EACH = ["r", "r", "r", "r", "w", "w"]
"""Opened: the person's file, our sheets as XlsxWriter made them, the new file before it takes the
old one's place, and by openpyxl the copy without cells that is made for it. Made: that copy, and
our sheets."""


@pytest.fixture
def zips(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """How each zip was opened, one after the other."""
    modes: list[str] = []
    made = zipfile.ZipFile.__init__

    def noted(self: zipfile.ZipFile, file: Any, mode: Any = "r", *more: Any, **how: Any) -> None:
        modes.append(mode)
        made(self, file, mode, *more, **how)

    monkeypatch.setattr(zipfile.ZipFile, "__init__", noted)
    return modes


def test_a_run_opens_each_file_once(tmp_path: Path, zips: list[str]) -> None:
    book = small(tmp_path / "stall.xlsx")
    for day in ("2026-11-20", "2026-11-21"):  # the second one finds our sheets there
        zips.clear()
        assert run("cost", book, "--on", day)[0] == 0
        assert sorted(zips) == ONCE_EACH


def test_an_earlier_output_is_opened_for_what_it_remembers_and_as_what_is_replaced(
    tmp_path: Path, zips: list[str]
) -> None:
    book, other = small(tmp_path / "stall.xlsx"), tmp_path / "priced.xlsx"
    assert run("cost", book, *ON, "--output", other)[0] == 0
    zips.clear()
    assert run("cost", book, *ON, "--output", other)[0] == 0
    assert sorted(zips) == ["r", "r", *ONCE_EACH]


def test_check_opens_the_file_once(tmp_path: Path, zips: list[str]) -> None:
    book = small(tmp_path / "stall.xlsx")
    zips.clear()
    run("check", book, *ON)
    assert sorted(zips) == ["r", "r", "w"]  # by us; by openpyxl, the copy that is made for it


@pytest.mark.parametrize("theirs", [plain(), rich(), grafted(rich())], ids=["plain", "rich", "ran"])
def test_a_graft_changes_nothing_of_what_the_file_shows_to_others(theirs: bytes) -> None:
    file = WorkbookFile(theirs)
    listed, sheets = serialise(file.book.root), dict(file.ours)
    ours, titles = our_book(tab_names(theirs, TITLES)), named(theirs)
    once = graft(file, ours, titles).content
    assert serialise(file.book.root) == listed
    assert (dict(file.ours), file.content) == (sheets, theirs)
    with_sheets(file, plain("Stages"))
    assert serialise(file.book.root) == listed
    assert (
        graft(file, ours, titles).content
        == once
        == graft(WorkbookFile(theirs), ours, titles).content
    )
