"""What a heading says of its figures holds in the live sheets too, as a new run has it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers import make_book
from tests.judges import Judge
from tests.judges.edits import Change
from tests.live.following import cost_book, differences
from tests.live.test_asks_for_a_run import JUDGES, Stall
from tests.live.test_names_followed import edit
from tests.tables import sheets

HEADED = """
Settings
Setting         | Value
Currency        | USD
Costing date    | 2026-11-25
Pay per hour    | 18
Target margin % | 35

Purchases
Date       | Item  | Supplier  | Packs | Pack size (kg) | Unit | Price per pack (whole line)
2026-11-01 | Flour | Mill Lane | 2     | 5              |      | 13
2026-11-08 | Leeks | Market    |       | 2              |      | 6.4
2026-11-09 | Egg   | Hill Farm | 3     | 1.7            | kg   | 29.7

Items
Item  | Waste % | Grams per piece (oz)
Flour |         |
Leeks | 25      |
Egg   | 12      | 2

Recipes
Recipe | Uses  | Amount (g) | Unit
Roll   | Flour | 900        |
Roll   | Leeks | 1200       | g
Pie    | Egg   | 342        |

Batches
Recipe | Makes (ea) | Unit | Rejects (%)
Roll   | 24         |      | 4
Pie    | 6          |      |

Stages
Recipe | Stage | Minutes per batch (hours) | Minutes per unit (seconds)
Roll   | Mix   | 0.25                      | 90
Pie    | Bake  | 0.5                       |

Products
Product | Recipe | Units per pack | Current price (cents)
Roll    | Roll   | 1              | 450
Pie     | Pie    | 1              | 620

Overheads
Cost | Amount (per batch) | Per
Gas  | 2                  | batch
"""

FOLLOWED: list[Change] = [
    edit("Purchases!G2", 13, 15.5),
    edit("Purchases!D2", 2, 4),
    edit("Purchases!D3", None, 2),
    edit("Purchases!E2", 5, 10),
    (
        *edit("Purchases!A5", None, 46347),  # 21 November 2026, in the spare rows
        *edit("Purchases!B5", None, "Leeks"),
        *edit("Purchases!D5", None, 3),
        *edit("Purchases!E5", None, 2.5),
        *edit("Purchases!G5", None, 24),
    ),
    edit("Items!B3", 25, 0.4),
    edit("Items!B3", 25, 0),
    edit("Items!B3", 25, 100),
    edit("Items!C4", 2, 1.75),
    edit("Recipes!C2", 900, 1000),
    edit("Recipes!D3", "g", None),
    edit("Batches!D2", 4, 0.05),
    edit("Batches!D2", 4, 12),
    edit("Batches!D2", 4, None),
    edit("Stages!C2", 0.25, 0.5),
    edit("Stages!D2", 90, 45),
    edit("Stages!D2", 90, None),
    edit("Products!D2", 450, 525),
]


@pytest.mark.long
def test_figures_under_headings_with_units_are_followed(judge: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(HEADED))
    costed = cost_book(book, tmp_path / "costed.xlsx")
    tally = differences(judge, costed, FOLLOWED)
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    assert tally.exact == len(FOLLOWED) + 1


@pytest.fixture(scope="module", params=JUDGES)
def headed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Stall:
    folder = tmp_path_factory.mktemp("headed")
    book = make_book(folder / "stall.xlsx", sheets(HEADED))
    costed = cost_book(book, folder / "costed.xlsx")
    return Stall(request.getfixturevalue(request.param), costed)


def test_a_heading_that_says_something_else_leaves_its_column_unknown(headed: Stall) -> None:
    assert isinstance(headed.price_of("Flour"), float)
    headed.says(("Purchases", "G1", "Price per pack"))
    assert headed.price_of("Flour") == ""
    headed.put_back()
    assert isinstance(headed.price_of("Flour"), float)
