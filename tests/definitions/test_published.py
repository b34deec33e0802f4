"""Which published figure is offered for which item; tests/truth holds the figures themselves."""

from __future__ import annotations

import pytest

from costbook.definitions.published import published

PEEWEE, JUMBO = ("egg in its shell, peewee", "35.437"), ("egg in its shell, jumbo", "70.874")


@pytest.mark.parametrize(
    ("field", "item", "offered"),
    [
        ("grams_per_ml", "White sugar", [("white sugar", "0.85")]),
        ("grams_per_ml", "Sugar", [("white sugar", "0.85")]),
        ("grams_per_ml", "Butter, unsalted", [("butter", "0.911")]),
        ("grams_per_ml", "Peanut butter", []),
        ("grams_per_ml", "Rice", []),
        ("grams_per_ml", "", []),
        ("grams_per_piece", "Eggs, large", [("egg in its shell, large", "56.699")]),
        ("grams_per_piece", "Eggs", [PEEWEE, JUMBO]),
        (
            "grams_per_piece",
            "EU eggs",  # M, L and XL: the least and the greatest
            [("egg in its shell, EU M", "53"), ("egg in its shell, EU XL", "73")],
        ),
        ("usable_share", "Leeks", [("leek", "0.44")]),
        ("usable_share", "Bread flour", []),
    ],
)
def test_the_food_that_an_item_may_be(
    field: str, item: str, offered: list[tuple[str, str]]
) -> None:
    assert [(each.name, str(each.value)) for each in published(field, item)] == offered


def test_a_source_is_cited_with_its_year() -> None:
    (large,) = published("grams_per_piece", "Large eggs")
    assert large.cited == "USDA AMS 56, least net weight of a dozen: 24 oz ÷ 12, 2000"
    (leek,) = published("usable_share", "Leek")
    assert leek.cited == "USDA Agriculture Handbook 102"
    (onion,) = published("usable_share", "Onions")
    assert onion.cited == "USDA SR28, 1 − refuse, 2016"
