"""Facts of the trade, each marked: common practice, no source.

They are sums a cook does in the head, so the workbook must come to the same ones. Each fact stands
alone, in a batch that holds nothing else.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, row_of, sheets

BATCH_OF_TWELVE = """
Batches
Recipe      | Makes | Unit
Filled roll | 12    | ea

Products
Product | Recipe | Units per pack
Roll    | Filled roll | 1
"""


def costed(*texts: str) -> dict[str, Any]:
    return priced(sheets(BATCH_OF_TWELVE, *texts))


def test_one_egg_a_roll_is_a_dozen_a_batch() -> None:
    """Common practice, no source. A dozen at 3.60: 3.60 a batch, 0.30 a roll."""
    answer = costed(
        """
        Purchases
        Date       | Item | Pack size | Unit  | Price per pack
        2026-11-01 | Eggs | 1         | dozen | 3.60

        Recipes
        Recipe      | Uses | Amount | Unit
        Filled roll | Eggs | 12     | ea
        """
    )
    close(row_of(answer, "recipe", "Filled roll")["batch_cost"], "3.60")
    close(product_of(answer, "Roll")["cost"]["ingredients"], "0.30")


@pytest.mark.parametrize(("each", "batch"), [(1, 12), (1.5, 18), (2, 24)])
def test_sliced_meat_is_weighed(each: float, batch: int) -> None:
    """Common practice, no source: 1 to 2 oz a roll, so 12 to 24 oz a batch. At 8.00 a pound."""
    answer = costed(
        f"""
        Purchases
        Date       | Item        | Pack size | Unit | Price per pack
        2026-11-01 | Sliced meat | 1         | lb   | 8.00

        Recipes
        Recipe      | Uses        | Amount  | Unit
        Filled roll | Sliced meat | {batch} | oz
        """
    )
    assert batch == each * 12
    close(product_of(answer, "Roll")["cost"]["ingredients"], each * 0.50)  # 8.00 / 16 oz
    close(row_of(answer, "recipe", "Filled roll")["batch_cost"], batch * 0.50)


def test_half_an_ounce_of_cheese_a_roll_is_six_ounces_a_batch() -> None:
    """Common practice, no source. Weighed. At 6.40 a pound: 0.40 an ounce, 0.20 a roll."""
    answer = costed(
        """
        Purchases
        Date       | Item   | Pack size | Unit | Price per pack
        2026-11-01 | Cheese | 1         | lb   | 6.40

        Recipes
        Recipe      | Uses   | Amount | Unit
        Filled roll | Cheese | 6      | oz
        """
    )
    close(row_of(answer, "recipe", "Filled roll")["batch_cost"], "2.40")
    close(product_of(answer, "Roll")["cost"]["ingredients"], "0.20")


def test_twelve_rolls_are_twenty_four_halves() -> None:
    """Common practice, no source. Twelve rolls at 0.50, cut and sold as two halves a pack."""
    answer = costed(
        """
        Purchases
        Date       | Item  | Pack size | Unit  | Price per pack
        2026-11-01 | Rolls | 1         | dozen | 6.00

        Recipes
        Recipe     | Uses  | Amount | Unit
        Half rolls | Rolls | 12     | ea

        Batches
        Recipe     | Makes | Unit
        Half rolls | 24    | ea

        Products
        Product    | Recipe     | Units per pack
        Half       | Half rolls | 1
        Two halves | Half rolls | 2
        """
    )
    close(product_of(answer, "Half")["cost"]["ingredients"], "0.25")
    close(product_of(answer, "Two halves")["cost"]["ingredients"], "0.50")


def test_a_square_of_film_and_one_of_foil_for_each_and_one_bag_a_batch() -> None:
    """Common practice, no source. Twelve of each square, and one gallon bag.

    Film 12 in wide, 100 ft at 6.00: a foot is 0.06. Foil 12 in wide, 75 sq ft at 6.00: a square
    foot is 0.08. Bags, 20 at 4.80: 0.24, a twelfth of which is 0.02. A roll: 0.16.
    """
    answer = costed(
        """
        Purchases
        Date       | Item        | Pack size | Unit  | Price per pack
        2026-11-01 | Rolls       | 1         | dozen | 6.00
        2026-11-01 | Film        | 100       | ft    | 6.00
        2026-11-01 | Foil        | 75        | sq ft | 6.00
        2026-11-01 | Gallon bags | 20        | ct    | 4.80

        Items
        Item | Roll width | Roll width unit
        Film | 12         | in
        Foil | 12         | in

        Recipes
        Recipe      | Uses  | Amount | Unit
        Filled roll | Rolls | 12     | ea

        Packaging
        Product | Uses        | Amount | Unit  | Per
        Roll    | Film        | 144    | sq in | unit
        Roll    | Foil        | 12     | in    | unit
        Roll    | Gallon bags | 1      | ea    | batch
        """
    )
    close(product_of(answer, "Roll")["cost"]["packaging"], "0.16")
