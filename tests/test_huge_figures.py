"""Slips of fifteen digits: whatever is asked of such a workbook, there is an answer."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from costbook.definitions.rounding import rounded
from tests.helpers import make_book, run
from tests.test_messages import Changes, changed

HUGE, TINY = 9e14, 1e-9
EARLIER: Changes = {"Purchases!A3": date(2026, 10, 2), "Purchases!B3": "Flour"}
WORKBOOKS: dict[str, Changes] = {
    "a dear pack, many of it": {
        "Purchases!D2": HUGE,
        "Purchases!F2": TINY,
        "Purchases!H2": HUGE,
        "Recipes!C2": HUGE,
    },
    "nothing usable of it, in endless packs": {
        "Purchases!F2": TINY,
        "Purchases!H2": HUGE,
        "Recipes!C2": HUGE,
        "Batches!B2": 2,
        "Items!B2": TINY,
        "Products!C2": HUGE,
    },
    "a price that rose beyond measure": {
        **EARLIER,
        "Purchases!G3": "kg",
        "Purchases!H3": TINY,
        "Purchases!H2": HUGE,
    },
    "a day nobody could pay": {
        "Overheads!B2": HUGE,
        "Outlets!C2": HUGE,
        "Outlets!D2": TINY,
        "Stages!D2": HUGE,
    },
}
PRICE = ("--price", "Flour=+40%")
ASKED: tuple[tuple[str, ...], ...] = (
    ("check",),
    ("explain", "Loaf"),
    ("compare",),
    ("moved", "--since", "2026-10-10"),
    ("try", *PRICE, "--sensitivity"),
    ("try", *PRICE, "--sensitivity", "--output"),
    ("cost", "--output"),
)


@pytest.mark.parametrize("name", WORKBOOKS)
def test_every_command_has_an_answer(name: str, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", changed(WORKBOOKS[name]))
    for number, (command, *words) in enumerate(ASKED):
        more = [tmp_path / f"{number}.xlsx"] if words[-1:] == ["--output"] else []
        code, _, err = run(command, book, *words, *more, "--on", "2026-11-25")
        assert code in (0, 1), err


@pytest.mark.parametrize(
    ("number", "places", "shown"),
    [
        ("2.345", 2, "2.35"),
        ("-2.345", 2, "-2.35"),
        ("1234.5", 0, "1235"),
        ("9" * 15 + ".995", 2, "1000000000000000.00"),
        ("1e40", 2, "1E+40"),
    ],
)
def test_a_figure_is_rounded_half_up_unless_its_cents_are_lost(
    number: str, places: int, shown: str
) -> None:
    assert str(rounded(Decimal(number), places)) == shown
