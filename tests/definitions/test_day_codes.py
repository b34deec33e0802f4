"""Days are written as the person's workbook writes them, on our sheets and in sentences."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook

from costbook.definitions.day_codes import day_code, day_written
from costbook.package.workbook_file import WorkbookFile
from costbook.reading.cells import read_workbook
from tests.helpers import read_back, run
from tests.reading.test_other_files import open_document

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
    prices = read_back(out)["Prices"]
    assert prices["B2"].number_format == on_sheets


def dated(
    style: str, cell: str = ' table:style-name="day"', column: str = "", more: str = ""
) -> bytes:
    """An .ods with one date, whose style may be its own, its row's or its column's."""
    return open_document(
        column,
        f'<table:table-row><table:table-cell office:value-type="date"{cell} '
        'office:date-value="2026-11-02"/></table:table-row>',
        styles=f"{style}{STYLE}{more}",
    )


STYLE = '<style:style style:name="day" style:family="table-cell" style:data-style-name="N1"/>'
PARTS = (
    '<number:day number:style="long"/><number:text>/</number:text>'
    '<number:month number:style="long"/><number:text>/</number:text>'
    '<number:year number:style="long"/>'
)
BRITISH = f'<number:date-style style:name="N1">{PARTS}</number:date-style>'
NAMED = (
    '<number:date-style style:name="N1"><number:month number:textual="true"/>'
    "<number:text> </number:text><number:day/><number:text>, </number:text>"
    '<number:year number:style="long"/></number:date-style>'
)
MACHINES = BRITISH.replace('"N1"', '"N1" number:automatic-order="true"')
WITH_WEEKDAY = BRITISH.replace("<number:day ", "<number:day-of-week/><number:day ", 1)
COLUMN = '<table:table-column table:default-cell-style-name="day"/>'
CHILD = '<style:style style:name="mine" style:family="table-cell" style:parent-style-name="day"/>'
ENDLESS = CHILD.replace('"day"', '"mine"')


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (dated(BRITISH), "dd/mm/yyyy"),
        (dated(NAMED), "mmm d, yyyy"),
        (dated(BRITISH.replace(' number:style="long"', "")), "d/m/yy"),
        (dated(MACHINES), "d mmm yyyy"),
        (dated(MACHINES.replace('"N1"', '"N1" number:language="en"')), "dd/mm/yyyy"),
        (dated(WITH_WEEKDAY), ""),
        (dated(BRITISH, cell=""), ""),
        (dated(BRITISH, cell="", column=COLUMN), "dd/mm/yyyy"),
        (dated(BRITISH, cell=' table:style-name="mine"', more=CHILD), "dd/mm/yyyy"),
        (dated(BRITISH, cell=' table:style-name="mine"', more=ENDLESS), ""),
    ],
)
def test_an_open_document_says_how_it_writes_its_days(content: bytes, code: str) -> None:
    assert read_workbook(WorkbookFile(content), lambda names: names).day_code == code
