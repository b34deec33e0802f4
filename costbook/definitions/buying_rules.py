"""The rules of the buy list: from what is to be there, and what is, to whole packs and their money.

Units as in ``rules.py``. An item's amounts are as bought, in the base unit of its price now.
"""

from __future__ import annotations

from costbook.definitions.algebra import (
    N,
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

__all__ = [
    "amount_counted",
    "cash_for_an_order",
    "cash_for_packs",
    "counted_held",
    "covered",
    "held_on_hand",
    "left_over",
    "pack_gives",
    "packs_cut",
    "packs_of_a_mix",
    "packs_that_cover",
    "par_held",
    "par_level",
    "planned_need",
    "planned_take",
    "still_to_cover",
    "to_be_there",
    "to_buy",
    "typed_held",
]

# ---------------------------------------------------------------- what is to be bought


def planned_take(amount_as_bought: N, batches: N) -> N:
    """What the plan's batches take of an item by one line [base]: its part for a batch, times them.

    The allowance for small ingredients is not bought.
    """
    return amount_as_bought * batches


def planned_need(lines_take: N, packaging_take: N) -> N:
    """What the plan takes of an item in all [base]."""
    return lines_take + packaging_take


def typed_held(on_hand: N, on_hand_factor: N, on_hand_bridge: N) -> N:
    """What is on hand of an item as typed on Items [base]."""
    return on_hand * on_hand_factor * on_hand_bridge


def amount_counted(amount: N, unit_factor: N) -> N:
    """What a count says [base], in the kind of unit that it was counted in."""
    return amount * unit_factor


@meets_unknowns
def counted_held(counted_rank: N, counts_undated: N, counted_amount: N, bridge: N) -> N:
    """What the last count says is there of an item [base]; none where there is no count.

    Unknown where it can't be read, and where one of nobody knows which day may be the last.
    """
    read = only_if(both(known(counted_amount), known(bridge)), counted_amount * bridge)
    return only_if(opposite(above(counts_undated, 0)), choose(above(counted_rank, 0), read, 0))


@meets_unknowns
def held_on_hand(on_hand_cell: N, typed_held: N, counted_held: N) -> N:
    """What is on hand of an item [base]: as typed on Items, which is as of now, else as counted."""
    unread = opposite(both(known(typed_held), same(typed_held, 0)))
    return choose(either(known(on_hand_cell), unread), typed_held, counted_held)


def par_held(par: N, par_factor: N, par_bridge: N) -> N:
    """The par of an item as typed [base], or what is used of it in a day [base/day]."""
    return par * par_factor * par_bridge


def par_level(par_held: N, order_every_days: N, comes_after_days: N) -> N:
    """What is to be there of an item by its par [base].

    Where the days of its orders are typed, par is the use of a day, and an order is to last until
    the next one has come; the days that it takes to come alone don't say when that is. Else par is
    what is to be there. Source: the reorder point of purchasing textbooks, of any trade.
    """
    days = order_every_days + comes_after_days
    by_the_day = only_if(above(order_every_days, 0), par_held * days)
    said = either(above(order_every_days, 0), above(comes_after_days, 0))
    return choose(said, by_the_day, par_held)


def to_be_there(planned_need: N, par_level: N) -> N:
    """What is to be there of an item [base]: what the plan takes, or its par if that is more."""
    return choose(above(par_level, planned_need), par_level, planned_need)


def to_buy(to_be_there: N, held_on_hand: N) -> N:
    """What is to be bought of an item [base]: what is to be there and isn't."""
    return choose(above(to_be_there, held_on_hand), to_be_there - held_on_hand, 0)


# ---------------------------------------------------------------- whole packs


def pack_gives(pack_in_units_of_now: N, usable_share: N, item_usable_share: N) -> N:
    """What a pack fills of an amount to buy [base], where its usable share is another one."""
    return pack_in_units_of_now * usable_share / item_usable_share


def still_to_cover(to_buy: N, covered: N) -> N:
    """What is to be bought beside the packs that stand above [base]."""
    return choose(above(to_buy, covered), to_buy - covered, 0)


def packs_that_cover(still_to_cover: N, pack_gives: N, least_packs: N) -> N:
    """Whole packs that cover an amount, as many at least as must be taken at once.

    Of less than a millionth, which is binary noise, none.
    """
    whole = whole_up(still_to_cover / pack_gives)
    enough = choose(above(least_packs, whole), least_packs, whole)
    return choose(above(whole_up(still_to_cover), 0), enough, 0)


def packs_of_a_mix(packs_that_cover: N, packs_chosen: N) -> N:
    """Packs of one kind where others stand below it: no more than the mix has of it."""
    return choose(above(packs_that_cover, packs_chosen), packs_chosen, packs_that_cover)


def covered(covered_above: N, packs: N, pack_gives: N) -> N:
    """What the packs down to this one cover [base]."""
    return covered_above + packs * pack_gives


def cash_for_packs(packs: N, price_per_pack: N, other_cost_per_pack: N) -> N:
    """What packs cost at the till [money], with what each costs beside its price."""
    return packs * (price_per_pack + other_cost_per_pack)


def cash_for_an_order(packs: N, price_per_pack: N, other_cost_per_pack: N, least_packs: N) -> N:
    """What packs that were seen cost [money], with the delivery of one order of them.

    ``other_cost_per_pack`` is its part in an order of the least packs.
    """
    delivery = other_cost_per_pack * least_packs
    return packs * price_per_pack + choose(above(packs, 0), delivery, 0)


def packs_cut(still_to_cover: N, pack_gives: N) -> N:
    """How much of a piece cut to weight covers an amount, in such pieces as were bought last."""
    return still_to_cover / pack_gives


def left_over(covered: N, to_buy: N) -> N:
    """What is left of the packs [base]."""
    return choose(above(covered, to_buy), covered - to_buy, 0)
