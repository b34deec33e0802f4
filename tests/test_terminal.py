"""Nothing from a cell or a file's name steers the terminal it is printed on."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

from costbook.package.workbook_file import WorkbookFile
from costbook.printing import columns, plain
from costbook.reading.cells import read_workbook
from costbook.reading.grid import decoded
from tests.helpers import make_book, run
from tests.quickly import undrawn
from tests.reading.attacks import parts_of, rebuilt
from tests.reading.old_made import old_workbook, row_of
from tests.reading.test_layouts import PLAIN, Rows
from tests.reading.test_other_files import cell, open_document, row

ON = ("--on", "2026-11-25")
STEERING = re.compile("[\0-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u206f]")
"""All that a terminal may obey, but the end of a line."""

EVIL = {
    "escapes": "\x1b[1;7mLeek\x1b[0m \x07\x1b]0;title\x07roll",
    "an escape in one character": "\x9b31mLeek\x9b0m roll",
    "directions": "\u202eLeek\u202c \u2066roll\u2069\u200f\u061c",
    "line breaks": "Leek roll\nTotal 9.99\r\nX\u2028Y\u2029Z\x85A\x0bB\x0cC",
    "a delete and a null": "Leek\x7f\x00\x08\x08 roll",
}
"""Names of a product."""


def named(name: str) -> dict[str, Rows]:
    """The plain book with another name of its product, and of an item that is said."""
    sold: Rows = [PLAIN["Products"][0], [name, *PLAIN["Products"][1][1:]]]
    bought: Rows = [*PLAIN["Purchases"], [None, name, None, None, None, None, None]]
    return PLAIN | {"Products": sold, "Purchases": bought}


def printed(path: Path) -> tuple[str, str]:
    """All that the commands print of a workbook, in words and as JSON."""
    words, output = "", path.with_name("priced.xlsx")
    for command in (
        ("check", path, *ON),
        ("cost", path, "--output", output, *ON),
        ("moved", path, *ON),
        ("compare", path, *ON),
        ("try", path, "--price", "Flour=+10%", *ON),
        ("explain", path, "no such product", *ON),
        ("labels", path, *ON),
    ):
        code, out, err = run(*command)
        assert "nobody foresaw" not in err
        assert code in (0, 1, 2)
        words += out + err
    with undrawn():  # its sheets were drawn above, and JSON says nothing of them
        return words, run("cost", path, "--json", "--output", output, *ON)[1]


@pytest.mark.parametrize("name", EVIL.values(), ids=EVIL)
def test_a_products_name_steers_nothing(name: str, tmp_path: Path) -> None:
    words, data = printed(make_book(tmp_path / "stall.xlsx", named(name)))
    assert "Leek" in words
    assert STEERING.findall(words) == []
    assert STEERING.findall(data) == []
    products = [each["product"] for each in json.loads(data)["products"]]
    held = re.sub("[\0-\x08\x0b\x0c\x0e-\x1f]", "", name)  # what no workbook can hold is left out
    assert held in products


@pytest.mark.parametrize("name", EVIL.values(), ids=EVIL)
def test_nor_does_one_in_an_old_workbook(name: str, tmp_path: Path) -> None:
    path = tmp_path / "stall.xls"
    sheets = [
        (tab, b"".join(row_of(at, line) for at, line in enumerate(rows)))
        for tab, rows in named(name).items()
    ]
    path.write_bytes(old_workbook(sheets))
    words, data = printed(path)
    assert "Leek" in words
    assert STEERING.findall(words) == STEERING.findall(data) == []


def test_nor_does_a_files_name(tmp_path: Path) -> None:
    path = tmp_path / "\x1b[2Jst\nall\u202e\x9b.xlsx"
    try:
        make_book(path, named("Leek roll"))
    except OSError:
        pytest.skip("this system takes no such name")
    words, data = printed(path)
    assert STEERING.findall(words) == STEERING.findall(data) == []
    for wrong in (("check", f"{path}.gone"), ("check", path, path), (path,)):
        code, out, err = run(*wrong)
        assert (code, out) == (2, "")
        assert STEERING.findall(err) == []
        assert err.count("\n") == 1


def test_on_a_terminal_only_our_own_colours_are_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr("sys.stderr", terminal := Terminal())
    monkeypatch.delenv("NO_COLOR", raising=False)
    from costbook.cli import main

    path = make_book(tmp_path / "stall.xlsx", named(EVIL["escapes"]))
    main(["check", str(path), *ON])
    shown = terminal.getvalue()
    assert "\x1b[31mstall.xlsx\x1b[0m: Purchases!" in shown
    ours = re.sub(r"\x1b\[(?:31m|33m|0m)", "", shown).replace("\r", "")
    assert STEERING.findall(ours) == []


def test_a_line_ends() -> None:
    assert plain("a\x1b\u202eb") == "a  b"
    assert plain("x" * 5_000) == "x" * 1_999 + "…"


# ---------------------------------------------------------------- tables


def test_a_table_cuts_long_names_and_keeps_their_ends_apart() -> None:
    rows = [
        ("Product", "Cost", "To do"),
        ("Leek " * 20 + "roll", "1.00", "raise"),
        ("Leek " * 20 + "rolls, six", "6.00", "raise (lacks film)"),
    ]
    assert columns(rows) == [
        "Product                                                       Cost               To do",
        "Leek Leek Leek Leek Leek Leek Leek Leek…Leek Leek Leek roll   1.00               raise",
        "Leek Leek Leek Leek Leek Leek Leek Leek…eek Leek rolls, six   6.00  raise (lacks film)",
    ]


def test_on_a_terminal_a_line_of_a_table_fits_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("costbook.printing.is_terminal", lambda _: True)
    monkeypatch.setenv("COLUMNS", "40")
    rows = [("Product", "Outlet", "Cost"), ("Leek rolls, six", "Saturday market square", "6.00")]
    assert columns(rows) == [
        "Product                     Outlet  Cost",
        "Leek rolls, six  Saturday ma…quare  6.00",
    ]
    monkeypatch.setenv("COLUMNS", "30")
    assert columns(rows)[1] == "Leek ro…six  Saturda…are  6.00"


# ---------------------------------------------------------------- escapes in texts


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Leek_x000D_\nroll", "Leek\r\nroll"),
        ("_x0041__x0042_", "AB"),
        ("_x005F_x000D_", "_x000D_"),
        ("_xD83E__xDD6C_ leeks", "🥬 leeks"),
        ("_xD83E_", "\ufffd"),
        ("_x00D_ and _x000G_", "_x00D_ and _x000G_"),
        ("film_x_foil", "film_x_foil"),
    ],
)
def test_escapes_in_texts_are_read_as_what_they_mean(written: str, meant: str) -> None:
    """ISO/IEC 29500-1, 22.9.2.19: a character that XML can't hold is written _xHHHH_."""
    assert decoded(written) == meant


@pytest.mark.parametrize(
    "cell_of",
    [
        '<c r="A9" t="inlineStr"><is><t>Leek_x000D_roll</t></is></c>',
        '<c r="A9" t="str"><f>A1</f><v>Leek_x000D_roll</v></c>',
        '<c r="A9" t="s"><v>0</v></c>',
    ],
)
@pytest.mark.parametrize("strict", [False, True])
def test_in_every_kind_of_cell(cell_of: str, strict: bool, tmp_path: Path) -> None:
    parts = parts_of(make_book(tmp_path / "stall.xlsx", {"Diary": [["x"]]}).read_bytes())
    sheet, strings = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"
    parts[strings] = parts[strings].replace(b">x<", b">Leek_x000D_roll<")
    filled = f'<row r="9">{cell_of}</row></sheetData>'.encode()
    parts[sheet] = parts[sheet].replace(b"</sheetData>", filled)
    if strict:  # which openpyxl doesn't read
        main, purl = b"schemas.openxmlformats.org/spreadsheetml/2006", b"purl.oclc.org/ooxml"
        parts = {name: data.replace(main, purl + b"/spreadsheetml") for name, data in parts.items()}
    grid = read_workbook(WorkbookFile(rebuilt(parts)), lambda tabs: tabs).grids["Diary"]
    assert grid.rows[9] == {1: "Leek\rroll"}


def test_an_opendocument_text_has_no_such_escapes() -> None:
    written = open_document(row(cell("string", "<text:p>Leek_x000D_roll</text:p>")))
    grid: Any = read_workbook(WorkbookFile(written), lambda tabs: tabs).grids["Diary"]
    assert grid.rows[1] == {1: "Leek_x000D_roll"}
