"""Eggs, rolls and units as published, through the main path: a workbook in, a figure out.

*read*: read in a stored copy of the source; *memory*: not read; *calc*: worked out here.
"""

from __future__ import annotations

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, row_of, sheets
from tests.truth.dish import DISH, made_of, portion

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


# BLS APU0000708111, grade A large, a dozen, US city average (read, public domain).
DOZEN = {"2024-12-01": 4.146, "2025-01-01": 4.953, "2025-02-01": 5.897, "2025-03-01": 6.227}


def test_an_egg_price_shock_as_it_happened() -> None:
    rows = "\n".join(f"{day} | Eggs | 1 | dozen | {price}" for day, price in DOZEN.items())
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
