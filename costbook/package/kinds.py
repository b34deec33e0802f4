"""Files that are something else than their name says: what each is called, and the way out."""

from __future__ import annotations

import re
from typing import Final

from costbook.package.members import OLD_CONTAINER, Package
from costbook.package.relations import CONTENT_TYPES
from costbook.package.tabs import Opened
from costbook.problems import Refused
from costbook.started import command

__all__ = ["ending_of", "refuse_other_files", "refuse_other_packages"]

_SAVE_AS: Final = (
    "Open it in your spreadsheet program, save it as an Excel workbook (.xlsx), and use that."
)
_TYPE_IN: Final = (
    "Give the name of the workbook that its figures come from, or type them into a new one: "
    + command("new", "my-stall.xlsx")
)
_UNPACK: Final = "Unpack it, and give the name of the workbook that is in it."
_AGAIN: Final = (
    "If it shows your table in a spreadsheet program, save it from there as an Excel workbook "
    "(.xlsx); else fetch the workbook again, signed in where it is kept."
)

_BEGINNINGS: Final = (
    (rb"%PDF-", "a PDF document", _TYPE_IN),
    (rb"\{\\rtf", "a text document (RTF)", _TYPE_IN),
    (rb"\x89PNG|\xff\xd8\xff|GIF8|BM.{4}\0{4}|II\*\0|MM\0\*|RIFF.{4}WEBP", "a picture", _TYPE_IN),
    (rb".{4}ftyp(?:heic|heix|mif1|avif)", "a picture", _TYPE_IN),
    (rb"\x1f\x8b|7z\xbc\xaf|Rar!|BZh[1-9]|\xfd7zXZ", "a packed archive", _UNPACK),
)
"""How files begin, what they are, and the way out."""

_TEXTS: Final = (
    (r"\s*(?:<!--.*?-->\s*)*<(?:!doctype\s+html|html|head|body)\b", "a web page", _AGAIN),
    (r".*urn:schemas-microsoft-com:office:spreadsheet", "an old XML spreadsheet", _SAVE_AS),
    (r"\s*<\?xml", "an XML file", _SAVE_AS),
    (r"[^\n]*[,;\t|][^\n]*\n", "a text file of values (CSV)", _SAVE_AS),
)
"""What texts look like, the surest sign first."""

_OLD_STREAMS: Final = (
    ("WordDocument", "a Word document"),
    ("PowerPoint Document", "a presentation"),
    ("__substg1.0_", "an e-mail message"),
)
"""Names inside files of the old container that tell what else it may hold."""

_PARTS: Final = (
    ("word/document.xml", "a Word document"),
    ("ppt/presentation.xml", "a presentation"),
)
"""Parts by which a package is known as another kind's."""

_BOOK_STREAM: Final = "Workbook".encode("utf-16-le")
_WORKBOOKS: Final = (".xlsx", ".xlsm", ".xls", ".ods", ".csv")
_LOOKED_AT: Final = 4096

_MAIN_KINDS: Final = (
    ("sheet.macroenabled.main+xml", ".xlsm"),
    ("template.macroenabled.main+xml", ".xltm"),
    ("template.main+xml", ".xltx"),
    ("addin.macroenabled.main+xml", ".xlam"),
)
"""How the kinds of workbooks declare themselves that aren't plain ones, and how they are named."""


def ending_of(book: Opened) -> str:
    """How the name of a workbook of this kind must end, for programs to open it."""
    declared = book.types.of(book.part).lower()
    return next((ending for kind, ending in _MAIN_KINDS if declared.endswith(kind)), ".xlsx")


def refuse_other_files(content: bytes, name: str) -> None:
    """Raise Refused for a file that is surely no package, and say what it is."""
    found = _by_its_beginning(content) or _by_its_streams(content) or _by_its_text(content)
    if found:
        raise _other(name, *found)


def refuse_other_packages(package: Package, name: str) -> None:
    """Raise Refused for a package that is surely no workbook, and say what it is."""
    kind = package.data("mimetype") if "mimetype" in package else b""
    for part, what in _PARTS:
        if part in package:
            raise _other(name, what, _TYPE_IN)
    if b"opendocument" in kind and b"spreadsheet" not in kind:
        raise _other(name, "another kind of OpenDocument file", _TYPE_IN)
    names = [each.name.lower() for each in package.members]
    if any(each.endswith(".iwa") for each in names):
        raise _other(name, "a Numbers document", "In Numbers: File, Export To, Excel; use that.")
    if not kind and CONTENT_TYPES not in package and "xl/workbook.xml" not in package:
        inside = any(each.endswith(_WORKBOOKS) for each in names)
        raise _other(name, "a zip folder", _UNPACK if inside else _TYPE_IN)


def _other(name: str, what: str, remedy: str) -> Refused:
    return Refused(f"{name} is {what}, not a workbook, whatever its name says.", remedy)


def _by_its_beginning(content: bytes) -> tuple[str, str] | None:
    if not content:
        return "an empty file", "Go back to a backup, or fetch it again."
    for beginning, what, remedy in _BEGINNINGS:
        if re.match(beginning, content[:_LOOKED_AT], re.DOTALL):
            return what, remedy
    return None


def _by_its_streams(content: bytes) -> tuple[str, str] | None:
    """What a container of the old kind holds, where it is no workbook."""
    if not content.startswith(OLD_CONTAINER) or _BOOK_STREAM in content:
        return None
    for stream, what in _OLD_STREAMS:
        if stream.encode("utf-16-le") in content:
            return what, _TYPE_IN
    return None


def _by_its_text(content: bytes) -> tuple[str, str] | None:
    """What a file is that holds nothing but readable text."""
    text = _text(content[:_LOOKED_AT])
    for pattern, what, remedy in _TEXTS if text else ():
        if re.match(pattern, text, re.IGNORECASE | re.DOTALL):
            return what, remedy
    return ("a text file", _TYPE_IN) if text else None


def _text(start: bytes) -> str:
    """The beginning of a file as text; empty where it is none."""
    if start.startswith((b"\xff\xfe", b"\xfe\xff")):
        return start.decode("utf-16", errors="ignore")
    text = start.decode("utf-8-sig", errors="replace")
    strange = sum(each < " " and each not in "\t\r\n\f" for each in text)
    return "" if strange or text.count("\ufffd") > len(text) // 8 or start[:2] == b"PK" else text
