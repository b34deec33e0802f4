"""Files that would harm, and files that are broken: refused in words, quickly and within memory."""

from __future__ import annotations

import json
import socket
import subprocess
import sys
import time
from pathlib import Path
from typing import Any, NoReturn

import openpyxl
import pytest

from tests.helpers import Formula, make_book, priced, run
from tests.reading.attacks import ATTACKS, SHEET, STYLES, Attack, parts_of, rebuilt, sound
from tests.reading.costed import costed
from tests.reading.test_layouts import PLAIN, PURCHASES, figures

SECONDS, MEGABYTES = 1, 200

MEASURED = r"""
import json, re, sys
from pathlib import Path
from costbook.cli import main
status = main(["check", sys.argv[1]])
# the system's other figure, ru_maxrss, has in it what the process that started this one held
peak = int(re.search(r"VmHWM:\s+(\d+)", Path("/proc/self/status").read_text())[1]) // 1024
print(json.dumps({"status": status, "peak": peak}))
"""


def attacked(attack: Attack, folder: Path) -> Path:
    parts = parts_of(sound(folder))
    attack(parts)
    path = folder / "stall.xlsx"
    path.write_bytes(rebuilt(parts))
    return path


@pytest.mark.parametrize(
    ("attack", "sentence"), ATTACKS, ids=[attack.__name__ for attack, _ in ATTACKS]
)
def test_it_is_refused_in_words_within_a_second(
    attack: Attack, sentence: str, tmp_path: Path
) -> None:
    path = attacked(attack, tmp_path)
    before = path.read_bytes(), sorted(tmp_path.iterdir())
    run("--help")  # whatever is loaded but once is loaded
    started = time.process_time()
    code, out, err = run("cost", path)
    assert (code, out, err) == (2, "", f"costbook: {sentence}\n")
    assert time.process_time() - started < SECONDS
    assert (path.read_bytes(), sorted(tmp_path.iterdir())) == before


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells a peak of memory so")
@pytest.mark.parametrize("attack", [attack for attack, _ in ATTACKS], ids=lambda a: str(a.__name__))
def test_it_is_refused_within_memory(attack: Attack, tmp_path: Path) -> None:
    path = attacked(attack, tmp_path)
    done = subprocess.run([sys.executable, "-c", MEASURED, path], capture_output=True, text=True)
    measured = json.loads(done.stdout)
    assert measured["status"] == 2
    assert measured["peak"] < MEGABYTES


@pytest.mark.parametrize("junk", [b"\0", b"PK", b"hel\1o", b"PK\x03\x04" + bytes(50)])
def test_junk_is_refused(junk: bytes, tmp_path: Path) -> None:
    path = tmp_path / "stall.xlsx"
    path.write_bytes(junk)
    code, _, err = run("check", path)
    assert code == 2
    assert err.startswith("costbook: The workbook is damaged or is no .xlsx file.")


# ---------------------------------------------------------------- oddities that are no harm


def with_part(name: str, change: Any, folder: Path) -> Path:
    parts = parts_of(sound(folder))
    parts[name] = change(parts[name])
    path = folder / "stall.xlsx"
    path.write_bytes(rebuilt(parts))
    return path


def test_a_cell_in_the_far_corner_takes_no_time_and_is_said(tmp_path: Path) -> None:
    cells = b'<c r="B1048576"><v>1</v></c><c r="XFD1048576"><v>1</v></c>'
    far = b'<row r="1048576">' + cells + b"</row></sheetData>"
    path = with_part(SHEET, lambda data: data.replace(b"</sheetData>", far), tmp_path)
    started = time.process_time()
    answer = costed(path)
    assert time.process_time() - started < 5 * SECONDS  # costing and writing are in it
    assert "from this row on, nothing was read as part of the table above." in [
        each["what"] for each in answer["problems"] if each["cell"] == "A1048576"
    ]
    assert figures(answer) == figures(costed(PLAIN))


def test_a_dimension_that_lies_changes_nothing(tmp_path: Path) -> None:
    path = with_part(
        SHEET,
        lambda data: data.replace(b'<dimension ref="A1:G4"/>', b'<dimension ref="A1:XFD1048576"/>'),
        tmp_path,
    )
    assert b"XFD1048576" in parts_of(path.read_bytes())[SHEET]
    assert figures(costed(path)) == figures(costed(PLAIN))


DANGEROUS = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", "=cmd|' /C calc'!A0", '=HYPERLINK("http://x")')


def test_text_that_looks_like_a_formula_is_written_as_text(tmp_path: Path) -> None:
    bought: list[list[object]] = [["2026-11-04", n, "Mill", 1, 1, "kg", 1] for n in DANGEROUS]
    sold: list[list[object]] = [[name, "Leek roll", 1] for name in DANGEROUS]
    book = PLAIN | {
        "Purchases": [*PURCHASES, *bought],
        "Products": [["Product", "Recipe", "Units per pack"], *sold],
    }
    output = tmp_path / "costed.xlsx"
    answer = priced(book, output=output)
    assert [row["product"] for row in answer["products"]] == list(DANGEROUS)
    cells = [
        cell
        for sheet in openpyxl.load_workbook(output).worksheets
        for row in sheet.iter_rows()
        for cell in row
    ]
    for name in DANGEROUS:
        holding = [cell for cell in cells if cell.value == name]
        assert {cell.parent.title for cell in holding} >= {"Workings", "Cost cards", "What moved"}
        assert {cell.data_type for cell in holding} == {"s"}


def test_formulas_that_go_round_are_taken_at_what_they_last_showed() -> None:
    rows = [*PURCHASES[:1], *(list(row) for row in PURCHASES[1:])]
    rows[1][6] = Formula("=G3", 1.5)
    rows[2][6] = Formula("=G2", 2.25)
    answer = costed(PLAIN | {"Purchases": rows})
    assert figures(answer) == figures(costed(PLAIN))


def test_nothing_is_fetched_for_links_to_other_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> NoReturn:
        raise AssertionError("something was fetched")

    monkeypatch.setattr(socket, "socket", refuse)
    rows = [*PURCHASES[:1], *(list(row) for row in PURCHASES[1:])]
    rows[1][6] = Formula("='http://127.0.0.1:9/[other.xlsx]Sheet1'!A1", 1.5)
    assert figures(costed(PLAIN | {"Purchases": rows})) == figures(costed(PLAIN))


def test_a_workbook_with_macros_is_read_like_any_other(tmp_path: Path) -> None:
    parts = parts_of(sound(tmp_path))
    types = parts["[Content_Types].xml"]
    plain = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
    assert plain in types
    macro = b"application/vnd.ms-excel.sheet.macroEnabled.main+xml"
    parts["[Content_Types].xml"] = types.replace(plain, macro).replace(
        b"</Types>",
        b'<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>',
    )
    parts["xl/vbaProject.bin"] = b"\xd0\xcf\x11\xe0 not a real one"
    path = tmp_path / "stall.xlsm"
    path.write_bytes(rebuilt(parts))
    code, out, err = run("check", path, "--json", "--on", "2026-11-25")
    assert code == 0, err
    assert json.loads(out)["problems"] == [
        each for each in json.loads(out)["problems"] if each["severity"] == "doubtful"
    ]


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (b"1e999", "the cell holds a number too large to be meant. Type the value again."),
        (b"NaN", "the cell holds NaN. Type the value again."),
        (b"abc", "the cell holds abc. Type the value again."),
        (b"1" * 400, "the cell holds a number too large to be meant. Check it."),
        (b"1e-400", "Pack size is 0. Type a number above zero, or leave the cell empty."),
    ],
)
def test_a_number_that_is_none_is_asked(value: bytes, says: str, tmp_path: Path) -> None:
    path = with_part(
        SHEET,
        lambda data: data.replace(b'<c r="E2"><v>2</v>', b'<c r="E2"><v>' + value + b"</v>"),
        tmp_path,
    )
    answer = costed(path)
    (said,) = [each for each in answer["problems"] if each["cell"] == "E2"]
    assert f"{said['what']} {said['remedy']}" == says
    assert {row["item"]: row["price_per_base_unit"] for row in answer["items"]}["Flour"] is None


def test_what_openpyxl_cannot_read_is_read_another_way(tmp_path: Path) -> None:
    """Styles that name a font that isn't there: openpyxl gives up, the cells are all there."""
    from costbook.package.workbook_file import WorkbookFile
    from costbook.reading.cells import read_workbook

    path = with_part(
        STYLES,
        lambda data: data.replace(b"<fonts", b"<fonts bad='1'").replace(
            b"<sz val=", b"<sz val='x' w="
        ),
        tmp_path,
    )
    with pytest.raises(Exception):  # noqa: B017, PT011 - whatever it raises
        openpyxl.load_workbook(path)
    whole = read_workbook(WorkbookFile(sound(tmp_path)), lambda tabs: tabs)
    assert read_workbook(WorkbookFile(path.read_bytes()), lambda tabs: tabs) == whole


def test_a_zip_of_a_kind_that_nobody_writes_is_refused(tmp_path: Path) -> None:
    """Found by damaging workbooks: the directory asks for version 21.7 of the zip format."""
    path = tmp_path / "stall.xlsx"
    whole = sound(tmp_path)
    at = whole.index(b"PK\x01\x02") + 6
    path.write_bytes(whole[:at] + bytes([217]) + whole[at + 1 :])
    code, _, err = run("check", path)
    assert code == 2
    assert err.startswith("costbook: The workbook is damaged or is no .xlsx file.")


def test_a_text_that_the_file_has_lost_is_asked(tmp_path: Path) -> None:
    """Found by damaging workbooks: a cell that names its shared text by no number."""
    path = with_part(
        SHEET,
        lambda data: data.replace(b'<c r="C2" t="s"><v>', b'<c r="C2" t="s"><v>1,5'),
        tmp_path,
    )
    assert b"1,5" in parts_of(path.read_bytes())[SHEET]
    (said,) = [each for each in costed(path)["problems"] if each["cell"] == "C2"]
    assert said["what"] == "the cell holds a text that the file has lost."


def test_figures_beyond_all_sense_are_shown_all_the_same(tmp_path: Path) -> None:
    """Found by damaging workbooks: a cost of thirty digits has no cents to round to."""
    rows: list[list[object]] = [PURCHASES[0], *([*row[:6], 9e14] for row in PURCHASES[1:])]
    recipes = [[*row[:2], 9e14, *row[3:]] if at else row for at, row in enumerate(PLAIN["Recipes"])]
    path = make_book(tmp_path / "stall.xlsx", PLAIN | {"Purchases": rows, "Recipes": recipes})
    code, out, err = run("cost", path, "--on", "2026-11-25")
    assert code == 0, err
    assert "E+2" in out or "e+2" in out


def test_a_price_too_large_for_a_cell_is_none(tmp_path: Path) -> None:
    """Found by damaging workbooks: 1.50 for 1e-320 kg is beyond the largest double."""
    path = with_part(
        SHEET, lambda data: data.replace(b'"E2"><v>2</v>', b'"E2"><v>1e-320</v>'), tmp_path
    )
    assert b"1e-320" in parts_of(path.read_bytes())[SHEET]
    answer = priced(path)
    assert {row["item"]: row["price_per_base_unit"] for row in answer["items"]}["Flour"] is None


def test_endless_texts_take_no_time(tmp_path: Path) -> None:
    """Found by damaging workbooks: each long text was made a heading's key for every sheet."""
    long: list[list[object]] = [["x" * 30_000, "y" * 30_000, "z" * 30_000] for _ in range(100)]
    path = make_book(tmp_path / "stall.xlsx", {**PLAIN, "Receipts": long, "Recipes": long})
    started = time.process_time()
    run("check", path)
    assert time.process_time() - started < 5 * SECONDS


def test_a_workbook_of_many_formats_is_read(tmp_path: Path) -> None:
    """As many as spreadsheet programs allow, 65,490: still a person's workbook."""
    path = make_book(tmp_path / "stall.xlsx", PLAIN)
    parts = parts_of(path.read_bytes())
    head, _, tail = parts[STYLES].partition(b"</cellXfs>")
    parts[STYLES] = head + b'<xf numFmtId="0"/>' * 60_000 + b"</cellXfs>" + tail
    path.write_bytes(rebuilt(parts))
    code, _out, err = run("check", path, "--json", "--on", "2026-11-25")
    assert code == 0, err
