"""What is not there is never a zero: each sum stands beside its figure."""

from __future__ import annotations

from typing import Any

import pytest

from tests.helpers import priced, product_of
from tests.money_rules.wraps import WRAPS, answer, said
from tests.tables import Sheets, close, row_of, sheets


def test_the_four_sheets_are_enough_and_other_costs_are_not_counted() -> None:
    four: Sheets = sheets(WRAPS)
    del four["Settings"]
    wrap = product_of(priced(four), "Single")
    assert wrap["outlet"] is None
    assert {part: wrap["cost"][part] for part in ("packaging", "labour", "kitchen")} == {
        "packaging": 0, "labour": 0, "kitchen": 0,
    }  # fmt: skip
    assert (wrap["cost"]["overhead"], wrap["cost"]["selling"]) == (0, 0)
    close(wrap["cost"]["total"], "0.10")
    assert wrap["price"] == {"at_target_margin": None, "on_step": None, "current": None}
    assert wrap["break_even_units_per_day"] is None


def test_unknown_pay_leaves_labour_unknown_and_costs_the_rest() -> None:
    found = answer("Stages\nRecipe | Stage | Minutes per batch\nWrap | Roll | 30")
    wrap = product_of(found, "Single")
    assert (wrap["cost"]["labour"], wrap["cost"]["total"]) == (None, None)
    close(wrap["cost"]["ingredients"], "0.10")
    close(wrap["cost"]["known"], "0.10")
    assert not wrap["complete"]


def test_a_missing_price_is_null_named_and_not_zero() -> None:
    found = answer("""
        Recipes
        Recipe | Uses  | Amount | Unit
        Wrap   | Flour | 600    | g
        Wrap   | Salt  | 10     | g

        Batches
        Recipe | Makes | Unit
        Wrap   | 12    | ea
        Plain  | 12    | ea
    """)
    wrap = product_of(found, "Single")
    assert (wrap["cost"]["ingredients"], wrap["cost"]["total"]) == (None, None)
    close(wrap["cost"]["known"], "0.10")
    assert "Salt" in str(wrap["missing"])
    assert said(found, "Recipes", "B3")


def test_an_unknown_part_stays_with_what_rests_on_it() -> None:
    """One product lacks a price; the other is whole."""
    found = answer("""
        Settings
        Setting         | Value
        Currency        | USD
        Target margin % | 50

        Recipes
        Recipe | Uses  | Amount | Unit
        Wrap   | Flour | 600    | g
        Pie    | Salt  | 10     | g

        Batches
        Recipe | Makes | Unit
        Wrap   | 12    | ea
        Pie    | 12    | ea

        Products
        Product | Recipe | Current price | Units per pack
        Single  | Wrap   | 1 | 1
        Pie one | Pie    | 1 | 1
    """)
    close(product_of(found, "Single")["price"]["at_target_margin"], "0.20")
    assert product_of(found, "Single")["missing"] == []
    pie = product_of(found, "Pie one")
    assert (pie["price"]["at_target_margin"], pie["at_current"]["profit"]) == (None, None)
    close(pie["price"]["current"], "1")


# Figures that can't be, and are not passed on as if they were


def test_a_batch_of_which_nothing_is_sold_is_named_as_missing() -> None:
    found = answer("Products\nProduct|Recipe|Units per pack|Not sold %\nSingle|Wrap|1|100")
    wrap = product_of(found, "Single")
    assert (wrap["cost"]["ingredients"], wrap["complete"]) == (None, False)
    assert wrap["missing"]
    assert said(found, "Products", "D2")


def test_a_discount_larger_than_the_price_never_makes_a_price_below_zero() -> None:
    found = answer("""
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack | Other cost
        2026-11-01 | Flour | 1         | kg   | 2.00           | -3.00
    """)
    price = row_of(found, "item", "Flour")["price_per_base_unit"]
    assert price is None or price >= 0
    assert any(problem["sheet"] == "Purchases" for problem in found["problems"])


def test_an_overlap_longer_than_the_stage_never_earns_kitchen_hire() -> None:
    found = answer(
        "Settings\nSetting|Value\nCurrency|USD\nPay per hour|12\nKitchen hire per hour|18",
        "Stages\nRecipe|Stage|Minutes per batch|Overlap minutes\nWrap|Roll|10|30",
    )
    kitchen = product_of(found, "Single")["cost"]["kitchen"]
    assert kitchen is None or kitchen >= 0
    assert any(problem["sheet"] == "Stages" for problem in found["problems"])


def test_a_kind_of_outlet_that_is_none_is_asked() -> None:
    found = answer("Outlets\nOutlet|Kind|Fee per day|Units sold per day\nFair|shop|10|10")
    assert said(found, "Outlets", "B2")


def test_half_the_price_as_a_card_fee_is_said() -> None:
    """0.5 typed for half a percent is read as half of the price: used, and said."""
    found = answer(
        "Settings\nSetting|Value\nCurrency|USD\nTarget margin %|30",
        "Outlets\nOutlet|Card share %|Card fee %|Hours per day\nMarket|100|0.5|0",
    )
    close(product_of(found, "Single")["price"]["at_target_margin"], "0.50")  # 0.10 / 0.20
    assert said(found, "Outlets", "C2")


@pytest.mark.parametrize("heading", ["Minutes per batch", "Minutes per unit", "Waiting minutes"])
def test_a_stage_with_minutes_of_any_kind_is_no_gap(heading: str) -> None:
    found = answer(f"Stages\nRecipe | Stage | {heading}\nWrap | Roll | 5")
    assert "the stage has no minutes" not in str(found["problems"])


PARTS_OF_ONE = """
Products
Recipe | Product | Units per pack
Wrap   | Single  | 1
Wrap   | Pair    | 2

Packaging
Product | Uses | Amount | Unit
Single  | Film | 0      | m
"""


def asked_of_parts(found: dict[str, Any]) -> list[tuple[str, str]]:
    """Where it is asked for work or packaging, and the first words of that."""
    return [
        (f"{each['sheet']}!{each['cell']}", each["what"].partition(", so ")[0])
        for each in found["problems"]
        if "has no row for" in each["what"]
    ]


def test_work_of_a_products_own_is_not_asked_for_and_what_is_stands_at_its_name() -> None:
    found = answer(
        f"{PARTS_OF_ONE}\n    Stages\nRecipe | Stage | Minutes per unit\nSingle | Wrap | 1"
    )
    assert asked_of_parts(found) == [
        ("Products!B3", 'Stages has no row for "Pair" or its recipe'),
        ("Products!B3", 'Packaging has no row for "Pair"'),
    ]
