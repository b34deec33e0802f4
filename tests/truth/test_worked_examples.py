"""Examples worked by others, run through the main path: a workbook in, a figure out.

Beside each: its source, and how it reached us. *read*: read in a stored copy of the source;
*quoted*: read as somebody else's quotation of it; *memory*: not read; *calc*: worked out here from
the printed inputs. Books round early, so the printed figure is compared to the printed precision,
and the exact figure to 1e-9.
"""

from __future__ import annotations

import math

from tests.tables import close
from tests.truth.dish import made_of, portion, printed


def test_w3_a_plate_of_two_eggs_and_four_rashers() -> None:
    """BCcampus 2015, as W1 (quoted): 0.34 + 0.75 = 1.09; the book rounds a line up."""
    eggs_and_bacon = """
        Purchases
        Date       | Item  | Pack size | Unit  | Price per pack
        2026-11-01 | Eggs  | 1         | dozen | 2.00
        2026-11-01 | Bacon | 500       | g     | 3.75

        Items
        Item  | Grams per piece
        Bacon | 25
        """
    eggs = "Recipes\nRecipe|Uses|Amount|Unit\nDish|Eggs|2|ea"
    bacon = "Recipes\nRecipe|Uses|Amount|Unit\nDish|Bacon|4|ea"  # 500 g = 20 rashers
    two_eggs, rashers = made_of(eggs_and_bacon, eggs), made_of(eggs_and_bacon, bacon)
    close(two_eggs, "1/3")
    close(rashers, "0.75")
    close(made_of(eggs_and_bacon, eggs + "\nDish|Bacon|4|ea"), "13/12")
    up = [math.ceil(line * 100 - 1e-6) for line in (two_eggs, rashers)]
    assert up == [34, 75]  # printed
    assert sum(up) == 109  # printed


def test_w5_trimmed_potatoes_cost_as_much_as_untrimmed() -> None:
    """Class slides on Blocker & Hill, Culinary Math, ch. 9-10 (read): 2.48 a pound; 93.00 both."""
    potatoes = """
        Purchases
        Date       | Item     | Packs | Pack size | Unit | Price per pack
        2026-11-01 | Potatoes | 50    | 1         | lb   | 1.86

        Items
        Item     | Usable %
        Potatoes | 75
        """
    head = "Recipes\nRecipe | Uses | Amount | Unit | Measured"
    close(made_of(potatoes, f"{head}\nDish | Potatoes | 1    | lb | ready to use"), "2.48")
    close(made_of(potatoes, f"{head}\nDish | Potatoes | 37.5 | lb | ready to use"), "93.00")
    close(made_of(potatoes, f"{head}\nDish | Potatoes | 50   | lb | as bought"), "93.00")


def test_w7_a_portion_priced_by_its_food_cost() -> None:
    """C. Holt, MTH 81 lecture notes, ch. 11 (read): 173.89 / 200 = 0.86945; at 25 % 3.48."""
    soup = portion(
        """
        Settings
        Setting         | Value
        Currency        | USD
        Target margin % | 75

        Purchases
        Date       | Item | Pack size | Unit | Price per pack
        2026-11-01 | Food | 1         | ea   | 173.89

        Recipes
        Recipe | Uses | Amount | Unit
        Dish   | Food | 1      | ea

        Batches
        Recipe | Makes | Unit
        Dish   | 200   | ea
        """
    )
    close(soup["cost"]["total"], "0.86945")
    close(soup["price"]["at_target_margin"], "3.4778")
    close(soup["price"]["on_step"], "3.48")  # printed


BAKED = """
Purchases
Date       | Item    | Pack size | Unit  | Price per pack
2026-11-01 | Spinach | 1         | lb    | 1.55
2026-11-01 | Cheese  | 1         | lb    | 5.60
2026-11-01 | Eggs    | 1         | dozen | 4.50
2026-11-01 | Milk    | 1         | gal   | 4.30
"""
SERVED_FIFTY = "Batches\nRecipe | Makes | Unit\nDish | 50 | ea"
BAKE = {  # as printed; 74 oz is 4 lb 10 oz
    "Spinach | 74 | oz": "7.17",
    "Cheese  |  3 | lb": "16.80",
    "Eggs    | 75 | ea": "28.13",
    "Milk    |  3 | cup": "0.81",
}


def test_w10_an_egg_bake_for_fifty() -> None:
    """FSM2025 Supplement, "Focus on Formulas" (read): lines rounded first print 52.91, 1.06."""
    head = "Recipes\nRecipe | Uses | Amount | Unit"
    cents = 0
    for line, figure in BAKE.items():
        alone = made_of(BAKED, f"{head}\nDish | {line}")
        printed(alone, figure)
        cents += math.floor(alone * 100 + 0.5 + 1e-9)
    assert cents == 5291  # printed
    lines = "".join(f"\nDish | {line}" for line in BAKE)
    close(made_of(BAKED, head + lines), "52.90")  # 7.16875 + 16.80 + 28.125 + 0.80625
    each = made_of(BAKED, head + lines, SERVED_FIFTY)
    printed(each, "1.06")
    close(each, "1.058")


def test_w12_a_case_of_eggs_and_half_a_gallon_of_cream() -> None:
    """Class review sheet (read): 30 dozen at 72 -> 2.40, 0.20, three 0.60; 4 fl oz cream 0.56."""
    bought = """
        Purchases
        Date       | Item  | Pack count | Pack size | Unit  | Price per pack
        2026-11-01 | Eggs  | 30         | 1         | dozen | 72
        2026-11-01 | Cream |            | 0.5       | gal   | 8.95
        """
    head = "Recipes\nRecipe | Uses | Amount | Unit"
    close(made_of(bought, f"{head}\nDish | Eggs | 1 | dozen"), "2.40")
    close(made_of(bought, f"{head}\nDish | Eggs | 1 | ea"), "0.20")
    close(made_of(bought, f"{head}\nDish | Eggs | 3 | ea"), "0.60")
    cream = made_of(bought, f"{head}\nDish | Cream | 4 | fl oz")
    printed(cream, "0.56")
    close(cream, "0.559375")


def test_w26_twenty_five_jars_of_jam() -> None:
    """A household's own account (read): 4.66 a jar; 116.62 / 25 = 4.6648 (calc)."""
    jam = portion(
        """
        Purchases
        Date       | Item    | Pack size | Unit | Price per pack
        2026-11-01 | Jars    | 25        | ea   | 16.89
        2026-11-01 | Sugar   | 16        | lb   | 10.36
        2026-11-01 | Pectin  | 3         | ea   | 13.77
        2026-11-01 | Berries | 24        | lb   | 75.60

        Recipes
        Recipe | Uses    | Amount | Unit
        Dish   | Sugar   | 16     | lb
        Dish   | Pectin  | 3      | ea
        Dish   | Berries | 24     | lb

        Batches
        Recipe | Makes | Unit
        Dish   | 25    | ea

        Packaging
        Product | Uses | Amount | Unit | Per
        Portion | Jars | 1      | ea   | unit
        """
    )
    printed(jam["cost"]["total"], "4.66")
    close(jam["cost"]["total"], "4.6648")
    close(jam["cost"]["packaging"], "0.6756")
