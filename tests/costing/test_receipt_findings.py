"""What is said of receipts: which cell, and where the line runs between a doubt and none."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from costbook.costing.engine import Costing
from costbook.costing.receipt_findings import (
    newer_set_aside,
    nothing_paid,
    prices_old,
    purchases_later,
    readings,
)
from costbook.problems import Problem
from tests.costing.costed import costed

HEAD = "Purchases\nItem | Date | Supplier | Pack size | Unit | Price per pack\n"


def found(finding: Callable[[Costing], Iterator[Problem]], *texts: str) -> list[tuple[str, str]]:
    """The cells of what is found, and what is said there."""
    return [(str(each.place), each.what) for each in finding(costed(*texts))]


def receipts(*rows: str) -> str:
    return HEAD + "\n".join(rows)


def test_a_receipt_of_the_day_counts_and_one_of_the_next_does_not_yet() -> None:
    of_both = receipts("Flour | 2026-11-25 | | 1 | kg | 2", "Flour | 2026-11-26 | | 1 | kg | 2")
    assert found(purchases_later, of_both) == [
        (
            "Purchases!B3",
            (
                "the date, 2026-11-26, is after the costing date, 2026-11-25, so this purchase "
                "doesn't count yet."
            ),
        )
    ]


def test_more_than_twenty_later_receipts_are_counted() -> None:
    later = ["Flour | 2026-12-01 | | 1 | kg | 2"] * 21
    assert len(found(purchases_later, receipts(*later[:20]))) == 20
    assert found(purchases_later, receipts(*later)) == [
        (
            "Purchases!B2",
            (
                "this purchase and 20 others are dated after the costing date, 2026-11-25, so they "
                "don't count yet."
            ),
        )
    ]


def test_an_old_price_is_said_at_its_date() -> None:
    """From 1 August to 25 November are 116 days."""
    old = receipts("Flour | 2026-08-01 | | 1 | kg | 2")
    assert found(prices_old, old) == [("Purchases!B2", "the price of Flour is 116 days old.")]


def test_only_what_is_taken_off_leaves_nothing_to_pay() -> None:
    """A pack whose unit is not known has no price by its size either, and nothing taken off."""
    assert found(nothing_paid, receipts("Flour | 2026-11-01 | | 1 | | 2")) == []
    taken_off = "Purchases\nItem | Date | Pack size | Unit | Price per pack | Other cost\n"
    assert [
        cell for cell, _ in found(nothing_paid, f"{taken_off}Flour | 2026-11-01 | 1 | kg | 2 | -2")
    ] == ["Purchases!F2"]


USUAL = "Items\nItem | Usual supplier\nFlour | Mill"


@pytest.mark.parametrize(
    ("size", "pack"),
    [("6 x 500 g |  ", "6 × 500 g"), ("5 | kg", "5 kg"), ("5 lb bag | ", "5 lb"), ("5 | ", "5")],
)
def test_a_newer_receipt_that_is_set_aside_is_said_with_both_packs(size: str, pack: str) -> None:
    both = receipts(
        f"Flour | 2026-11-01 | Mill | {size} | 2.5", f"Flour | 2026-11-02 | Shop | {size} | 3"
    )
    assert found(newer_set_aside, both, USUAL) == [
        (
            "Purchases!C3",
            (
                f"this receipt of Flour (2026-11-02, {pack} at 3) is newer than the one that "
                f"counts (2026-11-01, {pack} at 2.5, row 2): Mill is the usual supplier."
            ),
        )
    ]


def test_a_receipt_of_the_same_day_sets_none_aside() -> None:
    both = receipts(
        "Flour | 2026-11-01 | Mill | 1 | kg | 2", "Flour | 2026-11-01 | Shop | 1 | kg | 3"
    )
    assert found(newer_set_aside, both, USUAL) == []


def test_a_text_that_was_understood_is_said_and_is_no_doubt_of_an_answer() -> None:
    (said,) = readings(costed(receipts("Flour | 2026-11-01 | | 6 x 500 g | | 6")))
    assert (str(said.place), said.what) == (
        "Purchases!D2",
        '"6 x 500 g" was read as 6 × 500 g.',
    )
    assert said.as_read


def test_what_is_left_to_the_allowance_is_no_reading() -> None:
    line = (
        "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Flour | 600 | g\nWrap | Salt | to taste |"
    )
    assert found(readings, line) == []
