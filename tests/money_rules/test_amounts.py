"""Shares, kinds of measure, bridges and shares as typed: each sum stands beside its figure."""

from __future__ import annotations

import pytest

from tests.helpers import product_of
from tests.money_rules.wraps import answer, costs, said
from tests.tables import close, row_of


def test_the_plain_wrap() -> None:
    close(costs()["ingredients"], "0.10")
    close(costs()["total"], "0.10")


# Usable shares and what an amount is measured as


def test_ready_to_use_is_the_price_over_the_usable_share() -> None:
    # 600 g x 0.002 / 0.80 = 1.50, a twelfth is 0.125
    close(costs("Items\nItem | Usable %\nFlour | 80")["ingredients"], "0.125")


def test_as_bought_needs_no_share() -> None:
    as_bought = "Recipes\nRecipe|Uses|Amount|Unit|Measured\nWrap|Flour|600|g|as bought"
    close(costs("Items\nItem | Usable %\nFlour | 80", as_bought)["ingredients"], "0.10")


def test_the_lines_own_share_replaces_the_items() -> None:
    # 600 g x 0.002 / 0.50 = 2.40, a twelfth is 0.20
    own = "Recipes\nRecipe|Uses|Amount|Unit|Usable %\nWrap|Flour|600|g|50"
    close(costs("Items\nItem | Usable %\nFlour | 80", own)["ingredients"], "0.20")


def test_cooking_that_gains_weight_has_a_share_above_one() -> None:
    # rice: 600 g cooked at 2.5 times its weight is 240 g dry: 0.48, a twelfth is 0.04
    close(costs("Items\nItem | Usable %\nFlour | 2.5")["ingredients"], "0.04")
    close(costs("Items\nItem | Usable %\nFlour | 250")["ingredients"], "0.04")


def test_a_share_of_zero_is_a_fault() -> None:
    found = answer("Items\nItem | Usable %\nFlour | 0")
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert said(found, "Items", "B2")


def test_pieces_are_as_bought_unless_the_line_says_otherwise() -> None:
    # 3 eggs at 0.25 = 0.75, a twelfth is 0.0625; ready to use: / 0.88
    eggs = """
        Purchases
        Date       | Item | Pack size | Unit | Price per pack
        2026-11-01 | Eggs | 12        | ct   | 3.00

        Items
        Item | Usable %
        Eggs | 88
        """
    close(costs(eggs, "Recipes\nRecipe|Uses|Amount|Unit\nWrap|Eggs|3|ea")["ingredients"], "0.0625")
    ready = "Recipes\nRecipe|Uses|Amount|Unit|Measured\nWrap|Eggs|3|ea|ready to use"
    close(costs(eggs, ready)["ingredients"], 0.0625 / 0.88)


# Shares as they are typed


@pytest.mark.parametrize(("typed", "usable"), [(89, "0.89"), (0.89, "0.89"), (1, "1"), (5, "5")])
def test_a_usable_share_above_five_is_a_percentage(typed: float, usable: str) -> None:
    found = answer(f"Items\nItem | Usable %\nFlour | {typed}")
    close(row_of(found, "item", "Flour")["usable_share"], usable)


@pytest.mark.parametrize("typed", [20, 0.20])
def test_any_other_share_above_one_is_a_percentage(typed: float) -> None:
    close(
        costs(f"Products\nProduct|Recipe|Units per pack|Not sold %\nSingle|Wrap|1| {typed}")[
            "ingredients"
        ],
        "0.125",
    )


def test_a_share_of_one_is_all_of_it_and_said() -> None:
    found = answer("Items\nItem | Usable %\nFlour | 1")
    close(product_of(found, "Single")["cost"]["ingredients"], "0.10")
    assert said(found, "Items", "B2")


# Bridges


def test_a_piece_is_the_piece_as_bought() -> None:
    # 440 g ready to use / 0.88 = 500 g in the shell / 50 g = 10 eggs at 0.30 = 3.00; 0.25 each
    eggs = """
        Purchases
        Date       | Item | Pack size | Unit  | Price per pack
        2026-11-01 | Eggs | 1         | dozen | 3.60

        Items
        Item | Usable % | Grams per piece
        Eggs | 88       | 50

        Recipes
        Recipe | Uses | Amount | Unit
        Wrap   | Eggs | 440    | g
        """
    close(costs(eggs)["ingredients"], "0.25")


def test_weight_bought_and_volume_used_meet_over_the_density() -> None:
    # 300 ml x 0.5 g = 150 g x 0.002 = 0.30, a twelfth is 0.025
    used = "Recipes\nRecipe|Uses|Amount|Unit\nWrap|Flour|300|ml"
    close(costs("Items\nItem | Grams per ml\nFlour | 0.5", used)["ingredients"], "0.025")


def test_volume_used_and_pieces_bought_meet_over_both() -> None:
    # 600 ml x 1.05 g = 630 g / 35 g = 18 tomatoes at 0.20 = 3.60, a twelfth is 0.30
    used = """
        Purchases
        Date       | Item   | Pack size | Unit | Price per pack
        2026-11-01 | Tomato | 10        | ea   | 2.00

        Items
        Item   | Grams per ml | Grams per piece
        Tomato | 1.05         | 35

        Recipes
        Recipe | Uses   | Amount | Unit
        Wrap   | Tomato | 600    | ml
        """
    close(costs(used)["ingredients"], "0.30")


def test_no_bridge_no_figure_and_the_rest_is_costed() -> None:
    found = answer("""
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1000      | g    | 2.00
        2026-11-01 | Milk  | 1         | kg   | 1.00

        Recipes
        Recipe | Uses  | Amount | Unit
        Wrap   | Flour | 600    | g
        Wrap   | Milk  | 200    | ml
    """)
    wrap = product_of(found, "Single")
    assert wrap["cost"]["ingredients"] is None
    assert wrap["cost"]["total"] is None
    close(wrap["cost"]["known"], "0.10")  # the flour
    assert (wrap["complete"], bool(wrap["missing"])) == (False, True)
    assert any("rams per ml" in sentence for sentence in said(found, "Recipes", "D3"))


def test_two_words_for_a_piece_of_one_item_are_asked() -> None:
    found = answer("""
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Bread | 1         | loaf | 2.00

        Recipes
        Recipe | Uses  | Amount | Unit
        Wrap   | Bread | 12     | slice
    """)
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert any(problem["severity"] == "wrong" for problem in found["problems"])
