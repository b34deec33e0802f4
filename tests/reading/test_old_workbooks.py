"""Workbooks of the old kind (.xls): read cell for cell, and never the thing that fails."""

from __future__ import annotations

import random
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from costbook.package.members import OLD_CONTAINER
from costbook.package.workbook_file import WorkbookFile
from costbook.problems import Refused
from costbook.reading.cells import read_workbook
from costbook.reading.grid import CellError, Workbook
from tests.helpers import Formula, Shown, make_book, run
from tests.judges.libreoffice import LibreOffice
from tests.write_back.books import COSTS, ON, SHEETS, small

FILTER = "MS Excel 97"
"""What LibreOffice calls the kind of Excel 97 to 2003."""

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
MUTATIONS = 200


def whole(content: bytes) -> Workbook:
    return read_workbook(WorkbookFile(content, "stall.xls"), lambda tabs: tabs)


def to_twelve_digits(workbook: Workbook) -> dict[str, dict[tuple[int, int], object]]:
    """Its cells; the two kinds of file keep 17 and 15 digits of what formulas gave."""
    return {
        tab: {
            (row, at): f"{float(held):.12g}" if isinstance(held, Decimal) else held
            for row, cells in grid.rows.items()
            for at, held in cells.items()
        }
        for tab, grid in workbook.grids.items()
    }


def saved_as_old(office: LibreOffice, book: Path, old: Path) -> Path:
    document = office.open(book)
    document.export(old, FILTER)
    document.close()
    return old


@pytest.fixture
def xls(tmp_path: Path, libreoffice: LibreOffice) -> Path:
    return saved_as_old(libreoffice, small(tmp_path / "made.xlsx"), tmp_path / "stall.xls")


@pytest.mark.libreoffice
@pytest.mark.parametrize("name", ["market_stall", "starter"])
def test_an_old_workbook_that_libreoffice_wrote_holds_the_same(
    name: str, libreoffice: LibreOffice, tmp_path: Path
) -> None:
    path = SAMPLES / f"{name}.xlsx"
    written = saved_as_old(libreoffice, path, tmp_path / f"{name}.xls").read_bytes()
    assert to_twelve_digits(whole(written)) == to_twelve_digits(whole(path.read_bytes()))


@pytest.mark.libreoffice
def test_each_kind_of_cell(libreoffice: LibreOffice, tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["5 lb bag", 1.5, True, date(2026, 11, 2), Formula("=NA()", "#N/A")],
        [None, None, Shown(0.25, "hh:mm"), Formula("=B1*2", 3)],
    ]
    book = make_book(tmp_path / "made.xlsx", {"Diary": rows})
    old = saved_as_old(libreoffice, book, tmp_path / "old.xls")
    assert whole(old.read_bytes()).grids["Diary"].rows == {
        1: {1: "5 lb bag", 2: Decimal("1.5"), 3: True, 4: date(2026, 11, 2), 5: CellError("#N/A")},
        2: {3: CellError("a time of day", Decimal("0.25")), 4: Decimal(3)},
    }


@pytest.mark.libreoffice
def test_with_output_it_is_answered_with_copies(xls: Path, tmp_path: Path) -> None:
    before, priced = xls.read_bytes(), tmp_path / "priced.xlsx"
    code, out, err = run("cost", xls, *ON)
    assert (code, out) == (2, "")
    assert err == (
        "costbook: The workbook is of the old kind (.xls), whatever its name says, which costbook "
        "reads but doesn't write into. Save it as an Excel workbook (.xlsx) and use that, or let "
        "costbook write a workbook of its own, with copies of what you typed: costbook cost "
        "stall.xls --output NEW.xlsx.\n"
    )
    code, out, _ = run("cost", xls, "--output", priced, *ON)
    assert (code, f"  {COSTS:.2f}  " in out) == (0, True)
    copied = openpyxl.load_workbook(priced)
    for tab, rows in SHEETS.items():
        there = [
            [cell.date() if hasattr(cell, "date") else cell for cell in row]
            for row in copied[tab].iter_rows(values_only=True)
        ]
        assert there == rows
    assert xls.read_bytes() == before
    assert run("check", xls, *ON)[0] == 0


@pytest.mark.libreoffice
def test_whatever_breaks_in_it_there_is_a_result_or_a_sentence(xls: Path, tmp_path: Path) -> None:
    whole_file, broken = xls.read_bytes(), tmp_path / "broken.xls"
    chance = random.Random(7)
    for _ in range(MUTATIONS):
        data = bytearray(whole_file)
        for _ in range(chance.choice((1, 3, 20))):
            data[chance.randrange(8, len(data))] = chance.randrange(256)
        broken.write_bytes(data[: chance.choice((len(data), chance.randrange(8, len(data))))])
        code, _, err = run("check", broken, *ON)
        assert code in (0, 1, 2)
        assert "nobody foresaw" not in err


def test_what_only_begins_like_one_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        whole(OLD_CONTAINER + bytes(600))
    assert str(refused.value) == (
        "The cells of stall.xls can't be read: the file is damaged or is no workbook. Open it in "
        "your spreadsheet program, let it repair the file, save it as .xlsx under a new name, and "
        "use that."
    )
