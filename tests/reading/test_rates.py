"""Figures with a rate behind them, or with a word that their heading says already."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions.sheets import INPUT_SHEETS
from costbook.reading.answers import Answer, Ways
from costbook.reading.numbers import NumberStyle
from costbook.reading.texts import Unclear
from costbook.reading.values import read_cell

WAYS = Ways(NumberStyle.POINT, currency="USD")


def read(at: str, typed: str, **beside: str) -> Answer:
    """What a cell of a sheet's field is, with other cells of its row."""
    sheet, name = at.split(".")
    return read_cell(INPUT_SHEETS[sheet].field(name), typed, {name: typed, **beside}, WAYS)


@pytest.mark.parametrize(
    ("at", "typed", "figure"),
    [
        ("Settings.kitchen_hire_per_hour", "12/h", "12"),
        ("Settings.kitchen_hire_per_hour", "15 per hour", "15"),
        ("Settings.pay_per_hour", "$15 an hour", "15"),
        ("Settings.yearly_sales_cap", "20000 a year", "20000"),
        ("Outlets.fee_per_day", "45/day", "45"),
        ("Outlets.fee_per_day", "45 per market", "45"),
        ("Outlets.cost_per_mile", "0.45/mi", "0.45"),
        ("Outlets.cost_per_mile", "45 p/mile", "0.45"),
        ("Outlets.card_fixed_fee", "0.10 per sale", "0.10"),
        ("Outlets.units_sold_per_day", "60 rolls", "60"),
        ("Outlets.hours_per_day", "6 h 30 min", "6.5"),
        ("Suppliers.membership", "60/year", "60"),
        ("Stages.minutes_per_batch", "20 min per batch", "20"),
        ("Stages.minutes_per_batch", "1 h 30 min", "90"),
        ("Stages.minutes_per_batch", "half an hour", "30"),
        ("Stages.minutes_per_unit", "90 sec", "1.5"),
        ("Stages.minutes_per_unit", "2 min each", "2"),
        ("Stages.minutes_per_unit", "2 per roll", "2"),
        ("Items.grams_per_piece", "50 g each", "50"),
        ("Items.grams_per_ml", "0.5 g/ml", "0.5"),
        ("Items.keeps_days", "7 days", "7"),
        ("Purchases.packs", "2 cases", "2"),
        ("Batches.rejects", "1 roll", "1"),
        ("Batches.makes", "24 per batch", "24"),
        ("Recipes.amount", "10 g a batch", "10"),
        ("Products.net_weight", "250 g per pack", "250"),
        ("Products.units_per_pack", "six", "6"),
    ],
)
def test_a_headings_own_rate_and_word_are_understood(at: str, typed: str, figure: str) -> None:
    assert read(at, typed).value == Decimal(figure)


@pytest.mark.parametrize(
    ("at", "typed", "says", "remedy"),
    [
        (
            "Settings.kitchen_hire_per_hour",
            "80/day",
            '"80/day" is by the day, and Kitchen hire per hour is by the hour.',
            "Type what it comes to as Kitchen hire per hour, as a number alone.",
        ),
        (
            "Stages.stage_pay",
            "600 a week",
            '"600 a week" is by the week, and Pay per hour is by the hour.',
            "Type what it comes to as Pay per hour, as a number alone.",
        ),
        (
            "Outlets.fee_per_day",
            "45/week",
            '"45/week" is by the week, and Fee per day is by the day.',
            "Type what it comes to as Fee per day, as a number alone.",
        ),
        (
            "Outlets.cost_per_mile",
            "0.45/km",
            '"0.45/km" is by the km, and Cost per mile is by the mile.',
            "Type what it comes to as Cost per mile, as a number alone.",
        ),
        (
            "Suppliers.membership",
            "5 per month",
            '"5 per month" is by the month, and Membership per year is by the year.',
            "Type what it comes to as Membership per year, as a number alone.",
        ),
        (
            "Purchases.other_cost",
            "5/case",
            '"5/case" is by the case, and Other cost is not.',
            "Type what it comes to as Other cost, as a number alone.",
        ),
        (
            "Stages.minutes_per_unit",
            "30/h",
            '"30/h" is by the h, and Minutes per unit is by the unit.',
            "Type what it comes to as Minutes per unit, as a number alone.",
        ),
        (
            "Settings.pay_per_hour",
            "15 p/h",
            '"15 p/h" could be in pence or not.',
            "Type the number alone.",
        ),
        (
            "Packaging.amount",
            "1 per pack",
            '"1 per pack" says what it is for, and that belongs under Per.',
            "Type the amount alone, and unit, pack or batch under Per.",
        ),
    ],
)
def test_another_rate_is_asked(at: str, typed: str, says: str, remedy: str) -> None:
    beside = {"per": "pack"} if at.startswith("Packaging") else {}
    answer = read(at, typed, **beside)
    assert (answer.value, answer.asked) == (None, Unclear(says, remedy))


def test_an_overhead_says_its_rate_in_the_cell_beside() -> None:
    assert read("Overheads.amount", "30/month", period="monthly").value == 30
    assert read("Overheads.amount", "5 per day", period="market day").value == 5
    assert read("Overheads.amount", "30/month", period="year").asked == Unclear(
        '"30/month" is by the month, and Per says year.', "Make the two agree."
    )
    assert read("Overheads.amount", "30/month").asked == Unclear(
        '"30/month" is by the month, and Per is blank.', "Make the two agree."
    )


@pytest.mark.parametrize(
    ("at", "typed"),
    [
        ("Outlets.hours_per_day", "6 days"),  # each was once read as the number in it
        ("Stages.minutes_per_unit", "2 units"),
        ("Stages.minutes_per_batch", "20 g"),
        ("Items.grams_per_piece", "3 pieces"),
        ("Items.grams_per_piece", "2 oz"),
        ("Purchases.packs", "2 kg"),
        ("Items.keeps_days", "2 weeks"),
    ],
)
def test_a_word_for_something_else_is_asked(at: str, typed: str) -> None:
    answer = read(at, typed)
    assert answer.value is None
    assert answer.asked
    assert answer.asked.what.startswith(f'"{typed}" ')


def test_packs_are_no_units_in_a_pack() -> None:
    assert read("Products.units_per_pack", "2 packs").asked == Unclear(
        '"2 packs" does not say what is in it.',
        "Write how many or how much one holds, as 24 ea or 6 x 500 g.",
    )


def test_an_amount_of_packaging_in_pieces_is_plain() -> None:
    assert read("Packaging.amount", "2 each", per="pack").value == 2
