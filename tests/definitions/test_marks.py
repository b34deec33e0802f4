"""Which marks leave a cell blank, and where."""

from __future__ import annotations

import pytest

from costbook.definitions.marks import is_blank, is_ditto
from costbook.definitions.sheets import INPUT_SHEETS


@pytest.mark.parametrize(
    ("sheet", "name", "dash_is_blank"),
    [
        ("Purchases", "packs", True),
        ("Purchases", "supplier", True),
        ("Purchases", "item", False),  # a row's own name
        ("Purchases", "note", False),  # a text
    ],
)
def test_a_dash_leaves_a_figure_blank_and_no_text(
    sheet: str, name: str, dash_is_blank: bool
) -> None:
    field = INPUT_SHEETS[sheet].field(name)
    assert is_blank(field, "-") is dash_is_blank
    assert is_blank(field, " N/A ") is dash_is_blank
    assert is_blank(field, "\u00a0 n.\u00a0 a. ") is dash_is_blank
    assert is_blank(field, " \u00a0 ")
    assert not is_blank(field, "?")
    assert not is_blank(field, 0)


@pytest.mark.parametrize("cell", ['"', " Ditto ", "as\u00a0above", "''"])
def test_a_mark_repeats_the_cell_above(cell: str) -> None:
    assert is_ditto(cell)


@pytest.mark.parametrize("cell", ["-", "", "Ditto Farm", 2, None])
def test_anything_else_repeats_nothing(cell: object) -> None:
    assert not is_ditto(cell)
