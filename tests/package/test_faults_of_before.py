"""What was wrong in a workbook before costbook came: left so, and none of it takes our look."""

from __future__ import annotations

import io
import re
import time
import zipfile

import openpyxl
import pytest

from tests.package.making import (
    edited,
    faults,
    grafted,
    new_faults,
    parts,
    plain,
    rich,
    xml_edited,
)

STYLES, SHEET, BOOK = "xl/styles.xml", "xl/worksheets/sheet1.xml", "xl/workbook.xml"
TYPES, LINKS = "[Content_Types].xml", "xl/_rels/workbook.xml.rels"


def styles(package: bytes) -> str:
    return parts(package)[STYLES].decode()


def group(package: bytes, name: str) -> list[str]:
    """The entries of a table of formats, as written; none of them holds one of its own name."""
    found = re.search(rf"<{name} [^>]*>(.*?)</{name}>", styles(package), re.DOTALL)
    entry = {"cellXfs": "xf", "dxfs": "dxf", "fonts": "font", "fills": "fill"}[name]
    whole = rf"<{entry}(?: [^>]*)?/>|<{entry}(?: [^>]*)?>.*?</{entry}>"
    return re.findall(whole, found[1], re.DOTALL) if found else []


# ---------------------------------------------------------------- numbers beyond the tables

PLAIN = '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('<c r="A2" s="1"', '<c r="A2" s="7"'),
        ('<c r="A2" s="1"', "<c r='A2' s='7'"),
        ('<row r="2"', '<row r="2" s="7" customFormat="1"'),
        ("<sheetData>", '<cols><col min="5" max="5" width="9" style="7"/></cols><sheetData>'),
    ],
)
def test_a_cell_of_theirs_with_a_format_that_is_not_there_stays_plain(old: str, new: str) -> None:
    """Three formats are there, 0 to 2, and ours come behind: the eighth must be none of them."""
    theirs = xml_edited(rich(), SHEET, (old, new))
    assert len(group(theirs, "cellXfs")) == 3
    once = grafted(theirs)
    table = group(once, "cellXfs")
    assert table[3:8] == [PLAIN] * 5
    assert len(table) > 8
    assert f'<cellXfs count="{len(table)}">' in styles(once)
    assert (parts(once)[SHEET], faults(once)) == (parts(theirs)[SHEET], [])
    assert grafted(once) == once


def test_that_cell_looks_plain_to_another_reader_too() -> None:
    theirs = xml_edited(plain(A2="Flour"), SHEET, ('<c r="A2"', '<c r="A2" s="3"'))
    cell = openpyxl.load_workbook(io.BytesIO(grafted(theirs)))["Recipes"]["A2"]
    assert (cell.font.b, cell.fill.fill_type, cell.number_format) == (False, None, "General")


def test_a_text_that_speaks_of_a_format_fills_nothing() -> None:
    theirs = plain("Notes", A1='it said s="77" there')
    assert len(group(grafted(theirs), "cellXfs")) < 10


def test_a_number_beyond_what_any_program_takes_stays_beyond() -> None:
    theirs = xml_edited(rich(), SHEET, ('<c r="A2" s="1"', '<c r="A2" s="80000"'))
    assert faults(theirs) == ["xl/worksheets/sheet1.xml: a cell has format 80000 of 3."]
    once = grafted(theirs)
    assert faults(once) == ["xl/worksheets/sheet1.xml: a cell has format 80000 of 5."]
    assert new_faults(theirs, once) == []


def test_a_conditional_format_that_is_not_there_stays_none() -> None:
    theirs = xml_edited(rich(), SHEET, ('dxfId="0"', 'dxfId="3"'))
    assert len(group(theirs, "dxfs")) == 1
    once = grafted(theirs)
    assert group(once, "dxfs")[1:4] == ["<dxf/>"] * 3
    assert (faults(once), len(group(once, "dxfs"))) == ([], 5)


def test_a_font_that_is_not_there_stays_their_first() -> None:
    theirs = xml_edited(rich(), STYLES, ('numFmtId="164" fontId="', 'numFmtId="164" fontId="4'))
    fonts = group(theirs, "fonts")
    once = grafted(theirs)
    assert group(once, "fonts")[len(fonts) : 42] == [fonts[0]] * (42 - len(fonts))
    assert faults(once) == []


def test_a_number_format_that_is_not_there_is_not_ours() -> None:
    """Format 165 is used and listed nowhere; ours must not take that number."""
    theirs = xml_edited(plain(), STYLES, ('<xf numFmtId="0"', '<xf numFmtId="165"'))
    numbers = re.findall(r'<numFmt numFmtId="(\d+)"', styles(grafted(theirs)))
    assert set(numbers) == {"166", "167"}
    assert new_faults(theirs, grafted(theirs)) == []


def test_a_fault_is_the_same_whatever_the_total() -> None:
    """12 formats before, 40 after: it was a fault before, and is the person's."""
    theirs = xml_edited(rich(), SHEET, ('<c r="A2" s="1"', '<c r="A2" s="80000"'))
    more = xml_edited(
        theirs, STYLES, (PLAIN, PLAIN * 2), ('<cellXfs count="3"', '<cellXfs count="4"')
    )
    assert new_faults(theirs, more) == []
    worse = xml_edited(theirs, SHEET, ('<c r="B2" s="1"', '<c r="B2" s="90000"'))
    assert new_faults(theirs, worse) == ["xl/worksheets/sheet1.xml: a cell has format 90000 of 3."]


# ---------------------------------------------------------------- back slashes, a missing part


def with_back_slashes(package: bytes) -> bytes:
    """As some programs for Windows name their parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts(package).items():
            info = zipfile.ZipInfo("part")
            info.filename = name if name == TYPES else name.replace("/", "\\")
            archive.writestr(info, data)
    return out.getvalue()


def test_parts_with_back_slashes_in_their_names_are_sound_before_and_after() -> None:
    theirs = with_back_slashes(rich())
    once = grafted(theirs)
    assert (faults(theirs), faults(once)) == ([], [])
    before, after = parts(theirs), parts(once)
    assert "xl\\worksheets\\sheet1.xml" in before
    assert {n for n in before if after[n] != before[n]} == {
        TYPES, "xl\\workbook.xml", "xl\\_rels\\workbook.xml.rels", "xl\\styles.xml",
    }  # fmt: skip
    assert grafted(once) == once


def test_relations_written_with_back_slashes_lead_somewhere() -> None:
    theirs = xml_edited(
        rich(),
        "xl/worksheets/_rels/sheet1.xml.rels",
        ("../drawings/vmlDrawing1.vml", "..\\drawings\\vmlDrawing1.vml"),
    )
    assert faults(grafted(theirs)) == []


@pytest.mark.parametrize("declared", [True, False])
def test_a_styles_part_that_is_promised_and_missing_is_filled(declared: bool) -> None:
    theirs = edited(plain(), {STYLES: None})
    if not declared:
        types = re.sub(
            r'<Override PartName="/xl/styles.xml"[^>]*>', "", parts(theirs)[TYPES].decode()
        )
        theirs = edited(theirs, {TYPES: types.encode()})
    once = grafted(theirs)
    assert [name for name in parts(once) if "styles" in name] == [STYLES]
    assert parts(once)[LINKS].decode().count("relationships/styles") == 1
    assert parts(once)[TYPES].decode().count("/xl/styles.xml") == 1
    assert faults(once) == []
    assert openpyxl.load_workbook(io.BytesIO(once))["Prices"]["B1"].font.b
    assert grafted(once) == once


# ---------------------------------------------------------------- named styles by the thousand


def test_old_bloated_files_are_checked_in_a_moment() -> None:
    """22,226 named styles, as one such file has: counted once each time round, they never ended."""
    many = 22_226
    names = "".join(f'<cellStyle name="Style {n}" xfId="{n}"/>' for n in range(1, many))
    formats = '<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>' * (many - 1)
    bloated = xml_edited(
        plain(),
        STYLES,
        ('<cellStyleXfs count="1">', f'<cellStyleXfs count="{many}">'),
        ("</cellStyleXfs>", f"{formats}</cellStyleXfs>"),
        ('<cellStyles count="1">', f'<cellStyles count="{many}">'),
        ("</cellStyles>", f"{names}</cellStyles>"),
    )
    started = time.process_time()
    assert faults(bloated) == []
    assert time.process_time() - started < 5  # a tenth of that; minutes before


# ---------------------------------------------------------------- numbers of sheets


def test_a_name_of_a_sheet_that_is_not_there_does_not_become_one_of_ours() -> None:
    """A sheet was taken away and its name stayed: number 1 of 1, where ours come to stand."""
    name = '<definedName name="_xlnm.Print_Titles" localSheetId="1">Recipes!$1:$1</definedName>'
    theirs = xml_edited(
        plain(), BOOK, ("</sheets>", f"</sheets><definedNames>{name}</definedNames>")
    )
    told = "xl/workbook.xml: the name _xlnm.Print_Titles belongs to sheet {}, and there is none."
    assert faults(theirs) == [told.format(1)]
    once = grafted(theirs)
    assert faults(once) == [told.format(4)]
    assert new_faults(theirs, once) == []
    assert grafted(once) == once


def test_a_sheet_with_the_highest_number_leaves_low_ones_for_ours() -> None:
    """Programs take numbers below 65,535."""
    theirs = xml_edited(plain("A", "B"), BOOK, ('sheetId="2"', 'sheetId="65534"'))
    once = grafted(theirs)
    numbers = re.findall(r'sheetId="(\d+)"', parts(once)[BOOK].decode())
    assert numbers == ["1", "65534", "2", "3", "4"]
    assert (faults(once), grafted(once)) == ([], once)
