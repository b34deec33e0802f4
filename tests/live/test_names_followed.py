"""Ditto marks, and names typed with other spaces, are followed as a new run reads them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.helpers import make_book
from tests.judges import Judge
from tests.judges.edits import Change, Edit
from tests.judges.inputs import Typed
from tests.live.following import cost_book, differences
from tests.live.test_asks_for_a_run import ONE, STILL_TRUE, Stall
from tests.tables import sheets

DITTOS = """
Settings
Setting         | Value
Currency        | USD
Costing date    | 2026-11-25
Pay per hour    | 18
Target margin % | 35

Purchases
Date       | Item        | Supplier  | Packs | Pack size | Unit | Price per pack | Other cost
2026-11-01 | Flour       | Mill Lane | 1     | 5         | kg   | 6.5            |
"          | Eggs, large | Hill Farm | 2     | 18        | ct   | 5.38           |
2026-11-08 | "           | ditto     | 1     | 30        | ct   | 9.9            |
ditto      | 〃          | ''        | 1     |           |      |                | -0.9
2026-11-09 | Eggs, large | Market    | 1     | 30        | ct   | 12.3           |
2026-11-10 | Bag         | DITTO     | 1     | 100       | ea   | 4              |

Items
Item        | Usable % | Usual supplier
Flour       | 98       | Mill Lane
Eggs, large | 88       | Hill Farm

Recipes
Recipe | Uses        | Amount | Unit | Measured
Roll   | Flour       | 900    | g    | as bought
"      | Eggs, large | 6      | ea   | same

Batches
Recipe | Makes | Unit
Roll   | 24    | ea

Stages
Recipe | Stage | Minutes per batch
Roll   | Mix   | 12
idem   | Bake  | 20

Packaging
Product | Uses | Amount | Unit | Per
Roll    | Bag  | 1      | ea   | unit
do.     | Bag  | 2      | ea   | ditto

Products
Product | Recipe | Units per pack
Roll    | Roll   | 1
"""


def edit(cell: str, old: Typed, new: Typed) -> Change:
    sheet, _, address = cell.partition("!")
    return (Edit(sheet, address, old, new),)


FOLLOWED: list[Change] = [
    edit("Purchases!B3", "Eggs, large", "Flour"),  # and so the two rows below are flour
    edit("Purchases!C3", "Hill Farm", "Market"),
    edit("Purchases!A4", date(2026, 11, 8), date(2026, 11, 3)),  # and so is the discount's
    edit("Purchases!C4", "ditto", "Market"),  # a mark typed over, and what it stood above
    edit("Purchases!B4", '"', "Bag"),
    edit("Purchases!A3", '"', date(2026, 11, 20)),
    edit("Purchases!B6", "Eggs, large", "idem"),  # a mark in a row that had none
    edit("Purchases!B2", "Flour", "ditto"),  # one with nothing above
    edit("Recipes!E2", "as bought", "ready to use"),
    edit("Packaging!E2", "unit", "batch"),
    (  # a receipt in the spare rows, marks and all
        *edit("Purchases!A8", None, date(2026, 11, 12)),
        *edit("Purchases!B8", None, "Eggs, large"),
        *edit("Purchases!C8", None, "Hill Farm"),
        *edit("Purchases!E8", None, 30),
        *edit("Purchases!F8", None, "ct"),
        *edit("Purchases!G8", None, 15),
        *edit("Purchases!A9", None, '"'),
        *edit("Purchases!B9", None, '"'),
        *edit("Purchases!C9", None, '- " -'),
        *edit("Purchases!E9", None, 30),
        *edit("Purchases!F9", None, "ct"),
        *edit("Purchases!G9", None, 18),
    ),
]


@pytest.mark.long
def test_what_marks_repeat_is_followed(judge: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(DITTOS))
    costed = cost_book(book, tmp_path / "costed.xlsx")
    tally = differences(judge, costed, FOLLOWED)
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    assert tally.exact == len(FOLLOWED) + 1


TYPED_OVER = [("Recipes", "A3", "Loaf"), ("Stages", "A3", "Loaf"), ("Packaging", "E3", "batch")]


def test_a_mark_typed_over_elsewhere_asks_for_a_run(ironcalc: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(DITTOS))
    for typing in TYPED_OVER:
        stall = Stall(ironcalc, cost_book(book, tmp_path / "costed.xlsx"))
        assert stall.says() == STILL_TRUE
        assert stall.says(typing) == ONE
        stall.document.close()


SPELLED = {"Eggs, large": "Eggs,\nlarge", "Hill Farm": "Hill\u2009Farm", "Flour": "Flo\u00adur"}
"""A line break, a thin space, a soft hyphen: what is pasted from elsewhere."""

RESPELLED: list[Change] = [
    (*edit("Purchases!B6", "Eggs, large", "Eggs,\nlarge"), *edit("Purchases!G6", 12.3, 15)),
    edit("Purchases!C6", "Market", "Hill\u2009Farm"),
    edit("Purchases!B7", "Bag", "Flo\u00adur"),
]


@pytest.mark.long
def test_names_with_other_spaces_are_followed(judge: Judge, tmp_path: Path) -> None:
    book = sheets(DITTOS)
    for at, column in (("Purchases", 1), ("Purchases", 2), ("Items", 2)):
        first = next(row for row in book[at] if row[column] in SPELLED)
        first[column] = SPELLED[str(first[column])]
    book["Purchases"][2][1:3] = SPELLED["Eggs, large"], SPELLED["Hill Farm"]
    costed = cost_book(make_book(tmp_path / "stall.xlsx", book), tmp_path / "costed.xlsx")
    tally = differences(judge, costed, RESPELLED)
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    assert tally.exact == len(RESPELLED) + 1
