"""Prices tells of what is picked where it comes from, in the words of `explain` and with their day.

The expectation is what the command prints; its words have tests of their own.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.writing.pages import in_words
from tests.helpers import costed, make_book, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import sheets
from tests.writing.test_ladder import BOOK, ON, boxes_row, stored

HEAD = "Where it comes from, in words, as costed on 2026-11-20:"
CHANGED = "A figure has changed since 2026-11-20: run costbook again to have it in words."


def explained(path: Path, outlet: str) -> list[str]:
    """The lines that the command prints, without what stands around them."""
    _, out, _ = run("explain", path, "Flatbread", "--outlet", outlet, *ON)
    lines = out.splitlines()
    return lines[2 : lines.index("", 2)]


def shown(values: Mapping[str, Any], path: Path) -> list[Any]:
    """The lines below the ladder: the first says of which day they are."""
    first = boxes_row(path) + 3
    found = [values.get(f"A{row}") for row in range(first, first + 14)]
    return [line for line in found if line not in (None, "")]


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return costed(make_book(tmp_path / "stall.xlsx", sheets(BOOK)), *ON)


def test_the_words_are_those_of_explain_for_what_is_picked(stall: Path, ironcalc: IronCalc) -> None:
    market, cafe = explained(stall, "Market"), explained(stall, "Cafe")
    assert market != cafe
    assert shown(stored(stall), stall) == [HEAD, *market]
    document = ironcalc.open(stall)
    document.set("Prices", f"B{boxes_row(stall)}", "Cafe")
    document.recalculate()
    assert shown(document.values("Prices"), stall) == [HEAD, *cafe]
    document.set("Prices", f"A{boxes_row(stall)}", "Bun")
    document.recalculate()
    assert shown(document.values("Prices"), stall) == []


def test_the_words_say_when_they_are_true_no_more(stall: Path, ironcalc: IronCalc) -> None:
    document = ironcalc.open(stall)
    document.set("Purchases", "E2", 3)
    document.recalculate()
    assert shown(document.values("Prices"), stall)[0] == CHANGED
    document.set("Purchases", "E2", "dear")
    document.recalculate()
    assert shown(document.values("Prices"), stall)[0] == CHANGED


def test_a_run_tells_so_many_prices_and_what_is_picked_among_them(
    tmp_path: Path, ironcalc: IronCalc, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(in_words, "MOST", 1)
    path = make_book(tmp_path / "stall.xlsx", sheets(BOOK))
    run("cost", path, *ON)
    row = boxes_row(path)
    document = ironcalc.open(path)
    document.set("Prices", f"B{row}", "Cafe")
    document.recalculate()
    asked = "Run costbook again to have in words what is picked."
    assert shown(document.values("Prices"), path) == [asked]
    book = openpyxl.load_workbook(path)
    book["Prices"][f"B{row}"] = "Cafe"
    book.save(path)
    run("cost", path, *ON)
    assert shown(stored(path), path) == [HEAD, *explained(path, "Cafe")]


def test_lines_that_are_too_many_are_joined_to_the_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(in_words, "LINES", 3)
    path = make_book(tmp_path / "stall.xlsx", sheets(BOOK))
    run("cost", path, *ON)
    first, second, *rest = explained(path, "Market")
    assert shown(stored(path), path)[:4] == [HEAD, first, second, "; ".join(rest)]
