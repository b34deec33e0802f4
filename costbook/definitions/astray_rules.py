"""Rows of market days of which nobody knows whose they are: they leave open what they may be of."""

from __future__ import annotations

from costbook.definitions.algebra import (
    N,
    Words,
    above,
    both,
    choose,
    either,
    known,
    meets_unknowns,
    only_if,
    opposite,
    same,
)


@meets_unknowns
def of_no_day(product_key: Words, days_rows: N) -> N:
    """1 for a row of Sales whose day has no row on Market days, so that it counts nowhere."""
    named = opposite(same(product_key, "k"))
    return choose(both(named, opposite(above(days_rows, 0))), 1, 0)


@meets_unknowns
def sale_undated(product_key: Words, day: N) -> N:
    """1 for a row of Sales that may be of any day at its outlet."""
    return choose(either(known(day), same(product_key, "k")), 0, 1)


@meets_unknowns
def row_says(
    hours_typed_in_row: N,
    cash_counted_typed_in_row: N,
    card_takings_typed_in_row: N,
    fee_paid_typed_in_row: N,
    outlet_key: Words,
    day: N,
) -> N:
    """1 for a row of Market days in which something of a day is typed, and it is no total."""
    till = either(known(cash_counted_typed_in_row), known(card_takings_typed_in_row))
    typed = either(known(hours_typed_in_row), till, known(fee_paid_typed_in_row))
    whose = either(known(day), opposite(same(outlet_key, "k")))
    return choose(both(typed, whose), 1, 0)


@meets_unknowns
def row_astray(row_says: N, day: N, outlet_key: Words) -> N:
    """1 for a row of Market days that says something, and not of which day or outlet."""
    lost = either(opposite(known(day)), same(outlet_key, "k"))
    return choose(both(above(row_says, 0), lost), 1, 0)


def day_of_sales(day: N, sales_astray: N, sales_undated: N) -> N:
    """The day whose sales are all known; none while a row of Sales may be of it."""
    return only_if(same(sales_astray + sales_undated, 0), day)
