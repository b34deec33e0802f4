"""Costing a workbook that carries our sheets: the whole path, sheets and all."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.comparing import differences, figures
from tests.helpers import make_book, priced, run
from tests.random_books import COSTED_ON, random_book

ON = COSTED_ON.isoformat()


@pytest.mark.parametrize("seed", range(4))
def test_costing_a_costed_workbook_changes_nothing(seed: int, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", random_book(Random(seed), gaps=seed % 2 == 1))
    once, twice = tmp_path / "once.xlsx", tmp_path / "twice.xlsx"
    first = priced(book, on=ON)
    assert run("cost", book, "--on", ON, "--output", once)[0] in (0, 1)
    second = priced(once, on=ON)
    assert second["problems"] == first["problems"]
    assert not differences(figures(second), figures(first))
    assert run("cost", once, "--on", ON, "--output", twice)[0] in (0, 1)
    assert not differences(figures(priced(twice, on=ON)), figures(first))
