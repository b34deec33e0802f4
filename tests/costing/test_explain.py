"""The chain from a price down to the receipts: every figure once, with its rule and its cell."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest

from costbook.costing.engine import Costing
from costbook.costing.explain import FIGURES, Step, explain, figure_named
from costbook.definitions.columns import Show
from costbook.definitions.workings import TABLES
from tests.costing.costed import costed

D = Decimal

SETTINGS = "Settings\nSetting | Value\nCurrency | USD\nTarget margin % | 50"


def steps(costing: Costing, figure: str) -> list[Step]:
    return list(explain(costing, costing.structure.rows["prices"][0], figure))


def test_ingredients_lead_down_to_the_receipt() -> None:
    """600 g of flour at 2.00 a kilogram is 1.20; over twelve wraps 0.10."""
    found = steps(costed(), "ingredients")
    assert [each.name for each in found[:2]] == ["Ingredients", "Batch cost"]
    assert [each.value for each in found[:2]] == [D("0.1"), D("1.2")]
    by_name = {each.name: each for each in found}
    assert by_name["Ingredients"].rule == "batch cost ÷ packs sold"
    assert str(by_name["Amount"].cell) == "Recipes!C2"
    assert str(by_name["Price per pack"].cell) == "Purchases!E2"
    assert str(by_name["Pack size"].cell) == "Purchases!C2"
    assert str(by_name["Makes"].cell) == "Batches!B2"
    assert by_name["Price per base unit"].value == D("0.002")
    assert by_name["Line cost"].subject == "Flour"


def test_each_figure_is_told_once_and_then_referred_to() -> None:
    """Two recipes take the same sauce: its cost is told under the first."""
    costing = costed(
        "Recipes\nRecipe | Uses | Amount | Unit\nSauce | Flour | 600 | g\n"
        "Wrap | Sauce | 1 | kg\nWrap | Sauce | 1 | kg",
        "Batches\nRecipe | Makes | Unit\nSauce | 2 | kg\nWrap | 12 | ea",
    )
    found = [each for each in steps(costing, "ingredients") if each.name == "Batch cost"]
    assert [(each.subject, each.rule == "as above") for each in found] == [
        ("Wrap", False), ("Sauce", False), ("Sauce", True),
    ]  # fmt: skip


def test_a_figure_told_again_has_nothing_below_it() -> None:
    found = steps(costed(SETTINGS), "price_on_step")
    for each, following in pairwise(found):
        if each.rule == "as above":
            assert following.depth <= each.depth


def test_no_step_goes_deeper_than_one_level_at_a_time() -> None:
    found = steps(costed(SETTINGS), "price_on_step")
    assert found[0].depth == 0
    assert all(b.depth <= a.depth + 1 for a, b in pairwise(found))


def test_what_is_unknown_is_told_as_unknown() -> None:
    costing = costed("Recipes\nRecipe | Uses | Amount | Unit\nWrap | Salt | 10 | g")
    found = {each.name: each.value for each in steps(costing, "ingredients")}
    assert found["Ingredients"] is None
    assert found["Line cost"] is None
    assert found["Price per base unit"] is None


def test_a_chain_of_recipes_may_be_longer_than_calls_may_be_deep() -> None:
    depth = 1200
    lines = "\n".join(f"R{at} | R{at - 1} | 1 | kg" for at in range(1, depth + 1))
    makes = "\n".join(f"R{at} | 2 | kg" for at in range(depth + 1))
    costing = costed(
        f"Recipes\nRecipe | Uses | Amount | Unit\nR0 | Flour | 600 | g\n{lines}",
        f"Batches\nRecipe | Makes | Unit\n{makes}",
        f"Products\nProduct | Recipe | Units per pack\nSingle | R{depth} | 1",
    )
    found = steps(costing, "ingredients")
    assert max(each.depth for each in found) > depth
    assert sum(each.name == "Price per pack" for each in found) == 1


# ------------------------------------------------------------------ naming a figure

NAMES = {
    "price on step": "price_on_step",
    "  Price on STEP ": "price_on_step",
    "price_on_step": "price_on_step",
    "selling": "selling",
    "Target margin here": "applied_target_margin",
    "applied_target_margin": "applied_target_margin",
    "advice": None,
    "": None,
}


@pytest.mark.parametrize("typed", NAMES)
def test_a_figure_is_known_by_its_name_and_by_its_heading(typed: str) -> None:
    assert figure_named(typed) == NAMES[typed]


def test_every_number_of_a_price_can_be_explained() -> None:
    numbers = {each.name for each in TABLES["prices"].columns if each.show is not Show.TEXT}
    assert FIGURES.keys() == numbers
    costing = costed(SETTINGS)
    for figure in FIGURES:
        first = steps(costing, figure)[0]
        assert first.value == costing.figures["prices"][0][figure], figure
