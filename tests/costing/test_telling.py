"""What explain says in about ten lines: whole answers, each figure in them worked by hand."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from costbook.costing.explain import figure_named
from costbook.costing.line import SourceCell, together
from costbook.costing.telling import MOST_LINES, tell
from costbook.definitions.amounts import read_in_like
from costbook.definitions.figures_told import FIGURES_TOLD
from costbook.definitions.told import ASKED, NOT_TOLD
from costbook.definitions.units import Measure, find_unit
from tests.costing.costed import costed_sheets
from tests.helpers import run, save
from tests.tables import Sheets, sheets

SOUP = """
Settings
Setting                       | Value
Currency                      | GBP
Pay per hour                  | 12
Pay on-costs %                | 10
Target margin %               | 40
Price step                    | 0.10
Small-ingredient allowance %  | 5
Prices include sales tax      | no
Kitchen hire per hour         | 9
Kitchen booking block minutes | 60
Batches per year              | 50

Purchases
Date       | Item        | Packs | Pack size | Unit | Price per pack | Other cost
2026-11-01 | Leeks       | 2     | 5         | kg   | 6              | 1
2026-11-02 | Butter      |       | 250       | g    | 2.5            |
2026-11-03 | Stock cubes |       | 12        | ea   | 1.8            |
2026-11-03 | Pots        |       | 50        | ea   | 5              |

Items
Item  | Usable %
Leeks | 75

Recipes
Recipe | Uses        | Amount | Unit
Stock  | Stock cubes | 4      | ea
Soup   | Leeks       | 3      | kg
Soup   | Butter      | 200    | g
Soup   | Stock       | 2      | l

Batches
Recipe | Makes | Unit | Rejects
Stock  | 3     | l    |
Soup   | 22    | ea   | 2

Stages
Recipe   | Stage           | Minutes per batch | Minutes per unit
Soup     | Chop and simmer | 40                |
Soup pot | Fill            |                   | 1

Packaging
Product  | Uses | Amount | Unit | Per
Soup pot | Pots | 1      | ea   | unit

Products
Product  | Recipe | Units per pack | Not sold % | Current price
Soup pot | Soup   | 1              | 10         | 5.50

Overheads
Cost      | Amount | Per
Insurance | 100    | year

Outlets
Outlet | Kind  | Fee per day | Hours per day | Units sold per day | Card share % | Card fee %
Market | stall | 20          | 5             | 50                 | 50           | 2
"""
"""A stall that sells soup.

Of 22 pots 2 are rejected: 20 good, of which 10 % aren't sold: 18.
Ingredients: (2 × 6 + 1) ÷ 10 kg = 1.30 a kg of leeks, 3 ÷ 0.75 = 4 kg: 5.20; butter 2.00; stock
4 × 0.15 × 1.05 = 0.63 for 3 l, 2 l of it 0.42; in all 7.20 × 1.05 + 0.42 = 7.98, ÷ 18 = 0.4433.
Packaging: 22 × 0.10 = 2.20, ÷ 18 = 0.1222. Work: 40 min ÷ 60 × 12 × 1.10 = 8.80 and 20 min 4.40:
13.20 ÷ 18 = 0.7333. Kitchen: 60 min at 9.00, ÷ 18 = 0.50. Overheads: 100 ÷ 50 ÷ 18 = 0.1111.
Market: 20 + 5 × 12 × 1.10 = 86.00 ÷ 50 = 1.72. Cost: 34.38 ÷ 18 + 1.72 = 3.63.
Fees: half of it by card at 2 %: 1 %. 3.63 ÷ (1 − 0.40 − 0.01) = 6.1525, up to 6.20.
"""

ON = ("--on", "2026-11-25")

PACKS = (
    "Packs sold of a batch: 22 started, 2 rejected, 10 % of the good ones not sold = 18"
    "  ← Batches!B3:D3, Products!D2"
)


def book(*changed: str) -> Sheets:
    """The soup stall, with these sheets in place of its own."""
    return sheets(SOUP, *changed)


def told(*changed: str, figure: str = "charge") -> list[str]:
    """The lines of a figure, as they are printed."""
    costing = costed_sheets(book(*changed))
    name = figure_named(figure)
    assert name is not None
    lines = tell(costing, costing.structure.rows["prices"][0], name, 2)
    return [text for line in lines for text in line.in_words()]


# ------------------------------------------------------------------ whole answers


def test_a_price_in_twelve_lines_the_dearest_part_told_furthest() -> None:
    assert told() == [
        "Charge: 6.15, up to the next 0.10 = 6.20  ← Settings!B6",
        (
            "Price at the target margin: 3.63 of cost is 59 % of it, the rest a margin of 40 % and "
            "fees of 1 % = 6.15  ← Settings!B5"
        ),
        "Fees: 2 % of the 50 % paid by card = 1 %  ← Outlets!F2:G2",
        (
            "Cost: ingredients 0.44, packaging 0.12, your work 0.73, the kitchen 0.50, overheads "
            "0.11, selling 1.72 = 3.63"
        ),
        "Ingredients: 7.98 a batch, over 18 packs sold = 0.44",
        (
            "Soup, a batch: 7.20 bought, 5 % on top for small ingredients and 0.42 of recipes in "
            "it (Leeks 5.20, Butter 2.00 and Stock 0.42) = 7.98  ← Settings!B7"
        ),
        "Your work: 8.80 a batch and 4.40 on its packs (also Fill 4.40), over 18 packs sold = 0.73",
        (
            "   Chop and simmer: 40 min at 12.00 an hour and 10 % on top = 8.80"
            "  ← Stages!C2, Settings!B3, Settings!B4"
        ),
        PACKS,
        (
            "The kitchen: 60 min by the clock, in blocks of 60 min (Chop and simmer 40 min and "
            "Fill 20 min) at 9.00 an hour, over 18 packs sold = 0.50  ← Settings!B10, Settings!B9"
        ),
        "Selling: 86.00 a day, over 50 units sold = 1.72  ← Outlets!E2",
        (
            "Market, a day: 20.00 fee, 66.00 for 5 hours at 12.00 and 10 % on top = 86.00"
            "  ← Outlets!C2:D2, Settings!B3, Settings!B4"
        ),
    ]


def test_ingredients_lead_to_amount_choice_and_receipt() -> None:
    assert told(figure="ingredients") == [
        "Ingredients: 7.98 a batch, over 18 packs sold = 0.44",
        PACKS,
        (
            "Soup, a batch: 7.20 bought, 5 % on top for small ingredients and 0.42 of recipes in it"
            " = 7.98  ← Settings!B7"
        ),
        (
            "   Leeks: 3 kg ready, 75 % usable, so 4 kg bought at 1.30 a kg = 5.20"
            "  ← Recipes!C3, Items!B2, Purchases!C2:G2"
        ),
        "   Butter: 200 g at 10.00 a kg = 2.00  ← Recipes!C4, Purchases!D3:F3",
        "   Stock: 2 l of the 3 l that a batch at 0.63 gives = 0.42  ← Recipes!C5, Batches!B2",
        "      Stock, a batch: 0.60 bought, 5 % on top for small ingredients = 0.63  ← Settings!B7",
        "         Stock cubes: 4 at 0.15 each = 0.60  ← Recipes!C2, Purchases!D4:F4",
    ]


@pytest.mark.parametrize(
    ("figure", "lines"),
    [
        (
            "your work",
            [
                "Your work: 8.80 a batch and 4.40 on its packs, over 18 packs sold = 0.73",
                ("   Chop and simmer: 40 min at 12.00 an hour and 10 % on top = 8.80"
                "  ← Stages!C2, Settings!B3, Settings!B4"),
                ("   Fill: 1 min for each of 20 at 12.00 an hour and 10 % on top = 4.40"
                "  ← Stages!D3, Batches!B3:D3, Settings!B3, Settings!B4"),
                PACKS,
            ],
        ),
        (
            "packaging",
            [
                "Packaging: 2.20 a batch, over 18 packs sold = 0.12",
                ("   Pots: 1 for each unit, 22 of them, at 0.10 each = 2.20"
                "  ← Packaging!C2:E2, Batches!B3:D3, Purchases!D5:F5"),
                PACKS,
            ],
        ),
        (
            "the kitchen",
            [
                ("The kitchen: 60 min by the clock, in blocks of 60 min at 9.00 an hour, over 18 "
                "packs sold = 0.50  ← Settings!B10, Settings!B9"),
                "   Chop and simmer: 40 min  ← Stages!C2",
                "   Fill: 1 min for each of 20 = 20 min  ← Stages!D3, Batches!B3:D3",
                PACKS,
            ],
        ),
        (
            "overheads",
            [
                ("Overheads: 100.00 a year for 50 batches, over 18 packs sold = 0.11"
                "  ← Settings!B11"),
                "   Insurance: 100.00 a year  ← Overheads!B2:C2",
                PACKS,
            ],
        ),
        ("price now", ["Price now = 5.50  ← Products!E2"]),
        # 5.50 − 3.63 − 1 % of 5.50 = 1.815; ÷ 5.50 = 33 %
        ("now profit", [("Left of the price now: 5.50 without sales tax, less 3.69 of cost and fees"
                        " = 1.82")]),
        ("margin now", ["Margin now: 1.82 left of 5.50 without sales tax = 33 %"]),
        # (5.50 × 0.99 − 1.91) = 3.535 a unit; 86 ÷ 3.535 = 24.3, so 25
        ("break even", [("Units that pay for the day: 86.00 over 3.54 a unit, up to the next whole "
                        "one = 25")]),
        ("made", ["Made: ingredients + packaging + labour + kitchen + overhead = 1.91"]),
        ("price at target", ["Price at target: 6.15"]),
        ("target margin here", ["Target margin = 40 %  ← Settings!B5"]),
    ],
)  # fmt: skip
def test_each_figure_begins_in_its_own_words(figure: str, lines: list[str]) -> None:
    assert told(figure=figure)[: len(lines)] == lines


# ------------------------------------------------------------------ the person's units


KITCHEN = """
Purchases
Date       | Item   | Pack size | Unit | Price per pack
2026-11-01 | Flour  | 10        | lb   | 6.40
2026-11-01 | Milk   | 1         | gal  | 4.80
2026-11-01 | Honey  | 2         | lb   | 9
2026-11-01 | Onions | 5         | kg   | 4
2026-11-01 | Eggs   | 2 x 18    | ct   | 9
2026-11-01 | Film   | 100       | ft   | 5

Items
Item   | Usable % | Grams per ml | Grams per piece
Honey  |          | 1.4          |
Onions | 90       |              | 150

Recipes
Recipe | Uses   | Amount | Unit | Measured
Soup   | Flour  | 12     | oz   |
Soup   | Milk   | 2      | cups |
Soup   | Honey  | 100    | ml   |
Soup   | Onions | 6      | ea   | ready to use
Soup   | Eggs   | 1      | dozen |

Packaging
Product  | Uses | Amount | Unit | Per  | Spare %
Soup pot | Film | 16     | in   | pack | 5

Stages
Recipe | Stage | People | Minutes per batch | Waiting minutes | Overlap minutes | Minutes per unit
Soup   | Bake  | 2      | 15                | 40              | 30              | 0.5
"""


def test_amounts_stand_in_the_units_of_whoever_wrote_them() -> None:
    """Flour 0.64 a lb; milk 0.0625 gal × 2; honey 140 g ÷ 453.59 × 4.50 = 1.389.

    Onions: 6 × 150 g ÷ 0.9 = 1 kg; eggs: 9 ÷ 36 = 0.25 each.
    """
    found = told(KITCHEN, figure="ingredients")
    assert [line.strip() for line in found if line.startswith(" ")] == [
        "Eggs: 1 dozen at 0.25 each = 3.00  ← Recipes!C6, Purchases!C6:E6",
        (
            "Honey: 100 ml, 1.4 g a ml, so 4.94 oz bought at 4.50 a lb = 1.39"
            "  ← Recipes!C4, Items!C2, Purchases!C4:E4"
        ),
        (
            "Onions: 6 ready, 90 % usable, 150 g each, so 1 kg bought at 0.80 a kg = 0.80"
            "  ← Recipes!C5, Items!B3:D3, Purchases!C5:E5"
        ),
        "Milk: 2 cups at 4.80 a gal = 0.60  ← Recipes!C3, Purchases!C3:E3",
        "Flour: 12 oz at 0.64 a lb = 0.48  ← Recipes!C2, Purchases!C2:E2",
    ]


def test_pieces_need_no_word_and_fish_is_said_in_pounds_and_ounces() -> None:
    """5 lids for 20 packs at 5 % spare are 5.25 each: 105; 1 kg at 90 % is 39.19 oz."""
    more = KITCHEN.replace("Film | 16     | in", "Eggs | 5      | ea")
    assert told(more, figure="packaging")[1].startswith(
        "   Eggs: 5 for each pack, 20 of them and 5 % spare, so 105 bought, at 0.25 each = 26.25"
    )
    more = KITCHEN.replace("Soup   | Flour  | 12     | oz   |", "Soup | Flour | 36 | oz | ") + (
        "\nItems\nItem | Usable %\nFlour | 90"
    )
    assert "   Flour: 36 oz ready, 90 % usable, so 2 lb 8 oz bought at 0.64 a lb = 1.60" in "".join(
        told(more, figure="ingredients")
    )


def test_film_by_the_foot_and_a_stage_beside_another() -> None:
    """16 in for each of 20 packs and 5 % is 336 in, 28 ft at 0.05: 1.40.

    The stage: 15 + 0.5 × 22 = 26 minutes of two people; by the clock 26 + 40 − 30 = 36.
    """
    assert told(KITCHEN, figure="packaging")[1] == (
        "   Film: 16 in for each pack, 20 of them and 5 % spare, so 28 ft bought, at 0.05 a ft "
        "= 1.40  ← Packaging!C2:F2, Batches!B3:D3, Purchases!C7:E7"
    )
    assert told(KITCHEN, figure="labour")[1] == (
        "   Bake: 2 people, 15 min and 0.5 min for each of 22 at 12.00 an hour and 10 % on top "
        "= 11.44  ← Stages!C2:G2, Batches!B3, Settings!B3, Settings!B4"
    )
    assert told(KITCHEN, figure="kitchen")[1] == (
        "   Bake: 15 min and 0.5 min for each of 22, 40 min waiting, 30 min of it beside another "
        "stage = 36 min  ← Stages!D2:G2, Batches!B3"
    )


@pytest.mark.parametrize(
    ("measure", "like", "unit"),
    [
        (Measure.WEIGHT, ("g", "lb"), "kg"),
        (Measure.WEIGHT, ("oz", "kg"), "lb"),
        (Measure.VOLUME, ("cup", "gal"), "gal"),
        (Measure.VOLUME, ("cup", "l"), "qt"),
        (Measure.VOLUME, ("g", "ml"), "l"),
        (Measure.PIECE, ("dozen", "tray"), "ea"),
        (Measure.AREA, ("sq in",), "sq ft"),
        (Measure.LENGTH, ("m",), "m"),
    ],
)
def test_the_unit_that_a_price_is_for(measure: Measure, like: tuple[str, ...], unit: str) -> None:
    written = [each for each in map(find_unit, like) if each]
    assert read_in_like(measure, written).name == unit


# ------------------------------------------------------------------ what isn't known


def test_an_unknown_is_said_and_comes_first() -> None:
    """A cook who hasn't typed the price of saffron, nor how much milk, is told which it is."""
    recipes = (
        "Recipes\nRecipe | Uses | Amount | Unit\nSoup | Leeks | 3 | kg\nSoup | Saffron | 1 | g"
    )
    more = "\nSoup | Butter | | g"
    assert told(recipes + more, figure="ingredients") == [
        "Ingredients: ? a batch, over 18 packs sold = ?; missing: Saffron (price)",
        PACKS,
        "Soup, a batch: ? bought, 5 % on top for small ingredients = ?  ← Settings!B7",
        "   Saffron: 1 g at ? = ?; missing: Saffron (price)  ← Recipes!C3",
        "   Butter: ? at 10.00 a kg = ?; missing: Butter (amount)  ← Recipes!C4, Purchases!D3:F3",
        (
            "   Leeks: 3 kg ready, 75 % usable, so 4 kg bought at 1.30 a kg = 5.20"
            "  ← Recipes!C2, Items!B2, Purchases!C2:G2"
        ),
    ]


def test_a_row_of_nobodys_leads_to_its_name() -> None:
    stages = "Stages\nRecipe | Stage | Minutes per batch\nSoop | Chop | 40"
    assert told(stages, figure="labour")[:2] == [
        "Your work: ? a batch, over 18 packs sold = ?; missing: Chop (whose work?)",
        "   Chop = ?; missing: Chop (whose work?)  ← Stages!A2",
    ]


def test_a_part_that_is_not_counted_is_no_zero() -> None:
    """Without rows on Stages there is no price to charge: it is the least to ask."""
    bare = {name: rows for name, rows in book().items() if name != "Stages"}
    costing = costed_sheets(bare)
    lines = [line.words for line in tell(costing, costing.structure.rows["prices"][0],
                                         "price_on_step", 2)]  # fmt: skip
    assert lines[0].endswith("at least, without: your work")
    cost = next(line for line in lines if line.startswith("Cost: "))
    assert "your work not counted, the kitchen " in cost
    only = tell(costing, costing.structure.rows["prices"][0], "labour", 2)
    assert [line.words for line in only] == ["Your work: not counted, no rows on Stages"]


def test_money_below_half_a_coin_does_not_look_like_none() -> None:
    recipes = "Recipes\nRecipe | Uses | Amount | Unit\nSoup | Butter | 0.3 | g"
    assert told(recipes, figure="ingredients")[-1] == (
        "   Butter: 0.3 g at 10.00 a kg = 0.003  ← Recipes!C2, Purchases!D3:F3"
    )
    assert told(recipes, figure="ingredients")[0].endswith("a batch, over 18 packs sold = 0.000175")


# ------------------------------------------------------------------ how much is told


def test_of_many_rows_the_dearest_are_told_and_the_others_counted() -> None:
    """Twenty lines of 1 to 20 g of butter: 0.01 to 0.20, in all 2.10."""
    lines = "\n".join(f"Soup | Butter | {grams} | g" for grams in range(1, 21))
    found = told(f"Recipes\nRecipe | Uses | Amount | Unit\n{lines}", figure="ingredients")
    assert len(found) == MOST_LINES
    assert found[2] == (
        "Soup, a batch: 2.10 bought, 5 % on top for small ingredients "
        "(also Butter 0.11, Butter 0.10, Butter 0.09 and 8 more) = 2.21  ← Settings!B7"
    )
    assert [line.partition(" = ")[2][:4] for line in found[3:]] == [
        "0.20", "0.19", "0.18", "0.17", "0.16", "0.15", "0.14", "0.13", "0.12"
    ]  # fmt: skip


def test_a_recipe_of_recipes_deeper_than_calls_may_be_is_told_as_shortly() -> None:
    depth = 1200
    lines = "\n".join(f"R{at} | R{at - 1} | 1 | l" for at in range(1, depth + 1))
    makes = "\n".join(f"R{at} | 2 | l" for at in range(depth + 1))
    found = told(
        f"Recipes\nRecipe | Uses | Amount | Unit\nR0 | Butter | 10 | g\n{lines}",
        f"Batches\nRecipe | Makes | Unit\n{makes}",
        f"Products\nProduct | Recipe | Units per pack\nSoup pot | R{depth} | 1 l",
        figure="ingredients",
    )
    assert MOST_LINES <= len(found) <= MOST_LINES + 1


def test_cells_of_one_row_are_a_range_and_choices_stand_alone() -> None:
    cells = [
        SourceCell("Purchases", "Z2"),
        SourceCell("Purchases", "D2"),
        SourceCell("Settings", "B3", upright=True),
        SourceCell("Purchases", "AA2"),
        SourceCell("Settings", "B4", upright=True),
        SourceCell("Purchases", "D3"),
    ]
    assert together(cells) == ["Purchases!D2:AA2", "Settings!B3", "Settings!B4", "Purchases!D3"]


# ------------------------------------------------------------------ the command


def test_the_command_prints_the_answer_its_doubts_and_what_else_there_is(tmp_path: Path) -> None:
    purchases = """
Purchases
Date       | Item   | Pack size | Unit | Price per pack
2026-11-01 | Leeks  | 5         | kg   | 6
2026-08-01 | Butter | 250       | g    | 2.5
2026-11-03 | Pots   | 50        | ea   | 5
2026-08-01 | Sugar  | 1         | kg   | 1
"""
    recipes = "Recipes\nRecipe | Uses | Amount | Unit\nSoup | Leeks | 3 | kg\nSoup | Butter | 2 | g"
    batches = "Batches\nRecipe | Makes | Unit | Rejects\nSoup | 22 | ea | 2"
    path = save(book(purchases, recipes, batches), tmp_path)
    code, out, err = run("explain", path, "soup pot", "ingredients", *ON)
    assert (code, err) == (
        0, "stall.xlsx: 1 other thing to look at: `costbook check stall.xlsx` lists it.\n",
    )  # fmt: skip
    lines = out.splitlines()
    assert lines[0] == "Soup pot at Market, a pack sold, in GBP:"
    at = next(number for number, line in enumerate(lines) if line.startswith("   Butter"))
    assert lines[at : at + 2] == [
        "   Butter: 2 g at 10.00 a kg = 0.02  ← Recipes!C3, Purchases!C3:E3",
        (
            "      check: Purchases!A3: the price of Butter is 116 days old. Type a newer "
            "receipt when you have one."
        ),
    ]
    assert f'One part of it: costbook explain {path} "Soup pot" ingredients' in lines
    assert f'Every step: costbook explain {path} "Soup pot" --all' in lines


def answer(path: Path, *words: str) -> Any:
    return json.loads(run("explain", path, "Soup pot", *words, "--json", *ON)[1])


def test_json_has_the_same_answer(tmp_path: Path) -> None:
    path = save(book(), tmp_path)
    found = answer(path, "ingredients")
    assert [line["words"] for line in found["lines"]] == [
        line.partition("  ←")[0].strip() for line in told(figure="ingredients")
    ]
    assert found["lines"][3] == {
        "depth": 1,
        "figure": "Line cost",
        "of": "Leeks",
        "value": 5.2,
        "words": "Leeks: 3 kg ready, 75 % usable, so 4 kg bought at 1.30 a kg = 5.20",
        "cells": ["Recipes!C3", "Items!B2", "Purchases!C2:G2"],
        "problems": [],
    }
    assert (found["product"], found["outlet"], found["figure"]) == (
        "Soup pot", "Market", "ingredients",
    )  # fmt: skip
    assert "steps" not in found
    steps = answer(path, "ingredients", "--all")["steps"]
    assert steps[0]["figure"] == "Ingredients"
    assert {"depth": 6, "figure": "Amount", "of": "Leeks", "value": 3,
            "rule": "Recipes, Amount", "cell": "Recipes!C3"} in steps  # fmt: skip


def test_every_step_reaches_the_cells_that_stand_in_for_blank_ones(tmp_path: Path) -> None:
    """A share on Items, a target on Settings, and the count in `2 x 18` were once passed over."""
    path = save(book(KITCHEN), tmp_path)
    _, out, _ = run("explain", path, "Soup pot", "--all", *ON)
    steps = [line.strip() for line in out.splitlines()]
    assert "Usable share [Onions]: 90.0 %  ← Items!B3" in steps
    assert "Target margin: 40.0 %  ← Settings!B5" in steps
    assert "Pack count [Eggs]: 2  ← Purchases!C6" in steps
    assert "1 ml is, g [Honey]: 1.4  ← Items!C2" in steps


# ------------------------------------------------------------------ the declarations


def test_whatever_is_declared_to_be_told_can_be_said_without_a_word_of_code() -> None:
    texts = [
        text
        for words in FIGURES_TOLD.values()
        for told in words.values()
        for text in (told.within, told.name, told.words, told.so)
    ]
    bare = [ASKED.sub("", text.replace(NOT_TOLD, "")) for text in texts]
    assert [text for text in bare if re.search(r"[_*{}\[\]]", text)] == []
