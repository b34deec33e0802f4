"""The year for a tax preparer: what was taken, bought and paid in it, and what is in stock."""

from __future__ import annotations

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
    opposite,
    same,
    whole_up,
)

# ---------------------------------------------------------------- a receipt


@meets_unknowns
def paid(line_total: N, price_typed: N, other_cost: N) -> N:
    """What a receipt line cost [money]; unknown where no price is typed, nor another cost."""
    said = either(known(price_typed), opposite(same(other_cost, 0)))
    return choose(both(said, known(line_total)), line_total, UNKNOWN)


@meets_unknowns
def receipt_undated(item_key: Words, day: N) -> N:
    """1 for a receipt line of nobody knows which day, so that it may be of any year."""
    return choose(either(known(day), same(item_key, "k")), 0, 1)


# ---------------------------------------------------------------- how far the year has come


@meets_unknowns
def year_until(costed_on: N, last_day: N) -> N:
    """The last day that counts: the costing date, or the last one of a time that is over."""
    return choose(above(costed_on, last_day), last_day, costed_on)


def days_until(until: N, rows_astray: N, sales_nowhere: N, sales_undated: N) -> N:
    """The last day of market days that count; none while a row may be of any of them."""
    return only_if(same(rows_astray + sales_nowhere + sales_undated, 0), until)


@meets_unknowns
def month_until(until: N, all_until: N) -> N:
    """The last day of a month that counts; none while a row may be of any day."""
    return choose(known(all_until), until, UNKNOWN)


def bought_until(until: N, receipts_undated: N) -> N:
    """The last day of receipts that count; none while one may be of any day."""
    return only_if(same(receipts_undated, 0), until)


@meets_unknowns
def year_lacks(rows_astray: N, sales_nowhere: N, sales_undated: N, receipts_undated: N) -> Words:
    """Why sums of the year aren't known, in words; empty where no row is of nobody knows when."""
    what: Words = choose(above(receipts_undated, 0), "a receipt has no date", "")
    sales = above(sales_nowhere + sales_undated, 0)
    what = choose(sales, "a row on Sales is of no market day", what)
    return choose(above(rows_astray, 0), "a row on Market days has no date or no outlet", what)


@meets_unknowns
def no_day(days_there: N) -> N:
    """1 where there was no market day; none where there was, or nobody knows."""
    return choose(same(days_there, 0), 1, UNKNOWN)


# ---------------------------------------------------------------- receipts


def year_sales_tax(year_takings: N, year_net: N) -> N:
    """The sales tax in the year's takings [money]."""
    return year_takings - year_net


def days_not_known(days_there: N, days_known: N) -> N:
    """Market days whose takings nobody knows."""
    return days_there - days_known


def cap_left(yearly_sales_cap: N, year_net: N) -> N:
    """What is left of the yearly sales cap [money]; below zero it is reached."""
    return yearly_sales_cap - year_net


def cap_reached_on(cap_left: N, year_net: N, first_market_day: N, until: N, last_day: N) -> N:
    """The day on which sales reach the cap at their pace since the year's first market day.

    None where that is not within the year, or where it is reached already.
    """
    a_day = year_net / (until - first_market_day + 1)
    day = until + whole_up(cap_left / a_day)
    return only_if(both(above(cap_left, 0), opposite(above(day, last_day))), day)


# ---------------------------------------------------------------- goods


def bought_otherwise(bought: N, bought_by_kind: N) -> N:
    """Purchases of items without a Kind, or with one that was typed since the run [money]."""
    return bought - bought_by_kind


def bought_for_sale(bought: N, own_use: N) -> N:
    """Purchases without those for own use [money]."""
    return bought - own_use


def packs_at_cost(packs_left: N, cost_of_a_pack: N) -> N:
    """What the packs in the freezer cost [money], without own work."""
    return packs_left * cost_of_a_pack


@meets_unknowns
def packs_are_listed(packs_left: N, counted_on: N, made_since: N) -> N:
    """1 for a product of which there is something to say: it was made, counted, or went."""
    nothing = both(same(packs_left, 0), opposite(known(counted_on)), same(made_since, 0))
    return choose(nothing, 0, 1)


@meets_unknowns
def item_is_listed(counted_rank: N) -> N:
    """1 for an item that was counted."""
    return choose(above(counted_rank, 0), 1, 0)


def counted_in_base(amount_counted: N, count_factor: N) -> N:
    """What was counted of an item [base unit]."""
    return amount_counted * count_factor


@meets_unknowns
def item_at_cost(counted_rank: N, counted_in_base: N, price_per_base_unit: N, count_bridge: N) -> N:
    """What a counted item costs at the price that counts now [money]; nothing if none is left."""
    cost = only_if(
        both(known(counted_in_base), known(price_per_base_unit), known(count_bridge)),
        counted_in_base * price_per_base_unit * count_bridge,
    )
    there = choose(same(counted_in_base, 0), 0, cost)
    return choose(above(counted_rank, 0), there, 0)


@meets_unknowns
def count_astray(what_key: Words, day: N, products_counted: N, items_counted: N) -> N:
    """1 for a count of nobody knows what, or when."""
    nobodys = opposite(above(products_counted + items_counted, 0))
    lost = either(opposite(known(day)), nobodys)
    return choose(both(opposite(same(what_key, "k")), lost), 1, 0)


def stock_at_cost(
    packs_in_stock: N,
    items_in_stock: N,
    products_listed: N,
    items_listed: N,
    counts_astray: N,
) -> N:
    """What is in stock, at cost [money].

    Unknown where nothing was made or counted, and while a count is of nobody knows what or when.
    """
    known_of = both(above(products_listed + items_listed, 0), same(counts_astray, 0))
    return only_if(known_of, packs_in_stock + items_in_stock)


def cost_of_goods(stock_before: N, bought_for_sale: N, stock_at_cost: N) -> N:
    """What was there and bought, less what is left [money]; own pay is no part of it."""
    return stock_before + bought_for_sale - stock_at_cost


# ---------------------------------------------------------------- expenses, and own pay


def year_overheads(yearly: N, year_market_overheads: N) -> N:
    """A whole year's overheads as typed, and those of its market days [money]."""
    return yearly + year_market_overheads


def year_fees(year_pitches: N, year_card_fees: N, year_commission: N) -> N:
    """What outlets and cards took [money]."""
    return year_pitches + year_card_fees + year_commission


def year_expenses(year_fees: N, year_travel: N, year_other: N, year_overheads: N) -> N:
    """All that was paid beside what was bought [money]."""
    return year_fees + year_travel + year_other + year_overheads


def year_own_pay(year_own_hours: N, pay_per_hour: N) -> N:
    """What their own hours would be paid [money]; in many tax systems no cost."""
    return year_own_hours * pay_per_hour
