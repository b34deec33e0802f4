"""Batches in other words than pieces: by the dozen, by weight or volume, and what a pack holds."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from tests.helpers import product_of
from tests.money_rules.wraps import answer, costs, said, single
from tests.tables import close, row_of

# ---------------------------------------------------------------- pieces, whatever the word


@pytest.mark.parametrize(
    ("makes", "good"),
    [
        ("2 | dozen | 1", 23),
        ("2 | dozen |", 24),
        ("2 dozen | | 1", 23),
        ("1 | tray | 2", 28),
        ("24 | ea | 1", 23),
    ],
)
def test_a_batch_in_pieces_counts_pieces(makes: str, good: int) -> None:
    # flour 1.20 over the good rolls; a reject is one roll
    found = answer(f"Batches\nRecipe | Makes | Unit | Rejects\nWrap | {makes}")
    close(product_of(found, "Single")["cost"]["ingredients"], f"6/{5 * good}")
    assert row_of(found, "recipe", "Wrap")["unit"] == "ea"
    close(row_of(found, "recipe", "Wrap")["unit_cost"], f"6/{5 * good}")
    assert said(found, "Batches", "D2") == []


def test_packaging_and_minutes_count_the_pieces_of_dozens() -> None:
    found = costs(
        """
        Settings
        Setting      | Value
        Pay per hour | 12

        Batches
        Recipe | Makes | Unit
        Wrap   | 2     | dozen

        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Flour | 1000      | g    | 2.00
        2026-11-01 | Bag   | 100       | ct   | 5.00

        Packaging
        Product | Uses | Amount | Unit | Per
        Single  | Bag  | 1      | ea   | unit

        Stages
        Recipe | Stage | Minutes per unit
        Wrap   | Roll  | 1
        """.replace("        ", "")
    )
    close(found["packaging"], "0.05")  # 5.00 / 100
    close(found["labour"], "0.20")  # a minute of 12.00 an hour


def test_half_a_dozen_rejects_are_not_more_than_two_dozen() -> None:
    found = answer("Batches\nRecipe | Makes | Unit | Rejects\nWrap | 2 | dozen | 6")
    close(product_of(found, "Single")["cost"]["ingredients"], "1/15")  # 1.20 / 18


def test_all_rejected_is_asked() -> None:
    found = answer("Batches\nRecipe | Makes | Unit | Rejects\nWrap | 2 | dozen | 24")
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert said(found, "Batches", "D2") == [
        (
            "the rejects are all that the batch makes, so nothing is left to sell. "
            "Correct Makes or Rejects."
        )
    ]


def test_a_pack_of_pieces_may_be_given_in_words() -> None:
    # 0.10 each, a dozen in the pack
    found = single("Products\nProduct | Recipe | Units per pack\nSingle | Wrap | 1 dozen")
    assert found["units_per_pack"] == 12
    close(found["cost"]["ingredients"], "1.20")


def test_a_net_weight_on_the_label_of_pieces_changes_nothing() -> None:
    found = answer(
        "Products\nProduct | Recipe | Units per pack | Net weight | Net weight unit\n"
        "Single | Wrap | 1 | 250 | g"
    )
    close(product_of(found, "Single")["cost"]["ingredients"], "0.10")
    assert product_of(found, "Single")["units_per_pack"] == 1


# ---------------------------------------------------------------- by weight or volume

RELISH = """
Settings
Setting      | Value
Currency     | USD
Pay per hour | 12

Purchases
Date       | Item   | Pack size | Unit | Price per pack
2026-11-01 | Onions | 10        | kg   | 12.00
2026-11-01 | Jar    | 12        | ct   | 6.00

Recipes
Recipe | Uses   | Amount | Unit
Relish | Onions | 4      | kg

Batches
Recipe | Makes | Unit
Relish | 2400  | g

Stages
Recipe | Stage | Minutes per unit
Relish | Fill  | 2

Packaging
Product | Uses | Amount | Unit | Per
Jar     | Jar  | 1      | ea   | unit

Products
Product | Recipe | Units per pack
Jar     | Relish | 250 g

Outlets
Outlet | Fee per day | Hours per day | Units sold per day
Market | 40          | 0             | 40
"""


def products(*rows: str) -> str:
    """The sheet Products with these rows: units per pack, net weight and its unit."""
    headings = "Product | Recipe | Units per pack | Net weight | Net weight unit"
    names = ("Jar", "Tub", "Pot")
    lines = (f"{name} | Relish | {row}" for name, row in zip(names, rows, strict=False))
    return "\n".join(("Products", headings, *lines))


def jar(*texts: str) -> dict[str, Any]:
    return product_of(answer(RELISH, *texts), "Jar", "Market")


@pytest.mark.parametrize(
    "pack",
    [
        "250 g | |",
        "0.25 kg | |",
        "1 | 250 | g",
        "| 250 | g",
        "1 | 250 g |",  # said, as any unit in the text of a cell
        "250 | 250 | g",  # the number is the same amount in the batch's unit
    ],
)
def test_a_batch_by_weight_is_sold_by_the_amount_in_a_pack(pack: str) -> None:
    # 2,400 g are 9.6 jars of 250 g; onions 4.80 / 9.6; a jar each 0.50; 2 minutes each of 12.00
    # an hour; a fee of 40 over 40 jars a day
    found = answer(RELISH, products(pack))
    sold = product_of(found, "Jar", "Market")
    close(sold["cost"]["ingredients"], "0.50")
    close(sold["cost"]["packaging"], "0.50")
    close(sold["cost"]["labour"], "0.40")
    close(sold["cost"]["selling"], "1.00")
    assert sold["units_per_pack"] == 1
    assert said(found, "Products", "C2") == []
    assert said(found, "Stages", "C2") == []


def test_rejects_of_a_batch_by_weight_are_in_its_unit() -> None:
    # 9.6 jars started, 2,400 g - 400 g good: 8 jars carry 4.80 and 9.6 jars of 0.50
    found = jar("Batches\nRecipe | Makes | Unit | Rejects\nRelish | 2400 | g | 400")
    close(found["cost"]["ingredients"], "0.60")
    close(found["cost"]["packaging"], "0.60")
    close(found["cost"]["labour"], "0.48")


def test_rejects_as_a_share_are_that_share_of_the_batch() -> None:
    # 25 % of 2,400 g leave 1,800 g, 7.2 jars for 4.80
    found = jar("Batches\nRecipe | Makes | Unit | Rejects %\nRelish | 2400 | g | 25")
    close(found["cost"]["ingredients"], Fraction("4.80") / Fraction("7.2"))


def test_of_two_rows_of_a_batch_that_differ_neither_counts() -> None:
    batches = "Batches\nRecipe | Makes | Unit\nRelish | 2400 | g\nRelish | 1200 | g"
    assert jar(batches)["cost"]["ingredients"] is None


def test_a_recipe_by_weight_costs_by_its_own_unit() -> None:
    found = row_of(answer(RELISH), "recipe", "Relish")
    assert found["unit"] == "g"
    close(found["unit_cost"], "0.002")  # 4.80 / 2,400


def test_six_portions_in_a_pack_are_six_units() -> None:
    # 2,400 g are 16 portions of 150 g, two packs and two thirds
    found = jar(products("6 x 150 g | |"))
    assert found["units_per_pack"] == 6
    close(found["cost"]["ingredients"], "1.80")  # 4.80 / 16 x 6
    close(found["cost"]["packaging"], "3.00")  # six jars
    close(found["cost"]["labour"], "2.40")  # six times 2 minutes
    close(found["cost"]["selling"], "6.00")  # six units


def test_a_pack_by_volume_needs_the_weight_of_a_millilitre() -> None:
    density = "Items\nItem | Grams per ml\nRelish | 1.2"
    # 200 ml are 240 g, a tenth of the batch
    close(jar(density, products("200 ml | |"))["cost"]["ingredients"], "0.48")
    found = answer(RELISH, products("200 ml | |"))
    assert product_of(found, "Jar", "Market")["units_per_pack"] is None
    assert said(found, "Products", "C2") == [
        (
            "Relish is made in g, and a pack of it is given in another kind of unit. "
            "Give the pack in the same kind of unit, or fill in Grams per ml or Grams per piece on "
            "Items, in a row named Relish."
        )
    ]


@pytest.mark.parametrize(
    ("pack", "asked"),
    [
        (
            "250 | |",
            ('Relish is made in g, and it is not said how much of it one pack holds. '
            'Type the amount with its unit, as "250 g".'),
        ),
        (
            "1 | |",
            ('Relish is made in g, and it is not said how much of it one pack holds. '
            'Type the amount with its unit, as "250 g".'),
        ),
        (
            "5000 | |",
            ('Relish is made in g, and it is not said how much of it one pack holds. '
            'Type the amount with its unit, as "6 x 150 g".'),
        ),
        *[
            (
                f"6 | 0 | {unit}",  # a weight of nothing says nothing
                ('Relish is made in g, and it is not said how much of it one pack holds. '
                'Type the amount with its unit, as "6 g".'),
            )
            for unit in ("g", "")
        ],
        (
            "1 | 250 |",
            ("Relish is made in g, and the net weight of a pack has no unit. "
            "Fill in Net weight unit."),
        ),
        (
            "1 | 1 |",
            ("Relish is made in g, and the net weight of a pack has no unit. "
            "Fill in Net weight unit."),
        ),
        (
            "2400 | |",  # the whole batch
            ('Relish is made in g, and it is not said how much of it one pack holds. '
            'Type the amount with its unit, as "2400 g".'),
        ),
        (
            "6 | 1 | kg",
            ("Relish is made in g: 6 of what, where the net weight of a pack is 1 kg? "
            'Type "1 kg" for one portion a pack; for six in it, as "6 x 150 g".'),
        ),
        (
            "6 | 900 | g",
            ("Relish is made in g: 6 of what, where the net weight of a pack is 900 g? "
            'Type "900 g" for one portion a pack; for six in it, as "6 x 150 g".'),
        ),
        ("| |", "the units per pack are missing. Fill in the cell."),
    ],
)  # fmt: skip
def test_how_much_a_pack_holds_is_asked(pack: str, asked: str) -> None:
    found = answer(RELISH, products(pack))
    sold = product_of(found, "Jar", "Market")
    assert said(found, "Products", "C2") == [asked]
    assert (sold["units_per_pack"], sold["cost"]["total"], sold["complete"]) == (None, None, False)


def test_an_amount_is_asked_in_the_unit_of_the_batch() -> None:
    found = answer(RELISH, "Batches\nRecipe | Makes | Unit\nRelish | 2.4 | kg", products("2 | |"))
    assert said(found, "Products", "C2") == [
        (
            "Relish is made in kg, and it is not said how much of it one pack holds. "
            'Type the amount with its unit, as "2 kg".'
        )
    ]


def test_a_pack_of_pieces_by_weight_is_asked() -> None:
    found = answer("Products\nProduct | Recipe | Units per pack\nSingle | Wrap | 250 g")
    assert product_of(found, "Single")["cost"]["total"] is None
    assert said(found, "Products", "C2") == [
        (
            "Wrap is made in pieces, and a pack of it can't be counted in g. "
            "Type how many pieces one pack holds."
        )
    ]


# ---------------------------------------------------------------- minutes per unit


ODD = "Check how much a pack holds and its unit, and Makes on Batches."


@pytest.mark.parametrize(
    ("pack", "says"),
    [
        ("250 kg | |", "holds 250000 g, more than a whole batch: Relish makes 2400 g."),
        ("6 x 250 kg | |", "holds 1500000 g, more than a whole batch: Relish makes 2400 g."),
        ("2401 g | |", "holds 2401 g, more than a whole batch: Relish makes 2400 g."),
        ("2400 g | |", ""),  # the whole batch in one tub
        ("250 g | 250 | kg", "holds 250 g, and its net weight is 250 kg."),
        ("6 x 150 g | 50 | g", "holds 6 × 150 g, and its net weight is 50 g."),
        ("250 g | 84 | g", ""),  # 250 is 2.98 times 84
        ("250 g | 83 | g", "holds 250 g, and its net weight is 83 g."),  # and 3.01 times 83
        ("6 x 150 g | 900 | g", ""),  # of all
        ("6 x 150 g | 150 | g", ""),  # of one
    ],
)
def test_a_pack_that_cant_be_so_large_is_doubted(pack: str, says: str) -> None:
    expected = [f"a pack of Jar {says} {ODD}"] if says else []
    assert said(answer(RELISH, products(pack)), "Products", "C2") == expected


@pytest.mark.parametrize(
    ("net", "doubted"),
    [("500 | g", False), ("5.1 | g", False), ("5 | g", True), ("50 | kg", True)],
)
def test_a_net_weight_is_held_against_a_volume_a_hundredfold(net: str, doubted: bool) -> None:
    """500 ml of water are 500 g: 5 g of it a hundredth, 50 kg a hundred times."""
    made = "Batches\nRecipe | Makes | Unit\nRelish | 4 | l"
    asked = said(answer(RELISH, made, products(f"500 ml | {net}")), "Products", "C2")
    weight = net.replace(" | ", " ")
    what = f"a pack of Jar holds 500 ml, and its net weight is {weight}. {ODD}"
    assert asked == ([what] if doubted else [])


def test_a_net_weight_above_the_batch_is_doubted_where_it_stands() -> None:
    found = answer(RELISH, products("1 | 250 | kg"))
    what = "a pack of Jar holds 250000 g, more than a whole batch: Relish makes 2400 g."
    assert said(found, "Products", "D2") == [f"{what} {ODD}"]


def test_a_box_of_more_pieces_than_a_batch_is_no_slip() -> None:
    """Two batches of 2 dozen fill a box of 48."""
    batch = "Batches\nRecipe | Makes | Unit\nWrap | 2 | dozen"
    pack = "Products\nProduct | Recipe | Units per pack\nSingle | Wrap | 48"
    assert said(answer(batch, pack), "Products", "C2") == []


def test_packs_of_different_amounts_leave_minutes_per_unit_asked() -> None:
    found = answer(RELISH, products("250 g | |", "400 g | |"))
    assert product_of(found, "Jar", "Market")["cost"]["labour"] is None
    assert said(found, "Stages", "C2") == [
        (
            "Relish is sold in packs of different amounts, so it is not known how many units a "
            "batch starts. Type them as minutes per batch, or as a stage of each product."
        )
    ]


def test_minutes_per_batch_ask_nothing_of_the_packs() -> None:
    stages = "Stages\nRecipe | Stage | Minutes per batch\nRelish | Cook | 48"
    found = answer(RELISH, stages, products("240 g | |", "480 g | |"))
    close(product_of(found, "Jar", "Market")["cost"]["labour"], "0.96")  # 9.60 / 10
    close(product_of(found, "Tub", "Market")["cost"]["labour"], "1.92")
    assert "different amounts" not in str(found["problems"])


def test_a_pack_that_is_asked_leaves_the_others_their_units() -> None:
    found = answer(RELISH, products("250 g | |", "6 | |"))
    close(product_of(found, "Jar", "Market")["cost"]["labour"], "0.40")
    assert product_of(found, "Tub", "Market")["cost"]["labour"] is None


def test_packs_that_are_asked_are_not_of_different_amounts() -> None:
    found = answer(RELISH, products("6 | |"))
    assert product_of(found, "Jar", "Market")["cost"]["labour"] is None
    assert said(found, "Stages", "C2") == []


def test_minutes_per_unit_of_what_nobody_sells_are_by_its_own_unit() -> None:
    # 3 kg of dip at 4 minutes a kg: 12 minutes; a third of it goes into the wraps
    found = answer(
        "Settings\nSetting | Value\nPay per hour | 15",
        "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Dip | 1 | kg\nDip | Flour | 3 | kg",
        "Batches\nRecipe | Makes | Unit\nWrap | 12 | ea\nDip | 3 | kg",
        "Stages\nRecipe | Stage | Minutes per unit\nDip | Stir | 4\nWrap | none | 0",
    )
    close(row_of(found, "recipe", "Dip")["labour_minutes"], "12")
    close(product_of(found, "Single")["cost"]["labour"], "1/12")  # 4 minutes, 1.00, over 12
