"""What a cell's format says beside its number: a percentage, or in which money it is."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from costbook.package.workbook_file import WorkbookFile
from costbook.reading.cells import read_workbook
from costbook.reading.formats import FormatMark, mark_of
from costbook.reading.grid import Formatted
from tests.helpers import Shown, priced, product_of, save
from tests.judges.libreoffice import LibreOffice
from tests.money_rules.wraps import WRAPS, said
from tests.reading.test_other_files import cell, open_document, row
from tests.tables import Sheets, close, row_of, sheets

PERCENT = FormatMark(percent=True)


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ("0%", PERCENT),
        ("0.00 %", PERCENT),
        ('0.0" % fat"', None),  # a word, not a percentage
        ("0.00", None),
        ("General", None),
        ("[Red]0.00", None),
        ("yyyy-mm-dd", None),
        ('"$"#,##0.00', None),  # many countries' money is written like this
        ("[$$-409]#,##0.00", None),
        ('"€"#,##0.00', FormatMark(money="€")),
        ("#,##0.00 [$€-407];[RED]-#,##0.00 [$€-407]", FormatMark(money="€")),
        ("[$£-809]#,##0.00", FormatMark(money="£")),
        ("[$EUR] #,##0.00", FormatMark(money="EUR")),
        ('0.00 "CHF"', FormatMark(money="CHF")),
        ('0.00 "BAG"', None),  # no country's money
        ('0.00 "BAGS"', None),
    ],
)
def test_what_a_number_format_says(code: str, says: FormatMark | None) -> None:
    assert mark_of(code) == says


def wraps_with(sheet: str, column: int, value: object, number_format: str) -> Sheets:
    """The wraps with one cell of a sheet's first row shown in another format."""
    book = sheets(WRAPS, "Batches\nRecipe | Makes | Unit | Rejects\nWrap | 25 | ea |")
    book[sheet][1][column] = Shown(value, number_format)
    return book


# ---------------------------------------------------------------- percentages


@pytest.mark.parametrize(("makes", "good"), [((25, "ea"), 24), ((2, "dozen"), "23.04")])
def test_rejects_shown_in_per_cent_are_a_share_of_the_batch(
    makes: tuple[int, str], good: object
) -> None:
    # flour 1.20 over what is good: 4 % of 25 is one, 4 % of 24 is 0.96
    book = wraps_with("Batches", 3, 0.04, "0%")
    book["Batches"][1][1:3] = makes
    answer = priced(book)
    close(product_of(answer, "Single")["cost"]["ingredients"], str(1.2 / float(str(good))))
    assert said(answer, "Batches", "D2") == []


def test_rejects_that_are_a_small_number_stay_one() -> None:
    answer = priced(wraps_with("Batches", 3, 0.04, "0.00"))
    close(product_of(answer, "Single")["cost"]["ingredients"], str(1.2 / 24.96))


def test_a_percentage_in_a_text_is_asked() -> None:
    answer = priced(sheets(WRAPS, "Batches\nRecipe | Makes | Unit | Rejects\nWrap | 25 | ea | 4 %"))
    assert product_of(answer, "Single")["cost"]["ingredients"] is None
    assert said(answer, "Batches", "D2") == [
        (
            '"4 %" stands here as a text, not as a percentage. Clear the cell, set its format to '
            "percentage and type it again; or type how many."
        )
    ]


def test_an_amount_shown_in_per_cent_is_asked() -> None:
    answer = priced(wraps_with("Recipes", 2, 0.6, "0.0%"))
    assert product_of(answer, "Single")["cost"]["ingredients"] is None
    assert said(answer, "Recipes", "C2") == [
        (
            "Amount is shown as 60 %, and is no percentage. Set the cell's format to number, "
            "and type the figure again."
        )
    ]


# ---------------------------------------------------------------- money


def test_a_price_shown_in_another_money_is_asked() -> None:
    answer = priced(wraps_with("Purchases", 4, 2, '"€"#,##0.00'))
    assert product_of(answer, "Single")["cost"]["ingredients"] is None
    assert said(answer, "Purchases", "E2") == [
        (
            "Price per pack is shown in €, and the workbook's currency is USD. Type what it came "
            "to in USD, and give the cell that format."
        )
    ]


def test_a_newer_price_in_another_money_is_not_passed_over_for_an_older_one() -> None:
    book = wraps_with("Purchases", 4, 2, "0.00")
    book["Purchases"].append([date(2026, 11, 8), "Flour", 1000, "g", Shown(3, '"€"0.00')])
    answer = priced(book)
    assert row_of(answer, "item", "Flour")["price_per_base_unit"] is None
    assert product_of(answer, "Single")["cost"]["ingredients"] is None
    of_receipts = [each for each in answer["problems"] if each["sheet"] == "Purchases"]
    assert [each["cell"] for each in of_receipts if each["severity"] == "wrong"] == ["E3"]


@pytest.mark.parametrize("number_format", ['"$"#,##0.00', '0.00 "USD"', "[$$-409]0.00", "0.00"])
def test_a_price_shown_in_the_workbooks_money_is_one(number_format: str) -> None:
    answer = priced(wraps_with("Purchases", 4, 2, number_format))
    close(product_of(answer, "Single")["cost"]["ingredients"], "0.048")  # 1.20 / 25
    assert said(answer, "Purchases", "E2") == []


def test_pay_shown_in_another_money_is_asked() -> None:
    book = sheets(WRAPS)
    book["Settings"].append(["Pay per hour", Shown(12, "0.00 [$€-407]")])
    assert said(priced(book), "Settings", "B3") == [
        (
            "Pay per hour is shown in €, and the workbook's currency is USD. Type what it came to "
            "in USD, and give the cell that format."
        )
    ]


# ---------------------------------------------------------------- other files


def marks(content: bytes, name: str) -> list[tuple[Decimal, bool, str]]:
    grids = read_workbook(WorkbookFile(content, name), lambda tabs: tabs).grids
    return [
        (Decimal(held), held.percent, held.money)
        for grid in grids.values()
        for cells in grid.rows.values()
        for held in cells.values()
        if isinstance(held, Formatted)
    ]


def test_an_open_document_says_it_with_the_number() -> None:
    shown = (
        cell("percentage", office_value="0.04"),
        cell("currency", office_value="2", office_currency="EUR"),
        cell("float", office_value="7"),
    )
    assert marks(open_document(row(*shown)), "stall.ods") == [
        (Decimal("0.04"), True, ""),
        (Decimal(2), False, "EUR"),
    ]


def test_a_workbooks_numbers_have_their_formats(tmp_path: Path) -> None:
    path = save({"Batches": [[Shown(0.04, "0%"), 2, Shown(3, '"€"0.00')]]}, tmp_path)
    book = openpyxl.load_workbook(path)
    assert [each.number_format for each in book["Batches"][1]][::2] == ["0%", '"€"0.00']
    assert marks(path.read_bytes(), "stall.xlsx") == [
        (Decimal("0.04"), True, ""),
        (Decimal(3), False, "€"),
    ]


@pytest.mark.libreoffice
def test_an_old_workbook_has_its_formats(tmp_path: Path, libreoffice: LibreOffice) -> None:
    path = save({"Batches": [[Shown(0.04, "0%"), 2, Shown(3, "0.00 [$€-407]")]]}, tmp_path)
    document = libreoffice.open(path)
    document.export(tmp_path / "stall.xls", "MS Excel 97")
    document.close()
    assert marks((tmp_path / "stall.xls").read_bytes(), "stall.xls") == [
        (Decimal("0.04"), True, ""),
        (Decimal(3), False, "€"),
    ]
