"""After `cost`, all that was the person's is there to the byte, whoever made the workbook."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.package.relations import rels_name
from costbook.writing.sheets import TITLES
from tests.helpers import product_of, read_back, run
from tests.judges.libreoffice import LibreOffice
from tests.package.making import (
    corpus,
    counts_from_1904,
    edited,
    file_of,
    ours_in,
    parts,
    plain,
    xml_edited,
)
from tests.write_back.books import COSTS, ON, small, with_small


def cost(book: Path, *more: object) -> dict[str, Any]:
    code, out, err = run("cost", book, "--json", *(more or ON))
    assert code == 0, err
    answer: dict[str, Any] = json.loads(out)
    return answer


def costed(content: bytes, book: Path, *more: object) -> bytes:
    """A workbook after a run."""
    book.write_bytes(content)
    cost(book, *more)
    return book.read_bytes()


def untouched(package: bytes) -> dict[str, bytes]:
    """The parts that nothing may change.

    Four may gain entries; the chain of calculation goes, since programs rebuild it.
    """
    book = file_of(package).book
    touched = {"[Content_Types].xml", book.part, rels_name(book.part)}
    touched |= {book.related("styles"), book.related("calcChain")}
    return {name: data for name, data in parts(package).items() if name not in touched}


def values(package: bytes, tabs: list[str]) -> dict[str, list[object]]:
    """What openpyxl finds on some tabs."""
    book = openpyxl.load_workbook(io.BytesIO(package), read_only=True, data_only=True)
    rows = {tab: book[tab].iter_rows(values_only=True) for tab in tabs}
    return {tab: [cell for row in rows[tab] for cell in row if cell is not None] for tab in tabs}


def tab_of(package: bytes, title: str) -> str:
    """What a sheet of ours is called there."""
    return next(tab for tab, ours in ours_in(package).items() if ours == title)


THEIRS = {"plain": plain("Notes", A1="ask Ann"), **corpus()}
ONCE_MORE = ("plain", "namespacenonstd", "47813", "signed", "structure_protected", "AllShapes")
"""Runs that are made twice here; `tests/package` grafts into every one of them twice."""


@pytest.mark.parametrize("name", sorted(THEIRS))
def test_all_of_theirs_is_there_and_a_second_run_gives_the_same_file(
    name: str, tmp_path: Path
) -> None:
    theirs, book = with_small(THEIRS[name]), tmp_path / "stall.xlsx"
    book.write_bytes(theirs)
    answer = cost(book)
    first = book.read_bytes()
    assert product_of(answer, "Leek roll")["cost"]["total"] == pytest.approx(COSTS, rel=1e-12)
    after = parts(first)
    assert {name: after.get(name) for name in untouched(theirs)} == untouched(theirs)
    assert set(ours_in(first).values()) == set(TITLES)
    prices = tab_of(first, "Prices")
    assert COSTS in values(first, [prices])[prices]
    if name.endswith(ONCE_MORE):
        assert cost(book) == answer
        assert book.read_bytes() == first
    assert len(list((tmp_path / "stall backups").iterdir())) == 1


# ---------------------------------------------------------------- run after run


def repriced(package: bytes, old: str, new: str) -> bytes:
    """The workbook with another price for flour: F2 of Purchases, and nothing else touched."""
    part = next(tab.part for tab in file_of(package).book.tabs if tab.name == "Purchases")
    before, after = (f'<c r="E2"><v>{price}</v></c>'.encode() for price in (old, new))
    assert before in parts(package)[part]
    return edited(package, {part: parts(package)[part].replace(before, after)})


def test_a_then_b_then_a_gives_as_parts(tmp_path: Path) -> None:
    book = tmp_path / "stall.xlsx"
    a = costed(small(book).read_bytes(), book)
    b = costed(repriced(a, "4", "5"), book)
    assert parts(b) != parts(a)
    again = costed(repriced(b, "5", "4"), book)
    assert parts(again) == parts(a)


def test_costed_on_another_day_meanwhile_what_was_found_then_is_remembered(tmp_path: Path) -> None:
    book = tmp_path / "stall.xlsx"
    a = costed(small(book).read_bytes(), book)
    b = costed(repriced(a, "4", "5"), book, "--on", "2026-12-01")
    again = costed(repriced(b, "5", "4"), book)
    tabs = {tab.name: tab.part for tab in file_of(a).book.tabs}
    memories = {tabs["Earlier costings"], tabs["Memory"]}
    differ = {name for name, data in parts(a).items() if parts(again)[name] != data}
    assert differ == memories
    # 350 g of flour and leeks cost 0.35 on the first day, 0.025 more with flour at 5: 0.375
    found = values(again, ["Earlier costings"])["Earlier costings"]
    assert [each for each in found if each in (0.35, 0.375)] == [0.35, 0.375]


def test_the_same_figures_on_a_later_day_are_no_news(tmp_path: Path) -> None:
    book = tmp_path / "stall.xlsx"
    a = costed(small(book).read_bytes(), book)
    later = costed(a, book, "--on", "2026-11-21")
    found = values(later, ["Earlier costings"])["Earlier costings"]
    assert found == values(a, ["Earlier costings"])["Earlier costings"]


# ---------------------------------------------------------------- what is theirs, what is ours


def test_a_sheet_of_theirs_that_bears_one_of_our_names_stays_theirs(tmp_path: Path) -> None:
    book = tmp_path / "stall.xlsx"
    opened_book = openpyxl.load_workbook(small(book))
    opened_book.create_sheet("Prices")["A1"] = "what the others charge"
    opened_book.save(book)
    for _ in range(2):
        cost(book)
        assert tab_of(book.read_bytes(), "Prices") == "Prices (costbook)"
        assert values(book.read_bytes(), ["Prices"]) == {"Prices": ["what the others charge"]}


@pytest.mark.libreoffice
def test_a_formula_of_theirs_on_our_sheet_is_worked_out_anew(
    tmp_path: Path, libreoffice: LibreOffice
) -> None:
    book = tmp_path / "stall.xlsx"
    cost(small(book))
    theirs = openpyxl.load_workbook(book)
    cell = next(
        cell.coordinate
        for row in read_back(book, data_only=True)["Prices"].iter_rows()
        for cell in row
        if cell.value == COSTS
    )
    theirs.create_sheet("Mine")["A1"] = f"=Prices!{cell}*100"
    theirs.save(book)
    content = costed(repriced_by_openpyxl(book, 6.4), book)
    assert b'fullCalcOnLoad="1"' in parts(content)["xl/workbook.xml"]
    document = libreoffice.open(book)
    try:
        document.recalculate()
        # 500 g of flour at 6.40 for 5 kg are 0.64; with 1.00 of leeks 1.64, by 4 rolls 0.41
        assert document.values("Mine")["A1"] == pytest.approx(41)
        assert document.values("Purchases")["B2"] == "Flour"
    finally:
        document.close()


def repriced_by_openpyxl(book: Path, price: float) -> bytes:
    content = openpyxl.load_workbook(book)
    content["Purchases"]["E2"] = price
    content.save(book)
    return book.read_bytes()


def test_a_sheet_that_is_made_no_more_stays_where_it_is_pointed_at(tmp_path: Path) -> None:
    book, tried = tmp_path / "stall.xlsx", tmp_path / "tried.xlsx"
    small(book)
    assert (
        run("try", book, *ON, "--price", "Flour=+10%", "--sensitivity", "--output", tried)[0] == 0
    )
    extra = (set(ours_in(tried.read_bytes()).values()) - set(TITLES)).pop()
    alone = tmp_path / "alone.xlsx"
    assert set(ours_in(costed(tried.read_bytes(), alone)).values()) == set(TITLES)
    content = openpyxl.load_workbook(tried)
    content.create_sheet("Mine")["A1"] = f"='{extra}'!A1"
    content.save(tried)
    said = [each for each in cost(tried)["problems"] if each["sheet"] == extra]
    assert [(each["severity"], each["what"], each["remedy"]) for each in said] == [
        (
            "doubtful",
            (
                "this sheet is not made any more, and keeps its last figures, since formulas, "
                "names or charts of yours look at it."
            ),
            "Point them elsewhere, and the next run takes it away.",
        )
    ]


# ---------------------------------------------------------------- days counted from 1904


@pytest.mark.libreoffice
def test_days_counted_from_1904_are_right_in_every_program(
    tmp_path: Path, libreoffice: LibreOffice
) -> None:
    change = ("<workbookPr ", '<workbookPr date1904="1" ')
    found = {}
    for name in ("1904", "1900"):
        book = tmp_path / f"{name}.xlsx"
        notes = THEIRS["plain"]
        theirs = with_small(
            xml_edited(notes, "xl/workbook.xml", change) if name == "1904" else notes
        )
        assert counts_from_1904(theirs) is (name == "1904")
        content = costed(theirs, book)
        document = libreoffice.open(book)
        try:
            document.recalculate()
            numbers = document.values("Latest prices")
        finally:
            document.close()
        shown = values(content, ["Latest prices", "Earlier costings"])
        found[name] = numbers, shown
    then, now = found["1904"], found["1900"]
    assert then[1] == now[1]  # as dates
    apart = {
        now[0][cell] - number  # type: ignore[operator]  # else no number stands there
        for cell, number in then[0].items()
        if now[0][cell] != number
    }
    assert apart == {1462}
