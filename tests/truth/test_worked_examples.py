"""Examples worked by others, run through the main path: a workbook in, a figure out.

Beside each: its source, and how it reached us. *read*: read in a stored copy of the source;
*quoted*: read as somebody else's quotation of it; *memory*: not read; *calc*: worked out here from
the printed inputs. Books round early, so the printed figure is compared to the printed precision,
and the exact figure to 1e-9.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, row_of, sheets
from tests.truth.dish import DISH, cut, made_of, portion, printed

# W1. BC Cook Articulation Committee, Basic Kitchen and Food Service Management, BCcampus 2015,
# CC BY 4.0, "Yield Testing" (inputs read, outputs quoted). Bought at 1.00 a kilogram, a kilogram
# ready to use costs the book's "factor".


@pytest.mark.parametrize(
    ("usable", "exact", "factor", "compare"),
    [
        (0.8, 1 / 0.8, "1.25", printed),  # carrots, 1 kg -> 800 g; the factor is ours (calc)
        (1.75 / 2.5, 2.5 / 1.75, "1.42", cut),  # tenderloin, 2.5 kg - 0.75 kg = 1,750 g, 70 %
        (5 / 7.75, 7.75 / 5, "1.55", printed),  # salmon, 7.75 kg - 2.75 kg = 5,000 g, 64.51 %
    ],
)
def test_w1_a_kilogram_ready_to_use_costs_the_factor(
    usable: float, exact: float, factor: str, compare: Any
) -> None:
    cost = made_of(
        f"""
        Purchases
        Date       | Item | Pack size | Unit | Price per pack
        2026-11-01 | Fish | 1         | kg   | 1.00

        Items
        Item | Usable %
        Fish | {usable!r}

        Recipes
        Recipe | Uses | Amount | Unit
        Dish   | Fish | 1000   | g
        """
    )
    compare(cost, factor)
    close(cost, exact)


def test_w1_the_shares_themselves() -> None:
    answer = priced(
        sheets(
            DISH,
            """
            Purchases
            Date       | Item       | Pack size | Unit | Price per pack
            2026-11-01 | Carrots    | 1         | kg   | 1.00
            2026-11-01 | Tenderloin | 2.5       | kg   | 1.00
            2026-11-01 | Salmon     | 7.75      | kg   | 1.00

            Items
            Item       | Usable %
            Carrots    | 80
            Tenderloin | 70
            Salmon     | 0.6451612903225806

            Recipes
            Recipe | Uses    | Amount | Unit
            Dish   | Carrots | 1      | kg
            """,
        )
    )
    close(row_of(answer, "item", "Carrots")["usable_share"], "0.8")
    close(row_of(answer, "item", "Tenderloin")["usable_share"], "0.7")
    salmon = row_of(answer, "item", "Salmon")["usable_share"]
    cut(salmon * 100, "64.51")
    close(salmon, "20/31")  # 5,000 / 7,750


# W2 (stock at the month's ends) and W21 (par stock) ask for rules that pricing has none of.


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
    close(made_of(eggs_and_bacon, eggs), "1/3")
    close(made_of(eggs_and_bacon, bacon), "0.75")
    plate = made_of(eggs_and_bacon, eggs + "\nDish|Bacon|4|ea")
    close(plate, "13/12")
    assert abs(plate - 1.09) < 0.01  # printed; its 0.34 is 0.3333 rounded up


def test_w4_a_portion_cost_factor() -> None:
    """BCcampus 2015, "Cooking Loss Test" (quoted): 125 g, factor 0.2931; share 0.42648 (calc)."""
    cost = made_of(
        """
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Roast | 1         | kg   | 1.00

        Items
        Item  | Usable %
        Roast | 0.42648

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Roast | 125    | g
        """
    )
    printed(cost, "0.2931")
    close(cost, 0.125 / 0.42648)


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


def test_w6_a_trimmed_striploin() -> None:
    """G. Wall, Trade Calculations: Yield and Cost of Edible Product, 2007 (read); cost (calc)."""
    answer = priced(
        sheets(
            DISH,
            f"""
            Purchases
            Date       | Item      | Pack size | Unit | Price per pack
            2026-11-01 | Striploin | 5.2       | kg   | {5.2 * 11.95!r}

            Items
            Item      | Usable %
            Striploin | {4.6 / 5.2!r}

            Recipes
            Recipe | Uses      | Amount | Unit
            Dish   | Striploin | 1      | kg
            """,
        )
    )
    printed(row_of(answer, "item", "Striploin")["usable_share"] * 100, "88.5")
    close(product_of(answer, "Portion")["cost"]["ingredients"], 11.95 * 5.2 / 4.6)  # 13.508696


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


# W8, W9. Student solution, "Exercise 6.3", a lamb loin of 12 lb at 6.65 (read; book not visible).


def test_w8_a_loin_whose_trimmings_are_credited() -> None:
    """Kidneys 1 lb at 6.10 and flanks 1.5 lb at 4.60 lower the line by 13.00; 6 lb are usable."""
    loin = """
        Purchases
        Date       | Item | Packs | Pack size | Unit | Price per pack | Other cost
        2026-11-01 | Loin | 12    | 1         | lb   | 6.65           | -13.00

        Items
        Item | Usable %
        Loin | 50
        """
    head = "Recipes\nRecipe | Uses | Amount | Unit"
    pound = made_of(loin, f"{head}\nDish | Loin | 1 | lb")
    printed(pound, "11.13")
    close(pound, 66.80 / 6)
    printed(pound / 6.65, "1.67")
    ounce = made_of(loin, f"{head}\nDish | Loin | 1 | oz")
    printed(ounce, "0.70")
    five = made_of(loin, f"{head}\nDish | Loin | 5 | oz")
    printed(five, "3.48")
    close(five, 66.80 / 6 * 5 / 16)  # 3.479167
    printed(five / 6.65, "0.52")
    assert abs(pound / 6.65 - 1 / 0.5) > 0.3  # with credits the factor is not 1 / yield


def test_w9_the_same_loin_after_cooking() -> None:
    """5 lb of 12 are saleable: 41.67 %, 15.96 a pound, 5 oz 4.99, factors 2.40 and 0.75."""
    loin = f"""
        Purchases
        Date       | Item | Packs | Pack size | Unit | Price per pack
        2026-11-01 | Loin | 12    | 1         | lb   | 6.65

        Items
        Item | Usable %
        Loin | {5 / 12!r}
        """
    head = "Recipes\nRecipe | Uses | Amount | Unit"
    pound = made_of(loin, f"{head}\nDish | Loin | 1 | lb")
    close(pound, "15.96")
    close(pound / 6.65, "2.40")
    five = made_of(loin, f"{head}\nDish | Loin | 5 | oz")
    close(five, "4.9875")
    printed(five, "4.99")
    close(five / 6.65, "0.75")


def test_w10_an_egg_bake_for_fifty() -> None:
    """FSM2025 Supplement, "Focus on Formulas" (read): lines rounded first print 52.91, 1.06."""
    bake = portion(
        """
        Purchases
        Date       | Item    | Pack size | Unit  | Price per pack
        2026-11-01 | Spinach | 1         | lb    | 1.55
        2026-11-01 | Cheese  | 1         | lb    | 5.60
        2026-11-01 | Eggs    | 1         | dozen | 4.50
        2026-11-01 | Milk    | 1         | gal   | 4.30

        Recipes
        Recipe | Uses    | Amount | Unit
        Dish   | Spinach | 74     | oz
        Dish   | Cheese  | 3      | lb
        Dish   | Eggs    | 75     | ea
        Dish   | Milk    | 3      | cup

        Batches
        Recipe | Makes | Unit
        Dish   | 50    | ea
        """
    )
    each = bake["cost"]["ingredients"]
    printed(each, "1.06")
    close(each, "1.058")
    # 74 oz = 4 lb 10 oz: 7.16875 + 16.80 + 28.125 + 0.80625 = 52.90; printed 52.91
    close(each * 50, "52.90")
    lines = [4.625 * 1.55, 3 * 5.60, 75 / 12 * 4.50, 3 / 16 * 4.30]
    assert round(sum(math.floor(line * 100 + 0.5) / 100 for line in lines), 2) == 52.91


def test_w11_pork_at_three_quarters() -> None:
    """Ontario Pork, Costing for Foodservice (read): 5 kg at 25 -> 3.75 kg; 6.666667/kg (calc)."""
    cost = made_of(
        """
        Purchases
        Date       | Item | Pack size | Unit | Price per pack
        2026-11-01 | Pork | 5         | kg   | 25

        Items
        Item | Usable %
        Pork | 75

        Recipes
        Recipe | Uses | Amount | Unit
        Dish   | Pork | 1      | kg
        """
    )
    close(cost, "20/3")


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


# Published errors are said.


def test_a_yield_printed_as_bought_over_usable_is_said() -> None:
    """Published error: W1's factor, 1.42, written where its share, 0.70, belongs."""
    answer = priced(
        sheets(
            DISH,
            """
            Purchases
            Date       | Item | Pack size | Unit | Price per pack
            2026-11-01 | Beef | 1         | kg   | 1.00

            Items
            Item | Usable %
            Beef | 1.42

            Recipes
            Recipe | Uses | Amount | Unit
            Dish   | Beef | 1      | kg
            """,
        )
    )
    places = {(said["sheet"], said["cell"]) for said in answer["problems"]}
    assert ("Items", "B2") in places
