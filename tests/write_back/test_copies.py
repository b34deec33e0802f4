"""A file that can't be written into is read, and answered in a workbook that holds copies."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.helpers import product_of, read_back, run
from tests.judges.libreoffice import LibreOffice
from tests.package.making import refused_files
from tests.write_back.books import COSTS, ON, SHEETS, small, with_small


def answered(*words: object) -> dict[str, Any]:
    code, out, err = run("cost", *words, "--json", *ON)
    assert code == 0, err
    answer: dict[str, Any] = json.loads(out)
    return answer


def cells(book: Path, tab: str) -> list[list[object]]:
    rows = read_back(book)[tab].iter_rows(values_only=True)
    return [[cell.date() if hasattr(cell, "date") else cell for cell in row] for row in rows]


@pytest.fixture
def ods(tmp_path: Path, libreoffice: LibreOffice) -> Path:
    document = libreoffice.open(small(tmp_path / "made.xlsx"))
    document.export(tmp_path / "stall.ods", "calc8")
    document.close()
    return tmp_path / "stall.ods"


@pytest.mark.libreoffice
def test_an_ods_is_answered_with_an_xlsx_beside_it(ods: Path, libreoffice: LibreOffice) -> None:
    before, beside = ods.read_bytes(), ods.with_suffix(".xlsx")
    answer = answered(ods)
    assert product_of(answer, "Leek roll")["cost"]["total"] == pytest.approx(COSTS, rel=1e-12)
    assert [(each["what"], each["remedy"]) for each in answer["problems"]] == [
        (
            (
                "The file is an OpenDocument one, which costbook reads but doesn't write into. So "
                "stall.xlsx holds copies of the sheets that were read, as plain values, without "
                "their looks and formulas."
            ),
            "Change figures in stall.ods and run this again, or go on in stall.xlsx.",
        )
    ]
    assert ods.read_bytes() == before
    assert {tab: cells(beside, tab) for tab in SHEETS} == SHEETS
    first = beside.read_bytes()
    assert answered(ods) == answer
    assert beside.read_bytes() == first
    document = libreoffice.open(beside)
    try:
        document.set("Purchases", "E2", 6.4)
        document.recalculate()
        # 500 g of flour at 6.40 for 5 kg are 0.64; with 1.00 of leeks 1.64, by 4 rolls 0.41
        assert 0.41 in [
            round(v, 9) for v in document.values("Prices").values() if isinstance(v, float)
        ]
    finally:
        document.close()


@pytest.mark.libreoffice
def test_an_xlsx_of_ones_own_beside_an_ods_is_let_be(ods: Path) -> None:
    beside = small(ods.with_suffix(".xlsx"))
    before = beside.read_bytes()
    code, out, err = run("cost", ods, *ON)
    assert (code, out) == (2, "")
    assert err == (
        "costbook: stall.xlsx is already there, and costbook doesn't write over it. Give another "
        "name, or move that file away.\n"
    )
    assert beside.read_bytes() == before


@pytest.mark.libreoffice
def test_checking_and_explaining_need_no_copies(ods: Path) -> None:
    assert run("check", ods, *ON)[0] == 0
    code, out, _ = run("explain", ods, "Leek roll", "total", *ON)
    assert (code, "0.35" in out) == (0, True)
    assert not ods.with_suffix(".xlsx").exists()


@pytest.mark.parametrize("name", sorted(refused_files()))
def test_with_output_a_workbook_of_copies_is_the_way_out(name: str, tmp_path: Path) -> None:
    book, other = tmp_path / "stall.xlsx", tmp_path / "priced.xlsx"
    book.write_bytes(with_small(refused_files()[name]))
    before = book.read_bytes()
    answer = answered(book, "--output", other)
    assert product_of(answer, "Leek roll")["cost"]["total"] == pytest.approx(COSTS, rel=1e-12)
    assert book.read_bytes() == before
    assert {tab: cells(other, tab) for tab in SHEETS} == SHEETS
    assert answered(other)["products"] == answer["products"]
