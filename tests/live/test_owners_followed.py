"""Rows of nobody's, names typed once for a block, and hours left blank, while somebody types."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers import make_book
from tests.judges import Judge
from tests.judges.edits import Change, Edit
from tests.judges.inputs import Typed
from tests.live.following import cost_book, differences
from tests.live.test_asks_for_a_run import ONE, STILL_TRUE, Stall
from tests.tables import sheets

STRAYS = """
Settings
Setting               | Value
Currency              | USD
Costing date          | 2026-11-25
Pay per hour          | 18
Target margin %       | 35
Kitchen hire per hour | 9

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 5         | kg   | 6.5
2026-11-01 | Eggs  | 18        | ct   | 5.4
2026-11-01 | Film  | 100       | m    | 4

Recipes
Recipe | Uses  | Amount | Unit
Roll   | Flour | 900    | g
       | Eggs  | 6      | ea
Dough  | Flour | 500    | g
Loaf   | Dough | 200    | g
Loff   | Eggs  | 2      | ea
Loff   | Dough | 100    | g

Batches
Recipe | Makes | Unit
Roll   | 24    | ea
Dough  | 600   | g
Loaf   | 8     | ea

Stages
Recipe | Stage | Minutes per batch
Roll   | Mix   | 12
       | Bake  | 20
Zzyzx  | Clean | 15

Packaging
Product   | Uses | Amount | Unit | Per
Roll, one | Film | 1      | m    | unit
          | Film | 2      | m    | pack
Rolls     | Film | 3      | m    | pack

Products
Product    | Recipe | Units per pack
Roll, one  | Roll   | 1
Rolls, six | Roll   | 6
Loaf       | Loaf   | 1

Outlets
Outlet | Kind      | Fee per day | Hours per day | Units sold per day
Market | stall     | 30          |               | 60
Café   | wholesale | 3           |               | 20
"""


def edit(cell: str, old: Typed, new: Typed) -> Change:
    sheet, _, address = cell.partition("!")
    return (Edit(sheet, address, old, new),)


FOLLOWED: list[Change] = [
    edit("Outlets!D2", None, 6),
    edit("Outlets!D2", None, 0),
    edit("Outlets!D3", None, 1),
    edit("Outlets!B2", "stall", "commission"),
    edit("Outlets!B3", "wholesale", "stall"),
    edit("Recipes!C3", 6, 7),
    edit("Recipes!C6", 2, 0),  # a line of nobody's stays unknown, whatever it says
    edit("Recipes!C7", 100, 300),
    edit("Stages!C3", 20, 30),
    edit("Stages!C4", 15, 0),
    edit("Packaging!C3", 2, 5),
    edit("Packaging!C4", 3, 0),
    edit("Purchases!E3", 5.4, 9.9),
]


@pytest.mark.long
def test_what_is_nobodys_stays_unknown_and_all_else_is_followed(
    judge: Judge, tmp_path: Path
) -> None:
    costed = cost_book(make_book(tmp_path / "stall.xlsx", sheets(STRAYS)), tmp_path / "costed.xlsx")
    tally = differences(judge, costed, FOLLOWED)
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    assert tally.exact == len(FOLLOWED) + 1


ANSWERED = [
    ("Recipes", "A3", "Dough"),  # a name of its own, below the one that it was read under
    ("Stages", "A4", "Loaf"),
    ("Packaging", "A4", "Rolls, six"),
]


def test_a_name_that_answers_asks_for_a_run(ironcalc: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(STRAYS))
    for typing in ANSWERED:
        stall = Stall(ironcalc, cost_book(book, tmp_path / "costed.xlsx"))
        assert stall.says() == STILL_TRUE
        assert stall.says(typing) == ONE
        stall.document.close()


def test_another_name_above_asks_for_a_run_for_all_of_its_block(
    ironcalc: Judge, tmp_path: Path
) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(STRAYS))
    stall = Stall(ironcalc, cost_book(book, tmp_path / "costed.xlsx"))
    assert stall.says(("Recipes", "A2", "Dough")) != STILL_TRUE
