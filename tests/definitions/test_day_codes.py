"""Days are written as the person's workbook writes them, on our sheets and in sentences."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook

from costbook.definitions.day_codes import day_code, day_written
from tests.helpers import run

SAMPLE = Path(__file__).parents[2] / "sample_workbooks" / "market_stall.xlsx"
DAY = date(2026, 3, 4)


@pytest.mark.parametrize(
    ("typed", "code", "written"),
    [
        ("yyyy-mm-dd", "yyyy-mm-dd", "2026-03-04"),
        ("dd/mm/yyyy;@", "dd/mm/yyyy", "04/03/2026"),
        ("[$-409]m/d/yy;@", "m/d/yy", "3/4/26"),
        (r"dd\-mmm\-yyyy", "dd-mmm-yyyy", "04-Mar-2026"),
        ('[$-409]mmmm d", "yyyy', "mmmm d, yyyy", "March 4, 2026"),
        ("DD.MM.YYYY", "dd.mm.yyyy", "04.03.2026"),
    ],
)
def test_a_format_of_days_is_read_and_written(typed: str, code: str, written: str) -> None:
    assert day_code(typed) == code
    assert day_written(DAY, code) == written


@pytest.mark.parametrize(
    "typed",
    [
        "General",
        "0.00",
        "#,##0.00 [$€-407]",
        "hh:mm",
        "yyyy-mm-dd hh:mm",
        "mmm yyyy",
        "ddd d mmm yyyy",
    ],
)
def test_any_other_format_is_none_of_days(typed: str) -> None:
    assert day_code(typed) == ""


@pytest.mark.parametrize(
    ("code", "on_sheets", "in_words"),
    [
        ("dd/mm/yyyy", "dd/mm/yyyy", "20/11/2026"),
        # 14 of the built-in formats: each machine writes it in its own order
        ("mm-dd-yy", "d mmm yyyy", "20 Nov 2026"),
    ],
)
def test_sheets_and_sentences_write_days_as_the_workbook_does(
    tmp_path: Path, code: str, on_sheets: str, in_words: str
) -> None:
    book = load_workbook(SAMPLE)
    for row in book["Purchases"].iter_rows(min_row=2, max_col=1):
        row[0].number_format = code
    book.save(tmp_path / "stall.xlsx")
    out = tmp_path / "out.xlsx"
    _, said, _ = run("cost", tmp_path / "stall.xlsx", "--on", "2026-11-20", "--output", out)
    assert f"Costed on {in_words}, in USD" in said
    prices = load_workbook(out)["Prices"]
    assert prices["B2"].number_format == on_sheets
