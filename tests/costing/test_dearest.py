"""Of the rows of several sums the dearest are told, where there isn't room for all."""

from __future__ import annotations

from costbook.costing.telling import MOST_LINES, tell
from tests.costing.costed import costed

SPICES = [f"Spice {number}" for number in range(10)]
RECEIPTS = "Purchases\nDate | Item | Pack size | Unit | Price per pack\n" + "".join(
    f"2026-11-01 | {spice} | 1 | kg | 0.8\n" for spice in SPICES
)
LINES = "Recipes\nRecipe | Uses | Amount | Unit\n" + "".join(
    f"Wrap | {spice} | 1 | kg\n" for spice in SPICES
)


def told(*texts: str) -> list[str]:
    """What is told of the cost of one wrap, in which are ten spices of 0.80 each."""
    costing = costed(RECEIPTS, LINES, "Batches\nRecipe | Makes | Unit\nWrap | 1 | ea", *texts)
    (price,) = costing.structure.rows["prices"]
    lines = [line.words for line in tell(costing, price, "total", 2)]
    assert len(lines) == MOST_LINES == 12
    return lines


def test_a_film_that_is_dearer_than_each_spice_is_told() -> None:
    packaging = "Packaging\nProduct | Uses | Amount | Unit | Per\nSingle | Film | 1 | m | unit"
    *_, last = told(f"{RECEIPTS}2026-11-01 | Film | 1 | m | 1", packaging)
    assert last == "Film: 1 m for each unit, at 1.00 a metre = 1.00"


def test_an_hour_in_the_kitchen_that_is_dearer_than_each_spice_is_told() -> None:
    hire = "Settings\nSetting | Value\nCurrency | USD\nPay per hour | 0\nKitchen hire per hour | 1"
    *_, last = told(hire, "Stages\nRecipe | Stage | Minutes per batch\nWrap | Bake | 60")
    assert last == "Bake: 60 min"
