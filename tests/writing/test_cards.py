"""Cost cards: what stands under "Amount for a batch" is for a batch, also of packaging.

The main sample's leek roll: a batch starts 48 and gives 46 good, a pack each. So film 14 in × 48 ×
1.05 = 705.6 in, foil 12 in × 48 = 576 in, labels 46 × 1.03 = 47.38, freezer bags 46, and baking
paper 4 sheets a batch, whatever it gives.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.helpers import run

SAMPLE = Path(__file__).parents[2] / "sample_workbooks" / "market_stall.xlsx"


def test_packaging_stands_as_a_batch_takes_it(tmp_path: Path) -> None:
    out = tmp_path / "out.xlsx"
    run("cost", SAMPLE, "--on", "2026-11-20", "--output", out)
    cards = load_workbook(out, data_only=True)["Cost cards"]
    rows = [row[:3] for row in cards.iter_rows(values_only=True)]
    assert rows[0][0] == "Leek & potato roll"
    end = next(at for at, row in enumerate(rows) if row[0] == "Packaging, together")
    lines = rows[end - 5 : end]
    assert sorted((row[0], row[2]) for row in lines) == [
        ("Baking paper", "sheet"),
        ("Film", "in"),
        ("Foil", "in"),
        ("Freezer bags", "ea"),
        ("Labels", "ea"),
    ]
    amounts = {str(name): amount for name, amount, _ in lines}
    expected = {"Film": 705.6, "Foil": 576, "Labels": 47.38, "Freezer bags": 46, "Baking paper": 4}
    assert amounts == pytest.approx(expected)


def test_an_amount_that_is_not_known_is_a_question(tmp_path: Path) -> None:
    book = load_workbook(SAMPLE)
    book["Packaging"]["C4"] = "some"
    book.save(tmp_path / "stall.xlsx")
    out = tmp_path / "out.xlsx"
    run("cost", tmp_path / "stall.xlsx", "--on", "2026-11-20", "--output", out)
    cards = load_workbook(out, data_only=True)["Cost cards"]
    film = next(row for row in cards.iter_rows(values_only=True) if row[0] == "Film")
    assert film[1] == "?"
