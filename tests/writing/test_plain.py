"""Our sheets as plain data: what is said of each cell, and that nothing is lost on the way."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from costbook.definitions.columns import Show
from costbook.round_trip import read_and_cost
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.plain import plain
from costbook.writing.sheets import TITLES, describe
from costbook.writing.workbook import draw, drawn_from

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"

MONEY = Look(Role.TOTAL, Show.MONEY)


def test_a_cell_is_its_column_look_value_formula_and_link() -> None:
    sheet = SheetDescription("Prices", "My prices")
    sheet.anchors["top"] = (0, 0)
    sheet.put(0, 0, "Roll", Look(), link="#top")
    sheet.put(0, 1, Decimal("2.50"), MONEY)
    sheet.put(0, 2, None, MONEY, formula="=A9")
    sheet.put(1, 1, None, MONEY)
    said = plain([sheet], 2)
    assert said["sheets"][0]["rows"] == [
        [0, [[0, 0, "Roll", "", "'My prices'!A1"], [1, 1, 2.5], [2, 1, None, "=A9"]]],
        [1, [[1, 1]]],
    ]


def test_a_look_is_said_once_in_plain_words() -> None:
    sheet = SheetDescription("Prices", "Prices")
    sheet.put(0, 0, Decimal(1), MONEY)
    sheet.put(1, 0, Decimal(2), MONEY)
    assert plain([sheet], 2)["looks"] == [
        {
            "font": "Arial",
            "size": 10.0,
            "ink": "#22343A",
            "upright": "top",
            "bold": True,
            "above": ("thin", "#22343A"),
            "across": "right",
            "figures": "#,##0.00;-#,##0.00",
        }
    ]


@pytest.mark.parametrize("name", ["market_stall", "everything_wrong"])
def test_what_comes_back_from_json_draws_the_same_workbook(name: str) -> None:
    costed = read_and_cost(SAMPLES / f"{name}.xlsx", date(2026, 11, 20))
    sheets = describe(costed.costing, costed.problems, {title: title for title in TITLES})
    text = json.dumps(plain(sheets, 2), allow_nan=False)
    assert json.loads(text)["version"] == 1
    assert drawn_from(json.loads(text)) == draw(sheets, 2)
