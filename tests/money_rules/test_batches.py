"""Recipes in recipes, work, kitchen, and what is sold of it: each sum beside its figure."""

from __future__ import annotations

from tests.helpers import product_of
from tests.money_rules.wraps import answer, costs
from tests.tables import close, row_of

# Recipes in recipes

NESTED = """
Settings
Setting                      | Value
Currency                     | USD
Pay per hour                 | 12
Pay on-costs %               | 25
Kitchen hire per hour        | 18
Kitchen booking block minutes | 15
Small-ingredient allowance % | 10

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 1000      | g    | 2.00
2026-11-01 | Beans | 1         | kg   | 4.00

Recipes
Recipe | Uses    | Amount | Unit
Wrap   | Filling | 450    | g
Wrap   | Flour   | 600    | g
Filling | Beans  | 1.5    | kg

Batches
Recipe  | Makes | Unit | Rejects
Wrap    | 12    | ea   |
Filling | 2     | kg   | 0.2

Stages
Recipe  | Stage | People | Minutes per batch | Minutes per unit | Waiting minutes | Overlap minutes
Wrap    | Fill  | 2      | 6                 | 1.5              |                 |
Filling | Stew  |        | 40                |                  | 60              | 30
Single  | Label |        |                   | 0.5              |                 |
"""


def test_a_recipe_in_a_recipe_costs_its_share_of_the_good_amount() -> None:
    found = answer(NESTED)
    # beans 1.5 kg x 4.00 x 1.10 = 6.60 a batch of filling; good 1.8 kg
    close(row_of(found, "recipe", "Filling")["batch_cost"], "6.60")
    # a quarter (450 g of 1.8 kg) is 1.65, without a second allowance; flour 1.20 x 1.10 = 1.32
    close(row_of(found, "recipe", "Wrap")["batch_cost"], "2.97")
    close(product_of(found, "Single")["cost"]["ingredients"], "0.2475")


def test_it_brings_its_labour_in_the_same_share() -> None:
    # fill 2 people x (6 + 12 x 1.5) = 48; stew 40 / 4 = 10; labels 12 x 0.5 = 6: 64 minutes
    # 64 x 12 / 60 x 1.25 = 16.00, a twelfth is 1.3333
    close(product_of(answer(NESTED), "Single")["cost"]["labour"], "4/3")


def test_it_brings_its_clock_and_the_kitchen_is_rounded_once() -> None:
    # clock: fill 24; stew (40 + 60 - 30) / 4 = 17.5; labels 6: 47.5 minutes, booked as 60: 18.00
    close(product_of(answer(NESTED), "Single")["cost"]["kitchen"], "1.50")


def test_an_exact_block_is_one_block() -> None:
    # 3 x 0.1 minutes of binary noise above 30 would book an hour: 12 x 2.5 = 30 minutes, 9.00
    found = costs(
        """
        Settings
        Setting                       | Value
        Currency                      | USD
        Kitchen hire per hour         | 18
        Kitchen booking block minutes | 30
        Pay per hour                  | 0

        Stages
        Recipe | Stage | Minutes per batch | Minutes per unit
        Wrap   | A     | 0.1               | 2.4
        Wrap   | B     | 0.2               |
        Wrap   | C     | 0.9               |
        """
    )
    close(found["kitchen"], "0.75")  # 0.1 + 28.8 + 0.2 + 0.9 = 30


def test_without_blocks_the_kitchen_is_by_the_minute() -> None:
    found = costs(
        """
        Settings
        Setting               | Value
        Currency              | USD
        Kitchen hire per hour | 18
        Pay per hour          | 0

        Stages
        Recipe | Stage | Minutes per batch
        Wrap   | A     | 20
        """
    )
    close(found["kitchen"], "0.50")  # 20 / 60 x 18 = 6.00, a twelfth


def test_a_stage_may_have_its_own_pay() -> None:
    # 30 minutes at 24 = 12.00, 30 at 12 = 6.00: 18.00, a twelfth is 1.50
    found = costs(
        """
        Settings
        Setting      | Value
        Currency     | USD
        Pay per hour | 12

        Stages
        Recipe | Stage | Minutes per batch | Pay per hour
        Wrap   | Roll  | 30                | 24
        Wrap   | Wash  | 30                |
        """
    )
    close(found["labour"], "1.50")


def test_waiting_is_not_paid() -> None:
    found = costs(
        """
        Settings
        Setting      | Value
        Currency     | USD
        Pay per hour | 12

        Stages
        Recipe | Stage | Minutes per batch | Waiting minutes
        Wrap   | Prove | 5                 | 90
        """
    )
    close(found["labour"], 5 * 12 / 60 / 12)


def test_a_loop_is_named_and_nothing_that_rests_on_it_is_guessed() -> None:
    found = answer("""
        Recipes
        Recipe  | Uses    | Amount | Unit
        Wrap    | Filling | 1      | kg
        Filling | Sauce   | 1      | kg
        Sauce   | Filling | 1      | kg

        Batches
        Recipe  | Makes | Unit
        Wrap    | 12    | ea
        Filling | 2     | kg
        Sauce   | 2     | kg
    """)
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert any(
        "Filling" in problem["what"] and "Sauce" in problem["what"] for problem in found["problems"]
    )


# Started, good, sold


def test_a_batchs_cost_is_carried_by_what_is_sold() -> None:
    # 1.20 / ((12 - 2) x 0.80) = 0.15
    close(
        costs(
            "Batches\nRecipe | Makes | Unit | Rejects\nWrap | 12 | ea | 2",
            "Products\nProduct|Recipe|Units per pack|Not sold %\nSingle|Wrap|1| 20",
        )["ingredients"],
        "0.15",
    )


def test_a_six_pack_holds_six_and_part_packs_count_as_parts() -> None:
    # 1.20 / 10 good = 0.12 each; six are 0.72, though ten make no whole number of packs
    found = answer(
        "Batches\nRecipe | Makes | Unit | Rejects\nWrap | 12 | ea | 2",
        "Products\nProduct | Recipe | Units per pack\nSix | Wrap | 6",
    )
    six = product_of(found, "Six")
    close(six["cost"]["ingredients"], "0.72")
    assert six["units_per_pack"] == 6


def test_nothing_left_to_sell_is_a_fault() -> None:
    found = answer("Batches\nRecipe | Makes | Unit | Rejects\nWrap | 12 | ea | 12")
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert any(problem["severity"] == "wrong" for problem in found["problems"])
