"""A figure as a cook says it: its unit as it was typed, or as a kitchen would have it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.costing.spoken import Spoken
from costbook.costing.trail import Trail
from costbook.definitions.told import AsTyped
from tests.costing.costed import costed


@pytest.mark.parametrize(
    ("makes", "counted", "said"),
    [
        ("2 | dozen", False, "3 dozen"),
        ("2 | dozen", True, "3"),  # of two dozen, three pieces are rejects
        ("24 | ea", False, "3"),
        ("24 | ea", True, "3"),
        ("9 | kg", False, "3 kg"),
        ("9 | kg", True, "3 kg"),
        ("9 | sacks", False, "3"),  # no unit is called so
    ],
)
def test_a_number_has_the_unit_that_was_typed(makes: str, counted: bool, said: str) -> None:
    costing = costed(f"Batches\nRecipe | Makes | Unit | Rejects\nWrap | {makes} | 3")
    (batch,) = costing.structure.rows["batches"]
    spoken = Spoken(Trail(costing), 2)
    assert spoken.measured(batch, "rejects", AsTyped("unit_row", counted)) == said


@pytest.mark.parametrize(
    ("number", "said"),
    [
        ("1e15", "1,000,000,000,000,000"),
        ("1e16", "1e+16"),
        ("1234.5", "1,234.5"),
        ("12.345", "12.35"),
    ],
)
def test_a_number_of_which_no_cell_knows_all_digits_is_said_with_few(
    number: str, said: str
) -> None:
    costing = costed()
    (batch,) = costing.structure.rows["batches"]
    costing.of(batch)["rejects"] = Decimal(number)
    assert Spoken(Trail(costing), 2).measured(batch, "rejects", AsTyped("unit_row")) == said
