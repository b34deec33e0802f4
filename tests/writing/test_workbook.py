"""Descriptions drawn into a workbook: read back by another library, cell by cell."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from typing import Any

import openpyxl
import pytest

from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.formula_text import quoted
from costbook.writing.workbook import draw

PLAIN = Look(Role.COMPUTED, Show.NUMBER)


def drawn(*sheets: SheetDescription, places: int = 2, stored: bool = False) -> Any:
    return openpyxl.load_workbook(BytesIO(draw(sheets, places)), data_only=stored)


def sheet_of(*cells: tuple[object, str], show: Show = Show.NUMBER) -> SheetDescription:
    sheet = SheetDescription("Prices", "Prices")
    for at, (value, formula) in enumerate(cells):
        look = Look(Role.COMPUTED, show)
        sheet.put(at, 0, value, look, formula=formula)  # type: ignore[arg-type]  # a test's own
    return sheet


def test_two_cells_in_one_place_are_refused() -> None:
    sheet = sheet_of((Decimal(1), ""), ("x", ""))
    with pytest.raises(ValueError, match=r"^Prices!A2 is described twice$"):
        sheet.put(1, 0, "x", PLAIN)
    sheet.put(1, 1, "beside it", PLAIN)
    assert [cell.value for cell in sheet.cells()] == [Decimal(1), "x", "beside it"]


CELLS = [
    (Decimal("0.1"), ""),
    ("text", ""),
    ("=no formula", ""),
    ("https://example.org", ""),
    ("", ""),
    (None, ""),
    (Decimal("2.5"), "=A1*25"),
    ("hold", '=IF(A1>0,"hold","")'),
    (None, '=""'),
    ("", '=""'),
]


def test_values_and_formulas_come_back_as_described() -> None:
    found = [row[0].value for row in drawn(sheet_of(*CELLS))["Prices"].iter_rows()]
    assert found == [
        0.1, "text", "=no formula", "https://example.org", "", None,
        "=A1*25", '=IF(A1>0,"hold","")', '=""', '=""',
    ]  # fmt: skip


def test_a_text_that_looks_like_a_formula_stays_a_text() -> None:
    cell = drawn(sheet_of(("=1+1", "")))["Prices"]["A1"]
    assert (cell.data_type, cell.value) == ("s", "=1+1")


def test_the_stored_value_of_a_formula_is_the_engines() -> None:
    sheet = drawn(sheet_of(*CELLS), stored=True)["Prices"]
    found = [sheet.cell(row=at, column=1).value for at in range(7, 11)]
    assert found == [2.5, "hold", None, None]  # an empty text is read back as nothing


def test_an_unknown_is_stored_as_an_empty_text_and_not_as_nothing() -> None:
    """A program that does not calculate would show a 0 for a formula without a stored value."""
    from zipfile import ZipFile

    with ZipFile(BytesIO(draw([sheet_of((None, '=""'))], 2))) as package:
        xml = package.read("xl/worksheets/sheet1.xml").decode()
    assert 't="str"><f>""</f><v></v>' in xml


def test_a_formula_is_written_as_it_is() -> None:
    """XlsxWriter would make an array formula of what only looks like a newer function."""
    formula = f'=IF(A1={quoted("LEMON DROP(S)")},_xlfn.MAXIFS(A1:A2,A1:A2,"<5"),0)'
    assert drawn(sheet_of((Decimal(1), formula)))["Prices"]["A1"].value == formula


@pytest.mark.parametrize(("places", "code"), [(0, "#,##0"), (2, "#,##0.00"), (3, "#,##0.000")])
def test_money_has_the_places_of_its_currency(places: int, code: str) -> None:
    cell = drawn(sheet_of((Decimal(1), ""), show=Show.MONEY), places=places)["Prices"]["A1"]
    assert cell.number_format.split(";")[0].split("_")[0] == code


def test_the_same_description_gives_the_same_file() -> None:
    assert draw([sheet_of(*CELLS)], 2) == draw([sheet_of(*CELLS)], 2)


def test_a_link_leads_to_its_cell() -> None:
    sheet, other = sheet_of((Decimal(1), "")), SheetDescription("About", "About")
    other.put(0, 0, "there", Look(Role.LABEL), link="'Prices'!A1")
    cell = drawn(sheet, other)["About"]["A1"]
    assert (cell.value, cell.hyperlink.location) == ("there", "'Prices'!A1")


def test_the_role_of_a_cell_shows_without_colour() -> None:
    """Bold, italic, a border or a fill's grey: told apart on a black-and-white print."""
    sheet = SheetDescription("Prices", "Prices")
    roles = [Role.COMPUTED, Role.GIVEN, Role.ANSWER, Role.TOTAL, Role.FLAG]
    for at, role in enumerate(roles):
        sheet.put(at, 0, Decimal(1), Look(role, Show.MONEY))
    cells = [row[0] for row in drawn(sheet)["Prices"].iter_rows()]
    seen = {
        (cell.font.b, cell.font.i, cell.border.left.style, cell.border.top.style, fill_of(cell))
        for cell in cells
    }
    assert len(seen) == len(roles)


def fill_of(cell: Any) -> str:
    return str(cell.fill.fill_type)
