"""Amounts in words: the unit that a thing is bought in decides how much of it is read in."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal

import pytest

from costbook.definitions.amounts import amount_in_words
from costbook.definitions.units import UNITS, find_unit


# A pound is 453.59237 g and 16 ounces, a gallon 3785.411784 ml, a foot 30.48 cm.
@pytest.mark.parametrize(
    ("amount", "unit", "words"),
    [
        ("2052", "kg", "2.05 kg"),
        ("2052", "lb", "4 lb 8 oz"),  # 2052 - 4 x 453.59237 = 237.63, / 28.3495 = 8.38
        ("4535.9237", "lb", "10 lb"),
        ("453", "lb", "1 lb"),  # 15.98 oz
        ("126.2", "lb", "4.45 oz"),
        ("999.6", "kg", "1 kg"),
        ("340", "kg", "340 g"),
        ("123456", "kg", "123 kg"),
        ("0", "lb", "0 oz"),
        ("1500", "l", "1.5 l"),
        ("100", "gal", "3.38 fl oz"),
        ("55605", "ft", "1824 ft"),
        ("12.7", "ft", "5 in"),
        ("45", "m", "45 cm"),
        ("1", "piece", "1 piece"),
        ("180", "piece", "180 pieces"),
        ("7.5", "piece", "7.5 pieces"),
        ("1234.5", "", "1235"),
    ],
)
def test_an_amount_is_said_in_the_unit_it_is_bought_in(amount: str, unit: str, words: str) -> None:
    assert amount_in_words(Decimal(amount), unit) == words


def test_at_least_so_much_is_rounded_up() -> None:
    assert amount_in_words(Decimal("2052.1"), "kg", ROUND_CEILING) == "2.06 kg"
    assert amount_in_words(Decimal("2052.1"), "lb", ROUND_CEILING) == "4 lb 9 oz"


def test_every_unit_is_read_in_units_of_its_own_kind() -> None:
    """What is bought in pounds and ounces is read in pounds, and what is in grams in kilograms."""
    for unit in UNITS:
        for name in unit.read_in:
            large = find_unit(name)
            assert large is not None
            assert large.measure == unit.measure, unit.name
    first = {unit.name: unit.read_in[0] for unit in UNITS}
    assert {first[name] for name in ("lb", "oz")} == {"lb"}
    assert {first[name] for name in ("mg", "g", "kg")} == {"kg"}
    assert {first[name] for name in ("ml", "l", "metric cup")} == {"l"}
    assert {first[name] for name in ("in", "ft", "yd")} == {"ft"}
    assert {first[name] for name in ("ea", "dozen", "slice")} == {"piece"}
