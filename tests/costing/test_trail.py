"""How a figure comes about, as every step of an explanation says it."""

from __future__ import annotations

import pytest

from costbook.costing.trail import Trail
from tests.costing.costed import costed

LINES = """
Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g
Wrap   | Salt  | 1      | kg
Wrap   | Wrap  | 1      | ea
"""


@pytest.mark.parametrize(
    ("table", "column", "manner"),
    [
        ("recipes", "items_cost", "the sum of"),
        ("recipes", "items_cost_known", "the sum of what is known of"),
        ("recipes", "line_lack", "the first of"),
        ("lines", "amount", "Recipes, Amount"),
        ("lines", "unit_row", ""),
        ("lines", "unit_factor", ""),
        ("lines", "line_cost", "amount as bought × price per base unit"),
        # of a rule that weighs cases, what it is about: its first sentence, without its unit
        ("recipes", "batch_cost", "Ingredients of a batch"),
    ],
)
def test_what_a_figure_is_made_by(table: str, column: str, manner: str) -> None:
    costing = costed(LINES)
    assert Trail(costing).basis(costing.structure.rows[table][0], column).rule == manner


@pytest.mark.parametrize(
    ("table", "row", "column", "is_a_step"),
    [
        ("lines", 0, "amount", True),
        ("lines", 0, "unit_factor", False),  # a gram is a gram
        ("lines", 1, "unit_factor", True),  # a kilogram is 1,000 of them
        ("lines", 0, "measure", False),  # 1 stands for weight
        ("items", 0, "usable_share", False),  # nobody said so
        ("uses", 0, "batch_cost", True),  # it leads nowhere, and that is told
    ],
)
def test_what_is_told_as_a_step(table: str, row: int, column: str, is_a_step: bool) -> None:
    costing = costed(LINES)
    assert Trail(costing).is_a_step(costing.structure.rows[table][row], column) is is_a_step
