"""OpenDocument spreadsheets and strict workbooks: read cell for cell like ordinary ones."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from costbook.package.workbook_file import WorkbookFile
from costbook.problems import Refused
from costbook.reading.cells import read_workbook
from costbook.reading.grid import CellError, Workbook
from costbook.reading.parts import Parts, Unreadable
from costbook.reading.plain_cells import read_plainly
from costbook.reading.workbook import read_book
from tests.helpers import Formula, make_book, run
from tests.judges.libreoffice import LibreOffice
from tests.package.making import corpus
from tests.reading.attacks import parts_of, rebuilt
from tests.reading.test_layouts import PLAIN

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"


def whole(content: bytes) -> Workbook:
    return read_workbook(WorkbookFile(content, "stall"), lambda tabs: tabs)


# ---------------------------------------------------------------- OpenDocument

TOO_LARGE = CellError("a number too large to be meant", Decimal("1e300"))
ERROR = {"calcext_value-type": "error"}
NEVER = CellError("a formula that was never worked out")
NOTE = "<office:annotation><text:p>a note</text:p></office:annotation>"
QUARTER = CellError("a time of day", Decimal("0.25"))

NAMES = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" '
    'xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" '
    'xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0" '
    'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'
)


def open_document(*rows: str, manifest: str = "<x/>", styles: str = "") -> bytes:
    """A small .ods with these rows on a sheet called Diary."""
    content = (
        f"<office:document-content {NAMES}>"
        f"<office:automatic-styles>{styles}</office:automatic-styles><office:body><office:spreadsheet>"
        f'<table:table table:name="Diary">{"".join(rows)}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", content)
        archive.writestr("META-INF/manifest.xml", manifest)
    return file.getvalue()


def row(*cells: str, repeated: int = 1) -> str:
    attribute = f' table:number-rows-repeated="{repeated}"' if repeated > 1 else ""
    return f"<table:table-row{attribute}>{''.join(cells)}</table:table-row>"


def cell(kind: str, inside: str = "", **attributes: str) -> str:
    given = "".join(f' {name.replace("_", ":", 1)}="{value}"' for name, value in attributes.items())
    typed = f' office:value-type="{kind}"' if kind else ""
    return f"<table:table-cell{typed}{given}>{inside}</table:table-cell>"


@pytest.mark.parametrize(
    ("written", "held"),
    [
        (cell("float", office_value="1.5"), Decimal("1.5")),
        (cell("percentage", office_value="0.89"), Decimal("0.89")),
        (cell("currency", office_value="4.5"), Decimal("4.5")),
        (cell("float", office_value="1e300"), TOO_LARGE),
        (cell("float", office_value="x"), CellError("x")),
        (cell("string", "<text:p>5 lb<text:s text:c='2'/>bag</text:p>"), "5 lb  bag"),
        (cell("string", "<text:p>two</text:p><text:p>lines</text:p>"), "two\nlines"),
        (cell("string", f"{NOTE}<text:p>x</text:p>"), "x"),
        (cell("string", "<text:p>a<text:span>b</text:span>c</text:p>"), "abc"),
        (cell("boolean", **{"office_boolean-value": "true"}), True),
        (cell("string", "<text:p>#N/A</text:p>", **ERROR), CellError("#N/A")),
        (cell("", table_formula="of:=[.A1]"), NEVER),
        (cell("date", **{"office_date-value": "2026-11-02T10:30:00"}), date(2026, 11, 2)),
        (cell("date", **{"office_date-value": "x"}), CellError("x")),
        (cell("time", **{"office_time-value": "PT06H00M00S"}), QUARTER),
    ],
)  # fmt: skip
def test_each_kind_of_cell_of_an_open_document(written: str, held: object) -> None:
    assert whole(open_document(row(written))).grids["Diary"].rows == {1: {1: held}}


def test_what_repeats_in_an_open_document_is_told_apart() -> None:
    content = open_document(
        row(cell("", **{"table_number-columns-repeated": "16384"}), repeated=3),
        row(cell("float", office_value="1", **{"table_number-columns-repeated": "2"}), repeated=2),
        row(cell(""), repeated=1_048_570),
    )
    one = {1: Decimal(1), 2: Decimal(1)}
    assert whole(content).grids["Diary"].rows == {4: one, 5: one}


def test_a_locked_open_document_is_refused() -> None:
    locked = open_document(manifest="<m><file-entry><encryption-data/></file-entry></m>")
    with pytest.raises(Refused, match=r"^The workbook is locked with a password\."):
        whole(locked)


@pytest.mark.libreoffice
@pytest.mark.parametrize("name", ["market_stall", "starter"])
def test_an_open_document_that_libreoffice_wrote_holds_the_same(
    name: str, libreoffice: LibreOffice, tmp_path: Path
) -> None:
    path = SAMPLES / f"{name}.xlsx"
    written = tmp_path / f"{name}.ods"
    document = libreoffice.open(path)
    document.export(written, "calc8")
    document.close()
    assert whole(written.read_bytes()) == whole(path.read_bytes())
    as_book, as_other = (read_book(WorkbookFile(p.read_bytes(), p.name)) for p in (path, written))
    assert as_other.sheets == as_book.sheets
    assert as_other.problems == as_book.problems


# ---------------------------------------------------------------- strict workbooks


def strict(workbook: bytes) -> bytes:
    """The workbook in the strict kind's namespaces, its dates as ISO texts."""
    office = b"http://schemas.openxmlformats.org/officeDocument/2006/"
    sheet = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    kept = ("[Content_Types].xml", "_rels/.rels")
    parts = parts_of(workbook)
    for name, data in parts.items():
        if name not in kept:
            plain = data.replace(office, b"http://purl.oclc.org/ooxml/officeDocument/")
            parts[name] = plain.replace(sheet, b"http://purl.oclc.org/ooxml/spreadsheetml/main")
    relations = parts["_rels/.rels"].replace(
        office + b"relationships/officeDocument",
        b"http://purl.oclc.org/ooxml/officeDocument/relationships/officeDocument",
    )
    return rebuilt(parts | {"_rels/.rels": relations})


def test_a_strict_workbook_holds_the_same(tmp_path: Path) -> None:
    rows = [*PLAIN["Recipes"], ["x", Formula("=A1", None), Formula("=NA()", "#N/A"), True]]
    book = make_book(tmp_path / "a.xlsx", PLAIN | {"Recipes": rows}).read_bytes()
    made = strict(book)
    assert re.search(rb"purl\.oclc\.org/ooxml/spreadsheetml", parts_of(made)["xl/workbook.xml"])
    assert whole(made) == whole(book)


@pytest.mark.parametrize("name", ["market_stall", "starter", "everything_wrong"])
def test_the_plain_reader_reads_the_samples_as_openpyxl_does(name: str) -> None:
    book = (SAMPLES / f"{name}.xlsx").read_bytes()
    assert whole(strict(book)) == whole(book)


@pytest.mark.parametrize("encoding", [b"UTF-3", b"utf-7", b"big5", b"\xff"])
def test_a_part_in_an_encoding_that_nobody_knows_is_unreadable(
    encoding: bytes, tmp_path: Path
) -> None:
    """Found by a coverage-guided run over the readers of the package."""
    parts = parts_of(make_book(tmp_path / "a.xlsx", PLAIN).read_bytes())
    parts["_rels/.rels"] = parts["_rels/.rels"].replace(b"UTF-8", encoding)
    with pytest.raises((Unreadable, Refused)):
        read_plainly(Parts(WorkbookFile(rebuilt(parts)).package), lambda tabs: tabs)


# ---------------------------------------------------------------- other people's workbooks


@pytest.mark.parametrize("name", sorted(corpus()) or [None])
def test_check_answers_another_programs_workbook_with_a_sentence_that_helps(
    name: str | None, tmp_path: Path
) -> None:
    if name is None:
        pytest.skip("there are no workbooks of other programs beside this folder")
    path = tmp_path / name
    path.write_bytes(corpus()[name])
    code, out, err = run("check", path)
    assert (code, out) == (2, "")
    line = err.rstrip("\n")
    assert "\n" not in line
    assert re.search(
        r"holds nothing to cost\. Its sheets are .*costbook new my-stall\.xlsx$"
        r"|costbook cost \S+ --output NEW\.xlsx\.$",
        line,
    )
