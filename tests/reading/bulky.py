"""Files of a few kilobytes that make a reader take minutes or gigabytes, each shape by itself.

Every one is a sound workbook (or an .ods, .xls or series of prices) with one thing in it that there
is far too much of.
"""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Mapping
from typing import Final

from tests.reading.attacks import SHEET, STRINGS, STYLES
from tests.reading.old_made import (
    number,
    old_workbook,
    packed_numbers,
    record,
    row_of,
)
from tests.reading.test_layouts import PLAIN, Rows

__all__ = ["OLD", "OPEN", "PARTS", "WHOLE", "packed"]

BOOK: Final = "xl/workbook.xml"
TYPES: Final = "[Content_Types].xml"
LINKS: Final = "xl/_rels/workbook.xml.rels"
SHEET_LINKS: Final = "xl/worksheets/_rels/sheet2.xml.rels"
Parts = dict[str, bytes]
Attack = Callable[[Parts], None]


def packed(parts: Mapping[str, bytes]) -> bytes:
    """A package of these parts, folded as fast as can be."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return file.getvalue()


def put(part: str, before: bytes, what: bytes) -> Attack:
    """Put something in front of a mark of a part."""

    def attack(parts: Parts) -> None:
        head, mark, tail = parts[part].partition(before)
        assert mark, (part, before)
        parts[part] = head + what + mark + tail

    return attack


def in_cells(rows: bytes, tab: str = SHEET) -> Attack:
    return put(tab, b"</sheetData>", rows)


def behind_cells(what: bytes) -> Attack:
    """Something behind the cells, where the format puts it."""
    return put(SHEET, b"<pageMargins", what)


def in_styles(group: str, entry: bytes, times: int) -> Attack:
    def attack(parts: Parts) -> None:
        whole = re.compile(rf"<{group}\b[^>]*>.*?</{group}>|<{group}[^>]*/>".encode(), re.DOTALL)
        new = f'<{group} count="{times}">'.encode() + entry * times + f"</{group}>".encode()
        there = whole.search(parts[STYLES])
        at = there.span() if there else (parts[STYLES].index(b"<tableStyles"),) * 2
        parts[STYLES] = parts[STYLES][: at[0]] + new + parts[STYLES][at[1] :]

    return attack


def new_part(name: str, data: bytes, kind: str = "application/xml", link: str = "") -> Attack:
    """A further part, declared, and linked from the sheet where it says how."""

    def attack(parts: Parts) -> None:
        parts[name] = data
        declared = f'<Override PartName="/{name}" ContentType="{kind}"/></Types>'.encode()
        parts[TYPES] = parts[TYPES].replace(b"</Types>", declared)
        if link:
            parts[SHEET_LINKS] = relationships(
                f'<Relationship Id="rId77" Type="{OFFICE}/{link}" Target="/{name}"/>'.encode()
            )

    return attack


OFFICE: Final = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
MAIN: Final = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
SPREADSHEET: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml"


def relationships(inside: bytes) -> bytes:
    return (
        b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        + inside
        + b"</Relationships>"
    )


def numbered(pattern: bytes, times: int) -> bytes:
    """The pattern so many times, each with its number."""
    return b"".join(pattern % at for at in range(1, times + 1))


def one_text(text: bytes) -> Attack:
    """A text cell in a row of its own."""
    cell = b'<row r="99"><c r="C99" t="inlineStr"><is><t>' + text + b"</t></is></c></row>"
    return in_cells(cell)


def strings(inside: bytes) -> Attack:
    return put(STRINGS, b"</sst>", inside)


def sheets_named(times: int) -> Attack:
    """So many sheets that are all the same part."""
    entry = b'<sheet name="S%d" sheetId="9%d" r:id="rId1"/>'
    many = b"".join(entry % (at, at) for at in range(times))
    return put(BOOK, b"</sheets>", many)


def sheet_parts(times: int) -> Attack:
    """So many sheets of their own."""

    def attack(parts: Parts) -> None:
        made, links, kinds = [], [], []
        for at in range(100, 100 + times):
            parts[f"xl/worksheets/sheet{at}.xml"] = (
                b"<worksheet " + MAIN + b"><sheetData/></worksheet>"
            )
            made.append(b'<sheet name="S%d" sheetId="%d" r:id="rId%d"/>' % (at, at, at))
            links.append(
                f'<Relationship Id="rId{at}" Type="{OFFICE}/worksheet"'
                f' Target="worksheets/sheet{at}.xml"/>'.encode()
            )
            kinds.append(
                f'<Override PartName="/xl/worksheets/sheet{at}.xml"'
                f' ContentType="{SPREADSHEET}.worksheet+xml"/>'.encode()
            )
        put(BOOK, b"</sheets>", b"".join(made))(parts)
        put(LINKS, b"</Relationships>", b"".join(links))(parts)
        put(TYPES, b"</Types>", b"".join(kinds))(parts)

    return attack


def renamed_tab(letters: int) -> Attack:
    def attack(parts: Parts) -> None:
        name = b'name="' + b"n" * letters + b'"'
        parts[BOOK] = parts[BOOK].replace(b'name="Stages"', name)

    return attack


def in_utf_7(parts: Parts) -> None:
    """Marks that a count of bytes doesn't see."""
    text = parts[STRINGS].decode("utf-8").partition("?>")[2]
    coded = text.replace("</sst>", "<si/>" * 3_000_000 + "</sst>").encode("utf-7")
    parts[STRINGS] = b'<?xml version="1.0" encoding="UTF-7"?>' + coded


def in_utf_16(parts: Parts) -> None:
    text = parts[STRINGS].decode("utf-8").partition("?>")[2]
    text = text.replace("</sst>", "<si/>" * 3_000_000 + "</sst>")
    parts[STRINGS] = ('<?xml version="1.0" encoding="UTF-16"?>' + text).encode("utf-16")


def under_another_name(parts: Parts) -> None:
    """The shared texts in a part whose name doesn't end as those of XML do."""
    data = parts.pop(STRINGS).replace(b"</sst>", b"<si><t>a</t></si>" * 1_500_000 + b"</sst>")
    parts["xl/texts.bin"] = data
    parts[TYPES] = parts[TYPES].replace(b"/xl/sharedStrings.xml", b"/xl/texts.bin")
    parts[LINKS] = parts[LINKS].replace(b"sharedStrings.xml", b"texts.bin")


def without_dimension(parts: Parts) -> None:
    parts[SHEET] = re.sub(rb"<dimension[^>]*/>", b"", parts[SHEET])
    in_cells(SAME * 1_000_000)(parts)


ROWS: Final = b'<row r="%d"><c r="A%d"><v>1</v></c></row>'
SAME: Final = b"<row><c><v>1</v></c></row>"
COMMENTS: Final = f"{SPREADSHEET}.comments+xml"
DRAWN: Final = "application/vnd.openxmlformats-officedocument.drawing+xml"
CHAIN: Final = f"{SPREADSHEET}.calcChain+xml"
TABLE: Final = f"{SPREADSHEET}.table+xml"

PARTS: Final[dict[str, Callable[[], Attack]]] = {
    # rows and columns
    "a row numbered 2,000,000,000": lambda: in_cells(
        b'<row r="2000000000"><c r="A2000000000"><v>1</v></c></row>'
    ),
    "a row numbered in entities": lambda: in_cells(
        b'<row r="&#50;000000000"><c><v>1</v></c></row>'
    ),
    "a row numbered by 400 digits": lambda: in_cells(
        b'<row r="' + b"9" * 400 + b'"><c><v>1</v></c></row>'
    ),
    "a row numbered 1e9": lambda: in_cells(b'<row r="1e9"><c><v>1</v></c></row>'),
    "a cell in row 1,048,577": lambda: in_cells(
        b'<row r="1048577"><c r="A1048577"><v>1</v></c></row>'
    ),
    "a cell in column XFE": lambda: in_cells(
        b'<row r="99"><c r="A99"><v>1</v></c><c r="XFE99"><v>1</v></c></row>'
    ),
    "a million rows of one number": lambda: in_cells(SAME * 1_000_000),
    "60,000 numbered rows": lambda: in_cells(b"".join(ROWS % (at, at) for at in range(9, 60_009))),
    "a million numbered rows": lambda: in_cells(
        b"".join(ROWS % (at, at) for at in range(9, 1_000_009))
    ),
    "a million rows without a dimension": lambda: without_dimension,
    "three million empty rows": lambda: in_cells(b"<row/>" * 3_000_000),
    "five million empty cells in a row": lambda: in_cells(
        b"<row>" + b"<c/>" * 5_000_000 + b"</row>"
    ),
    "cells in the last column of 300,000 rows": lambda: in_cells(
        numbered(b'<row><c r="XFD%d"><v>1</v></c></row>', 350_000)
    ),
    "four million cells in a sheet that is not read": lambda: in_cells(
        b"<row>" + b"<c><v>1</v></c>" * 4_100_000 + b"</row>", "xl/worksheets/sheet5.xml"
    ),
    # texts, tags and attributes
    "a text of 5 MB in a cell": lambda: one_text(b"a" * 5_000_000),
    "a shared text of 5 MB": lambda: strings(b"<si><t>" + b"a" * 5_000_000 + b"</t></si>"),
    "a shared text of 40,000 letters": lambda: strings(b"<si><t>" + b"a" * 40_000 + b"</t></si>"),
    "a text of a million runs": lambda: strings(
        b"<si>" + b"<r><t>a</t></r>" * 1_000_000 + b"</si>"
    ),
    "a text of 5 MB of entities": lambda: one_text(b"&amp;" * 1_000_000),
    "a text of 5 MB of numbered entities": lambda: one_text(b"&#65;" * 1_000_000),
    "a text of 5 MB in CDATA": lambda: one_text(b"<![CDATA[" + b"a" * 5_000_000 + b"]]>"),
    "a comment of 20 MB": lambda: in_cells(b"<!--" + b"a" * 20_000_000 + b"-->"),
    "a formula of 5 MB": lambda: in_cells(
        b'<row r="99"><c r="A99"><f>' + b"1+" * 2_500_000 + b"1</f><v>1</v></c></row>"
    ),
    "a million shared texts more": lambda: strings(b"<si><t>a</t></si>" * 1_000_000),
    "shared texts under another name": lambda: under_another_name,
    "shared texts in UTF-7": lambda: in_utf_7,
    "shared texts in UTF-16": lambda: in_utf_16,
    "an attribute of 20 MB": lambda: in_cells(b'<row r="99" spans="' + b"1" * 20_000_000 + b'"/>'),
    "two million attributes on one element": lambda: in_cells(
        b"<row " + numbered(b'a%d="" ', 2_000_000) + b"/>"
    ),
    "5,000 attributes on each of 400 elements": lambda: in_cells(
        (b"<row " + numbered(b'a%d="" ', 5_000) + b"/>") * 400
    ),
    "a thousand attributes on each of 2,000 elements": lambda: in_cells(
        (b"<row " + numbered(b'a%d="" ', 1_000) + b"/>") * 2_000
    ),
    "300,000 namespaces on one element": lambda: in_cells(
        b"<row " + numbered(b'xmlns:a%d="u" ', 300_000) + b"/>"
    ),
    "300,000 namespaces on as many elements": lambda: in_cells(
        numbered(b'<row xmlns:a%d="u"/>', 300_000)
    ),
    "200,000 elements within each other": lambda: in_cells(
        b"<row>" + b"<c>" * 200_000 + b"</c>" * 200_000 + b"</row>"
    ),
    "texts within each other": lambda: strings(b"<si>" * 100_000 + b"</si>" * 100_000),
    # around the cells
    "a million merged cells": lambda: behind_cells(
        b"<mergeCells>"
        + numbered(b'<mergeCell ref="A%d:B%d"/>'.replace(b"B%d", b"B9"), 1_000_000)
        + b"</mergeCells>"
    ),
    "merged cells before the cells": lambda: put(
        SHEET,
        b"<sheetData>",
        b"<mergeCells>" + b'<mergeCell ref="A1:B1"/>' * 500_000 + b"</mergeCells>",
    ),
    "500,000 conditional formats": lambda: behind_cells(
        b'<conditionalFormatting sqref="A1"><cfRule type="expression" priority="1"><formula>1'
        b"</formula></cfRule></conditionalFormatting>" * 500_000
    ),
    "500,000 validations": lambda: behind_cells(
        b"<dataValidations>" + b'<dataValidation sqref="A1"/>' * 500_000 + b"</dataValidations>"
    ),
    "500,000 hyperlinks": lambda: behind_cells(
        b"<hyperlinks>" + b'<hyperlink ref="A1" location="A2"/>' * 500_000 + b"</hyperlinks>"
    ),
    "500,000 page breaks": lambda: behind_cells(
        b"<rowBreaks>" + numbered(b'<brk id="%d"/>', 500_000) + b"</rowBreaks>"
    ),
    "500,000 columns": lambda: put(
        SHEET,
        b"<sheetData>",
        b"<cols>" + b'<col min="1" max="1" width="9"/>' * 500_000 + b"</cols>",
    ),
    "500,000 scenarios": lambda: behind_cells(
        b"<scenarios>" + b"<scenario/>" * 500_000 + b"</scenarios>"
    ),
    "500,000 table parts": lambda: behind_cells(
        b"<tableParts>" + b"<tablePart/>" * 500_000 + b"</tableParts>"
    ),
    # styles
    "240,000 cell formats": lambda: in_styles("cellXfs", b'<xf numFmtId="14"/>', 240_000),
    "240,000 named styles": lambda: in_styles(
        "cellStyles", b'<cellStyle name="a" xfId="0"/>', 240_000
    ),
    "240,000 fonts": lambda: in_styles("fonts", b"<font/>", 240_000),
    "240,000 fills": lambda: in_styles("fills", b"<fill/>", 240_000),
    "240,000 borders": lambda: in_styles("borders", b"<border/>", 240_000),
    "240,000 number formats": lambda: in_styles(
        "numFmts", b'<numFmt numFmtId="9" formatCode="0"/>', 240_000
    ),
    "240,000 differential formats": lambda: in_styles("dxfs", b"<dxf/>", 240_000),
    "240,000 colours in one fill": lambda: in_styles(
        "fills", b"<fill><gradientFill>" + b"<stop/>" * 300_000 + b"</gradientFill></fill>", 1
    ),
    # the workbook and its parts
    "60,000 sheets of one part": lambda: sheets_named(60_000),
    "1,100 sheets": lambda: sheet_parts(1_100),
    "a tab's name of 500 letters": lambda: renamed_tab(500),
    "a tab's name of 900,000 letters": lambda: renamed_tab(900_000),
    "500,000 defined names": lambda: put(
        BOOK,
        b"</workbook>",
        b"<definedNames>"
        + numbered(b'<definedName name="n%d">1</definedName>', 500_000)
        + b"</definedNames>",
    ),
    "500,000 relations of the workbook": lambda: put(
        LINKS,
        b"</Relationships>",
        numbered(b'<Relationship Id="x%d" Type="t" Target="u"/>', 500_000),
    ),
    "500,000 relations of a sheet": lambda: (
        lambda parts: parts.update(
            {
                SHEET_LINKS: relationships(
                    numbered(b'<Relationship Id="x%d" Type="t" Target="u"/>', 500_000)
                )
            }
        )
    ),
    "500,000 declared parts": lambda: put(
        TYPES, b"</Types>", numbered(b'<Override PartName="/p%d" ContentType="t"/>', 500_000)
    ),
    "500,000 notes": lambda: new_part(
        "xl/comments1.xml",
        b"<comments "
        + MAIN
        + b"><authors><author/></authors><commentList>"
        + b'<comment ref="A1" authorId="0"><text><t>a</t></text></comment>' * 500_000
        + b"</commentList></comments>",
        COMMENTS,
        "comments",
    ),
    "500,000 shapes": lambda: new_part(
        "xl/drawings/drawing1.xml",
        b'<x:wsDr xmlns:x="u">' + b"<x:absoluteAnchor/>" * 500_000 + b"</x:wsDr>",
        DRAWN,
        "drawing",
    ),
    "a table of 500,000 columns": lambda: new_part(
        "xl/tables/table1.xml",
        b"<table "
        + MAIN
        + b"><tableColumns>"
        + numbered(b'<tableColumn id="%d" name="a"/>', 500_000)
        + b"</tableColumns></table>",
        TABLE,
        "table",
    ),
    "a calculation chain of three million cells": lambda: new_part(
        "xl/calcChain.xml",
        b"<calcChain " + MAIN + b">" + b'<c r="A1"/>' * 3_000_000 + b"</calcChain>",
        CHAIN,
    ),
    "custom XML of two million elements": lambda: new_part(
        "customXml/item1.xml", b"<a>" + b"<b/>" * 2_000_000 + b"</a>"
    ),
    "custom XML with a text of 20 MB": lambda: new_part(
        "customXml/item1.xml", b"<a>" + b"a" * 20_000_000 + b"</a>"
    ),
    "properties of two million elements": lambda: new_part(
        "docProps/custom.xml", b"<Properties>" + b"<property/>" * 2_000_000 + b"</Properties>"
    ),
    "60,000 further parts": lambda: (
        lambda parts: parts.update({f"xl/media/i{at}.png": b"" for at in range(60_000)})
    ),
    "140 MB of blanks between two elements": lambda: in_cells(b" " * 140_000_000),
    "140 MB of short blanks": lambda: in_cells((b"<row/>" + b" " * 30_000) * 4_500),
}
"""Attacks on a part of a sound workbook."""


# ---------------------------------------------------------------- whole files


def overlapping(entries: int, size: int) -> bytes:
    """So many entries that are all the same bytes, each of so many unfolded."""
    data = bytes(size)
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
    folded = squeeze.compress(data) + squeeze.flush()
    local = struct.pack(
        "<4s5H3L2H", b"PK\3\4", 20, 0, 8, 0, 33, zlib.crc32(data), len(folded), size, 1, 0
    )
    body = local + b"a" + folded
    directory = bytearray()
    for at in range(entries):
        name = b"f%d.xml" % at
        head = (b"PK\1\2", 20, 20, 0, 8, 0, 33, zlib.crc32(data), len(folded), size, len(name))
        directory += struct.pack("<4s6H3L5H2L", *head, 0, 0, 0, 0, 0, 0) + name
    end = struct.pack(
        "<4s4H2LH",
        b"PK\5\6",
        0,
        0,
        entries & 0xFFFF,
        entries & 0xFFFF,
        len(directory),
        len(body),
        0,
    )
    return body + bytes(directory) + end


WHOLE: Final[dict[str, Callable[[], bytes]]] = {
    "60,000 overlapping entries": lambda: overlapping(60_000, 100_000),
    "5,000 overlapping entries": lambda: overlapping(5_000, 25_000),
}


# ---------------------------------------------------------------- OpenDocument

NAMES: Final = (
    b'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    b'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    b'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"'
)


def _cell(value: object, repeated: int = 1) -> bytes:
    times = f' table:number-columns-repeated="{repeated}"' if repeated > 1 else ""
    if value is None:
        return f"<table:table-cell{times}/>".encode()
    text = isinstance(value, str)
    kind = (
        'office:value-type="string"'
        if text
        else f'office:value-type="float" office:value="{value}"'
    )
    return f"<table:table-cell{times} {kind}><text:p>{value}</text:p></table:table-cell>".encode()


def _row(cells: bytes, repeated: int = 1) -> bytes:
    times = b' table:number-rows-repeated="%d"' % repeated if repeated > 1 else b""
    return b"<table:table-row" + times + b">" + cells + b"</table:table-row>"


def _table(name: str, rows: Rows, more: bytes = b"") -> bytes:
    inside = b"".join(_row(b"".join(map(_cell, row))) for row in rows) + more
    return f'<table:table table:name="{name}">'.encode() + inside + b"</table:table>"


def open_book(more: bytes = b"", tables: bytes = b"", name: str = "Purchases") -> bytes:
    """A sound .ods with further rows on a sheet, or further sheets."""
    sheets = b"".join(
        _table(title, rows, more if title == name else b"") for title, rows in PLAIN.items()
    )
    content = (
        b"<office:document-content "
        + NAMES
        + b"><office:body><office:spreadsheet>"
        + sheets
        + tables
        + b"</office:spreadsheet></office:body></office:document-content>"
    )
    return packed(
        {
            "mimetype": b"application/vnd.oasis.opendocument.spreadsheet",
            "content.xml": content,
            "META-INF/manifest.xml": b"<x/>",
        }
    )


ONE: Final = _cell(1)
OPEN: Final[dict[str, Callable[[], bytes]]] = {
    "10,000 rows repeated 100,000 times": lambda: open_book(_row(ONE, 100_000) * 10_000),
    "3 rows repeated 20,000 times": lambda: open_book(_row(ONE, 20_000) * 3),
    "20 rows repeated 50,000 times": lambda: open_book(_row(ONE + ONE, 50_000) * 20),
    "a row repeated 2,000,000,000 times": lambda: open_book(_row(ONE, 2_000_000_000)),
    "a cell repeated 100,000 times": lambda: open_book(_row(_cell(1, 100_000))),
    "200 rows of a cell repeated 16,000 times": lambda: open_book(_row(_cell(1, 16_000)) * 200),
    "600,000 rows of one number": lambda: open_book(_row(ONE) * 600_000),
    "a million empty cells": lambda: open_book(_row(_cell(None) * 1_000_000)),
    "a cell of 5 MB": lambda: open_book(_row(_cell("a" * 5_000_000))),
    "a cell of a million paragraphs": lambda: open_book(
        _row(_cell("x").replace(b"<text:p>", b"<text:p/>" * 1_000_000 + b"<text:p>"))
    ),
    "a cell of 20,000 spaces a hundred at a time": lambda: open_book(
        _row(_cell("x").replace(b"x<", b'<text:s text:c="100"/>' * 20_000 + b"<"))
    ),
    "5,000 sheets": lambda: open_book(tables=b"".join(_table(f"S{at}", []) for at in range(5_000))),
    "a sheet's name of 900,000 letters": lambda: open_book(tables=_table("n" * 900_000, [])),
    "100,000 spans within each other": lambda: open_book(
        _row(_cell("x").replace(b"x<", b"<text:span>" * 100_000 + b"</text:span>" * 100_000 + b"<"))
    ),
    "tables within each other": lambda: open_book(
        _row(
            b"<table:table-cell>"
            + b"<table:table>" * 50_000
            + b"</table:table>" * 50_000
            + b"</table:table-cell>"
        )
    ),
    "300,000 styles": lambda: packed(
        {
            "mimetype": b"application/vnd.oasis.opendocument.spreadsheet",
            "content.xml": b"<office:document-content " + NAMES + b"/>",
            "styles.xml": b"<styles>" + b"<style/>" * 300_000 + b"</styles>",
        }
    ),
}


# ---------------------------------------------------------------- the old kind


def old_book(
    more: bytes = b"", sheets: int = 0, globals_: bytes = b"", *, same: bool = False
) -> bytes:
    """A sound .xls with further records on Purchases, or further sheets."""
    held = [
        (title, b"".join(row_of(at, row) for at, row in enumerate(rows)))
        for title, rows in PLAIN.items()
    ]
    held = [(title, cells + (more if title == "Purchases" else b"")) for title, cells in held]
    held += [(f"S{at}", b"") for at in range(sheets)]
    return old_workbook(held, globals_, same=same)


OLD: Final[dict[str, Callable[[], bytes]]] = {
    "60,000 rows": lambda: old_book(b"".join(number(at, 0, 1) for at in range(20, 60_020))),
    "1.1 million packed numbers": lambda: old_book(
        b"".join(packed_numbers(at, 200) for at in range(50, 5_550))
    ),
    "a million empty records": lambda: old_book(record(0x99) * 1_200_000),
    "5,000 sheets": lambda: old_book(sheets=5_000),
    "900 sheets of the same records": lambda: old_book(
        b"".join(number(at, 0, 1) for at in range(20, 20_000)), sheets=900, same=True
    ),
    "60,000 rows with a cell in the last column": lambda: old_book(
        b"".join(number(at, 255, 1) for at in range(20, 60_000))
    ),
    "a text of 60,000 letters": lambda: old_book(
        record(0x204, struct.pack("<HHHHB", 50, 0, 0, 60_000, 0) + b"a" * 60_000)
    ),
    "4,000,000,000 shared texts": lambda: old_book(
        globals_=record(0xFC, struct.pack("<II", 1, 4_000_000_000) + bytes(100))
    ),
    "shared texts that lead back": lambda: old_book(
        globals_=record(
            0xFC, struct.pack("<II", 1, 900_000) + struct.pack("<HBi", 1, 4, -8) + b"a" + bytes(50)
        )
    ),
}
