"""A trial as one answer: each price with its pack, and what else was asked."""

from __future__ import annotations

from decimal import Decimal

from costbook.deciding.sensitivity import Moved
from costbook.deciding.trial import Trial, read_trial
from costbook.deciding.tried_out import TriedOut, try_out
from tests.deciding.asking import costed
from tests.deciding.test_moved import ROLLS

D = Decimal
FILM = "2026-11-12 | Film  | 10        | m    | 15.00"


def packs(receipt: str) -> list[str]:
    """How the pack of the film is called whose price is tried."""
    costing = costed(ROLLS.replace(FILM, receipt))
    trial = read_trial(costing, ["Film=18"], [])
    return [each.pack for each in try_out(costing, trial, None, None).prices]


def test_a_pack_is_called_by_what_is_known_of_it() -> None:
    assert packs(FILM) == ["10 m"]
    assert packs("2026-11-12 | Film | 10 | | 15.00") == ["10"]


def test_what_was_not_asked_is_not_answered() -> None:
    nothing = TriedOut(Trial({}, {}), (), (), "Profit")
    assert set(nothing.as_data()) == {"products", "prices_tried"}
    moved = TriedOut(Trial({}, {}), (), (), "Profit", [Moved("Pay", D(1), D(-1))]).as_data()
    assert moved["sensitivity"] == [{"input": "Pay", "tenth_less": D(1), "tenth_more": D(-1)}]
    assert moved["sensitivity_of"] == "Profit"
