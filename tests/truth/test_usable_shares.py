"""The figures we offer for usable shares, densities and pieces are the published ones.

USDA SR28 (National Nutrient Database for Standard Reference, release 28, 2015, revised May 2016;
public domain; read): share = 1 - refuse. FAO/INFOODS Density Database 2.0, 2012 (read). USDA
Agriculture Handbook 102 (quoted). Each is typed here again from the source, not from our data.
"""

from __future__ import annotations

import csv
from decimal import Decimal
from importlib.resources import files

import pytest

from tests.helpers import priced, product_of
from tests.tables import close, sheets

SHARES = {
    "egg": ".88", "onion": ".90", "sweet pepper": ".82", "spinach": ".72", "mushroom": ".97",
    "potato": ".75", "tomato": ".91", "garlic": ".87", "carrot": ".89", "celery": ".89",
    "cabbage": ".80", "cucumber, peeled": ".73", "romaine": ".94", "kale": ".72", "leek": ".44",
    "bacon, cooked": ".33", "cheese": "1.00", "bread": "1.00",
}  # fmt: skip

DENSITIES = {  # FAO/INFOODS, then SR28 measure weights, g/ml; 20-60 % apart when grated or leafy
    "olive oil": ("0.918", "0.913"),
    "whole milk": ("1.03", "1.031"),
    "wheat flour": ("0.521", "0.528"),
    "table salt": ("1.217", "1.217"),
    "butter": ("0.911", "0.960"),
    "mayonnaise": ("0.91", "0.930"),
    "white sugar": ("0.85",),
    "honey": ("1.42",),
}

# USDA AMS 56 (2000; table read in 7 Pa. Code § 87.42): least net weight of a dozen, oz.
DOZEN_OUNCES = {
    "jumbo": 30, "extra large": 27, "large": 24, "medium": 21, "small": 18, "peewee": 15,
}  # fmt: skip

NAMES = ("usable_shares", "densities", "piece_weights")


def data(name: str) -> list[dict[str, str]]:
    text = (files("costbook.definitions") / "data" / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_says_where_it_is_from(name: str) -> None:
    rows = data(name)
    assert list(rows[0]) == ["name", "value", "unit", "source", "date", "certainty"]
    for row in rows:
        assert Decimal(row["value"]) > 0
        assert row["unit"] == {"usable_shares": "share", "densities": "g/ml"}.get(name, "g")
        assert row["source"]
        assert row["certainty"] in ("read", "quoted", "memory", "calc")
        assert row["date"] or row["certainty"] == "quoted"  # a quotation may not say its year


def test_the_shares_are_the_published_ones() -> None:
    found = {row["name"]: Decimal(row["value"]) for row in data("usable_shares")}
    assert found == {name: Decimal(share) for name, share in SHARES.items()}


def test_the_densities_are_the_published_ones() -> None:
    found: dict[str, list[Decimal]] = {}
    for row in data("densities"):
        found.setdefault(row["name"], []).append(Decimal(row["value"]))
    assert found == {name: [Decimal(one) for one in both] for name, both in DENSITIES.items()}


def test_two_sources_of_a_density_agree_to_six_percent() -> None:
    for both in DENSITIES.values():
        low, high = min(map(Decimal, both)), max(map(Decimal, both))
        assert high / low < Decimal("1.06")


def test_an_egg_in_its_shell_weighs_a_twelfth_of_its_class() -> None:
    found = {row["name"]: Decimal(row["value"]) for row in data("piece_weights")}
    for size, ounces in DOZEN_OUNCES.items():
        exact = ounces * Decimal("28.349523125") / 12
        assert abs(found[f"egg in its shell, {size}"] - exact) <= Decimal("0.0005")


def test_shell_and_inside_of_an_egg_agree_between_sources() -> None:
    """A large egg of 24 oz a dozen with 12 % shell (SR28) is within 0.3 % of SR28's 50 g."""
    found = {row["name"]: Decimal(row["value"]) for row in data("piece_weights")}
    inside = found["egg in its shell, large"] * Decimal(SHARES["egg"])
    assert abs(inside / found["egg without its shell, large"] - 1) < Decimal("0.003")


def test_eu_classes_are_the_quoted_ones() -> None:
    """Regulation (EU) 2023/2465 (quoted): XL from 73 g, L from 63, M from 53."""
    found = {row["name"]: row["value"] for row in data("piece_weights")}
    classes = {size: found[f"egg in its shell, EU {size}"] for size in ("XL", "L", "M")}
    assert classes == {"XL": "73", "L": "63", "M": "53"}


def test_every_published_share_does_its_work_in_a_workbook() -> None:
    """A kilogram ready to use, bought at 1.00 a kilogram, costs 1 / share."""
    foods = {name.replace(",", ""): share for name, share in SHARES.items()}
    tables = {
        "Purchases": "Date | Item | Pack size | Unit | Price per pack",
        "Items": "Item | Usable %",
        "Recipes": "Recipe | Uses | Amount | Unit",
        "Batches": "Recipe | Makes | Unit",
        "Products": "Product | Recipe | Units per pack",
    }
    for food, share in foods.items():
        tables["Purchases"] += f"\n2026-11-01 | {food} | 1 | kg | 1.00"
        tables["Items"] += f"\n{food} | {share}"
        tables["Recipes"] += f"\nDish of {food} | {food} | 1 | kg"
        tables["Batches"] += f"\nDish of {food} | 1 | ea"
        tables["Products"] += f"\nPortion of {food} | Dish of {food} | 1"
    answer = priced(sheets(*(f"{sheet}\n{rows}" for sheet, rows in tables.items())))
    for food, share in foods.items():
        cost = product_of(answer, f"Portion of {food}")["cost"]["ingredients"]
        close(cost, float(1 / Decimal(share)))
