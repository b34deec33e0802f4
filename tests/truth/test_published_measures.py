"""Eggs, rolls and units as published, through the main path: a workbook in, a figure out.

*read*: read in a stored copy of the source; *memory*: not read; *calc*: worked out here.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, row_of, sheets
from tests.truth.dish import DISH, cut, made_of, portion, printed
from tests.truth.test_usable_shares import DENSITIES, DOZEN_OUNCES, data

# One product, so that there is one; what is looked at are the items and the recipes.
SOLD = "Products\nProduct|Recipe|Units per pack\nPortion|{recipe}|1"

# Eggs.

# USDA AMS 56 (2000), table read in its state adoption, 7 Pa. Code § 87.42: a dozen large weigh at
# least 24 oz. USDA SR28 (read): 12 % is shell.


def test_a_large_egg_holds_as_much_as_the_tables_say() -> None:
    """24 oz / 12 x 0.88 = 49.895 g (calc), where SR28 gives 50 g edible (read)."""
    cost = made_of(
        f"""
        Purchases
        Date       | Item | Pack size | Unit  | Price per pack
        2026-11-01 | Eggs | 1         | dozen | 12.00

        Items
        Item | Grams per piece                | Usable %
        Eggs | {24 * 28.349523125 / 12!r}     | 88

        Recipes
        Recipe | Uses | Amount        | Unit
        Dish   | Eggs | 49.8951607    | g
        """
    )
    close(cost, "1.00")  # one egg's inside costs one egg
    assert abs(49.895 - 50) / 50 < 0.0025


def test_a_dozen_of_each_class_weighs_what_its_class_says() -> None:
    """A dozen at as many dollars as its class has ounces: an ounce is 1.00, by our egg weights."""
    weights = {row["name"]: row["value"] for row in data("piece_weights")}
    bought = "Purchases\nDate|Item|Pack size|Unit|Price per pack"
    items, lines = "Items\nItem|Grams per piece", "Recipes\nRecipe|Uses|Amount|Unit"
    for size, ounces in DOZEN_OUNCES.items():
        bought += f"\n2026-11-01|Eggs {size}|1|dozen|{ounces}"
        items += f"\nEggs {size}|{weights[f'egg in its shell, {size}']}"
        lines += f"\nDish {size}|Eggs {size}|1|oz"
    batches = "".join(f"\nDish {size}|1|ea" for size in DOZEN_OUNCES)
    answer = priced(
        sheets(
            bought,
            items,
            lines,
            f"Batches\nRecipe|Makes|Unit{batches}",
            SOLD.format(recipe="Dish jumbo"),
        )
    )
    for size in DOZEN_OUNCES:
        printed(row_of(answer, "recipe", f"Dish {size}")["batch_cost"], "1.000")


@pytest.mark.parametrize(("ounces", "grams"), [(24, 50), (27, 56)])
def test_what_is_inside_an_egg_agrees_with_its_class(ounces: int, grams: int) -> None:
    """SR28 (read): 50 g of a large egg can be eaten, 56 g of an extra large; 12 % is shell."""
    cost = made_of(
        f"""
        Purchases
        Date       | Item | Pack size | Unit  | Price per pack
        2026-11-01 | Eggs | 1         | dozen | 12.00

        Items
        Item | Grams per piece                    | Usable %
        Eggs | {ounces * 28.349523125 / 12!r}     | 88

        Recipes
        Recipe | Uses | Amount  | Unit
        Dish   | Eggs | {grams} | g
        """
    )
    assert abs(cost - 1) < 0.003  # one egg


# BLS APU0000708111, grade A large, a dozen, US city average (read, public domain).
DOZEN = {
    "2019-06": 1.203,
    "2022-01": 1.929, "2022-02": 2.005, "2022-03": 2.046, "2022-04": 2.520, "2022-05": 2.863,
    "2022-06": 2.707, "2022-07": 2.936, "2022-08": 3.116, "2022-09": 2.902, "2022-10": 3.419,
    "2022-11": 3.589, "2022-12": 4.250, "2023-01": 4.823, "2024-01": 2.522, "2024-12": 4.146,
    "2025-01": 4.953, "2025-02": 5.897, "2025-03": 6.227, "2025-04": 5.122, "2025-05": 4.548,
    "2025-06": 3.775, "2025-07": 3.599, "2025-08": 3.587, "2025-09": 3.488,
    "2025-11": 2.860, "2025-12": 2.712,
}  # fmt: skip


def test_seven_years_of_egg_prices_as_they_happened() -> None:
    """Each month is an item of its own, bought also at the price of the month before it here."""
    months = list(DOZEN)
    bought = "Purchases\nDate|Item|Pack size|Unit|Price per pack"
    lines, batches = "Recipes\nRecipe|Uses|Amount|Unit", "Batches\nRecipe|Makes|Unit"
    for before, month in pairwise(months):
        bought += f"\n{month}-01|Eggs {month}|1|dozen|{DOZEN[month]}"
        bought += f"\n{before}-01|Eggs {month}|1|dozen|{DOZEN[before]}"
        lines += f"\nBake {month}|Eggs {month}|30|ea"
        batches += f"\nBake {month}|1|ea"
    answer = priced(sheets(bought, lines, batches, SOLD.format(recipe="Bake 2025-03")))
    for before, month in pairwise(months):
        item = row_of(answer, "item", f"Eggs {month}")
        assert item["date"] == f"{month}-01"
        close(item["price_per_base_unit"], DOZEN[month] / 12)
        close(item["change"], DOZEN[month] / DOZEN[before] - 1)
        close(row_of(answer, "recipe", f"Bake {month}")["batch_cost"], DOZEN[month] * 2.5)


SHOCK = ("2024-12", "2025-01", "2025-02", "2025-03")


def test_an_egg_price_shock_on_the_days_it_happened() -> None:
    rows = "\n".join(f"{month}-01 | Eggs | 1 | dozen | {DOZEN[month]}" for month in SHOCK)
    book = sheets(
        DISH,
        f"Purchases\nDate | Item | Pack size | Unit | Price per pack\n{rows}",
        "Recipes\nRecipe|Uses|Amount|Unit\nDish|Eggs|12|ea",
    )
    january = row_of(priced(book, on="2025-01-31"), "item", "Eggs")
    close(january["change"], 4.953 / 4.146 - 1)
    march = priced(book, on="2025-03-31")
    close(row_of(march, "item", "Eggs")["change"], 6.227 / 5.897 - 1)
    close(product_of(march, "Portion")["cost"]["ingredients"], "6.227")


def test_a_month_without_a_price_is_no_price_of_zero() -> None:
    """The same series has no October 2025; September was 3.488, November 2.860."""
    book = sheets(
        DISH,
        """
        Purchases
        Date       | Item | Pack size | Unit  | Price per pack
        2025-09-01 | Eggs | 1         | dozen | 3.488
        2025-10-01 | Eggs | 1         | dozen |
        2025-11-01 | Eggs | 1         | dozen | 2.860
        """,
        "Recipes\nRecipe|Uses|Amount|Unit\nDish|Eggs|12|ea",
    )
    october = priced(book, on="2025-10-31")
    close(product_of(october, "Portion")["cost"]["ingredients"], "3.488")
    november = row_of(priced(book, on="2025-11-30"), "item", "Eggs")
    close(november["change"], 2.860 / 3.488 - 1)


# Packaging (calc). Roll sizes are common practice, no source.


def test_film_cut_into_pieces_is_priced_by_length_or_by_area() -> None:
    """18 in x 2,000 ft at 28.50; pieces of 14 in: 28.50 x 14 / 24,000 = 0.016625."""
    film = """
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Film  | 2000      | ft   | 28.50
        2026-11-01 | Thing | 1         | ea   | 1.00

        Items
        Item | Roll width | Roll width unit
        Film | 18         | in

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Thing | 1      | ea
        """
    head = "Packaging\nProduct | Uses | Amount | Unit | Per"
    by_length = portion(film, f"{head}\nPortion | Film | 14 | in | unit")["cost"]["packaging"]
    close(by_length, "0.016625")
    by_area = portion(film, f"{head}\nPortion | Film | 252 | sq in | unit")["cost"]["packaging"]
    close(by_area, "0.016625")  # 18 in x 14 in
    assert 24000 // 14 == 1714  # whole pieces; what is left over is the Spare % to type
    roll = portion(film, f"{head}\nPortion | Film | 3000 | sq ft | unit")["cost"]["packaging"]
    close(roll, "28.50")


def test_foil_sold_by_area_and_used_by_length() -> None:
    """200 sq ft at 12 in wide is 200 ft."""
    foil = portion(
        """
        Purchases
        Date       | Item  | Pack size | Unit  | Price per pack
        2026-11-01 | Foil  | 200       | sq ft | 10.00
        2026-11-01 | Thing | 1         | ea    | 1.00

        Items
        Item | Roll width | Roll width unit
        Foil | 12         | in

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Thing | 1      | ea

        Packaging
        Product | Uses | Amount | Unit | Per
        Portion | Foil | 1      | ft   | unit
        """
    )
    close(foil["cost"]["packaging"], "0.05")


@pytest.mark.parametrize(("inches", "centimetres"), [("17", "43.1"), ("20", "50.8")])
def test_a_bag_s_sides_are_as_long_in_both_units(inches: str, centimetres: str) -> None:
    """16 CFR 500.16 (read): bags "17 in x 20 in (43.1 x 50.8 cm)"; 43.18 is cut."""
    side = made_of(
        f"""
        Purchases
        Date       | Item | Pack size | Unit | Price per pack
        2026-11-01 | Tape | 1         | m    | 100.00

        Recipes
        Recipe | Uses | Amount   | Unit
        Dish   | Tape | {inches} | in
        """
    )
    cut(side, centimetres)


# Units: NIST SP 811, SP 1038 and Handbook 44 App. C (memory; the cup of 8 fl oz quoted).


@pytest.mark.parametrize(
    ("unit", "base", "worth"),
    [
        ("oz", "g", "28.349523125"),
        ("lb", "g", "453.59237"),
        ("kg", "g", "1000"),
        ("tsp", "ml", "4.92892159375"),
        ("Tbsp", "ml", "14.78676478125"),
        ("fl oz", "ml", "29.5735295625"),
        ("cup", "ml", "236.5882365"),
        ("pt", "ml", "473.176473"),
        ("qt", "ml", "946.352946"),
        ("gal", "ml", "3785.411784"),
        ("l", "ml", "1000"),
        ("imperial fl oz", "ml", "28.4130625"),
        ("imperial pint", "ml", "568.26125"),
        ("imperial gallon", "ml", "4546.09"),
        ("dozen", "ea", "12"),
        ("tray", "ea", "30"),
        ("in", "cm", "2.54"),
        ("ft", "cm", "30.48"),
        ("m", "cm", "100"),
        ("sq ft", "sq cm", "929.0304"),
        ("sq m", "sq cm", "10000"),
    ],
)
def test_a_unit_is_worth_what_the_standard_says(unit: str, base: str, worth: str) -> None:
    cost = made_of(
        f"""
        Purchases
        Date       | Item  | Pack size | Unit   | Price per pack
        2026-11-01 | Stuff | 1         | {base} | 1.00

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Stuff | 1      | {unit}
        """
    )
    close(cost, worth)


@pytest.mark.parametrize(
    ("unit", "label", "off"),
    [("tsp", 5, "1.44"), ("Tbsp", 15, "1.44"), ("cup", 240, "1.44"), ("fl oz", 30, "1.44")],
)
def test_a_measure_of_a_nutrition_label_is_not_the_kitchen_s(
    unit: str, label: int, off: str
) -> None:
    """21 CFR 101.9(b)(5)(viii) (quoted) rounds them for labels; costs never do."""
    cost = made_of(
        f"""
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Stuff | {label}   | ml   | 100.00

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Stuff | 1      | {unit}
        """
    )
    printed((100 / cost - 1) * 100, off)


# Densities. USDA SR28 measure weights (read, in its table of abbreviated data), g: what a measure
# weighs by SR28's density, which has three figures, to as many figures as the weight is printed in.


@pytest.mark.parametrize(
    ("food", "measure", "grams"),
    [
        ("olive oil", "cup", "216"),
        ("whole milk", "cup", "244"),
        ("whole milk", "fl oz", "30.5"),
        ("wheat flour", "cup", "125"),
        ("table salt", "tsp", "6.0"),
        ("table salt", "Tbsp", "18"),
        ("butter", "Tbsp", "14.2"),
        ("mayonnaise", "cup", "220"),
        ("mayonnaise", "Tbsp", "13.8"),
        ("white sugar", "tsp", "4.2"),
        ("honey", "Tbsp", "21"),
    ],
)
def test_a_spoon_or_a_cup_weighs_what_the_tables_say(food: str, measure: str, grams: str) -> None:
    """Bought at 1.00 a gram, what a measure of it costs is its weight."""
    cost = made_of(
        f"""
        Purchases
        Date       | Item  | Pack size | Unit | Price per pack
        2026-11-01 | Stuff | 1         | kg   | 1000.00

        Items
        Item  | Grams per ml
        Stuff | {DENSITIES[food][-1]}

        Recipes
        Recipe | Uses  | Amount | Unit
        Dish   | Stuff | 1      | {measure}
        """
    )
    printed(cost, grams)
