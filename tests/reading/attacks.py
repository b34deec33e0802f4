"""Workbooks made to harm: each a sound one with a part replaced."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final

from tests.helpers import make_book
from tests.reading.test_layouts import PLAIN

__all__ = ["ATTACKS", "parts_of", "rebuilt", "sound"]

SHEET: Final = "xl/worksheets/sheet2.xml"  # Purchases
STYLES: Final = "xl/styles.xml"
STRINGS: Final = "xl/sharedStrings.xml"


def sound(folder: Path) -> bytes:
    """A sound workbook."""
    return make_book(folder / "sound.xlsx", PLAIN).read_bytes()


def parts_of(workbook: bytes) -> dict[str, bytes]:
    """Its parts by name."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def rebuilt(parts: Mapping[str, bytes]) -> bytes:
    """A workbook of these parts."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(zipfile.ZipInfo(name), data, zipfile.ZIP_DEFLATED)  # dated 1980
    return file.getvalue()


def bomb(parts: dict[str, bytes]) -> None:
    """A few hundred kilobytes that unfold to 300 MB."""
    parts["xl/media/image1.png"] = bytes(300 * 1024 * 1024)


def entities(parts: dict[str, bytes]) -> None:
    """A billion laughs in the shared texts."""
    laughs = b'<!ENTITY a0 "ha">' + b"".join(
        b'<!ENTITY a%d "%s">' % (n, b"&a%d;" % (n - 1) * 10) for n in range(1, 10)
    )
    parts[STRINGS] = (
        b'<?xml version="1.0"?><!DOCTYPE sst [' + laughs + b"]>"
        b'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        b"<si><t>&a9;</t></si></sst>"
    )


def reads_a_file(parts: dict[str, bytes]) -> None:
    """An entity that would read a file of the person's, in another encoding."""
    text = parts[SHEET].decode("utf-8")
    head, _, rest = text.partition("?>")
    document = '<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>' + rest
    parts[SHEET] = ('<?xml version="1.0" encoding="UTF-16"?>' + document).encode("utf-16")
    assert head


def climbs(parts: dict[str, bytes]) -> None:
    """A part that would be written outside the folder it is unpacked in."""
    parts["../../evil.xml"] = b"<x/>"


def million_cells(parts: dict[str, bytes]) -> None:
    """A sheet of five million empty cells."""
    head, _, tail = parts[SHEET].partition(b"<sheetData>")
    parts[SHEET] = head + b"<sheetData><row>" + b"<c></c>" * 5_000_000 + b"</row>" + tail


def million_styles(parts: dict[str, bytes]) -> None:
    """A million cell formats."""
    head, _, tail = parts[STYLES].partition(b"<cellXfs")
    _, _, tail = tail.partition(b">")
    parts[STYLES] = head + b'<cellXfs count="1000000">' + b'<xf numFmtId="0"/>' * 1_000_000 + tail


def no_workbook(parts: dict[str, bytes]) -> None:
    """A package without its first part."""
    del parts["[Content_Types].xml"]


def broken_sheet(parts: dict[str, bytes]) -> None:
    """A sheet that breaks off in the middle."""
    parts[SHEET] = parts[SHEET][: len(parts[SHEET]) // 2]


Attack = Callable[[dict[str, bytes]], None]

_DOCUMENT_TYPE: Final = (
    "The file can't be trusted: a part of it declares a document type, which no workbook does. "
    "Ask whoever sent it for a clean copy."
)
_UNFOLDS: Final = (
    "The file can't be trusted: it unfolds to more than 150 MB. If it is your own, delete rows and "
    "sheets that are no longer needed, or start a new workbook for the new year."
)
_CLIMBS: Final = (
    "The file can't be trusted: it holds a name that leads outside it (../../evil.xml). "
    "Ask whoever sent it for a clean copy."
)
_CELLS: Final = (
    "The sheets to be read hold more than 1,000,000 rows, cells and values, most of them on "
    '"Purchases". Delete what is no longer needed there, or move it to another workbook.'
)
_FORMATS: Final = (
    "The workbook has more cell formats than any spreadsheet program allows. "
    "Copy what you typed into a new workbook, as values, and use that."
)
_BROKEN: Final = (
    "The cells of stall.xlsx can't be read: the file is damaged or is no workbook. "
    "Open it in your spreadsheet program, let it repair the file, save it as .xlsx under a new "
    "name, and use that."
)

ATTACKS: Final[tuple[tuple[Attack, str], ...]] = (
    (bomb, _UNFOLDS),
    (entities, _DOCUMENT_TYPE),
    (reads_a_file, _DOCUMENT_TYPE),
    (climbs, _CLIMBS),
    (million_cells, _CELLS),
    (million_styles, _FORMATS),
    (no_workbook, "The file is no workbook. Give the name of an .xlsx workbook."),
    (broken_sheet, _BROKEN),
)
