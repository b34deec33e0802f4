"""When a figure is far from another, and how that is said."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.costing.far import how_far, is_far, money_in_full
from tests.costing.costed import costed

D = Decimal


@pytest.mark.parametrize(
    ("figure", "other", "far"),
    [
        *[("3", "1", True), ("2.99", "1", False), ("1", "3", True), ("1", "2.99", False)],
        *[("0", "1", False), ("1", "0", False), ("-3", "1", False), ("3", "-1", False)],
        *[("0.3", "0.1", True), ("0.1", "0.3", True)],
    ],
)
def test_three_times_as_much_is_far_and_a_third(figure: str, other: str, far: bool) -> None:
    assert is_far(D(figure), D(other)) is far


def test_how_many_times_may_be_said() -> None:
    assert is_far(D(10), D(1), times=10)
    assert not is_far(D(9), D(1), times=10)


@pytest.mark.parametrize(
    ("figure", "other", "said"),
    [
        ("11", "1", "11.0 times as much"),
        ("22", "7", "3.1 times as much"),
        ("9", "100", "9 % of that"),
        ("1", "3", "33 % of that"),
        ("4", "1000", "0.40 % of that"),  # two digits, where whole per cent shows fewer
        ("123", "10000", "1.2 % of that"),
    ],
)
def test_how_far_it_is_in_words(figure: str, other: str, said: str) -> None:
    assert how_far(D(figure), D(other)) == said


@pytest.mark.parametrize(
    ("currency", "amount", "said"),
    [
        *[("USD", "2.5", "2.50"), ("USD", "0.0042", "0.0042"), ("USD", "0.00418", "0.0042")],
        *[("JPY", "250", "250"), ("JPY", "2.5", "2.5"), ("", "2.5", "2.50")],
    ],
)
def test_money_to_the_coin_and_to_two_digits_where_that_shows_fewer(
    currency: str, amount: str, said: str
) -> None:
    settings = f"Settings\nSetting | Value\nCurrency | {currency}"
    assert money_in_full(costed(settings), D(amount)) == said
