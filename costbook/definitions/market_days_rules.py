"""What a market day brought: every rule, in the order of the money.

The rows of a day, on Market days and on Sales, are added up first. What nobody typed is unknown.
"""

from __future__ import annotations

from typing import Any, Final

from costbook.definitions.algebra import (
    UNKNOWN,
    N,
    Words,
    above,
    both,
    choose,
    either,
    known,
    meets_unknowns,
    only_if,
    same,
)
from costbook.definitions.rules import ROWS_IN_RANK

_MINUTES: Final = 60
"""Minutes in an hour."""

# ---------------------------------------------------------------- at an outlet


@meets_unknowns
def pays_wholesale(kind: Words) -> Any:
    """1 at an outlet that pays the wholesale price, 0 at any other."""
    return choose(same(kind, ""), UNKNOWN, choose(same(kind, "wholesale"), 1, 0))


def charged_of_quoted(tax_here: N, tax_in_price: N) -> N:
    """What people pay, over the price as it is quoted [1]: more, where tax comes on top."""
    return (1 + tax_here) / (1 + tax_in_price)


# ---------------------------------------------------------------- a product on a day


@meets_unknowns
def price_then(pays_wholesale: N, current_price: N, wholesale_price_now: N) -> N:
    """The price that counts where none was typed for the day, as quoted [money/pack]."""
    wholesale = choose(same(pays_wholesale, 1), wholesale_price_now, UNKNOWN)
    return choose(same(pays_wholesale, 0), current_price, wholesale)


@meets_unknowns
def gone(sold: N, sampled: N, spoiled: N, taken: N) -> N:
    """Packs that didn't come home [pack]; unknown where they are more than were taken along."""
    all_gone = sold + sampled + spoiled
    return choose(above(all_gone, taken), UNKNOWN, all_gone)


def sold_counted(sold: N, gone: N) -> N:
    """Packs sold [pack], where it can be that so many were."""
    return only_if(known(gone), sold)


def came_home(taken: N, gone: N) -> N:
    """Packs that came home again [pack]: stock, and no loss."""
    return taken - gone


def sell_through(sold_counted: N, taken: N) -> N:
    """The part of what was taken along that was sold [1]."""
    return sold_counted / taken


@meets_unknowns
def sold_out(came_home: N, sold: N) -> N:
    """1 where nothing of what was taken along came home, and some was sold."""
    none_left: N = choose(both(same(came_home, 0), above(sold, 0)), 1, 0)
    return choose(known(came_home), none_left, UNKNOWN)


def row_takings(sold_counted: N, price: N, charged_of_quoted: N) -> N:
    """What people paid for a product [money], with the sales tax in it."""
    return sold_counted * price * charged_of_quoted


def row_cost(gone: N, cost_of_a_pack: N) -> N:
    """What the packs cost that are gone [money], without their own work."""
    return gone * cost_of_a_pack


def row_minutes(sold_counted: N, own_minutes_of_a_pack: N) -> N:
    """Minutes of their own work in what was sold [min]."""
    return sold_counted * own_minutes_of_a_pack


def row_units(sold_counted: N, units_per_pack: N) -> N:
    """Units sold of a product [unit]: a pack of six is six."""
    return sold_counted * units_per_pack


# ---------------------------------------------------------------- a day


@meets_unknowns
def leads(first_row: N, row_number: N) -> N:
    """1 for the first of a day's rows on Market days, which bears the day's figures; else 0."""
    return choose(same(first_row, row_number), 1, 0)


def day_rank(leads: N, day: N, row_number: N) -> N:
    """What days are put in order by: the day, then the row."""
    return only_if(same(leads, 1), day * ROWS_IN_RANK + row_number)


@meets_unknowns
def takings_by_till(
    cash_counted: N,
    cash_counted_typed: N,
    float_cash: N,
    float_cash_typed: N,
    cash_paid_out: N,
    card_takings: N,
    card_takings_typed: N,
    card_share: N,
) -> N:
    """Takings by the till [money]: counted, less the float, and what was paid out and by card.

    Unknown while cash or float is blank, or card takings are where cards are taken.
    """
    cards_known = either(above(card_takings_typed, 0), same(card_share, 0))
    cash_known = both(above(cash_counted_typed, 0), above(float_cash_typed, 0))
    return only_if(
        both(cash_known, cards_known), cash_counted - float_cash + cash_paid_out + card_takings
    )


def over_short(takings_by_till: N, takings_by_count: N) -> N:
    """What is in the till beyond what was counted as sold [money]; below zero it is short."""
    return takings_by_till - takings_by_count


@meets_unknowns
def takings(takings_by_count: N, takings_by_till: N) -> N:
    """The day's takings [money]: by count, else by the till."""
    return choose(known(takings_by_count), takings_by_count, takings_by_till)


def takings_before_tax(takings: N, tax_here: N) -> N:
    """The day's takings without the sales tax in them [money]."""
    return takings / (1 + tax_here)


@meets_unknowns
def day_fee(fee_paid: N, fee_paid_typed: N, fee_per_day: N) -> N:
    """What was paid for the pitch [money]; where nobody typed it, the outlet's."""
    stands = choose(above(fee_paid_typed, 0), fee_paid, fee_per_day)
    return choose(known(fee_paid), stands, UNKNOWN)


@meets_unknowns
def day_travel(miles: N, miles_typed: N, cost_per_mile: N, travel_per_day: N) -> N:
    """What travelling cost [money]: the day's miles, else the outlet's."""
    driven = choose(same(miles, 0), 0, miles * cost_per_mile)
    stands = choose(above(miles_typed, 0), driven, travel_per_day)
    return choose(known(miles), stands, UNKNOWN)


@meets_unknowns
def day_miles(miles: N, miles_typed: N, miles_per_day: N) -> N:
    """Miles driven [mile]: as typed, else the outlet's."""
    stands = choose(above(miles_typed, 0), miles, miles_per_day)
    return choose(known(miles), stands, UNKNOWN)


@meets_unknowns
def day_other(other_paid: N, other_paid_typed: N, other_per_day: N) -> N:
    """What else was paid for the day [money]; where nobody typed it, the outlet's."""
    stands = choose(above(other_paid_typed, 0), other_paid, other_per_day)
    return choose(known(other_paid), stands, UNKNOWN)


@meets_unknowns
def paid_by_card(card_takings: N, card_takings_typed: N, takings: N, card_share: N) -> N:
    """What was paid by card [money]; where nobody typed it, the outlet's share of the takings."""
    share = choose(same(card_share, 0), 0, takings * card_share)
    stands = choose(above(card_takings_typed, 0), card_takings, share)
    return choose(known(card_takings), stands, UNKNOWN)


def part_by_card(paid_by_card: N, takings: N) -> N:
    """The part of the takings that was paid by card [1]."""
    return paid_by_card / takings


@meets_unknowns
def fixed_card_fees(
    card_fixed_fee: N, paid_by_card: N, part_by_card: N, units_sold: N, units_per_sale: N
) -> N:
    """What card sales cost each [money]: as many of the day's as their part of its takings."""
    sales = part_by_card * units_sold / units_per_sale
    none = either(same(card_fixed_fee, 0), same(paid_by_card, 0))
    return choose(none, 0, card_fixed_fee * sales)


@meets_unknowns
def day_card_fee(
    card_payout: N,
    card_payout_typed: N,
    card_takings: N,
    card_takings_typed: N,
    paid_by_card: N,
    card_fee: N,
    fixed_card_fees: N,
) -> N:
    """What cards cost [money]: what of their takings wasn't paid out, else the outlet's fees."""
    by_fees = paid_by_card * card_fee + fixed_card_fees
    by_payout = only_if(above(card_takings_typed, 0), card_takings - card_payout)
    stands = choose(above(card_payout_typed, 0), by_payout, by_fees)
    return choose(known(card_payout), stands, UNKNOWN)


def day_commission(takings_before_tax: N, commission: N) -> N:
    """What the outlet keeps [money]."""
    return takings_before_tax * commission


def costs_of_the_day(
    day_fee: N,
    day_travel: N,
    day_other: N,
    market_day_overheads: N,
    day_card_fee: N,
    day_commission: N,
) -> N:
    """All that the day cost [money], without their own work."""
    paid = day_fee + day_travel + day_other + market_day_overheads
    return paid + day_card_fee + day_commission


def left_for_own_work(takings_before_tax: N, cost_of_gone: N, costs_of_the_day: N) -> N:
    """What is left of the takings to pay their own work [money]."""
    return takings_before_tax - cost_of_gone - costs_of_the_day


@meets_unknowns
def hours_there(hours: N, hours_typed: N) -> N:
    """Their own hours at the outlet [h]; unknown where nobody typed any."""
    return only_if(above(hours_typed, 0), hours)


def own_hours(hours_there: N, minutes_of_sold: N) -> N:
    """Their own hours of the day [h]: there, and making what was sold."""
    return hours_there + minutes_of_sold / _MINUTES


def pay_an_hour(left_for_own_work: N, own_hours: N) -> N:
    """What an hour of their own work brought [money/h]."""
    return left_for_own_work / own_hours


def pay_wished(pay_per_hour: N, on_costs: N) -> N:
    """What an hour of theirs is to bring [money/h], with what comes on top of pay."""
    return pay_per_hour * (1 + on_costs)


def margin_of_the_day(
    left_for_own_work: N, own_hours: N, pay_wished: N, takings_before_tax: N
) -> N:
    """What is left of the takings once their own work is paid as they wish [1]."""
    return (left_for_own_work - own_hours * pay_wished) / takings_before_tax


def day_sell_through(packs_sold_that_day: N, packs_taken: N) -> N:
    """The part of all packs taken along that was sold [1]."""
    return packs_sold_that_day / packs_taken


@meets_unknowns
def day_lacks(
    leads: N,
    pay_an_hour: N,
    sales_rows: N,
    takings_by_count: N,
    cost_of_gone: N,
    hours_there: N,
    tax_here: N,
    costs_of_the_day: N,
    day_of_sales: N,
) -> Words:
    """The first thing that a day's pay an hour lacks, in words; empty where it has it."""
    what: Words = choose(
        known(costs_of_the_day), "your minutes, on Stages", "its costs, on Market days or Outlets"
    )
    what = choose(known(cost_of_gone), what, "what a pack costs")
    what = choose(known(hours_there), what, "your hours")
    what = choose(known(takings_by_count), what, "what was sold, or its price")
    what = choose(above(sales_rows, 0), what, "rows on Sales")
    what = choose(known(day_of_sales), what, "the date or outlet of a row on Sales")
    what = choose(known(tax_here), what, "the outlet, on Outlets")
    return choose(either(known(pay_an_hour), same(leads, 0)), "", what)
