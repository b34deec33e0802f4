"""What other programs say of a workbook that costbook has written into."""

from __future__ import annotations

from pathlib import Path

import pytest
from openxml_audit import FileFormat, OpenXmlValidator

from tests.judges.libreoffice import LibreOffice
from tests.package.making import (
    TITLES,
    corpus,
    grafted,
    new_faults,
    ours_in,
    parts,
    plain,
    rich,
    xml_edited,
)

# openxml-audit advises against texts inside the sheet, since Excel moves them into the shared
# texts when it saves. That is why we do it: the person's shared texts stay as they are.
OUR_CHOICE = "inline-string cell(s)"
# It takes ten seconds and more over a larger workbook.
SMALL = {name: data for name, data in corpus().items() if len(data) < 20_000}


def complaints(package: bytes, place: Path) -> set[str]:
    place.write_bytes(package)
    validator = OpenXmlValidator(file_format=FileFormat.MICROSOFT_365, max_errors=0)
    found = validator.validate(str(place)).errors
    return {each.description for each in found if OUR_CHOICE not in each.description}


@pytest.mark.parametrize("name", ["plain", "rich", *sorted(SMALL)])
def test_another_checker_finds_nothing_that_was_not_there(name: str, tmp_path: Path) -> None:
    theirs = {"plain": plain(), "rich": rich(), **SMALL}[name]
    before = complaints(theirs, tmp_path / "before.xlsx")
    assert complaints(grafted(theirs), tmp_path / "after.xlsx") <= before


def test_the_other_checker_does_find_a_defect(tmp_path: Path) -> None:
    broken = xml_edited(
        grafted(rich()),
        "xl/worksheets/sheet3.xml",
        ("<sheetData>", "<sheetdata>"),
        ("</sheetData>", "</sheetdata>"),
    )
    assert complaints(broken, tmp_path / "broken.xlsx")


@pytest.mark.libreoffice
def test_libreoffice_saves_it_and_our_sheets_are_found_and_replaced(
    libreoffice: LibreOffice, tmp_path: Path
) -> None:
    first, second = tmp_path / "first.xlsx", tmp_path / "second.xlsx"
    first.write_bytes(grafted(plain("Recipes", "Prices", A1="Flatbread", C2="4")))
    book = libreoffice.open(first)
    try:
        assert book.sheets() == ["Recipes", "Prices", "Prices (costbook)", *TITLES[1:]]
        assert book.values("Recipes")["A1"] == "Flatbread"
        assert book.values("Prices (costbook)")["A1"] == " Prices & <more> "
        # It works out all anew: our formula doubles the 4 on the person's sheet.
        assert book.values("Prices (costbook)")["B1"] == 8
        book.save_as(second)
    finally:
        book.close()
    saved = second.read_bytes()
    assert ours_in(saved) == {
        "Prices (costbook)": "Prices",
        "Cost cards": "Cost cards",
        "To put right": "To put right",
    }
    again = grafted(saved, figure=2.5)
    assert ours_in(again) == ours_in(saved)
    assert new_faults(saved, again) == []
    assert {name for name in parts(again) if name.startswith("xl/worksheets/sheet")} == {
        name for name in parts(saved) if name.startswith("xl/worksheets/sheet")
    }
    assert grafted(again, figure=2.5) == again
    assert grafted(grafted(again, figure=9.0), figure=2.5) == again
