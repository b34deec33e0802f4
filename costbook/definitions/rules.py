"""Every cost rule, once, in the order of the money: from a receipt to a price.

The names of the arguments are names of columns (see ``workings.py``), or of settings. Units
stand in square brackets: [money], [base] for a base unit (g, ml, ea, cm, cm²), [1] for a share.
How a rule is read as a figure, a formula, a sentence or an array: see ``algebra.py``.

Where no source is named, a rule is the trade's arithmetic, as any costing textbook has it.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from operator import add
from typing import Any, Final

from costbook.definitions.algebra import (
    UNKNOWN,
    N,
    Test,
    Words,
    above,
    asks_for,
    both,
    choose,
    either,
    joined,
    known,
    meets_unknowns,
    only_if,
    opposite,
    same,
    up_to_step,
    whole_down,
    whole_up,
)
from costbook.definitions.parts import ASKED, KNOWN, MADE, SOLD, Part
from costbook.definitions.units import Measure

PRICED_BY = ("tax_in_price", "fee_share", "applied_target_margin")
"""What makes a price of a cost."""

NO_PACKS = "packs sold (makes, rejects, units per pack)"
ROWS_IN_RANK = 100_000
"""Room for a row number behind the day in a purchase's rank."""

# ---------------------------------------------------------------- settings


@meets_unknowns
def sales_tax_if_blank(tax_included: Words) -> Any:
    """What no rate of sales tax means [1]: none on top of a price; inside one it is asked."""
    return choose(same(tax_included, "no"), 0, UNKNOWN)


@meets_unknowns
@asks_for(*(name for part in ASKED for name in part.counted_by))
def uncounted(*given: N | Words) -> Words:
    """Which parts of a pack's cost are not counted: nothing is said of them, not even a 0."""
    values, before, told = iter(given), list[Test](), list[Words]()
    for part in ASKED:
        counted = part.is_counted(values)
        named = choose(both(*before), part.words, f", {part.words}")
        told.append(choose(counted, "", named))
        before.append(counted)
    return joined(*told)


# ---------------------------------------------------------------- purchases


@meets_unknowns
def rank(
    day: N, row_number: N, pack_size: N, packs: N, price_per_pack: N, unread: N, asked: N
) -> N:
    """What orders purchases: the day, then the row; unknown for a row that can't set a price.

    A row sets a price when it has a date, a size, and packs and a price above zero, so neither
    a return nor a discount ever does. A size or price that only a new run can read may set one,
    so until then the price is unknown, and not the one before; so may one that is there and is
    asked about, as a price in another money.
    """
    sets = both(above(pack_size, 0), above(packs, 0), above(price_per_pack, 0))
    may_set = either(same(unread, 1), both(same(asked, 1), above(packs, 0)))
    counts = both(known(day), either(may_set, sets))
    return choose(counts, day * ROWS_IN_RANK + row_number, UNKNOWN)


@meets_unknowns
def discount(size_or_none: N, packs: N, price_per_pack: N, other_cost: N) -> N:
    """What a row without a size takes off the priced row of its item, supplier and date [money].

    Zero or less; a row without a size that costs something is left out, and said. So is a return:
    packs below zero, whatever is typed as their size. ``size_or_none`` is 0 for an empty cell; a
    size that can't be read is unknown, and no discount.
    """
    line = packs * price_per_pack + other_cost
    priced = both(known(packs), known(price_per_pack), known(other_cost))
    returned = above(0, packs)
    takes_off = both(same(size_or_none, 0), priced, opposite(returned), above(0, line))
    return choose(takes_off, line, 0)


def day_before(day: N) -> N:
    """The day before the purchase that counts now: what counted then is the price before."""
    return day - 1


@meets_unknowns
def counting_rank(rank_of_usual: N, rank_of_any: N) -> N:
    """The rank of the purchase that counts: the usual supplier's if there is one, else any."""
    anybody = choose(above(rank_of_any, 0), rank_of_any, UNKNOWN)
    return choose(above(rank_of_usual, 0), rank_of_usual, anybody)


@meets_unknowns
def rank_then(rank_of_usual: N, rank_of_any: N, rank_of_first: N) -> N:
    """The rank of the purchase that counted then; of what was bought later, the first."""
    first = choose(above(rank_of_first, 0), rank_of_first, UNKNOWN)
    anybody = choose(above(rank_of_any, 0), rank_of_any, first)
    return choose(above(rank_of_usual, 0), rank_of_usual, anybody)


def purchase_row(rank: N) -> N:
    """The row on Purchases that the rank names."""
    return rank - whole_down(rank / ROWS_IN_RANK) * ROWS_IN_RANK


def size_in_base_units(pack_size: N, unit_factor: N) -> N:
    """What one pack holds [base]."""
    return pack_size * unit_factor


def price_per_base_unit(
    packs: N,
    price_per_pack: N,
    other_cost: N,
    discounts: N,
    pack_count: N,
    size_in_base_units: N,
) -> N:
    """Price as bought [money/base]: all that the line cost over all that it brought.

    None where what was taken off leaves nothing to pay.
    """
    paid = packs * price_per_pack + other_cost + discounts
    return only_if(above(paid, 0), paid / (packs * pack_count * size_in_base_units))


# ---------------------------------------------------------------- items


def roll_width_cm(roll_width: N, roll_width_factor: N) -> N:
    """The width of a roll [cm], which makes an area of a length."""
    return roll_width * roll_width_factor


@meets_unknowns
def bridge(measure: N, worth: N, price_measure: N, price_worth: N) -> N:
    """How many base units of the price's kind one base unit of the line's kind is.

    1 where both are of one kind. Weight, volume and piece cross by what each is worth in grams,
    length and area by the width of the roll; without those figures it is unknown.
    """
    weighed = both(above(WEIGHED + 1, measure), above(WEIGHED + 1, price_measure))
    spread = both(above(measure, WEIGHED), above(price_measure, WEIGHED))
    crosses = both(either(weighed, spread), known(worth), known(price_worth))
    one_kind = both(known(measure), same(measure, price_measure))
    return choose(one_kind, 1, choose(crosses, worth / price_worth, UNKNOWN))


WEIGHT, VOLUME, PIECE, LENGTH, AREA = map(int, Measure)
"""The measures by their numbers."""
BILLION = 1_000_000_000
FAR: Final = 3
"""A figure so many times another, or that part of it, is doubted."""
WEIGHED = PIECE
"""Measures up to this (weight, volume, piece) have a worth in grams; above it, in area."""


def before_in_units_of_now(price_before: N, before_bridge: N) -> N:
    """The price before [money/base], in the base unit of the price now."""
    return price_before * before_bridge


def change(price_per_base_unit: N, before_in_units_of_now: N) -> N:
    """How much the price rose since before [1]."""
    return price_per_base_unit / before_in_units_of_now - 1


def age_days(costed_on: N, day: N) -> N:
    """How old the price is [days]."""
    return costed_on - day


OLD: Final = "old: check it"
"""What is said of a price that is older than Settings allow."""


@meets_unknowns
def freshness(age_days: N, stale_after_days: N) -> Words:
    """Whether a price is older than the person allows."""
    old = both(known(age_days), known(stale_after_days), above(age_days, stale_after_days))
    return choose(known(age_days), choose(old, OLD, "fresh"), "no price yet")


def price_ready_to_use(price_per_base_unit: N, usable_share: N) -> N:
    """Price of what is left after trimming [money/base]: as bought over the usable share."""
    return price_per_base_unit / usable_share


def large_unit_price(price_per_base_unit: N, large_unit_size: N) -> N:
    """Price as bought of a kg, lb, l, piece or ft: the unit that the item is read in [money]."""
    return price_per_base_unit * large_unit_size


def large_unit_price_before(before_in_units_of_now: N, large_unit_size: N) -> N:
    """The price before of the same unit [money]."""
    return before_in_units_of_now * large_unit_size


def large_unit_price_ready(price_ready_to_use: N, large_unit_size: N) -> N:
    """Price of the same unit of what is left after trimming [money]."""
    return price_ready_to_use * large_unit_size


def in_large_units(base_amount: N, large_unit_size: N) -> N:
    """An amount [base] in the unit that its item is read in."""
    return base_amount / large_unit_size


# ---------------------------------------------------------------- recipes


@meets_unknowns
def counted_in(measure: N, unit_factor: N) -> N:
    """What a batch is counted in [base]: pieces, whatever the word (2 dozen); else its unit."""
    return choose(same(measure, PIECE), 1, unit_factor)


def started(makes: N, unit_factor: N, counted_in: N) -> N:
    """What a batch starts, as it is counted [units]: 2 dozen is 24."""
    return makes * unit_factor / counted_in


@meets_unknowns
def rejects(typed_rejects: N, rejects_are_share: N, started: N) -> N:
    """What of a batch can't be sold, as it is counted [units]; a percentage is of the batch.

    As in every column of shares, a number above 1 is a percentage.
    """
    whole = choose(above(typed_rejects, 1), started / 100, started)
    return typed_rejects * choose(same(rejects_are_share, 1), whole, 1)


def good(started: N, rejects: N) -> N:
    """What a batch gives after rejects [units]; none where all are rejected."""
    return only_if(above(started, rejects), started - rejects)


def good_in_base_units(good: N, counted_in: N) -> N:
    """What a batch gives after rejects [base]."""
    return good * counted_in


def amount_in_base_units(amount: N, unit_factor: N) -> N:
    """The amount a line asks for [base]."""
    return amount * unit_factor


@meets_unknowns
def applied_usable_share(measured: Words, measure: N, line_usable_share: N) -> N:
    """The share that trimming leaves [1]; 1 for an amount measured as bought.

    A blank `Measured` is ready to use, but as bought for an amount in pieces: 3 eggs are 3 eggs.
    """
    in_pieces = both(same(measured, "blank"), same(measure, PIECE))
    ready = either(same(measured, "ready to use"), both(same(measured, "blank"), known(measure)))
    return choose(
        either(same(measured, "as bought"), in_pieces), 1, choose(ready, line_usable_share, UNKNOWN)
    )


@meets_unknowns
def same_piece(
    bridge: N, piece_word: Words, price_word: Words, part: N, price_measure: N, whole: N
) -> N:
    """The bridge, unless the line and the price count different pieces: a loaf, a slice.

    So do slices of what was bought as 1 ea.
    """
    of_one = both(same(part, 1), same(price_measure, PIECE), same(whole, 1), same(price_word, ""))
    differ = both(
        opposite(same(piece_word, "")),
        opposite(same(price_word, "")),
        opposite(same(piece_word, price_word)),
    )
    return choose(either(differ, of_one), UNKNOWN, bridge)


def amount_as_bought(amount_in_base_units: N, usable_bridge: N, applied_usable_share: N) -> N:
    """What must be bought for the line [base of the price]."""
    return amount_in_base_units * usable_bridge / applied_usable_share


def line_cost(amount_as_bought: N, price_per_base_unit: N) -> N:
    """Cost of a line of a batch [money]."""
    return amount_as_bought * price_per_base_unit


def share_of_batch(amount_in_base_units: N, usable_bridge: N, good_in_base_units: N) -> N:
    """The share of a used recipe's batch that goes into this one [1]."""
    return amount_in_base_units * usable_bridge / good_in_base_units


def used_cost(share_of_batch: N, batch_cost: N) -> N:
    """What a used recipe brings of its batch's cost [money]."""
    return share_of_batch * batch_cost


def used_labour(share_of_batch: N, batch_labour: N) -> N:
    """What a used recipe brings of its labour [money]."""
    return share_of_batch * batch_labour


def used_person_minutes(share_of_batch: N, person_minutes: N) -> N:
    """What a used recipe brings of its paid minutes [minutes]."""
    return share_of_batch * person_minutes


def used_clock_minutes(share_of_batch: N, clock_minutes: N) -> N:
    """What a used recipe brings of its minutes by the clock [minutes]."""
    return share_of_batch * clock_minutes


@meets_unknowns
def stage_units(measure: N, started: N, products: N, agreed_units: N) -> N:
    """The units that a recipe's stages count minutes for [units].

    Pieces; of a batch by weight or volume the packs' units, or where no product sells it what
    its own unit counts (kg). Unknown where products share it out in different amounts.
    """
    as_made = either(same(measure, PIECE), same(products, 0))
    return choose(as_made, started, only_if(above(agreed_units, 0), agreed_units))


@meets_unknowns
def work_minutes(minutes_per_batch: N, minutes_per_unit: N, units_started: N) -> N:
    """Minutes of work by the clock, with all its people at it [minutes]."""
    by_unit = minutes_per_batch + minutes_per_unit * units_started
    return choose(same(minutes_per_unit, 0), minutes_per_batch, by_unit)


def person_minutes(people: N, work_minutes: N) -> N:
    """Paid minutes of a stage [minutes]: waiting is not paid."""
    return people * work_minutes


def stage_labour(person_minutes: N, stage_pay: N, on_costs: N) -> N:
    """Labour of a stage [money]."""
    return person_minutes * stage_pay / 60 * (1 + on_costs)


def stage_clock_minutes(work_minutes: N, waiting_minutes: N, overlap_minutes: N) -> N:
    """Minutes a stage holds the kitchen [minutes]; unknown where it overlaps more than it takes."""
    taken = work_minutes + waiting_minutes
    return only_if(opposite(above(overlap_minutes, taken)), taken - overlap_minutes)


@meets_unknowns
def batch_cost(lines: N, items_cost: N, small_ingredient_allowance: N, uses_cost: N) -> N:
    """Ingredients of a batch [money]; unknown for a recipe without a line."""
    there = both(
        above(lines, 0), known(items_cost), known(small_ingredient_allowance), known(uses_cost)
    )
    return choose(there, items_cost * (1 + small_ingredient_allowance) + uses_cost, UNKNOWN)


def batch_cost_known(items_cost_known: N, small_ingredient_allowance: N, uses_cost_known: N) -> N:
    """What is known of the ingredients of a batch [money]; nothing of a recipe without a line."""
    return items_cost_known * (1 + small_ingredient_allowance) + uses_cost_known


def batch_labour(own_labour: N, used_labour: N) -> N:
    """Labour of a batch with its share of the recipes used [money]."""
    return own_labour + used_labour


def batch_person_minutes(own_person_minutes: N, used_person_minutes: N) -> N:
    """Paid minutes of a batch with its share of the recipes used [minutes]."""
    return own_person_minutes + used_person_minutes


def batch_clock_minutes(own_clock_minutes: N, used_clock_minutes: N) -> N:
    """Minutes by the clock of a batch with its share of the recipes used [minutes]."""
    return own_clock_minutes + used_clock_minutes


def large_unit_cost(batch_cost: N, good_in_base_units: N, large_unit_size: N) -> N:
    """Ingredients of a good kg, lb, l or piece: the unit that the batch is read in [money]."""
    return batch_cost / good_in_base_units * large_unit_size


def large_unit_labour(batch_labour: N, good_in_base_units: N, large_unit_size: N) -> N:
    """Labour of a good kg, lb, l or piece [money]."""
    return batch_labour / good_in_base_units * large_unit_size


def unit_cost(batch_cost: N, good: N) -> N:
    """Ingredients of one good unit [money/unit]."""
    return batch_cost / good


# ---------------------------------------------------------------- overheads


def business_part(amount: N, business_share: N) -> N:
    """The business's part of a cost [money]."""
    return amount * business_share


@meets_unknowns
def cost_a_year(period: Words, business_part: N) -> N:
    """What a yearly or monthly cost comes to in a year [money/year]."""
    return _by_period(period, business_part, year=business_part, month=business_part * 12)


@meets_unknowns
def cost_a_batch(period: Words, business_part: N) -> N:
    """A cost that comes with each batch [money/batch]."""
    return _by_period(period, business_part, batch=business_part)


@meets_unknowns
def cost_a_market_day(period: Words, business_part: N) -> N:
    """A cost that comes with each day on a market [money/day]."""
    return _by_period(period, business_part, market_day=business_part)


def yearly_per_batch(yearly: N, batches_per_year: N) -> N:
    """One batch's part of the year's overheads [money/batch]."""
    return yearly / batches_per_year


def overhead_per_batch(yearly_per_batch: N, per_batch: N) -> N:
    """Overhead that a batch carries [money/batch]."""
    return yearly_per_batch + per_batch


@meets_unknowns
def overhead_per_batch_known(yearly_known: N, batches_per_year: N, per_batch_known: N) -> N:
    """What is known of the overhead that a batch carries [money/batch]."""
    spread = choose(above(batches_per_year, 0), yearly_known / batches_per_year, 0)
    return spread + per_batch_known


# ---------------------------------------------------------------- products


@meets_unknowns
def portion(
    typed_units: N,
    unit_factor: N,
    batch_factor: N,
    net_weight: N,
    net_factor: N,
) -> N:
    """What one unit of a batch by weight or volume is [base of its own kind].

    As typed with its unit under Units per pack: 250 g. Else the net weight, where one unit is a
    pack, or where the number is the same amount in the batch's unit; what else it might mean is
    asked.
    """
    net, bare = net_weight * net_factor, typed_units * batch_factor
    one = either(same(typed_units, 0), same(typed_units, 1))
    by_net = choose(either(one, _as_good_as(bare, net)), net, UNKNOWN)
    return choose(known(unit_factor), typed_units * unit_factor, by_net)


@meets_unknowns
def portion_measure(pack_measure: N, net_measure: N) -> N:
    """The kind of unit that the portion is in: as typed under Units per pack, else net weight's."""
    return choose(known(pack_measure), pack_measure, net_measure)


@meets_unknowns
def unit_amount(price_measure: N, portion: N, bridge: N) -> N:
    """What one unit of a batch is [base of the batch]: a piece, or a pack's portion."""
    return choose(same(price_measure, PIECE), 1, portion * bridge)


@meets_unknowns
def units_per_pack(
    price_measure: N,
    pack_measure: N,
    typed_units: N,
    unit_factor: N,
    units_in_text: N,
    unit_amount: N,
) -> N:
    """Units in one pack [units]: pieces; of a batch by weight or volume 1, or the 6 of 6 x 150 g.

    A pack of a batch in pieces can't be given by weight.
    """
    word = choose(known(pack_measure), only_if(same(pack_measure, PIECE), unit_factor), 1)
    pieces = only_if(above(typed_units, 0), typed_units * word) * units_in_text
    by_amount = only_if(above(unit_amount, 0), units_in_text)
    return choose(same(price_measure, PIECE), pieces, by_amount)


def units_started(started: N, counted_in: N, unit_amount: N) -> N:
    """Units that a batch starts [units]: pieces, or as many as it has of a pack's portion."""
    return started * counted_in / unit_amount


def units_good(good_in_base_units: N, unit_amount: N) -> N:
    """Units of a batch that are good [units]."""
    return good_in_base_units / unit_amount


@meets_unknowns
def agreed_units(units_started: N, units_before: N) -> N:
    """Units that a batch starts, where all its products so far say the same [units].

    0 while none is known; below zero where two differ.
    """
    differ = choose(_as_good_as(units_before, units_started), units_before, -1)
    told = choose(same(units_before, 0), units_started, differ)
    return choose(known(units_started), told, units_before)


def units_sold(units_good: N, not_sold: N) -> N:
    """Good units of a batch that are sold [units]: these carry its whole cost; none if none are."""
    return only_if(above(1, not_sold), units_good * (1 - not_sold))


def packs_made(units_good: N, units_per_pack: N) -> N:
    """Packs a batch gives [packs]; part packs count as parts."""
    return units_good / units_per_pack


def packs_sold(units_sold: N, units_per_pack: N) -> N:
    """Packs of a batch that are sold [packs]; none where nothing of it is sold."""
    return only_if(above(units_sold, 0), units_sold / units_per_pack)


@meets_unknowns
def times_used(per: Words, units_started: N, packs_made: N) -> N:
    """How often a batch uses a package: by every unit started, by every pack made, or once."""
    return choose(
        same(per, "unit"),
        units_started,
        choose(same(per, "pack"), packs_made, choose(same(per, "batch"), 1, UNKNOWN)),
    )


def package_as_bought(amount_in_base_units: N, usable_bridge: N, times_used: N, spare: N) -> N:
    """What a batch takes of a package [base of the price]."""
    return amount_in_base_units * usable_bridge * times_used * (1 + spare)


def of_used_batch(batch_figure: N, share_of_batch: N) -> N:
    """What a figure of a used recipe's batch is, of the share that is used [its unit]."""
    return batch_figure * share_of_batch


def of_batches(batch_figure: N, batches: N) -> N:
    """What a figure of a batch is for several [its unit]."""
    return batch_figure * batches


def amount_for_a_batch(amount: N, times_used: N, spare: N) -> N:
    """What a batch takes of a package, in the unit it was typed in [its unit]."""
    return amount * times_used * (1 + spare)


def ingredients(batch_cost: N, packs_sold: N) -> N:
    """Ingredients of a pack sold [money/pack]."""
    return batch_cost / packs_sold


def packaging(packaging_batch: N, packs_sold: N) -> N:
    """Packaging of a pack sold [money/pack]."""
    return packaging_batch / packs_sold


def labour(batch_labour: N, product_labour: N, packs_sold: N) -> N:
    """Labour of a pack sold [money/pack]."""
    return (batch_labour + product_labour) / packs_sold


def kitchen_minutes(
    batch_clock_minutes: N, product_clock_minutes: N, booking_block_minutes: N
) -> N:
    """Kitchen time of a batch [minutes], taken up once to whole booked blocks."""
    return up_to_step(batch_clock_minutes + product_clock_minutes, booking_block_minutes)


def kitchen_batch(kitchen_hire_per_hour: N, kitchen_minutes: N) -> N:
    """Kitchen hire of a batch [money]."""
    return kitchen_minutes * kitchen_hire_per_hour / 60


def kitchen(kitchen_batch: N, packs_sold: N) -> N:
    """Kitchen hire of a pack sold [money/pack]."""
    return kitchen_batch / packs_sold


def overhead(overhead_per_batch: N, packs_sold: N) -> N:
    """Overhead of a pack sold [money/pack]."""
    return overhead_per_batch / packs_sold


@asks_for(*(part.name for part in MADE))
def made(*parts: N) -> N:
    """What a pack sold cost to make [money/pack]."""
    return reduce(add, parts)


# ---------------------------------------------------------------- outlets


def travel_per_day(miles_per_day: N, cost_per_mile: N) -> N:
    """Travel of a day [money/day]."""
    return miles_per_day * cost_per_mile


@meets_unknowns
def market_day_overheads(kind: Words, market_daily: N) -> N:
    """Market-day overheads of a day [money/day]: they belong to stalls."""
    return choose(same(kind, "stall"), market_daily, choose(same(kind, ""), UNKNOWN, 0))


@meets_unknowns
def hours_if_blank(kind: Words) -> Any:  # a constant, whatever it is read with
    """Hours of selling where none are filled in: unknown at a stall, and 0 elsewhere."""
    elsewhere = either(same(kind, "wholesale"), same(kind, "commission"))
    return choose(elsewhere, 0, UNKNOWN)


def own_pay_per_day(hours_per_day: N, pay_per_hour: N, on_costs: N) -> N:
    """Pay for the hours of selling [money/day]."""
    return hours_per_day * pay_per_hour * (1 + on_costs)


def day_costs_without_pay(
    fee_per_day: N, travel_per_day: N, other_per_day: N, market_day_overheads: N
) -> N:
    """What a day costs before one's own pay [money/day]."""
    return fee_per_day + travel_per_day + other_per_day + market_day_overheads


def day_costs(day_costs_without_pay: N, own_pay_per_day: N) -> N:
    """What a day costs [money/day]."""
    return day_costs_without_pay + own_pay_per_day


def day_costs_per_unit(day_costs: N, units_sold_per_day: N) -> N:
    """One unit's part of the day [money/unit]."""
    return day_costs / units_sold_per_day


@meets_unknowns
def card_share_if_blank(card_fee: N, card_fixed_fee: N) -> N:
    """What no share of card sales means [1]: none; where cards cost a fee it is asked."""
    return choose(either(above(card_fee, 0), above(card_fixed_fee, 0)), UNKNOWN, 0)


@meets_unknowns
def commission_if_blank(kind: Words) -> Any:
    """What no commission means [1]: none; at an outlet that takes one it is asked."""
    return choose(either(same(kind, "stall"), same(kind, "wholesale")), 0, UNKNOWN)


def card_fixed_per_unit(card_share: N, card_fixed_fee: N, units_per_sale: N) -> N:
    """One unit's part of the fixed card fee [money/unit]."""
    return card_share * card_fixed_fee / units_per_sale


def selling_per_unit(day_costs_per_unit: N, card_fixed_per_unit: N) -> N:
    """Selling of a unit [money/unit], save what is a percentage of the price."""
    return day_costs_per_unit + card_fixed_per_unit


@meets_unknowns
def selling_per_unit_known(
    fee_per_day: N,
    travel_per_day: N,
    other_per_day: N,
    market_day_overheads: N,
    own_pay_per_day: N,
    units_sold_per_day: N,
    card_fixed_per_unit: N,
) -> N:
    """What is known of the selling of a unit [money/unit]."""
    day = _known_sum(
        fee_per_day, travel_per_day, other_per_day, market_day_overheads, own_pay_per_day
    )
    shared = choose(above(units_sold_per_day, 0), day / units_sold_per_day, 0)
    return shared + choose(known(card_fixed_per_unit), card_fixed_per_unit, 0)


@meets_unknowns
def tax_here(kind: Words, sales_tax: N) -> N:
    """The sales tax that this outlet's prices bear [1]: none on a wholesale price."""
    return choose(same(kind, "wholesale"), 0, choose(same(kind, ""), UNKNOWN, sales_tax))


@meets_unknowns
def tax_in_price(tax_included: Words, tax_here: N) -> N:
    """The sales tax inside the quoted price, over the price without it [1]."""
    return choose(same(tax_included, "yes"), tax_here, choose(same(tax_included, "no"), 0, UNKNOWN))


def card_part(card_share: N, card_fee: N) -> N:
    """What card fees take of all that is paid [1]."""
    return card_share * card_fee


def fee_share(commission: N, card_part: N, tax_here: N) -> N:
    """What percentage fees take of a price without tax [1]; card fees are on what is paid."""
    return commission + card_part * (1 + tax_here)


# ---------------------------------------------------------------- prices


def selling(selling_per_unit: N, units_per_pack: N) -> N:
    """Selling of a pack [money/pack]: a pack of six carries six units of it."""
    return selling_per_unit * units_per_pack


@asks_for("made", *(part.name for part in SOLD))
def total(made: N, *selling: N) -> N:
    """What a pack sold cost [money/pack], save what is a percentage of the price."""
    return reduce(add, selling, made)


@meets_unknowns
@asks_for(*KNOWN)
def known_cost(*parts: N) -> N:
    """What is known of the cost of a pack sold [money/pack]: its known parts, added up."""
    return _known_sum(*parts)


def room(applied_target_margin: N, fee_share: N) -> N:
    """What the target margin and the percentage fees leave of a price for its costs [1]."""
    return 1 - applied_target_margin - fee_share


def price_before_tax(total: N, room: N) -> N:
    """Price at the target margin without tax [money/pack]; none where nothing is left for cost."""
    return only_if(above(room, 0), total / room)


def price_at_target(price_before_tax: N, tax_in_price: N) -> N:
    """Price at the target margin, as quoted [money/pack]."""
    return price_before_tax * (1 + tax_in_price)


def price_on_step(price_at_target: N, price_step: N) -> N:
    """The quoted price, up to the next step [money/pack]."""
    return up_to_step(price_at_target, price_step)


def step_before_tax(price_on_step: N, tax_in_price: N) -> N:
    """The price on the step, without tax [money/pack]."""
    return price_on_step / (1 + tax_in_price)


def step_fees(step_before_tax: N, fee_share: N) -> N:
    """Percentage fees at the price on the step [money/pack]."""
    return step_before_tax * fee_share


def step_all_cost(total: N, step_fees: N) -> N:
    """All cost at the price on the step [money/pack]."""
    return total + step_fees


def step_profit(step_before_tax: N, step_all_cost: N) -> N:
    """What is left of the price on the step [money/pack]."""
    return step_before_tax - step_all_cost


def step_margin(step_profit: N, step_before_tax: N) -> N:
    """Margin at the price on the step [1]: what is left over the price."""
    return step_profit / step_before_tax


def step_markup(step_profit: N, step_all_cost: N) -> N:
    """Markup at the price on the step [1]: what is left over all cost."""
    return step_profit / step_all_cost


@meets_unknowns
def price_now(kind: Words, current_price: N, wholesale_price_now: N) -> N:
    """The price charged today, as quoted [money/pack]."""
    return choose(same(kind, "wholesale"), wholesale_price_now, current_price)


def now_before_tax(price_now: N, tax_in_price: N) -> N:
    """The price now, without tax [money/pack]."""
    return price_now / (1 + tax_in_price)


def now_all_cost(total: N, now_before_tax: N, fee_share: N) -> N:
    """All cost at the price now [money/pack]."""
    return total + now_before_tax * fee_share


def now_profit(now_before_tax: N, now_all_cost: N) -> N:
    """What is left of the price now [money/pack]."""
    return now_before_tax - now_all_cost


def now_margin(now_profit: N, now_before_tax: N) -> N:
    """Margin at the price now [1]."""
    return now_profit / now_before_tax


def now_markup(now_profit: N, now_all_cost: N) -> N:
    """Markup at the price now [1]."""
    return now_profit / now_all_cost


@meets_unknowns
def counted_price(now_before_tax: N, step_before_tax: N) -> N:
    """The price that break-even rests on, without tax [money/pack]: now, else on the step."""
    return choose(known(now_before_tax), now_before_tax, step_before_tax)


def contribution_per_unit(
    counted_price: N, fee_share: N, made: N, units_per_pack: N, card_fixed_per_unit: N
) -> N:
    """What a unit sold leaves towards the day's costs [money/unit]."""
    return (counted_price * (1 - fee_share) - made) / units_per_pack - card_fixed_per_unit


def break_even(day_costs: N, contribution_per_unit: N) -> N:
    """Units a day that pay for the day, own pay included [units]; none if a unit leaves nothing.

    Of a product they suppose that nothing else is sold; of an outlet, its usual mix.
    """
    return only_if(above(contribution_per_unit, 0), whole_up(day_costs / contribution_per_unit))


def break_even_without_pay(day_costs_without_pay: N, contribution_per_unit: N) -> N:
    """Units a day that pay for the day before one's own pay [units]."""
    return only_if(
        above(contribution_per_unit, 0), whole_up(day_costs_without_pay / contribution_per_unit)
    )


@meets_unknowns
def in_mix(contribution_per_unit: N) -> N:
    """1 for a product of which it is known what a unit leaves, to be counted [1]."""
    return choose(known(contribution_per_unit), 1, 0)


def packs_per_unit(units_per_pack: N) -> N:
    """What part of a pack one unit is [pack/unit]."""
    return 1 / units_per_pack


def mix_contribution(contributions: N, in_mix: N, products: N) -> N:
    """What a unit leaves towards the day's costs on average [money/unit].

    Each product is sold as often; unknown where it is of one of them.
    """
    return only_if(same(in_mix, products), contributions / products)


def mix_packs_per_unit(parts_of_packs: N, products: N) -> N:
    """What part of a pack a unit is on average [pack/unit], each product sold as often."""
    return parts_of_packs / products


def break_even_packs(day_costs: N, contribution_per_unit: N, packs_per_unit: N) -> N:
    """The packs, of all products, that those units come in [pack/day]."""
    exactly = day_costs / contribution_per_unit * packs_per_unit
    return only_if(above(contribution_per_unit, 0), whole_up(exactly))


def shelf_price(step_before_tax: N, their_margin: N) -> N:
    """What the café charges at its own margin, without tax [money/pack]."""
    return only_if(above(1 - their_margin, 0), step_before_tax / (1 - their_margin))


def shelf_price_with_tax(shelf_price: N, sales_tax: N) -> N:
    """What the café's guest pays [money/pack]."""
    return shelf_price * (1 + sales_tax)


CHECK_FIRST: Final = "check first"
"""The advice where a price to charge is many times the price now."""


@meets_unknowns
def advice(price_on_step: N, price_now: N, uncounted: Words) -> Words:
    """What to do about the price; what is not counted leaves it the least to ask.

    One that is many times the price now is to be doubted before it is followed.
    """
    short = above(price_on_step, price_now)
    high = above(price_now, price_on_step)
    far = both(above(price_now, 0), opposite(above(FAR * price_now, price_on_step)))
    compared = choose(
        short, choose(far, CHECK_FIRST, "raise"), choose(high, "above target", "hold")
    )
    least = choose(short, choose(far, CHECK_FIRST, "raise at least to this"), "at least this")
    whole = choose(known(price_now), compared, "charge this")
    return choose(known(price_on_step), choose(same(uncounted, ""), whole, least), "not known yet")


@meets_unknowns
def short_by(price_on_step: N, price_now: N, number: N) -> N:
    """How far the price now is below the price on the step, as a share of that [1]; 0 if it isn't.

    Of two that are alike the first row is put first by a billionth.
    """
    short = above(price_on_step, price_now)
    share = (price_on_step - price_now) / price_on_step - number / BILLION
    return only_if(both(known(price_on_step), known(price_now)), choose(short, share, 0))


# ---------------------------------------------------------------- price ladder


def ladder_price(price_on_step: N, steps_away: N, price_step: N) -> N:
    """A quoted price some steps from the price on the step [money/pack]."""
    return only_if(
        above(price_on_step + steps_away * price_step, 0), price_on_step + steps_away * price_step
    )


def ladder_profit(ladder_price: N, tax_in_price: N, fee_share: N, total: N) -> N:
    """What is left of that price [money/pack]."""
    return ladder_price / (1 + tax_in_price) * (1 - fee_share) - total


# ---------------------------------------------------------------- cost cards


def per_pack(batch_figure: N, packs_sold: N) -> N:
    """A batch's figure for one pack sold."""
    return batch_figure / packs_sold


def allowance_cost(items_cost: N, small_ingredient_allowance: N) -> N:
    """What the small-ingredient allowance adds to a batch [money]."""
    return items_cost * small_ingredient_allowance


def of_a_batch(part: N, packs_sold: N) -> N:
    """A pack's figure for all packs sold of a batch [money]."""
    return part * packs_sold


def share_of(part: N, whole: N) -> N:
    """A part of a whole [1]."""
    return part / whole


# ---------------------------------------------------------------- what a pack takes of each item


def need_through(share_of_batch: N, batch_need: N) -> N:
    """What a recipe takes of an item through a recipe it uses [base]."""
    return share_of_batch * batch_need


def batch_need(own_need: N, small_ingredient_allowance: N, used_need: N) -> N:
    """What a batch takes of an item, allowance and used recipes in [base]."""
    return own_need * (1 + small_ingredient_allowance) + used_need


def batch_take(recipe_need: N, packaging_need: N) -> N:
    """What a batch takes of an item, as if all of it became one product [base/batch]."""
    return recipe_need + packaging_need


def takes(batch_take: N) -> N:
    """1 for a product whose batch takes some of an item, to be counted."""
    return choose(above(batch_take, 0), 1, 0)


def pack_need(recipe_need: N, packaging_need: N, packs_sold: N) -> N:
    """What a pack sold takes of an item, as bought [base/pack]."""
    return (recipe_need + packaging_need) / packs_sold


def need_cost(pack_need: N, price_per_base_unit: N) -> N:
    """What a pack sold pays for an item [money/pack]."""
    return pack_need * price_per_base_unit


def need_moved(pack_need: N, price_per_base_unit: N, price_then: N) -> N:
    """How far an item's price moved the cost of a pack [money/pack]."""
    return pack_need * (price_per_base_unit - price_then)


DAYS_BACK = 28
"""How far back price changes are shown when no other day is given [days]."""


def moved_since(costed_on: N) -> N:
    """The day that price changes are shown since, when no other is given."""
    return costed_on - DAYS_BACK


def cost_then(total: N, moved: N) -> N:
    """What a pack cost at the prices of then, all else as now [money/pack]."""
    return total - moved


def moved_share(moved: N, cost_then: N) -> N:
    """How far the cost of a pack moved, as a share of what it was [1]."""
    return only_if(above(cost_then, 0), moved / cost_then)


def moved_share_known(moved_known: N, known_cost: N) -> N:
    """The same of what is known of its cost [1]."""
    then = known_cost - moved_known
    return only_if(above(then, 0), moved_known / then)


@meets_unknowns
def move_order(moved_share_known: N) -> N:
    """What products are ranked by: billionths of their cost, whole; the unknown come last."""
    nearest = whole_down((moved_share_known * BILLION * 2 + 1) / 2)
    return choose(known(moved_share_known), nearest, -BILLION * MILLION)


@meets_unknowns
def ranked(units_per_pack: N, units_of_first: N) -> N:
    """1 for a product with a rank of its own [1].

    0 for a pack that differs in number alone from the first of the same recipe: a six of a roll.
    """
    there = both(above(units_of_first, 0), known(units_per_pack))
    return choose(both(there, opposite(same(units_per_pack, units_of_first))), 0, 1)


def move_rank(rose_more: N) -> N:
    """The rank of a product among those that moved: 1 rose most, as a share of its cost."""
    return rose_more + 1


def restoring_price(price_now: N, total: N, cost_then: N, price_step: N) -> N:
    """The quoted price that brings back the margin that the price now had then [money/pack].

    Fees and tax are shares of the price, so it moves by the same share as the cost; on the step.
    """
    moved = up_to_step(price_now * total / cost_then, price_step)
    return only_if(above(cost_then, 0), choose(same(total, cost_then), price_now, moved))


def difference(after: N, before: N) -> N:
    """How far a figure is from what it is without a change, or was at the last costing."""
    return after - before


def packs_that_pay(moved: N, packs_sold: N, now_profit: N) -> N:
    """Packs at the price now whose profit pays for what one batch costs more [packs/batch]."""
    costs_more = both(above(moved, 0), above(now_profit, 0))
    return only_if(costs_more, whole_up(moved * packs_sold / now_profit))


# ---------------------------------------------------------------- a price that is tried


def pack_in_its_unit(pack_count: N, pack_size: N) -> N:
    """What the whole pack of the purchase that counts holds, in the unit that was typed."""
    return pack_count * pack_size


FAR_OFF = "far off"
"""Said of a price that is tried and may be for something else: for a pound, not for a case."""


@meets_unknowns
def trial_doubt(price_tried: N, price_per_pack: N) -> Words:
    """What is doubted of a price that is tried for a pack: if it moves it by more than half."""
    far = either(above(price_tried * 2, price_per_pack * 3), above(price_per_pack, price_tried * 2))
    return choose(both(known(price_tried), far), FAR_OFF, "")


# ---------------------------------------------------------------- turning prices


def slack_to_target(counted_price: N, room: N, total: N) -> N:
    """How much a pack's cost may rise until the margin falls to its target [money/pack]."""
    return counted_price * room - total


def slack_to_zero(counted_price: N, fee_share: N, total: N) -> N:
    """How much a pack's cost may rise until nothing is left [money/pack]."""
    return counted_price * (1 - fee_share) - total


def whole_pack(pack_count: N, size_in_base_units: N) -> N:
    """What the whole pack, or case, of the purchase that counts holds [base]."""
    return pack_count * size_in_base_units


def beside_price(other_cost: N, discounts: N, packs: N) -> N:
    """What a pack of the purchase that counts cost beside its price [money]."""
    return (other_cost + discounts) / packs


def turning_at_target(
    slack_to_target: N, pack_need: N, price_per_base_unit: N, whole_pack: N, beside_price: N
) -> N:
    """Price per pack of an item at which a margin falls to its target [money].

    The pack is that of the purchase that counts, its other cost held; none if not above zero.
    Cost is linear in each item's price, so this is solved, not searched.
    """
    turned = price_per_base_unit + slack_to_target / pack_need
    return only_if(above(turned * whole_pack, beside_price), turned * whole_pack - beside_price)


def turning_at_zero(
    slack_to_zero: N, pack_need: N, price_per_base_unit: N, whole_pack: N, beside_price: N
) -> N:
    """Price per pack of an item at which nothing is left [money]; as for the target."""
    return turning_at_target(
        slack_to_zero, pack_need, price_per_base_unit, whole_pack, beside_price
    )


# ---------------------------------------------------------------- packs compared


def line_total(packs: N, price_per_pack: N, other_cost: N) -> N:
    """What a receipt line cost [money]."""
    return packs * price_per_pack + other_cost


def yearly_charge(membership: N, trip_cost: N, trips_per_year: N) -> N:
    """What a supplier costs in a year beside its prices [money/year]."""
    return membership + trip_cost * trips_per_year


WEEKS_IN_YEAR = 52


def need_in_a_year(use_per_week: N, price_per_base_unit: N) -> N:
    """What a year's need of an item costs at the price that counts now [money/year]."""
    return use_per_week * WEEKS_IN_YEAR * price_per_base_unit


DAYS_IN_YEAR = 365
FEWEST_DAYS = 28
"""Receipts of fewer days say nothing of a year [days]."""


def spent_scaled(spent_in_a_year: N, costed_on: N, first_day: N) -> N:
    """What was spent at a supplier, as in a whole year [money/year].

    Receipts of ten weeks are scaled to a year; those of less than four are too few to.
    """
    days = costed_on - first_day + 1
    whole = choose(above(days, DAYS_IN_YEAR), DAYS_IN_YEAR, days)
    return only_if(above(days, FEWEST_DAYS - 1), spent_in_a_year * DAYS_IN_YEAR / whole)


@meets_unknowns
def bought_in_a_year(needed_in_a_year: N, spent_scaled: N) -> N:
    """What a supplier's yearly costs are spread over [money/year].

    A year's need of what it sells; where that isn't known, what was spent there as in a year.
    """
    return choose(above(needed_in_a_year, 0), needed_in_a_year, spent_scaled)


def yearly_share(yearly_charge: N, bought_in_a_year: N) -> N:
    """What a supplier costs beside its prices, over what is bought there in a year [1]."""
    return only_if(above(bought_in_a_year, 0), yearly_charge / bought_in_a_year)


def supplier_share(yearly_share: N, needed_in_a_year: N) -> N:
    """What comes on top of a supplier's own prices [1], where it is a share of what was spent."""
    return choose(above(needed_in_a_year, 0), 0, yearly_share)


def need_share(yearly_share: N, needed_in_a_year: N) -> N:
    """What comes on top, as a part of the prices now [1], where a year's need was reckoned."""
    return choose(above(needed_in_a_year, 0), yearly_share, 0)


def need_part(need_share: N, price_per_base_unit: N, pack_in_units_of_now: N) -> N:
    """What a pack bears of its supplier's yearly costs, by what it holds [money]."""
    return need_share * price_per_base_unit * pack_in_units_of_now


def pack_held(pack_count: N, pack_size: N, unit_factor: N) -> N:
    """What one whole pack of a receipt line holds [base]."""
    return pack_count * pack_size * unit_factor


def row_of_pack(rank: N) -> N:
    """The row of the latest purchase of a pack; none where it is bought no more."""
    return only_if(above(rank, 0), rank - whole_down(rank / ROWS_IN_RANK) * ROWS_IN_RANK)


def other_cost_per_pack(other_cost: N, packs: N) -> N:
    """One pack's part of a line's other cost, or of an order's delivery [money]."""
    return other_cost / packs


def taken_off_line(taken_off: N, rank: N, last_rank: N) -> N:
    """What was taken off a receipt line [money]: what is taken off a day's, off its last line."""
    return choose(same(rank, last_rank), taken_off, 0)


def pack_cost(price_per_pack: N, other_cost_per_pack: N, supplier_share: N, need_part: N) -> N:
    """What one pack really costs, with its part of delivery, membership and trips [money].

    None where what was taken off leaves nothing to pay.
    """
    paid = price_per_pack + other_cost_per_pack
    return only_if(above(paid, 0), paid * (1 + supplier_share) + need_part)


def compared_price(pack_cost: N, pack_held: N, bridge: N) -> N:
    """Price as bought [money/base], in the base unit of the price now."""
    return pack_cost / pack_held * bridge


def compared_ready(compared_price: N, usable_share: N) -> N:
    """Price of what is left after trimming [money/base]."""
    return compared_price / usable_share


def pack_in_units_of_now(pack_held: N, bridge: N) -> N:
    """What one whole pack holds, in the base unit of the price now [base]."""
    return pack_held / bridge


def weekly_units(units_sold_per_day: N, days_per_year: N) -> N:
    """Units an outlet sells in an average week [units/week]."""
    return units_sold_per_day * days_per_year / WEEKS_IN_YEAR


def unit_need(pack_need: N, units_per_pack: N) -> N:
    """What one unit sold takes of an item [base/unit]."""
    return pack_need / units_per_pack


def units_of_each(weekly_units: N, products_sold: N) -> N:
    """Units of one product that an outlet sells in a week, each product there as often."""
    return weekly_units / products_sold


def week_need(unit_need: N, units_per_week: N) -> N:
    """What a product needs of an item in a week [base/week], at all its outlets."""
    return unit_need * units_per_week


def made_per_week(batch_takes: N, products: N, batches_per_year: N) -> N:
    """What a week's batches take of an item [base/week], each product made as often."""
    return batch_takes / products * batches_per_year / WEEKS_IN_YEAR


@meets_unknowns
def use_per_week(typed_use: N, made_per_week: N, needed_per_week: N) -> N:
    """Use of an item in a week [base/week]: as typed, else by the batches, else as sold."""
    needed = choose(known(made_per_week), made_per_week, needed_per_week)
    return choose(known(typed_use), typed_use, needed)


def typed_use(typed_amount: N, use_unit_factor: N, use_bridge: N) -> N:
    """The use a person typed [base/week], in the base unit of the price now."""
    return typed_amount * use_unit_factor * use_bridge


def taken_at_once(batch_takes: N, takers: N) -> N:
    """What a batch takes of an item [base], on average over the products that take it."""
    return batch_takes / takers


def taken_ready(taken_at_once: N, usable_share: N) -> N:
    """What a batch takes of an item, ready to use [base]."""
    return taken_at_once * usable_share


def batches_kept(keeps_days: N, made_per_week: N, taken_at_once: N) -> N:
    """For how many more batches an item keeps, after the one it was bought for.

    They follow each other evenly through the year. A millionth is added, so that binary noise never
    takes a batch away.
    """
    in_time = keeps_days * made_per_week / 7 / taken_at_once
    kept = whole_down((in_time * MILLION + 1) / MILLION)
    return only_if(both(above(keeps_days, 0), above(made_per_week, 0)), kept)


MILLION = 1_000_000


@meets_unknowns
def usable_in_time(
    use_per_week: N, keeps_days: N, taken_at_once: N, batches_kept: N, usable_share: N
) -> N:
    """How much of an item can be used before it spoils, ready to use [base].

    What a batch takes is used at once, and what waits goes to the batches that it keeps for; where
    nobody said how many those are, as much as is used in those days. Unknown where nobody said how
    long it keeps, or how much of it is used.
    """
    by_the_day = use_per_week * keeps_days / 7
    by_the_batch = taken_at_once * (1 + batches_kept)
    at_least_one = choose(above(taken_at_once, by_the_day), taken_at_once, by_the_day)
    usable = choose(known(batches_kept), by_the_batch, at_least_one) * usable_share
    return choose(both(above(use_per_week, 0), above(keeps_days, 0)), usable, UNKNOWN)


def pack_ready(pack_in_units_of_now: N, usable_share: N) -> N:
    """What is left of a whole pack after trimming, in the base unit of the price now [base]."""
    return pack_in_units_of_now * usable_share


@meets_unknowns
def used_part(usable_in_time: N, pack_ready: N, least_packs: N) -> N:
    """The part of a pack, or of the least order, that is used before it spoils [1].

    All of it where how much can be used in time isn't known.
    """
    bought = pack_ready * least_packs
    return choose(above(bought, usable_in_time), usable_in_time / bought, 1)


@meets_unknowns
def order_used(
    used_part: N, batches_kept: N, taken_ready: N, pack_ready: N, least_packs: N, cut_to_weight: N
) -> N:
    """The part of all that is bought for a batch that is used before it spoils [1].

    Packs are whole, save what is cut to weight: where it doesn't keep for the next batch, what is
    left of the last one is lost too.
    """
    whole = whole_up(taken_ready / pack_ready)
    packs = choose(above(least_packs, whole), least_packs, whole)
    spoils = both(same(batches_kept, 0), same(cut_to_weight, 0))
    return choose(spoils, taken_ready / (packs * pack_ready), used_part)


def used_price(compared_ready: N, order_used: N) -> N:
    """Price of what is really used [money/base]."""
    return compared_ready / order_used


@meets_unknowns
def overtaken(newest_rank: N, day: N) -> N:
    """1 for a price that a later receipt of the same item and supplier has overtaken."""
    return choose(above(newest_rank, (day + 1) * ROWS_IN_RANK), 1, 0)


def standing_ready(compared_ready: N, overtaken: N) -> N:
    """Price ready to use [money/base] of a pack whose price still stands."""
    return only_if(same(overtaken, 0), compared_ready)


def standing_price(used_price: N, overtaken: N) -> N:
    """Price of what is really used [money/base] of a pack whose price still stands."""
    return only_if(same(overtaken, 0), used_price)


def cash_tied_up(price_per_pack: N, other_cost_per_pack: N, least_packs: N) -> N:
    """Money laid out for the least that can be bought [money]."""
    return (price_per_pack + other_cost_per_pack) * least_packs


@meets_unknowns
def cheapest_smaller(least_bought: N, least_seen: N) -> N:
    """Price ready to use of the best smaller pack [money/base], bought or seen."""
    bought = choose(above(least_bought, 0), least_bought, UNKNOWN)
    better = choose(above(least_bought, least_seen), least_seen, bought)
    seen = choose(above(least_bought, 0), better, least_seen)
    return choose(above(least_seen, 0), seen, bought)


@meets_unknowns
def break_even_spoilage(compared_ready: N, cheapest_smaller: N) -> N:
    """The part of a pack that may be thrown away before the best smaller pack wins [1]."""
    cheaper = both(above(cheapest_smaller, compared_ready), above(compared_ready, 0))
    return choose(cheaper, 1 - compared_ready / cheapest_smaller, UNKNOWN)


# ---------------------------------------------------------------- rows since costed


@meets_unknowns
def left_out(
    item_key: Words,
    pack_size: N,
    pack_count: N,
    packs: N,
    price_per_pack: N,
    other_cost: N,
    unread: N,
    rank: N,
) -> N:
    """1 for a receipt line that has an item and a price, and yet sets no price.

    Not one that only a new run can read: those are counted by themselves.
    """
    returned = both(known(packs), opposite(above(packs, 0)))
    free = both(known(price_per_pack), opposite(above(price_per_pack, 0)))
    bought = both(opposite(same(item_key, "k")), opposite(returned), opposite(free))
    size = both(known(pack_size), known(pack_count))
    whole = both(known(rank), size, known(price_per_pack), known(other_cost))
    return choose(both(bought, opposite(same(unread, 1)), opposite(whole)), 1, 0)


def rows_changed(rows_now: N, rows_costed: N) -> N:
    """How many rows were added to a sheet, or taken away, since it was costed [rows]."""
    added = rows_now - rows_costed
    return choose(above(rows_now, rows_costed), added, rows_costed - rows_now)


def newly_left_out(left_out_now: N, left_out_costed: N) -> N:
    """Receipt lines that these sheets can't read, beyond those that were so at costing [rows]."""
    more = left_out_now - left_out_costed
    return choose(above(more, 0), more, 0)


def to_cost_again(
    changed_rows: N,
    renamed_lines: N,
    renamed_uses: N,
    renamed_stages: N,
    renamed_product_stages: N,
    renamed_batches: N,
    renamed_packs: N,
    renamed_packaging: N,
    renamed_outlets: N,
    renamed_overheads: N,
    renamed_items: N,
    renamed_packs_seen: N,
    renamed_supplier_shares: N,
    renamed_settings: N,
    renamed_bridges: N,
    unread: N,
    newly_left_out: N,
) -> N:
    """Rows that only a new run takes in [rows]."""
    recipes = renamed_lines + renamed_uses + renamed_batches
    stages = renamed_stages + renamed_product_stages
    sold = renamed_packs + renamed_packaging + renamed_outlets + renamed_overheads
    bought = renamed_items + renamed_bridges + renamed_packs_seen + renamed_supplier_shares
    receipts = unread + newly_left_out
    return changed_rows + recipes + stages + sold + bought + renamed_settings + receipts


# ---------------------------------------------------------------- what is missing


@meets_unknowns
def line_lacks(
    line_cost: N,
    uses: Words,
    amount: N,
    unit_factor: N,
    price_per_base_unit: N,
    bridge: N,
    usable_bridge: N,
) -> Words:
    """The first thing a line lacks, in words; empty when it has its cost."""
    what = choose(
        opposite(known(amount)),
        " (amount)",
        choose(
            opposite(known(unit_factor)),
            " (unit)",
            choose(
                opposite(known(price_per_base_unit)),
                " (price)",
                choose(
                    opposite(known(bridge)),
                    " (what one weighs or covers)",
                    choose(opposite(known(usable_bridge)), " (which piece)", " (how much)"),
                ),
            ),
        ),
    )
    named = choose(same(uses, ""), "a line (what it uses)", joined(uses, what))
    return choose(known(line_cost), "", named)


@meets_unknowns
def use_lacks(used_cost: N, uses: Words, batch_lacks: Words, share_of_batch: N) -> Words:
    """The first thing that the use of a recipe lacks."""
    own = joined(uses, " (how much of its batch)")
    return choose(
        known(used_cost),
        "",
        choose(known(share_of_batch), choose(same(batch_lacks, ""), uses, batch_lacks), own),
    )


@meets_unknowns
def stage_lacks(stage_labour: N, stage: Words) -> Words:
    """The stage, where its labour is unknown."""
    return choose(known(stage_labour), "", joined(stage, " (minutes or pay)"))


@meets_unknowns
def recipe_lacks(batch_cost: N, lines: N, line_lack: Words, use_lack: Words) -> Words:
    """The first thing that the ingredients of a batch lack."""
    there = choose(same(line_lack, ""), use_lack, line_lack)
    return choose(known(batch_cost), "", choose(above(lines, 0), there, "lines of the recipe"))


@meets_unknowns
def first_lack(figure: N, one_lack: Words, other_lack: Words) -> Words:
    """The first thing that a sum of two lacks: what the one does, else what the other does."""
    there = choose(same(one_lack, ""), other_lack, one_lack)
    return choose(known(figure), "", there)


@meets_unknowns
@asks_for("packs_sold", *(name for part in MADE for name in part.lacking))
def made_lacks(packs_sold: N, *parts: N | Words) -> Words:
    """The first thing that the cost of making a pack lacks."""
    return choose(known(packs_sold), _first_lack(MADE, parts, ""), NO_PACKS)


@meets_unknowns
@asks_for("made", "made_lack", *(name for part in SOLD for name in part.lacking), *PRICED_BY)
def price_lacks(made: N, made_lack: Words, *others: N | Words) -> Words:
    """The first thing that the price lacks."""
    *parts, tax_in_price, fee_share, applied_target_margin = others
    rest = choose(known(applied_target_margin), "", "target margin")
    rest = choose(known(fee_share), rest, "fees (commission, card share)")
    rest = choose(known(tax_in_price), rest, "sales tax")
    return choose(known(made), _first_lack(SOLD, parts, rest), made_lack)


@meets_unknowns
def lacks_or_goes_without(lacks: Words, uncounted: Words) -> Words:
    """The first thing that the price lacks, else the parts that it goes without."""
    without = choose(same(uncounted, ""), "", joined("without: ", uncounted))
    return choose(same(lacks, ""), without, lacks)


# ---------------------------------------------------------------- helpers


def _as_good_as(one: N, other: N) -> Test:
    """Whether two figures above zero are the same to a millionth."""
    return both(
        above(one * 1_000_001, other * 1_000_000), above(other * 1_000_001, one * 1_000_000)
    )


def _first_lack(parts: Sequence[Part], given: Sequence[N | Words], rest: Words) -> Words:
    """What the first part lacks that is not known, in the order of the money, else the rest.

    Given is each part's figure, with the text of what its rows lack behind it, where it has rows.
    """
    values = iter(given)
    told = [(next(values), part.lack_told(values)) for part in parts]
    for figure, text in reversed(told):
        rest = choose(known(figure), rest, text)
    return rest


def _known_sum(first: N, *others: N) -> N:
    """The sum of the figures that are known."""
    figure: N = choose(known(first), first, 0)
    for other in others:
        figure = figure + choose(known(other), other, 0)
    return figure


def _by_period(period: Words, part: N, **by: N) -> N:
    """The figure for the period a cost is given by, nothing for the other periods."""
    figure: object = UNKNOWN
    for name in ("market day", "batch", "month", "year"):
        figure = choose(same(period, name), by.get(name.replace(" ", "_"), 0), figure)
    return choose(known(part), figure, UNKNOWN)
