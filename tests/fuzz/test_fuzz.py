"""A few damaged workbooks at each run; many by `python3 -m tests.fuzz 10000`."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.fuzz.judging import fault_of, told
from tests.fuzz.mutations import mutated

FEW = 120


def test_whatever_is_in_a_file_it_ends_in_a_result_or_a_sentence() -> None:
    assert [(number, fault) for number in range(FEW) if (fault := fault_of(number))] == []


def test_the_same_number_gives_the_same_file() -> None:
    assert [mutated(number) for number in range(20)] == [mutated(number) for number in range(20)]
    assert len({mutated(number) for number in range(20)}) > 15


def test_a_fault_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader that breaks, or leaves a file behind, doesn't pass unseen."""

    def breaks(path: Path) -> None:
        path.with_name("left.tmp").write_bytes(b"x")
        raise KeyError("Purchases")

    workbook = (Path(__file__).parents[2] / "sample_workbooks" / "starter.xlsx").read_bytes()
    assert told(workbook) == ""
    monkeypatch.setattr("costbook.round_trip.file_at", breaks)
    assert told(workbook) == "KeyError: 'Purchases'"
