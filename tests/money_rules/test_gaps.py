"""What is not there is never a zero: each sum stands beside its figure."""

from __future__ import annotations

from tests.helpers import priced, product_of
from tests.money_rules.wraps import WRAPS, answer, said
from tests.tables import Sheets, close, sheets


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
    assert product_of(found, "Single")["complete"]
    pie = product_of(found, "Pie one")
    assert (pie["price"]["at_target_margin"], pie["at_current"]["profit"]) == (None, None)
    close(pie["price"]["current"], "1")
