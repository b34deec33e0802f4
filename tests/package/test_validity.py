"""The checker's worth: every kind of defect put in is found, and nothing is found where none is."""

from __future__ import annotations

import re

import pytest

from costbook.package.validity import CHECKS
from tests.package.making import (
    corpus,
    edited,
    faults,
    grafted,
    new_faults,
    parts,
    plain,
    refused_files,
    rich,
    xml_edited,
)

BASE = grafted(rich())
TYPES, BOOK, LINKS = "[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
STYLES, OURS, THEIRS = "xl/styles.xml", "xl/worksheets/sheet3.xml", "xl/worksheets/sheet1.xml"
OURS_LINKS = "xl/worksheets/_rels/sheet3.xml.rels"
TABLE, NOTES = "xl/tables/table1.xml", "xl/comments1.xml"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml."
SHEET_TYPE, STYLES_TYPE = f"{KIND}worksheet+xml", f"{KIND}styles+xml"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PRICES = 'name="costbook_sheet_Prices" localSheetId="2"'

# part, text in it, what it becomes, and the sentence that must be among the faults
DEFECTS: dict[str, tuple[str, str, str, str]] = {
    "a part not declared": (
        TYPES,
        '<Override PartName="/xl/charts/chart2.xml"',
        '<Override PartName="/xl/charts/other.xml"',
        (
            "xl/drawings/_rels/drawing2.xml.rels: rId1 says that xl/charts/chart2.xml is a chart,"
            " but it is declared as application/xml."
        ),
    ),
    "nothing said of a part": (
        TYPES,
        '<Default Extension="vml"',
        '<Default Extension="bin"',
        "[Content_Types].xml: it says nothing of xl/drawings/vmlDrawing1.vml.",
    ),
    "declared twice": (
        TYPES,
        "</Types>",
        f'<Override PartName="/xl/styles.xml" ContentType="{STYLES_TYPE}"/></Types>',
        "[Content_Types].xml: xl/styles.xml is declared twice.",
    ),
    "declared as another kind": (
        TYPES,
        f'"/xl/worksheets/sheet3.xml" ContentType="{SHEET_TYPE}"',
        f'"/xl/worksheets/sheet3.xml" ContentType="{STYLES_TYPE}"',
        (
            "xl/_rels/workbook.xml.rels: rId6 says that xl/worksheets/sheet3.xml is a worksheet,"
            f" but it is declared as {STYLES_TYPE}."
        ),
    ),
    "a document type": (
        STYLES,
        "<styleSheet",
        "<!DOCTYPE styleSheet><styleSheet",
        (
            "xl/styles.xml: it is no well-formed XML (it declares a document type, which a workbook"
            " may not)."
        ),
    ),
    "a relation to nowhere": (
        OURS_LINKS,
        "drawing2.xml",
        "drawing99.xml",
        (
            "xl/worksheets/_rels/sheet3.xml.rels: rId2 leads to xl/drawings/drawing99.xml, which"
            " isn't there."
        ),
    ),
    "a relation's id twice": (
        OURS_LINKS,
        'Id="rId2"',
        'Id="rId1"',
        "xl/worksheets/_rels/sheet3.xml.rels: the id rId1 is used twice.",
    ),
    "a relation without a type": (
        OURS_LINKS,
        f'Id="rId2" Type="{OFFICE}/drawing"',
        'Id="rId2" Type=""',
        "xl/worksheets/_rels/sheet3.xml.rels: a relation lacks its id or its type.",
    ),
    "an id without a relation": (
        OURS,
        '<drawing r:id="rId2"/>',
        '<drawing r:id="rId77"/>',
        "xl/worksheets/sheet3.xml: <drawing> uses the relation rId77, which isn't there.",
    ),
    "an id of another kind": (
        OURS,
        '<drawing r:id="rId2"/>',
        '<drawing r:id="rId3"/>',
        "xl/worksheets/sheet3.xml: <drawing> uses rId3, a vmlDrawing.",
    ),
    "a chart's id without a relation": (
        "xl/drawings/drawing2.xml",
        'r:id="rId1"',
        'r:id="rId9"',
        "xl/drawings/drawing2.xml: <chart> uses the relation rId9, which isn't there.",
    ),
    "two sheets of one name": (
        BOOK,
        'sheet name="Prices"',
        'sheet name="RECIPES"',
        "xl/workbook.xml: two sheets are called recipes.",
    ),
    "two sheets of one number": (
        BOOK,
        'name="Prices" sheetId="3"',
        'name="Prices" sheetId="1"',
        "xl/workbook.xml: two sheets have the number 1.",
    ),
    "two sheets of one relation": (
        BOOK,
        'r:id="rId6"',
        'r:id="rId1"',
        "xl/workbook.xml: two sheets have the relation rId1.",
    ),
    "a sheet's name too long": (
        BOOK,
        'sheet name="Prices"',
        f'sheet name="{"P" * 32}"',
        f"xl/workbook.xml: {'P' * 32!r} can't be the name of a sheet.",
    ),
    "a sheet's name with a slash": (
        BOOK,
        'sheet name="Prices"',
        'sheet name="Prices/new"',
        "xl/workbook.xml: 'Prices/new' can't be the name of a sheet.",
    ),
    "a sheet without a number": (
        BOOK,
        'name="Prices" sheetId="3"',
        'name="Prices" sheetId=""',
        "xl/workbook.xml: the sheet Prices lacks its relation or its number.",
    ),
    "a sheet to show that isn't": (
        BOOK,
        "<workbookView ",
        '<workbookView activeTab="5" ',
        "xl/workbook.xml: the sheet to show is number 5, and there is none.",
    ),
    "the workbook's order": (
        BOOK,
        "<definedNames>",
        '<calcPr calcId="1"/><definedNames>',
        "xl/workbook.xml: <definedNames> stands in the wrong place.",
    ),
    "a name twice": (
        BOOK,
        "</definedNames>",
        '<definedName name="PAY">1</definedName></definedNames>',
        "xl/workbook.xml: the name pay is defined twice.",
    ),
    "a name like a cell": (
        BOOK,
        'name="Pay"',
        'name="AB12"',
        "xl/workbook.xml: 'AB12' can't be a defined name.",
    ),
    "a name of nothing": (
        BOOK,
        "'My own'!$A$1</definedName>",
        "</definedName>",
        "xl/workbook.xml: the name Pay stands for nothing.",
    ),
    "a name of no sheet": (
        BOOK,
        PRICES,
        PRICES.replace("2", "9"),
        "xl/workbook.xml: the name costbook_sheet_Prices belongs to sheet 9, and there is none.",
    ),
    "print titles of another sheet": (
        BOOK,
        'name="_xlnm.Print_Titles" localSheetId="2"',
        'name="_xlnm.Print_Titles" localSheetId="0"',
        "xl/workbook.xml: the name _xlnm.Print_Titles of Recipes lies on Prices.",
    ),
    "two pivot caches of one number": (
        BOOK,
        "</workbook>",
        '<pivotCaches><pivotCache cacheId="1"/><pivotCache cacheId="1"/></pivotCaches></workbook>',
        "xl/workbook.xml: two pivot caches have the number 1.",
    ),
    "a count of formats": (
        STYLES,
        '<cellXfs count="',
        '<cellXfs count="9',
        "xl/styles.xml: a count says 95, and there are 5.",
    ),
    "a font that isn't": (
        STYLES,
        'numFmtId="165" fontId="',
        'numFmtId="165" fontId="7',
        "xl/styles.xml: cellXfs 3 uses fontId 71, and there are 4.",
    ),
    "a number format that isn't": (
        STYLES,
        '<xf numFmtId="165"',
        '<xf numFmtId="777"',
        "xl/styles.xml: cellXfs 3 uses a number format that isn't there.",
    ),
    "two number formats of one number": (
        STYLES,
        '<numFmt numFmtId="165"',
        '<numFmt numFmtId="164"',
        "xl/styles.xml: two number formats have the number 164.",
    ),
    "a named style that leads nowhere": (
        STYLES,
        'name="Normal" xfId="0"',
        'name="Normal" xfId="8"',
        "xl/styles.xml: the named style Normal leads nowhere.",
    ),
    "the styles' order": (
        STYLES,
        "<cellXfs",
        "<dxfs/><cellXfs",
        "xl/styles.xml: <cellXfs> stands in the wrong place.",
    ),
    "a cell's format that isn't": (
        OURS,
        '<c r="A1" s="3"',
        '<c r="A1" s="5"',
        "xl/worksheets/sheet3.xml: a cell has format 5 of 5.",
    ),
    "a row's format that isn't": (
        OURS,
        '<row r="2"',
        '<row r="2" s="55" customFormat="1"',
        "xl/worksheets/sheet3.xml: a row has format 55 of 5.",
    ),
    "an unknown type of cell": (
        OURS,
        't="inlineStr"',
        't="text"',
        "xl/worksheets/sheet3.xml: a cell has the unknown type text.",
    ),
    "rows out of order": (
        OURS,
        '<row r="4"',
        '<row r="2"',
        "xl/worksheets/sheet3.xml: row 2 is out of order.",
    ),
    "a cell in another row": (
        OURS,
        '<c r="A2"',
        '<c r="A3"',
        "xl/worksheets/sheet3.xml: the cell A3 is out of order.",
    ),
    "a cell twice": (
        OURS,
        '<c r="B1"',
        '<c r="A1"',
        "xl/worksheets/sheet3.xml: the cell A1 is out of order.",
    ),
    "a text cell without its text": (
        OURS,
        't="inlineStr"><is><t xml:space="preserve"> Prices &amp; &lt;more&gt; </t></is>',
        't="inlineStr"><v>3</v>',
        "xl/worksheets/sheet3.xml: the cell A1 should hold its text and doesn't.",
    ),
    "a number that is none": (
        OURS,
        "<v>1.5</v>",
        "<v>nan</v>",
        "xl/worksheets/sheet3.xml: the cell B1 should hold a number and doesn't.",
    ),
    "a shared text that isn't": (
        THEIRS,
        't="s"><v>0</v>',
        't="s"><v>4444</v>',
        "xl/worksheets/sheet1.xml: a cell uses shared text 4444 of 9.",
    ),
    "a formula with an equals sign": (
        OURS,
        "<f>",
        "<f>=",
        "xl/worksheets/sheet3.xml: a formula begins with an equals sign.",
    ),
    "a formula too long": (
        OURS,
        "<f>",
        f"<f>{'1+' * 4097}",
        "xl/worksheets/sheet3.xml: a formula is longer than 8192 characters.",
    ),
    "a text too long": (
        OURS,
        "> Prices ",
        f"> Prices {'x' * 32_768}",
        "xl/worksheets/sheet3.xml: a text is longer than 32767 characters.",
    ),
    "the sheet's order": (
        OURS,
        "<sheetFormatPr ",
        '<drawing r:id="rId2"/><sheetFormatPr ',
        "xl/worksheets/sheet3.xml: <sheetFormatPr> stands in the wrong place.",
    ),
    "an element twice": (
        OURS,
        '<drawing r:id="rId2"/>',
        '<drawing r:id="rId2"/><drawing r:id="rId2"/>',
        "xl/worksheets/sheet3.xml: <drawing> stands there twice.",
    ),
    "a view without a window": (
        OURS,
        'workbookViewId="0"',
        'workbookViewId="1"',
        "xl/worksheets/sheet3.xml: its view belongs to a window that the workbook lacks.",
    ),
    "columns out of order": (
        OURS,
        "<sheetData>",
        '<cols><col min="4" max="3" width="9"/></cols><sheetData>',
        "xl/worksheets/sheet3.xml: the columns 4 to 3 are out of order.",
    ),
    "a column's format that isn't": (
        OURS,
        "<sheetData>",
        '<cols><col min="3" max="3" width="9" style="61"/></cols><sheetData>',
        "xl/worksheets/sheet3.xml: a column has format 61 of 5.",
    ),
    "merged cells that are none": (
        THEIRS,
        '<mergeCell ref="I1:J2"/>',
        '<mergeCell ref="J2:I1"/>',
        "xl/worksheets/sheet1.xml: 'J2:I1' can't be merged cells.",
    ),
    "merged cells that overlap": (
        THEIRS,
        '<mergeCells count="1"><mergeCell ref="I1:J2"/>',
        '<mergeCells count="2"><mergeCell ref="I1:J2"/><mergeCell ref="J2:K3"/>',
        "xl/worksheets/sheet1.xml: merged cells overlap.",
    ),
    "a count of merged cells": (
        THEIRS,
        '<mergeCells count="1">',
        '<mergeCells count="3">',
        "xl/worksheets/sheet1.xml: <mergeCells> says 3, and there are 1.",
    ),
    "an empty list of rules": (
        OURS,
        "<hyperlinks>",
        "<dataValidations/><hyperlinks>",
        "xl/worksheets/sheet3.xml: <dataValidations> is empty.",
    ),
    "a conditional format that isn't": (
        OURS,
        'dxfId="1"',
        'dxfId="2"',
        "xl/worksheets/sheet3.xml: a rule uses conditional format 2 of 2.",
    ),
    "a conditional format without cells": (
        OURS,
        'sqref="B1:B9"',
        'sqref=""',
        "xl/worksheets/sheet3.xml: a conditional format has no cells ().",
    ),
    "a conditional format without priority": (
        OURS,
        ' priority="1"',
        "",
        "xl/worksheets/sheet3.xml: a conditional format lacks its priority or its type.",
    ),
    "a rule for typing without cells": (
        THEIRS,
        'sqref="B2:B9"',
        'sqref="B2;B9"',
        "xl/worksheets/sheet1.xml: a rule for typing has no cells (B2;B9).",
    ),
    "a drop-down list too long": (
        THEIRS,
        '"Flour,Salt"',
        f'"{"Flour," * 50}"',
        "xl/worksheets/sheet1.xml: a drop-down list is longer than 255 characters.",
    ),
    "a link on no cell": (
        OURS,
        '<hyperlink ref="A4"',
        '<hyperlink ref="4A"',
        "xl/worksheets/sheet3.xml: '4A' can't be the cell of a link.",
    ),
    "a filter over nothing": (
        OURS,
        "</sheetData>",
        '</sheetData><autoFilter ref="A0:B2"/>',
        "xl/worksheets/sheet3.xml: 'A0:B2' can't be a filter's range.",
    ),
    "a heading that isn't the cell's": (
        TABLE,
        'name="A"',
        'name="Amount"',
        "xl/tables/table1.xml: its column 'Amount' has 'A' for a heading.",
    ),
    "a table's columns": (
        TABLE,
        'ref="F1:G3"',
        'ref="F1:H3"',
        "xl/tables/table1.xml: it has 2 columns over 3.",
    ),
    "a table's range": (
        TABLE,
        'ref="F1:G3"',
        'ref="F3:G1"',
        "xl/tables/table1.xml: 'F3:G1' can't be a table's range.",
    ),
    "two columns of one name": (
        TABLE,
        'name="B"',
        'name="a"',
        "xl/tables/table1.xml: two columns are called a.",
    ),
    "two columns of one number": (
        TABLE,
        '<tableColumn id="2"',
        '<tableColumn id="1"',
        "xl/tables/table1.xml: two columns have the number 1.",
    ),
    "a count of columns": (
        TABLE,
        '<tableColumns count="2"',
        '<tableColumns count="5"',
        "xl/tables/table1.xml: it says 5 columns and has 2.",
    ),
    "a table's filter elsewhere": (
        TABLE,
        '<autoFilter ref="F1:G3"',
        '<autoFilter ref="A1:B3"',
        "xl/tables/table1.xml: its filter isn't on the table.",
    ),
    "a table with a name's name": (
        TABLE,
        'displayName="Costs"',
        'displayName="Pay"',
        "Two tables or names are called pay.",
    ),
    "a table that isn't listed": (
        THEIRS,
        '<tableParts count="1"><tablePart r:id="rId3"/></tableParts>',
        "",
        "xl/worksheets/sheet1.xml: it lists 0 tables and has 1.",
    ),
    "a note without an author": (
        NOTES,
        'authorId="0"',
        'authorId="3"',
        "xl/comments1.xml: the note on A2 has no author.",
    ),
    "a note on no cell": (
        NOTES,
        '<comment ref="A2"',
        '<comment ref="A"',
        "xl/comments1.xml: 'A' can't be the cell of a note.",
    ),
    "notes without shapes": (
        OURS,
        '<legacyDrawing r:id="rId3"/>',
        "",
        "xl/worksheets/sheet3.xml: its notes have no shapes to show them.",
    ),
}


@pytest.mark.parametrize(("part", "lost"), [(OURS, "</sheetData>"), (NOTES, "</comments>")])
def test_a_part_that_is_not_well_formed(part: str, lost: str) -> None:
    (sentence,) = faults(xml_edited(BASE, part, (lost, "")))
    assert sentence.startswith(f"{part}: it is no well-formed XML (")


@pytest.mark.parametrize("kind", DEFECTS)
def test_a_defect_put_in_is_found(kind: str) -> None:
    part, old, new, sentence = DEFECTS[kind]
    assert sentence in new_faults(BASE, xml_edited(BASE, part, (old, new)))


def with_relation(package: bytes, part: str, relation: str) -> bytes:
    links = parts(package)[part].decode()
    return edited(package, {part: links.replace("</Rel", f"{relation}</Rel").encode()})


def test_two_tables_that_share_cells_and_numbers() -> None:
    table = parts(BASE)[TABLE].replace(b"F1:G3", b"G3:H4").replace(b'"Costs"', b'"More"')
    two = edited(BASE, {"xl/tables/table9.xml": table})
    two = xml_edited(
        two,
        TYPES,
        (
            "</Types>",
            (
                '<Override PartName="/xl/tables/table9.xml" ContentType="application/vnd.openxml'
                'formats-officedocument.spreadsheetml.table+xml"/></Types>'
            ),
        ),
    )
    two = with_relation(
        two,
        "xl/worksheets/_rels/sheet1.xml.rels",
        (
            '<Relationship Id="rId9" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
            'relationships/table" Target="../tables/table9.xml"/>'
        ),
    )
    found = new_faults(BASE, two)
    assert "Two tables have the number 1." in found
    assert "xl/worksheets/sheet1.xml: tables overlap." in found


def test_a_calculation_chain_that_names_a_sheet_that_is_gone() -> None:
    chain = (
        b'<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        b'<c r="A1" i="77"/></calcChain>'
    )
    chained = with_relation(
        edited(BASE, {"xl/calcChain.xml": chain}),
        LINKS,
        (
            '<Relationship Id="rId77" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
            'relationships/calcChain" Target="calcChain.xml"/>'
        ),
    )
    assert "xl/calcChain.xml: it names sheet 77, and there is none." in faults(chained)


def test_two_notes_on_one_cell() -> None:
    text = parts(BASE)[NOTES].decode()
    note = text[text.index("<comment ref") : text.index("</commentList>")]
    assert new_faults(BASE, xml_edited(BASE, NOTES, (note, note + note))) == [
        "xl/comments1.xml: A2 has two notes."
    ]


def test_a_pivot_without_its_data() -> None:
    pivot = b'<pivotTableDefinition xmlns="x" cacheId="4"/>'
    pivoted = with_relation(
        edited(BASE, {"xl/pivotTables/pivotTable1.xml": pivot}),
        "xl/worksheets/_rels/sheet2.xml.rels",
        (
            '<Relationship Id="rId9" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
            'relationships/pivotTable" Target="../pivotTables/pivotTable1.xml"/>'
        ),
    )
    assert "xl/pivotTables/pivotTable1.xml: its data, pivot cache 4, isn't there." in faults(
        pivoted
    )


def test_relations_of_a_part_that_is_gone() -> None:
    orphan = edited(BASE, {"xl/worksheets/_rels/sheet77.xml.rels": parts(BASE)[OURS_LINKS]})
    assert (
        "xl/worksheets/_rels/sheet77.xml.rels: it lists the relations of"
        " xl/worksheets/sheet77.xml, which isn't there."
    ) in faults(orphan)


def test_no_sheet_that_can_be_seen() -> None:
    text = parts(plain())[BOOK].decode().replace('sheetId="1"', 'sheetId="1" state="hidden"')
    assert faults(edited(plain(), {BOOK: text.encode()})) == [
        "xl/workbook.xml: no sheet can be seen."
    ]


def test_a_workbook_without_a_single_cell_format() -> None:
    text = parts(plain())[STYLES].decode()
    start, end = text.index("<cellXfs"), text.index("<cellStyles")
    bare = edited(plain(), {STYLES: (text[:start] + text[end:]).encode()})
    assert "xl/styles.xml: there is no cell format." in faults(bare)


def test_more_cell_formats_than_a_program_takes() -> None:
    """65,490: Microsoft's published limits of Excel, from memory."""
    xf = '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    styles = parts(BASE)[STYLES].decode()
    first = styles.index(">", styles.index("<cellXfs")) + 1
    had = int(re.search(r'<cellXfs count="(\d+)"', styles)[1])  # type: ignore[index]
    for more, told in ((65_490 - had, False), (65_491 - had, True)):
        many = f"{styles[:first]}{xf * more}{styles[first:]}".replace(
            f'<cellXfs count="{had}"', f'<cellXfs count="{had + more}"'
        )
        found = faults(edited(BASE, {STYLES: many.encode()}))
        assert ("xl/styles.xml: there are more cell formats than 65490." in found) is told


def test_two_named_styles_of_one_name() -> None:
    twice = xml_edited(BASE, STYLES, ("</cellStyles>", '<cellStyle name="normal"/></cellStyles>'))
    assert "xl/styles.xml: two named styles are called normal." in faults(twice)


def test_a_sheet_without_a_grid() -> None:
    text = parts(plain())["xl/worksheets/sheet1.xml"].decode().replace("<sheetData/>", "")
    assert faults(edited(plain(), {"xl/worksheets/sheet1.xml": text.encode()})) == [
        "xl/worksheets/sheet1.xml: <sheetData> is missing."
    ]


def test_a_root_of_another_kind() -> None:
    text = (
        parts(BASE)[NOTES].replace(b"<comments", b"<remarks").replace(b"</comments", b"</remarks")
    )
    assert "xl/comments1.xml: it should hold a comments and holds a remarks." in faults(
        edited(BASE, {NOTES: text})
    )


@pytest.mark.parametrize(
    ("package", "sentence"),
    [
        (edited(BASE, {TYPES: None}), "[Content_Types].xml is missing."),
        (edited(BASE, {BOOK: None}), "_rels/.rels: no relation leads to a workbook."),
        (BASE[:-9], "The workbook is damaged or is no .xlsx file."),
        (b"", "The workbook is damaged or is no .xlsx file."),
    ],
)
def test_what_is_too_broken_to_go_on(package: bytes, sentence: str) -> None:
    assert faults(package) == [sentence]


def test_a_formula_may_speak_of_a_row() -> None:
    before = """<c r="B1" s="3"><f>'Recipes'!C2*2</f><v>1.5</v>"""
    after = """<c r="B1" s="3" t="str"><f>'Recipes'!C2&amp;" row of 2"</f><v>1 row of 2</v>"""
    spoken = xml_edited(BASE, OURS, (before, after.replace("<v>1", "<v>one")))
    assert faults(spoken) == []


def test_nothing_is_found_in_workbooks_that_open() -> None:
    books = {"plain": plain(), "rich": rich(), "ours in it": BASE, **corpus(), **refused_files()}
    assert {name: found for name, data in books.items() if (found := faults(data))} == {}


def test_a_fault_that_was_there_before_is_not_told_as_new() -> None:
    faulty = xml_edited(
        rich(), "xl/workbook.xml", ("<workbookView ", '<workbookView activeTab="77" ')
    )
    assert faults(faulty) == ["xl/workbook.xml: the sheet to show is number 77, and there is none."]
    assert new_faults(faulty, faulty) == []


def test_every_check_is_known_to_find_something() -> None:
    kinds = len(DEFECTS) + 12
    assert kinds >= 30
    assert len(set(CHECKS)) == len(CHECKS)
