"""How many formulas our sheets take: a workbook is opened and followed on small machines."""

from __future__ import annotations

from pathlib import Path

from tests.helpers import run
from tests.judges.stored import formulas

MAIN_SAMPLE = Path(__file__).parents[2] / "sample_workbooks" / "market_stall.xlsx"
MOST = 20_500
"""What the main sample's workbook may hold at most: 19,936 when this was written."""


def test_the_main_sample_holds_no_more_formulas_than_that(tmp_path: Path) -> None:
    costed = tmp_path / "costed.xlsx"
    run("cost", MAIN_SAMPLE, "--output", costed)
    assert sum(len(cells) for cells in formulas(costed).values()) <= MOST
