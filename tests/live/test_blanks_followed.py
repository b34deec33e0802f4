"""Dashes and n/a in optional cells are blank: for a run, and while somebody types them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.helpers import make_book, run
from tests.judges import Judge
from tests.judges.edits import Change, Edit
from tests.judges.inputs import Typed
from tests.live.following import cost_book, differences
from tests.tables import sheets

# Every cell that is a ~ is one that a person may leave blank.
STALL = """
Settings
Setting               | Value
Currency              | USD
Costing date          | 2026-11-25
Pay per hour          | 18
Pay on-costs %        | ~
Target margin %       | 35
Price step            | ~
Sales tax %           | ~
Kitchen hire per hour | ~

Purchases
Date       | Item  | Supplier  | Packs | Pack count | Pack size | Unit | Price per pack | Other cost
2026-11-01 | Flour | Mill Lane | ~     | ~          | 5         | kg   | 6.5            | ~
2026-11-02 | Eggs  | ~         | 2     | ~          | 2 x 18 ct | ~    | 10.4           | ~
2026-11-02 | Bag   | Market    | 1     | ~          | 100       | ea   | 4              | ~

Items
Item  | Usable % | Grams per piece | Grams per ml | Roll width | Roll width unit | Usual supplier
Flour | ~        | ~               | ~            | ~          | ~               | ~
Eggs  | 88       | 57              | ~            | ~          | ~               | ~

Recipes
Recipe | Uses  | Amount | Unit | Measured | Usable %
Roll   | Flour | 900    | g    | ~        | ~
Roll   | Eggs  | 6 ea   | ~    | ~        | ~

Batches
Recipe | Makes | Unit | Rejects
Roll   | 24    | ea   | ~

Stages
Recipe | Stage | People | Minutes per batch | Minutes per unit | Waiting minutes | Pay per hour
Roll   | Mix   | ~      | 12                | ~                | ~               | ~
Roll   | Bake  | ~      | ~                 | 0.5              | ~               | 20

Packaging
Product | Uses | Amount | Unit | Per  | Spare %
Roll    | Bag  | 1      | ea   | unit | ~

Products
Product | Recipe | Units per pack | Not sold % | Net weight | Current price | Target margin %
Roll    | Roll   | 1              | ~          | ~          | 4             | ~

Outlets
Outlet   | Kind | Fee per day | Hours per day | Miles per day | Units sold per day | Commission %
Saturday | ~    | 30          | 5             | ~             | 60                 | ~
"""


def costed(folder: Path, mark: str) -> tuple[int, dict[str, Any]]:
    book = make_book(folder / "stall.xlsx", sheets(STALL.replace("~", mark.ljust(1))))
    code, out, _ = run("cost", book, "--output", folder / "out.xlsx", "--json")
    return code, json.loads(out)


@pytest.fixture(scope="module")
def blank(tmp_path_factory: pytest.TempPathFactory) -> tuple[int, dict[str, Any]]:
    return costed(tmp_path_factory.mktemp("blank"), "")


@pytest.mark.parametrize("mark", ["-", "–", "—", "--", "n/a", "N/A", "None", "\u00a0- "])
def test_a_cell_that_says_it_is_blank_is_blank(
    blank: tuple[int, dict[str, Any]], tmp_path: Path, mark: str
) -> None:
    marked = costed(tmp_path, mark)
    assert marked == blank
    assert marked[0] == 0
    assert not [each for each in marked[1]["problems"] if mark.strip() in each["what"].split()]


def edit(cell: str, old: Typed, new: Typed) -> Change:
    sheet, _, address = cell.partition("!")
    return (Edit(sheet, address, old, new),)


TYPED: list[Change] = [
    edit("Purchases!C2", "Mill Lane", "-"),
    edit("Purchases!D3", 2, "n/a"),
    edit("Purchases!I4", "-", 1.5),
    edit("Items!B3", 88, "–"),
    edit("Items!G2", "-", "Mill Lane"),
    edit("Recipes!E2", "-", "as bought"),
    edit("Recipes!C2", 900, "-"),  # needed: unknown, as if blank
    edit("Batches!D2", "-", 1),
    edit("Stages!D2", 12, "-"),
    edit("Stages!G3", 20, "none"),
    edit("Packaging!F2", "-", 0.1),
    edit("Products!F2", 4, "N/A"),
    edit("Outlets!C2", 30, "-"),
    edit("Outlets!F2", 60, "-"),
    edit("Settings!B5", 18, "-"),
]


def test_a_dash_typed_into_a_costed_workbook_is_followed(ironcalc: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(STALL.replace("~", "-")))
    tally = differences(ironcalc, cost_book(book, tmp_path / "costed.xlsx"), TYPED)
    assert not tally.wrong, "\n".join(tally.wrong[:20])
    assert tally.exact == len(TYPED) + 1


@pytest.mark.long
def test_a_dash_is_followed_in_every_judge(judge: Judge, tmp_path: Path) -> None:
    book = make_book(tmp_path / "stall.xlsx", sheets(STALL.replace("~", "-")))
    tally = differences(judge, cost_book(book, tmp_path / "costed.xlsx"), TYPED)
    assert not tally.wrong, "\n".join(tally.wrong[:20])
