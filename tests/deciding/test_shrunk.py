"""Packs that hold less for the same money: where the line runs, and what is compared."""

from __future__ import annotations

import pytest

from costbook.book import as_key
from costbook.deciding.shrunk import shrunk_packs
from tests.deciding.asking import ON, read
from tests.deciding.test_moved import ROLLS
from tests.tables import sheets

HEAD = "Date | Item | Pack size | Unit | Price per pack"


def shrunk(before: str, now: str, day: str = "2026-11-10") -> list[str]:
    """What is said of flour bought twice: its size, its unit and its price each time."""
    rows = f"2026-11-01 | Flour | {before}\n{day} | Flour | {now}"
    costing = read(sheets(ROLLS, f"Purchases\n{HEAD}\n{rows}"))
    return shrunk_packs(costing).get(as_key("Flour"), [])


def said(before: str, now: str) -> list[str]:
    shrank = f"The pack from one supplier shrank from {before} to {now}"
    return [f"{shrank} while its price held (Purchases row 3)."]


def test_a_pack_is_compared_with_one_in_another_unit_of_its_kind() -> None:
    assert shrunk("1 | kg | 2", "900 | gm. | 2") == said("1 kg", "900 gm.")
    assert shrunk("1 | l | 2", "900 | ml | 2") == said("1 l", "900 ml")
    assert shrunk("1 | l | 2", "0.9 | kg | 2") == []


def test_a_size_of_several_is_said_as_it_is_typed() -> None:
    assert shrunk("6 x 500 g | | 6", "6 x 450 g | | 6") == said("6 × 500 g", "6 × 450 g")


@pytest.mark.parametrize(
    ("now", "is_said"),
    [
        ("900 | g | 2.03", True),  # 1.5 % dearer
        ("900 | g | 2.04", False),  # 2 %: its price didn't hold
        ("900 | g | 1.97", True),
        ("900 | g | 1.96", False),
    ],
)
def test_a_price_holds_that_moved_by_less_than_a_fiftieth(now: str, is_said: bool) -> None:
    assert bool(shrunk("1000 | g | 2", now)) == is_said


@pytest.mark.parametrize(("before", "is_said"), [("1020", False), ("1021", True)])
def test_less_than_a_fiftieth_dearer_by_content_is_the_same(before: str, is_said: bool) -> None:
    assert bool(shrunk(f"{before} | g | 2", "1000 | g | 2")) == is_said


@pytest.mark.parametrize(("now", "is_said"), [("500", False), ("501", True), ("1000", False)])
def test_half_a_pack_is_another_pack(now: str, is_said: bool) -> None:
    assert bool(shrunk("1000 | g | 2", f"{now} | g | 2")) == is_said


@pytest.mark.parametrize(("day", "is_said"), [(ON.isoformat(), True), ("2026-11-21", False)])
def test_a_receipt_of_the_costing_date_counts_and_none_after_it(day: str, is_said: bool) -> None:
    assert bool(shrunk("1000 | g | 2", "900 | g | 2", day)) == is_said
