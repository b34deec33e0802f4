"""The rules of a session, all batches of a plan: minutes, the kitchen, the cost and the room.

Units as in ``week_rules.py``.
"""

from __future__ import annotations

from costbook.definitions.algebra import (
    UNKNOWN,
    N,
    Words,
    above,
    both,
    choose,
    known,
    meets_unknowns,
    only_if,
    same,
    up_to_step,
)

__all__: list[str] = []

# ---------------------------------------------------------------- minutes


@meets_unknowns
def batches_sparing(once_a_session: Words, batches: N) -> N:
    """Batches beside the first that share its set-up or clean-down; 0 where each has its own."""
    shared = choose(above(batches, 0), batches - 1, 0)
    each_its_own = choose(same(once_a_session, "no"), 0, UNKNOWN)
    return choose(same(once_a_session, "yes"), shared, each_its_own)


def session_work(batch_work: N, batches: N, minutes_per_batch: N, sparing: N) -> N:
    """Minutes of work by the clock on all batches of a session [minutes]."""
    return batch_work * batches - minutes_per_batch * sparing


def session_clock(batch_clock: N, batches: N, batch_work: N, minutes_per_batch: N, sparing: N) -> N:
    """Minutes that a stage of all batches of a session holds the kitchen [minutes].

    What is shared is all but the minutes for each unit: set-up, its waiting and its overlap.
    """
    return batch_clock * batches - (batch_clock - batch_work + minutes_per_batch) * sparing


def work_in_all(stage_minutes: N, pack_minutes: N) -> N:
    """Paid minutes of a recipe's stages, and of those of its products [minutes]."""
    return stage_minutes + pack_minutes


def own_work_in_all(own_stage_minutes: N, own_pack_minutes: N) -> N:
    """Of these, the person's own [minutes]."""
    return own_stage_minutes + own_pack_minutes


def labour_in_all(stages_labour: N, packs_labour: N) -> N:
    """What all of these are paid [money]."""
    return stages_labour + packs_labour


@meets_unknowns
def minutes_of_plan(recipes_minutes: N, packs_out: N) -> N:
    """Paid minutes of the plan [minutes]; unknown where it isn't known what comes out."""
    return only_if(known(packs_out), recipes_minutes)


@meets_unknowns
def own_minutes_of_plan(recipes_own_minutes: N, packs_out: N) -> N:
    """Own minutes of the plan [minutes]; unknown where it isn't known what comes out."""
    return only_if(known(packs_out), recipes_own_minutes)


@meets_unknowns
def clock_of_plan(recipes_clock: N, products_clock: N, packs_out: N) -> N:
    """Minutes by the clock of the plan [minutes]; unknown where it isn't known what comes out."""
    return only_if(known(packs_out), recipes_clock + products_clock)


@meets_unknowns
def minutes_over(own_minutes: N, minutes_there: N) -> N:
    """Own minutes of work beyond those that there are [minutes]; unknown where nobody said."""
    over = choose(above(own_minutes, minutes_there), own_minutes - minutes_there, 0)
    return only_if(both(known(own_minutes), known(minutes_there)), over)


# ---------------------------------------------------------------- the cost


@meets_unknowns
def bought_for_a_batch(lines: N, items_cost: N, small_ingredient_allowance: N) -> N:
    """What a batch takes of bought items, without the recipes it uses [money]."""
    there = both(above(lines, 0), known(items_cost), known(small_ingredient_allowance))
    return only_if(there, items_cost * (1 + small_ingredient_allowance))


def bought_for_batches(batches: N, bought_for_a_batch: N) -> N:
    """What all batches of a recipe take of bought items [money]."""
    return batches * bought_for_a_batch


def recipe_cost(ingredients: N, packaging: N, labour: N) -> N:
    """What a recipe's batches cost, but the kitchen and overheads [money]."""
    return ingredients + packaging + labour


def session_kitchen_minutes(clock_minutes: N, booking_block_minutes: N) -> N:
    """Kitchen time of the whole session [minutes], taken up once to whole booked blocks."""
    return up_to_step(clock_minutes, booking_block_minutes)


@meets_unknowns
def blocks(kitchen_minutes: N, booking_block_minutes: N) -> N:
    """Booked blocks of kitchen time; unknown where the kitchen is hired by the minute."""
    return only_if(above(booking_block_minutes, 0), kitchen_minutes / booking_block_minutes)


def session_kitchen(kitchen_hire_per_hour: N, kitchen_minutes: N) -> N:
    """Kitchen hire of the whole session [money]."""
    return kitchen_minutes * kitchen_hire_per_hour / 60


def session_overhead(sold_batches: N, overhead_per_batch: N) -> N:
    """Overheads that the batches of what is sold carry [money]."""
    return sold_batches * overhead_per_batch


def session_cost(ingredients: N, packaging: N, labour: N, kitchen: N, overhead: N) -> N:
    """What the whole plan costs [money]."""
    return ingredients + packaging + labour + kitchen + overhead


def packs_to_freeze(packs_out: N, packs_in_freezer: N) -> N:
    """Packs in the freezer once all is made, before any is taken out [packs]."""
    return packs_out + packs_in_freezer


@meets_unknowns
def packs_over(to_freeze: N, freezer_holds: N) -> N:
    """Packs beyond what the freezer holds [packs]; unknown where nobody said."""
    over = choose(above(to_freeze, freezer_holds), to_freeze - freezer_holds, 0)
    return only_if(both(known(to_freeze), known(freezer_holds)), over)


@meets_unknowns
def time_said(minutes_over: N) -> Words:
    """Whether there is time enough; nothing where that isn't known."""
    over = choose(above(minutes_over, 0), "too little time", "time enough")
    return choose(known(minutes_over), over, "")


@meets_unknowns
def room_said(packs_over: N) -> Words:
    """Whether there is room enough in the freezer; nothing where that isn't known."""
    over = choose(above(packs_over, 0), "too little room", "room enough")
    return choose(known(packs_over), over, "")
