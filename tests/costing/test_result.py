"""The answer as plain data: what is missing, named once and in order, and the shape of it all."""

from __future__ import annotations

from decimal import Decimal

from costbook.costing.lacking import missing_of, not_counted
from costbook.costing.result import answer
from tests.costing.costed import costed

PARTS = {"ingredients", "packaging", "labour", "kitchen", "overhead", "selling", "total", "known"}


def missing(*texts: str) -> list[str]:
    costing = costed(*texts)
    return list(missing_of(costing, costing.structure.rows["prices"][0]))


def test_nothing_is_missing_of_a_whole_product_but_the_target() -> None:
    assert missing() == ["target margin"]
    assert missing("Settings\nSetting | Value\nTarget margin % | 50") == []


def test_everything_missing_is_named_once_in_the_order_of_the_money() -> None:
    found = missing(
        "Recipes\nRecipe | Uses | Amount | Unit\nSauce | Salt | 1 | g\nSauce | Oil | 1 | g\n"
        "Wrap | Salt | 5 | g\nWrap | Sauce | 1 | kg\nWrap | Leek | 5 | g\nWrap | Leek | 9 | g",
        "Batches\nRecipe | Makes | Unit\nSauce | 2 | kg\nWrap | 12 | ea",
        "Packaging\nProduct | Uses | Amount | Unit | Per\nSingle | Film | 30 | cm | unit",
        "Stages\nRecipe | Stage | Minutes per batch\nWrap | Roll | 30",
    )
    assert found == [
        "Salt (price)",
        "Oil (price)",
        "Leek (price)",
        "Roll (minutes or pay)",
        "Film (price)",
        "target margin",
    ]


def test_a_recipe_used_in_many_ways_is_looked_into_once() -> None:
    """Each of thirty recipes takes the one before it twice: 2^30 ways down, thirty-one recipes."""
    depth = 30
    lines = "\n".join(f"R{at} | R{at - 1} | 1 | kg\n" * 2 for at in range(1, depth + 1))
    lines = "\n".join(filter(None, lines.splitlines()))
    makes = "\n".join(f"R{at} | 2 | kg" for at in range(depth + 1))
    found = missing(
        f"Recipes\nRecipe | Uses | Amount | Unit\nR0 | Salt | 600 | g\n{lines}",
        f"Batches\nRecipe | Makes | Unit\n{makes}",
        f"Products\nProduct | Recipe | Units per pack\nSingle | R{depth} | 1 kg",
    )
    assert found == ["Salt (price)", "target margin"]


def test_the_answer_has_its_shape() -> None:
    found = answer(costed(), [])
    assert list(found) == [
        "book", "costed_on", "currency", "products", "days", "recipes", "items", "not_counted",
        "not_read", "cautions", "problems",
    ]  # fmt: skip
    (product,) = found["products"]
    assert set(product) >= {
        "product", "outlet", "units_per_pack", "complete", "missing", "uncounted", "cost", "price",
        "at_step",
        "at_current", "break_even_units_per_day",
    }  # fmt: skip
    assert product["cost"].keys() == PARTS
    assert product["price"].keys() == {"at_target_margin", "on_step", "current"}
    assert product["at_step"].keys() == product["at_current"].keys() == {
        "margin", "markup", "profit",
    }  # fmt: skip
    assert found["costed_on"] == "2026-11-25"


def test_recipes_and_items_are_told_in_the_units_people_know() -> None:
    found = answer(costed(), [])
    assert found["recipes"] == [
        {
            "recipe": "Wrap",
            "batch_cost": Decimal("1.2"),
            "unit_cost": Decimal("0.1"),
            "unit": "ea",
            "labour_minutes": Decimal(0),
        }
    ]
    (item,) = found["items"]
    assert (item["item"], item["price_per_base_unit"], item["base_unit"], item["date"]) == (
        "Flour", Decimal("0.002"), "g", "2026-11-01",
    )  # fmt: skip


def test_sheets_that_are_not_there_are_named_as_not_counted() -> None:
    assert list(not_counted(costed())) == [
        "your work (no rows on Stages)",
        "packaging (no rows on Packaging)",
        "the kitchen (no Kitchen hire per hour on Settings)",
        "overheads (no rows on Overheads)",
        "selling (no rows on Outlets)",
    ]
