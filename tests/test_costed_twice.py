"""Costing a workbook that carries our sheets: the whole path, sheets and all."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.comparing import differences, figures
from tests.helpers import make_book, priced
from tests.random_books import COSTED_ON, random_book

ON = COSTED_ON.isoformat()


@pytest.mark.parametrize("seed", range(4))
def test_costing_a_costed_workbook_changes_nothing(seed: int, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", random_book(Random(seed), gaps=seed % 2 == 1))
    once, twice = tmp_path / "once.xlsx", tmp_path / "twice.xlsx"
    first = priced(book, on=ON, output=once)
    second = priced(once, on=ON, output=twice)
    assert second["problems"] == first["problems"]
    assert not differences(figures(second), figures(first))
    assert not differences(figures(priced(twice, on=ON)), figures(first))
