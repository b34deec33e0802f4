"""How figures are rounded to be shown."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions.rounding import in_money, in_percent, rounded


@pytest.mark.parametrize(
    ("number", "places", "shown"),
    [
        ("2.345", 2, "2.35"),  # halves up, as spreadsheets round
        ("2.344", 2, "2.34"),
        ("-2.345", 2, "-2.35"),
        ("3", 2, "3.00"),
        ("1234567890123456.785", 2, "1234567890123456.79"),  # sixteen digits before the point
        ("12345678901234567.785", 2, "12345678901234567.785"),  # no cell knows the cents of that
    ],
)
def test_a_number_is_rounded(number: str, places: int, shown: str) -> None:
    assert str(rounded(Decimal(number), places)) == shown


@pytest.mark.parametrize(
    ("value", "places", "shown"),
    [
        (Decimal("1234.5"), 2, "1,234.50"),
        (Decimal("1234.5"), 0, "1,235"),
        (Decimal("1234567890123456.785"), 2, "1,234,567,890,123,456.79"),
        (Decimal(12345678901234567), 2, "1.23457e+16"),
        (None, 2, "?"),
    ],
)
def test_money_is_shown_to_the_coin(value: object, places: int, shown: str) -> None:
    assert in_money(value, places) == shown


def test_a_share_is_shown_as_a_percentage() -> None:
    assert in_percent(Decimal("0.1234")) == "12.3 %"
    assert in_percent(Decimal("0.0005")) == "0.1 %"  # halves up, as the sheets show it
    assert in_percent(Decimal("0.1225")) == "12.3 %"
    assert in_percent(None) == "?"
