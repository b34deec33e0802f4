"""The judges themselves: they recalculate, take edits, refuse junk, stop, and are quick enough."""

from __future__ import annotations

import shutil
import time
from pathlib import Path

import openpyxl
import pytest

from tests import conftest
from tests.judges import CannotJudge, ErrorValue, Judge, Value, compare, libreoffice
from tests.judges.books import many_formulas, write_book
from tests.judges.ironcalc_judge import IronCalc, bound_whole_columns
from tests.judges.libreoffice import LibreOffice
from tests.judges.stored import formulas, with_one_wrong_formula, with_wrong_stored_values

STALL: dict[str, dict[str, object]] = {
    "Costs": {"A1": 2.5, "A2": 4, "A3": "film", "A4": "=A1*A2", "A5": '=IF(A2="","",A3&"!")'},
    "Prices": {"A1": "=Costs!A4/0.4", "A2": "=1/0", "A3": '=""', "A4": "=Costs!A1>2"},
}
# 2.5 x 4 = 10; 10 / 0.4 = 25.
RIGHT: dict[str, dict[str, Value]] = {
    "Costs": {"A1": 2.5, "A2": 4.0, "A3": "film", "A4": 10.0, "A5": "film!"},
    "Prices": {"A1": 25.0, "A2": ErrorValue("#DIV/0!"), "A3": "", "A4": True},
}


def living(groups: list[int], seconds: float = 10) -> list[str]:
    """What still runs in these process groups, where the system shows it under /proc.

    A busy machine takes a moment to end what was killed.
    """
    deadline = time.monotonic() + seconds
    while (found := _running(groups)) and time.monotonic() < deadline:
        time.sleep(0.05)
    return found


def _running(groups: list[int]) -> list[str]:
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            name, rest = status.read_text(encoding="utf-8").rsplit(")", 1)
        except OSError:  # it ended meanwhile
            continue
        state, _parent, group = rest.split()[:3]
        if int(group) in groups and state not in ("Z", "X"):
            found.append(name)
    return found


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    """A workbook whose stored values are all wrong."""
    book, stale = write_book(tmp_path / "right.xlsx", STALL), tmp_path / "stall.xlsx"
    assert with_wrong_stored_values(book, stale) == 6
    return stale


def test_a_judge_recalculates_whatever_was_stored(judge: Judge, stall: Path) -> None:
    document = judge.open(stall)
    document.recalculate()
    assert document.sheets() == ["Costs", "Prices"]
    assert {sheet: document.values(sheet) for sheet in document.sheets()} == RIGHT
    document.close()


def test_one_wrong_formula_is_caught(judge: Judge, stall: Path, tmp_path: Path) -> None:
    control = tmp_path / "control.xlsx"
    with_one_wrong_formula(stall, control, "Costs", "A4", "=A1+A2")  # 6.5, and 16.25 from it
    document = judge.open(control)
    document.recalculate()
    assert compare(RIGHT["Costs"], document.values("Costs")) == ["A4: expected 10.0, got 6.5"]
    assert compare(RIGHT["Prices"], document.values("Prices")) == ["A1: expected 25.0, got 16.25"]
    document.close()


def test_an_edit_is_followed_and_can_be_taken_back(judge: Judge, stall: Path) -> None:
    document = judge.open(stall)
    document.set("Costs", "A1", 3)
    document.set_many([("Costs", "A2", None), ("Costs", "A3", "=foil")])
    document.recalculate()
    assert document.values("Costs") == {"A1": 3.0, "A3": "=foil", "A4": 0.0, "A5": ""}
    document.set_many([("Costs", "A1", 2.5), ("Costs", "A2", 4), ("Costs", "A3", "film")])
    document.recalculate()
    assert document.values("Costs") == RIGHT["Costs"]
    document.close()


@pytest.mark.parametrize(
    ("typed", "shown"), [(46343, "number"), ("46343", "text"), ("", "empty"), (None, "empty")]
)
def test_what_is_typed_keeps_its_kind(
    judge: Judge, tmp_path: Path, typed: float | str | None, shown: str
) -> None:
    kinds = 'IF(ISNUMBER(A1),"number",IF(ISTEXT(A1),"text","empty"))'
    document = judge.open(write_book(tmp_path / "kinds.xlsx", {"S": {"A1": 1, "B1": f"={kinds}"}}))
    document.set("S", "A1", typed)
    document.recalculate()
    assert document.values("S")["B1"] == shown
    document.close()


def test_a_row_below_the_last_is_found(judge: Judge, tmp_path: Path) -> None:
    cells = {"A1": "egg", "B1": 5, "D1": '=INDEX(S!$B:$B,MATCH("film",S!$A:$A,0))'}
    document = judge.open(write_book(tmp_path / "below.xlsx", {"S": cells}))
    document.recalculate()
    assert document.values("S")["D1"] == ErrorValue("#N/A")
    document.set_many([("S", "A2", "film"), ("S", "B2", 9)])
    document.recalculate()
    assert document.values("S")["D1"] == 9
    document.close()


def test_formulas_are_told(judge: Judge, stall: Path) -> None:
    document = judge.open(stall)
    assert document.formulas("Costs")["A4"] == "=A1*A2"
    assert set(document.formulas("Prices")) == {"A1", "A2", "A3", "A4"}
    document.close()


def test_a_saved_workbook_holds_the_judges_values(
    judge: Judge, stall: Path, tmp_path: Path
) -> None:
    out = tmp_path / "saved.xlsx"
    document = judge.open(stall)
    document.set("Costs", "A2", 8)
    document.recalculate()
    document.save_as(out)
    document.save_as(out)
    document.close()
    assert openpyxl.load_workbook(out, data_only=True)["Prices"]["A1"].value == 50


def test_the_workbook_itself_is_never_touched(judge: Judge, stall: Path) -> None:
    before = stall.read_bytes()
    stall.with_name(".~lock.stall.xlsx#").write_text("someone,else", encoding="utf-8")
    document = judge.open(stall)
    document.set("Costs", "A1", 99)
    document.recalculate()
    document.close()
    assert stall.read_bytes() == before


@pytest.mark.parametrize("junk", [b"", b"not a workbook", b"PK\x03\x04 cut short"])
def test_junk_is_refused_and_the_judge_lives_on(
    judge: Judge, stall: Path, tmp_path: Path, junk: bytes
) -> None:
    file = tmp_path / "junk.xlsx"
    file.write_bytes(junk)
    with pytest.raises(CannotJudge, match=r"^junk\.xlsx"):
        judge.open(file)
    document = judge.open(stall)
    assert document.sheets() == ["Costs", "Prices"]
    document.close()


def test_whole_columns_are_cut_for_ironcalc_and_nothing_else(tmp_path: Path) -> None:
    cells = {"A1": "=SUM(S!$F:$F)", "A2": '=MATCH("A:A",B:$D,0)', "A3": "=SUM(B1:B9)", "F40": 1}
    out = tmp_path / "cut.xlsx"
    assert bound_whole_columns(write_book(tmp_path / "whole.xlsx", {"S": cells}), out) == 2_040
    assert formulas(out)["S"] == {
        "A1": "SUM(S!$F$1:$F$2040)",
        "A2": 'MATCH("A:A",B$1:$D$2040,0)',
        "A3": "SUM(B1:B9)",
    }


def test_ironcalc_takes_nothing_below_the_cut(ironcalc: IronCalc, stall: Path) -> None:
    document = ironcalc.open(stall)
    with pytest.raises(CannotJudge, match=r"^Costs!A2006 lies below"):
        document.set("Costs", "A2006", 1)


@pytest.mark.libreoffice
def test_a_pdf_is_made(libreoffice: LibreOffice, stall: Path, tmp_path: Path) -> None:
    made = libreoffice.to_pdf(stall, tmp_path)
    assert made == tmp_path / "stall.pdf"
    assert made.read_bytes().startswith(b"%PDF")


@pytest.mark.libreoffice
@pytest.mark.usefixtures("libreoffice")
def test_one_that_takes_too_long_is_stopped_with_all_its_processes(stall: Path) -> None:
    with LibreOffice(request_seconds=0.001) as office:
        started = time.monotonic()
        with pytest.raises(CannotJudge) as refusal:
            office.open(stall)
        assert str(refusal.value) == "LibreOffice gave no answer in 0.001 s and was stopped"
        assert time.monotonic() - started < 10
        assert not living(office.groups())


@pytest.mark.libreoffice
def test_two_at_once_do_not_disturb_each_other(libreoffice: LibreOffice, stall: Path) -> None:
    with LibreOffice() as other:
        document, same = libreoffice.open(stall), other.open(stall)
        document.set("Costs", "A1", 5)
        document.recalculate()
        same.recalculate()
        assert document.values("Costs")["A4"] == 20
        assert same.values("Costs")["A4"] == 10
    assert not living(other.groups())
    document.close()


@pytest.mark.libreoffice
def test_ten_thousand_formulas_follow_an_edit_within_a_second(
    libreoffice: LibreOffice, tmp_path: Path
) -> None:
    document = libreoffice.open(many_formulas(tmp_path / "many.xlsx", 2_000))
    started = time.monotonic()
    for price in range(1, 11):
        document.set("Data", "B2", price)
        document.recalculate()
        # Row 1 looks up "item 2": price, twice the price, three times; 1 + 2 + 3 = 6 of them.
        assert document.values("Workings")["F1"] == 6 * price
    assert time.monotonic() - started < 10
    document.close()


def test_a_missing_libreoffice_is_said_with_the_way_to_get_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(shutil, "which", lambda _name: None)
    monkeypatch.setattr(libreoffice, "PROGRAMS", ())
    with pytest.raises(CannotJudge) as refusal, LibreOffice():
        pass
    assert str(refusal.value) == (
        "LibreOffice is missing. Get it with: "
        "sudo apt-get install libreoffice-calc-nogui python3-uno"
    )


def test_without_libreoffice_tests_are_skipped_unless_it_is_required(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("COSTBOOK_REQUIRE_LIBREOFFICE", raising=False)
    with pytest.raises(pytest.skip.Exception, match=r"^It is missing\.$"):
        conftest.without("It is missing.")
    monkeypatch.setenv("COSTBOOK_REQUIRE_LIBREOFFICE", "1")
    with pytest.raises(pytest.fail.Exception, match=r"^It is missing\. \(COSTBOOK_REQUIRE"):
        conftest.without("It is missing.")


@pytest.mark.parametrize(
    ("expected", "got"),
    [
        (1e6, 1e6 + 1e-4),  # 1e-10 of it
        (0.5, 0.5 + 9e-10),
        ("", None),
        (None, ""),
        (True, 1.0),
        ("film", "film"),
        (ErrorValue("#N/A"), ErrorValue("#N/A")),
    ],
)
def test_what_counts_as_the_same(expected: Value | None, got: Value | None) -> None:
    assert compare({"B2": expected}, {"B2": got}) == []


@pytest.mark.parametrize(
    ("expected", "got", "said"),
    [
        (1e6, 1e6 + 2e-3, "B2: expected 1000000.0, got 1000000.002"),
        (0.5, 0.500000002, "B2: expected 0.5, got 0.500000002"),
        (0.0, "", "B2: expected 0.0, got ''"),
        ("", 0.0, "B2: expected '', got 0.0"),
        (None, 0.0, "B2: expected None, got 0.0"),
        ("film", "Film", "B2: expected 'film', got 'Film'"),
        (1.0, float("nan"), "B2: expected 1.0, got nan"),
        (1.0, ErrorValue("#N/A"), "B2: expected 1.0, got ErrorValue(code='#N/A')"),
        ("1", 1.0, "B2: expected '1', got 1.0"),
    ],
)
def test_what_counts_as_different(expected: Value | None, got: Value | None, said: str) -> None:
    assert compare({"B2": expected}, {"B2": got}) == [said]
