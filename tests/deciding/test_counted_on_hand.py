"""What is on hand where somebody counted it: as typed on Items, else the last count, said so."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.deciding.asking import ON, answered
from tests.deciding.test_buy_list import ITEMS, SHELVES
from tests.helpers import make_book, run
from tests.judges.ironcalc_judge import IronCalc
from tests.tables import close, sheets

PAR = f"{ITEMS}Tea | {{}} | {{}} | 3 | lb | | |"
COUNTS = """

Counts
Date | What | Amount | Unit
"""


def stocked(on_hand: str, unit: str, *counts: str) -> str:
    """The shelves, a par of 3 lb of tea, what is typed as on hand, and rows of Counts."""
    return SHELVES + PAR.format(on_hand, unit).strip() + COUNTS + "\n".join(counts)


def tea(on_hand: str, unit: str, *counts: str) -> dict[str, Any]:
    """What is said of tea: in the list, to ask, or enough."""
    found = answered("buy", stocked(on_hand, unit, *counts))
    lines = [line for shop in found["suppliers"] for line in shop["lines"]]
    [line] = [each for each in (*lines, *found["ask"], *found["enough"]) if each["item"] == "Tea"]
    return dict(line)


def test_the_last_count_is_what_is_on_hand_where_nothing_is_typed() -> None:
    """Of 3 lb 8 oz are there: 2.5 lb. The lower row of a day counts, and none of tomorrow."""
    rows = ("2026-11-10 | Tea | 2 | lb", "2026-11-18 | Tea | 1 | lb", "2026-11-18 | Tea | 8 | oz")
    line = tea("", "", *rows, "2026-11-21 | Tea | 9 | lb")
    assert line["counted"] == {"amount": 0.5, "on": "2026-11-18", "is_on_hand": True}
    assert (line["on_hand"], line["to_buy"], line["packs"]) == (0.5, 2.5, 3)


def test_what_is_typed_is_as_of_now_and_the_count_is_said_beside_it(tmp_path: Path) -> None:
    line = tea("2", "lb", "2026-11-18 | Tea | 8 | oz")
    assert line["counted"] == {"amount": 0.5, "on": "2026-11-18", "is_on_hand": False}
    assert (line["on_hand"], line["to_buy"]) == (2, 1)
    none = tea("0", "lb", "2026-11-18 | Tea | 8 | oz")
    assert (none["on_hand"], none["to_buy"]) == (0, 3)
    for typed, said in (
        (("2", "lb"), "2 lb on hand, as typed, and 8 oz counted on 2026-11-18"),
        (("", ""), "8 oz on hand, as counted on 2026-11-18"),
    ):
        text = stocked(*typed, "2026-11-18 | Tea | 8 | oz")
        out = run("buy", make_book(tmp_path / "stall.xlsx", sheets(text)), "--on", ON)[1]
        assert f"Tea: 3 lb to be there, {said}" in out.splitlines()


@pytest.mark.parametrize(
    "row",
    [
        "2026-11-18 | Tea | a few | lb",
        "2026-11-18 | Tea | 2 | sacks",
        "2026-11-18 | Tea | 2 |",
        "2026-11-18 | Tea | 2 | ft",
        "| Tea | 2 | lb",  # of nobody knows which day
        "2026-11-18 | Tea | -2 | lb",
    ],
)
def test_a_count_that_cannot_be_read_leaves_it_open(row: str) -> None:
    line = tea("", "", "2026-11-10 | Tea | 2 | lb", row)
    assert line["why"] == "Its last count can't be read: put it right on Counts."
    assert tea("1", "lb", row)["to_buy"] == 2  # what is typed counts, whatever was counted


def test_what_was_bought_since_the_count_is_said() -> None:
    """Flour was bought on 1 and 2 November: a count of October isn't all that is there."""
    text = SHELVES + f"{ITEMS}Flour | | | 3 | lb | | |".strip() + COUNTS
    sentence = (
        "this counts as what is on hand of Flour, and more of it was bought since.",
        "Count again, or type what is there as On hand on Items.",
    )
    for day, said in (("2026-10-30", True), ("2026-11-02", False)):
        problems = answered("buy", f"{text}{day} | Flour | 8 | oz")["problems"]
        found = [(p["what"], p["remedy"]) for p in problems if p["cell"] == "C2"]
        assert (sentence in found) is said


def test_the_sheet_follows_the_count_and_the_cell(tmp_path: Path) -> None:
    """3 lb less 8 oz are 2.5; less 2 lb, typed below, 1; less the 2.5 lb typed on Items, a half."""
    text = stocked("", "lb", "2026-11-18 | Tea | 8 | oz")
    book = make_book(tmp_path / "stall.xlsx", sheets(text))
    run("cost", book, "--on", ON, "--output", tmp_path / "out.xlsx")
    day = (date(2026, 11, 19) - date(1899, 12, 30)).days
    count = [("Counts", f"{c}3", v) for c, v in zip("ABCD", (day, "Tea", 2, "lb"), strict=True)]
    edits: list[tuple[list[tuple[str, str, Any]], float]] = [
        ([], 2.5),
        (count, 1),
        ([("Items", "B2", 2.5)], 0.5),
        ([("Items", "B2", None)], 1),
    ]
    with IronCalc() as judge:
        document = judge.open(tmp_path / "out.xlsx")
        for settings, to_buy in edits:
            document.set_many(settings)
            document.recalculate()
            shown = document.values("Buy list")
            why = [cell[1:] for cell, value in shown.items() if value == "Tea"][-1]
            close(shown[f"E{why}"], to_buy)
