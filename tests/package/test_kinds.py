"""A file of another kind that is named .xlsx is called what it is, with the way out."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from costbook.package.members import OLD_CONTAINER
from tests.helpers import run

SAVE_AS = "Open it in your spreadsheet program, save it as an Excel workbook (.xlsx), and use that."
TYPE_IN = (
    "Give the name of the workbook that its figures come from, or type them into a new one: "
    "costbook new my-stall.xlsx"
)
UNPACK = "Unpack it, and give the name of the workbook that is in it."
AGAIN = (
    "If it shows your table in a spreadsheet program, save it from there as an Excel workbook "
    "(.xlsx); else fetch the workbook again, signed in where it is kept."
)


def zipped(**parts: bytes) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name.replace("__", "/"), data)
    return file.getvalue()


def old(stream: str) -> bytes:
    return OLD_CONTAINER + bytes(600) + stream.encode("utf-16-le") + bytes(600)


@pytest.mark.parametrize(
    ("content", "what", "remedy"),
    [
        (b"Date,Item,Price\r\n2026-11-07,Flour,4.20\r\n", "a text file of values (CSV)", SAVE_AS),
        (b"Date;Item\n7.11.2026;M\xfcsli\n", "a text file of values (CSV)", SAVE_AS),
        ("Date\tItem\n".encode("utf-16"), "a text file of values (CSV)", SAVE_AS),
        (b"\xef\xbb\xbfDate\tItem\n", "a text file of values (CSV)", SAVE_AS),
        (b"Flour 2 kg\nsalt\n", "a text file", TYPE_IN),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj", "a PDF document", TYPE_IN),
        (b"{\\rtf1\\ansi Flour}", "a text document (RTF)", TYPE_IN),
        (b"\n<!DOCTYPE html><html>Sign in</html>", "a web page", AGAIN),
        (b"<!-- saved --><html><table>", "a web page", AGAIN),
        (
            b'<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet">',
            "an old XML spreadsheet",
            SAVE_AS,
        ),
        (b'<?xml version="1.0"?><list/>', "an XML file", SAVE_AS),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "a picture", TYPE_IN),
        (b"\xff\xd8\xff\xe0\0\x10JFIF", "a picture", TYPE_IN),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "a picture", TYPE_IN),
        (b"\x1f\x8b\x08\0\0\0\0\0", "a packed archive", UNPACK),
        (zipped(stall=b"x"), "a zip folder", TYPE_IN),
        (zipped(**{"books__stall.xlsx": b"x"}), "a zip folder", UNPACK),
        (zipped(**{"word__document.xml": b"<x/>"}), "a Word document", TYPE_IN),
        (zipped(**{"ppt__presentation.xml": b"<x/>"}), "a presentation", TYPE_IN),
        (
            zipped(mimetype=b"application/vnd.oasis.opendocument.text"),
            "another kind of OpenDocument file",
            TYPE_IN,
        ),
        (
            zipped(**{"Index__Document.iwa": b"x"}),
            "a Numbers document",
            "In Numbers: File, Export To, Excel; use that.",
        ),
        (old("WordDocument"), "a Word document", TYPE_IN),
        (old("PowerPoint Document"), "a presentation", TYPE_IN),
        (b"", "an empty file", "Go back to a backup, or fetch it again."),
    ],
)  # fmt: skip
@pytest.mark.parametrize("command", ["check", "cost"])
def test_it_is_called_what_it_is(
    content: bytes, what: str, remedy: str, command: str, tmp_path: Path
) -> None:
    path = tmp_path / "stall.xlsx"
    path.write_bytes(content)
    said = f"costbook: stall.xlsx is {what}, not a workbook, whatever its name says. {remedy}\n"
    assert run(command, path) == (2, "", said)
    assert path.read_bytes() == content


def test_an_old_workbook_with_a_document_in_it_is_no_document(tmp_path: Path) -> None:
    path = tmp_path / "stall.xls"
    path.write_bytes(old("Workbook") + "WordDocument".encode("utf-16-le"))
    assert "a Word document" not in run("check", path)[2]
