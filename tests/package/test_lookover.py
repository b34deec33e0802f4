"""Files that can't be written into are refused with the way out; the rest is said."""

from __future__ import annotations

import io
import struct
import zipfile

import pytest

from costbook.package import lookover
from costbook.package.limits import MOST_BYTES
from costbook.package.lookover import OnlyCopies
from costbook.package.members import pack, read
from costbook.package.workbook_file import WorkbookFile
from costbook.problems import Problem, Refused
from tests.package.making import (
    corpus,
    edited,
    graft,
    ours_in,
    parts,
    plain,
    refused_files,
    rich,
    xml_edited,
)

WAY_OUT = (
    " or let costbook write a workbook of its own, with copies of what you typed:"
    " costbook cost stall.xlsx --output NEW.xlsx."
)
REPAIR = (
    " Open it in a spreadsheet program, let it repair the file, save it under a new name, and use"
    " that; or go back to a backup."
)
OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
PASSWORD = (
    "The workbook is locked with a password. Open it, remove the password, save it, and run"
    " costbook again."
)
STRICT = xml_edited(
    plain(),
    "xl/workbook.xml",
    (
        "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
        "http://purl.oclc.org/ooxml/spreadsheetml/main",
    ),
)
TRACKED = edited(
    xml_edited(
        plain(),
        "xl/_rels/workbook.xml.rels",
        (
            "</Relationships>",
            (
                '<Relationship Id="r9" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
                'relationships/revisionHeaders" Target="revisions/headers.xml"/></Relationships>'
            ),
        ),
    ),
    {"xl/revisions/headers.xml": b"<headers/>"},
)
BINARY = xml_edited(
    plain(),
    "[Content_Types].xml",
    (
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml",
        "application/vnd.ms-excel.sheet.binary.macroEnabled.main",
    ),
)


def zipped(**members: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return out.getvalue()


def flipped(package: bytes) -> bytes:
    """One byte of the first sheet changed where it lies, its checksum left."""
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        start = archive.getinfo("xl/worksheets/sheet1.xml").header_offset
    place = start + 30 + len("xl/worksheets/sheet1.xml") + 40
    return package[:place] + bytes([package[place] ^ 0x55]) + package[place + 1 :]


def lying(package: bytes) -> bytes:
    """The directory says that the content types unfold to one byte."""
    start = package.index(b"PK\x01\x02")
    return package[: start + 24] + struct.pack("<L", 1) + package[start + 28 :]


def look_over(theirs: bytes, name: str = "stall.xlsx") -> list[Problem]:
    return lookover.look_over(WorkbookFile(theirs, name))


@pytest.mark.parametrize(
    ("theirs", "sentence"),
    [
        (OLD + b"\0" * 600 + "EncryptedPackage".encode("utf-16-le"), PASSWORD),
        (
            OLD + b"\0" * 600,
            (
                "The workbook is of the old kind (.xls), whatever its name says, which costbook"
                " reads but doesn't write into. Save it as an Excel workbook (.xlsx) and use that,"
                + WAY_OUT
            ),
        ),
        (
            BINARY,
            (
                "The workbook is of the binary kind (.xlsb). Open it, save it as an Excel workbook"
                " (.xlsx), and use that."
            ),
        ),
        (
            STRICT,
            "The workbook is saved as Strict Open XML, which costbook doesn't write into. Save it"
            " as an ordinary Excel workbook (.xlsx) and use that," + WAY_OUT,
        ),
        (
            TRACKED,
            "The workbook is shared and tracks every change, so nothing can be added to it. Stop"
            " sharing it (Review, Unshare Workbook), save it, and run costbook again," + WAY_OUT,
        ),
        (
            zipped(mimetype=b"application/vnd.oasis.opendocument.spreadsheet", content=b"<x/>"),
            "The file is an OpenDocument one, which costbook reads but doesn't write into. Save"
            " it as an Excel workbook (.xlsx) and use that," + WAY_OUT,
        ),
        (b"\0Recipe", "The workbook is damaged or is no .xlsx file." + REPAIR),
        (plain()[:3000], "The workbook is damaged or is no .xlsx file." + REPAIR),
        (
            flipped(plain()),
            "The workbook is damaged: its part xl/worksheets/sheet1.xml can't be read." + REPAIR,
        ),
        (
            lying(plain()),
            "The workbook is damaged: its part [Content_Types].xml can't be read." + REPAIR,
        ),
        (
            edited(plain(), {"../../outside.xml": b"<x/>"}),
            (
                "The file can't be trusted: it holds a name that leads outside it (../../"
                "outside.xml). Ask whoever sent it for a clean copy."
            ),
        ),
        (
            edited(plain(), {"/etc/passwd": b"x"}),
            (
                "The file can't be trusted: it holds a name that leads outside it (/etc/passwd)."
                " Ask whoever sent it for a clean copy."
            ),
        ),
        (
            edited(plain(), {"C:/x.xml": b"x"}),
            (
                "The file can't be trusted: it holds a name that leads outside it (C:/x.xml)."
                " Ask whoever sent it for a clean copy."
            ),
        ),
        (
            edited(plain(), {"xl/media/image1.bin": b"\0" * (MOST_BYTES + 1)}),
            (
                "The file can't be trusted: it unfolds to more than 150 MB. If it is your own,"
                " delete rows and sheets that are no longer needed, or start a new workbook for"
                " the new year."
            ),
        ),
        (
            edited(plain(), {"XL/workbook.XML": b"<x/>"}),
            "The workbook is damaged: it holds XL/workbook.XML more than once." + REPAIR,
        ),
        (
            zipped(note=b"hello"),
            (
                "stall.xlsx is a zip folder, not a workbook, whatever its name says. Give the name"
                " of the workbook that its figures come from, or type them into a new one:"
                " costbook new my-stall.xlsx"
            ),
        ),
        (
            xml_edited(
                plain(),
                "[Content_Types].xml",
                ("spreadsheetml.sheet.main", "wordprocessingml.document.main"),
            ),
            "The file is no workbook. Give the name of an .xlsx workbook.",
        ),
        (
            edited(plain(), {"[Content_Types].xml": b"<Types>"}),
            "The workbook is damaged: its list of parts can't be read." + REPAIR,
        ),
        (
            edited(plain(), {"xl/workbook.xml": b"<workbook>"}),
            "The workbook is damaged: its list of sheets can't be read." + REPAIR,
        ),
        (
            edited(plain(), {"xl/workbook.xml": None}),
            "The workbook is damaged: its part xl/workbook.xml is missing." + REPAIR,
        ),
    ],
)
def test_refused_with_the_reason_and_the_way_out(theirs: bytes, sentence: str) -> None:
    with pytest.raises(Refused) as refused:
        look_over(theirs)
    assert str(refused.value) == sentence


def test_locked_with_an_old_zip_password() -> None:
    package = bytearray(plain())
    package[package.index(b"PK\x01\x02") + 8] |= 1
    with pytest.raises(Refused) as refused:
        look_over(bytes(package))
    assert str(refused.value) == PASSWORD


def test_what_can_be_read_but_not_written_into_is_let_be_read() -> None:
    for theirs in (
        STRICT,
        TRACKED,
        zipped(mimetype=b"application/vnd.oasis.opendocument.spreadsheet"),
    ):
        with pytest.raises(OnlyCopies):
            look_over(theirs)


def test_parts_that_overlap_are_refused() -> None:
    package = bytearray(plain())
    first = package.index(b"PK\x01\x02")
    second = package.index(b"PK\x01\x02", first + 4)
    package[second + 42 : second + 46] = package[first + 42 : first + 46]
    with pytest.raises(Refused, match="The workbook is damaged: "):
        look_over(bytes(package))


def test_a_bomb_of_entities_is_not_unfolded() -> None:
    bomb = (
        b'<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
        b'<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">&b;</workbook>'
    )
    with pytest.raises(
        Refused, match="The file can't be trusted: a part of it declares a document type"
    ):
        look_over(edited(plain(), {"xl/workbook.xml": bomb}))


def test_a_broken_styles_part_is_refused_not_stumbled_over() -> None:
    broken = edited(plain(), {"xl/styles.xml": b"<styleSheet>"})
    with pytest.raises(Refused) as refused:
        graft(broken, plain("Prices"), {"Prices": "Prices"})
    assert refused.value.reason == "The workbook is damaged: a part of it can't be read."


def test_a_signed_workbook_is_done_and_said() -> None:
    signed = edited(
        xml_edited(
            plain(),
            "_rels/.rels",
            (
                "</Relationships>",
                (
                    '<Relationship Id="r9" Type="http://schemas.openxmlformats.org/package/2006/'
                    'relationships/digital-signature/origin" Target="_xmlsignatures/origin.sigs"/>'
                    "</Relationships>"
                ),
            ),
        ),
        {"_xmlsignatures/origin.sigs": b""},
    )
    assert [str(problem) for problem in look_over(signed)] == [
        (
            "The workbook is signed, and the signature no longer holds once costbook has written"
            " its sheets. Sign it again if you need the signature."
        )
    ]


def test_a_protected_structure_is_done_and_said() -> None:
    locked = xml_edited(
        plain(),
        "xl/workbook.xml",
        ("<bookViews>", '<workbookProtection lockStructure="1"/><bookViews>'),
    )
    assert [str(problem) for problem in look_over(locked)] == [
        (
            "The workbook's structure is protected; costbook's sheets were added all the same, and"
            " the protection is still on. Take the protection off (Review, Protect Workbook) if you"
            " want to move or rename them."
        )
    ]


def test_most_workbooks_need_no_word() -> None:
    said = {name: look_over(data, name) for name, data in {"rich": rich(), **corpus()}.items()}
    assert {name for name, problems in said.items() if problems} <= {
        "poi__hello-world-signed",
        "poi__workbookProtection_workbook_structure_protected",
    }


def test_the_refused_ones_of_other_programs_are_refused() -> None:
    for name, data in refused_files().items():
        with pytest.raises(Refused):
            look_over(data, name)


def test_a_package_read_and_packed_again_is_the_same_package() -> None:
    for data in (rich(), *corpus().values()):
        again = pack(read(data).members)
        assert parts(again) == parts(data)
        assert pack(read(again).members) == again
        assert ours_in(again) == {}
