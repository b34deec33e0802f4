"""Amounts that once counted for something else, or for nothing, in silence."""

from __future__ import annotations

import pytest

from tests.helpers import product_of
from tests.money_rules.wraps import answer, said
from tests.tables import close

# ---------------------------------------------------------------- slices of one

RECEIPT = "Purchases\nDate | Item | Pack size | Unit | Price per pack\n2026-11-01 | Bread |"
LINE = "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Bread |"


def test_slices_of_a_loaf_that_was_bought_as_one_are_asked() -> None:
    found = answer(f"{RECEIPT} 1 | ea | 3.00", f"{LINE} 24 | slice")
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert said(found, "Recipes", "D2") == [
        (
            "Bread is bought as 1 piece, and used by the slice. "
            "Say where it is bought how many it has, as 20 slice; or weigh one, in grams."
        )
    ]


@pytest.mark.parametrize(
    ("bought", "used", "cost"),
    [
        ("20 | ct | 3.00", "24 | slice", "0.30"),  # 24 of 20 at 3.00, over 12 wraps
        ("20 | slice | 3.00", "24 | slice", "0.30"),
        ("1 | ea | 3.00", "2 | ea", "0.50"),
        ("1 | ea | 3.00", "2 | head", "0.50"),  # a head is all of it
        ("1 | ea | 3.00", "2 | ct", "0.50"),
    ],
)
def test_a_piece_that_is_one_piece_counts(bought: str, used: str, cost: str) -> None:
    found = answer(f"{RECEIPT} {bought}", f"{LINE} {used}")
    close(product_of(found, "Single")["cost"]["ingredients"], cost)
    assert said(found, "Recipes", "D2") == []


def test_slices_of_a_recipe_that_makes_one_are_asked() -> None:
    found = answer(
        "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Loaf | 6 | slice\nLoaf | Flour | 600 | g",
        "Batches\nRecipe | Makes | Unit\nWrap | 12 | ea\nLoaf | 1 | ea",
    )
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert said(found, "Recipes", "D2") == [
        (
            "Loaf is made as 1 piece, and used by the slice. "
            "Say where it is made how many it has, as 20 slice; or weigh one, in grams."
        )
    ]


# ---------------------------------------------------------------- usable shares

NO_CHANGE = (
    "the amount counts as bought, so Usable % changes nothing here. If it was measured after "
    'trimming, type "ready to use" under Measured.'
)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("600 | g | as bought | 80", [NO_CHANGE]),
        ("6 | ea | | 80", [NO_CHANGE]),
        ("6 ea | | | 80", [NO_CHANGE]),
        ("600 | g | | 80", []),
        ("6 | ea | ready to use | 80", []),
        ("600 | g | as bought | 100", []),
        ("600 | g | as bought |", []),
    ],
)
def test_a_usable_share_that_does_nothing_is_said(line: str, says: list[str]) -> None:
    found = answer(
        f"Recipes\nRecipe | Uses | Amount | Unit | Measured | Usable %\nWrap | Flour | {line}",
        "Items\nItem | Grams per piece\nFlour | 100",
    )
    assert said(found, "Recipes", "F2") == says
    assert product_of(found, "Single")["cost"]["ingredients"] is not None


# ---------------------------------------------------------------- use per week


@pytest.mark.parametrize(
    ("use", "cell", "says"),
    [
        ("2 | ", "C2", ["the unit is missing. Type one: g, oz, ml, cup, ct, in …"]),
        ("2 | kg", "C2", []),
        (
            "2 | l",
            "B2",
            [
                (
                    "it is in another kind of unit than the item is bought in, and does not count. "
                    "Give Use per week in a unit that it is bought in."
                )
            ],
        ),
    ],
)
def test_a_use_per_week_that_does_nothing_is_asked(use: str, cell: str, says: list[str]) -> None:
    found = answer(f"Items\nItem | Use per week | On hand unit\nFlour | {use}")
    assert said(found, "Items", cell) == says


# ---------------------------------------------------------------- a thousand times less

TWO = '"2,000" could be 2 or 2000. Write 2000, or type 2 as a number in a cell of its own.'


@pytest.mark.parametrize(
    ("typed", "unit", "asked"),
    [
        ("2,000 g", "", TWO),
        ("2,000", "g", TWO),
        ("1,250 g", "", '"1,250 g" could be 1.25 g or 1250 g. Write 1250 g, or 1.25 g.'),
        ("1,250", "ct", '"1,250" could be 1.25 ea or 1250 ea. Write 1250 ea, or 1.25 ea.'),
    ],
)
def test_a_comma_typed_once_makes_no_grams_of_kilograms(typed: str, unit: str, asked: str) -> None:
    # 1,2 kg shows a comma before tenths, in the same column
    found = answer(
        "Recipes\nRecipe | Uses | Amount | Unit\n"
        f"Wrap | Flour | 1,2 kg |\nWrap | Flour | {typed} | {unit}"
    )
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert said(found, "Recipes", "C3") == [asked]


def test_a_pack_size_is_not_read_by_another_columns_comma() -> None:
    found = answer(
        "Purchases\nDate | Item | Pack size | Unit | Price per pack\n"
        "2026-11-01 | Flour | 1,250 | g | 2.00",
        "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Flour | 1,2 kg |",
    )
    assert product_of(found, "Single")["cost"]["ingredients"] is None
    assert said(found, "Purchases", "C2") == [
        '"1,250" could be 1.25 g or 1250 g. Write 1250 g, or 1.25 g.'
    ]


def test_kilograms_may_have_three_places() -> None:
    found = answer(
        "Recipes\nRecipe | Uses | Amount | Unit\nWrap | Flour | 1,2 kg |\nWrap | Flour | 1,250 kg |"
    )
    close(product_of(found, "Single")["cost"]["ingredients"], "49/120")  # 2.45 kg at 2.00
