"""The rules of the week ahead: from packs wanted to batches, minutes, the kitchen and the cost.

Units as in ``rules.py``. Batches are a plain number: a batch's figure times batches is that figure.
"""

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
    up_to_step,
)

__all__: list[str] = []

# ---------------------------------------------------------------- what is wanted


@meets_unknowns
def plan_row(product_key: Words, wanted: N, aside: N) -> N:
    """1 for a row of the plan that says anything, and is no total or note; else 0."""
    says = either(opposite(same(product_key, "k")), known(wanted))
    return choose(both(says, opposite(same(aside, 1))), 1, 0)


@meets_unknowns
def wanted_read(counts: N, wanted: N) -> N:
    """1 for a row of the plan whose Wanted can be read; else 0."""
    return choose(known(wanted), counts, 0)


@meets_unknowns
def batches_read(typed_batches: N) -> N:
    """1 for a row of the plan with batches of the person's own; else 0."""
    return choose(known(typed_batches), 1, 0)


def rows_of_nobody(rows_in_all: N, rows_of_products: N) -> N:
    """Rows of the plan whose product is none: until that is answered, they may be any product's."""
    return rows_in_all - rows_of_products


@meets_unknowns
def packs_wanted(wanted_in_rows: N, rows: N, rows_read: N, strays: N) -> N:
    """Packs wanted of a product [packs]; unknown while a row can't be read or is nobody's."""
    all_read = both(same(rows, rows_read), opposite(above(strays, 0)))
    return only_if(all_read, wanted_in_rows)


@meets_unknowns
def packs_to_make(wanted: N, in_freezer: N) -> N:
    """Packs to make beside those in the freezer [packs]; none where nothing is wanted."""
    lacking = choose(above(wanted, in_freezer), wanted - in_freezer, 0)
    counted = only_if(both(known(wanted), known(in_freezer)), lacking)
    return choose(same(wanted, 0), 0, counted)


def need_in_base_units(to_make: N, units_per_pack: N, unit_amount: N) -> N:
    """What the packs to make take of their recipe, good [base]."""
    return to_make * units_per_pack * unit_amount


# ---------------------------------------------------------------- batches


def batches_for_need(need: N, good_in_base_units: N) -> N:
    """Batches that give as much as is needed, parts as parts."""
    return need / good_in_base_units


def batches_for_use(user_batches: N, share_of_batch: N) -> N:
    """Batches of a recipe that another one's batches use."""
    return user_batches * share_of_batch


@meets_unknowns
def batches_worked_out(need_batches: N, used_batches: N, smallest_part: N, own_batches: Words) -> N:
    """Batches to make, up to the smallest part of one.

    A recipe that is only used inside others is made in proportion, unless in batches of its own.
    """
    exact = need_batches + used_batches
    rounded = only_if(both(known(exact), known(smallest_part)), up_to_step(exact, smallest_part))
    in_proportion = both(same(need_batches, 0), same(own_batches, "no"))
    says = either(above(need_batches, 0), same(own_batches, "yes"))
    made = choose(in_proportion, exact, only_if(says, rounded))
    return choose(same(exact, 0), 0, made)


@meets_unknowns
def batches(typed_rows: N, typed_batches: N, worked_out: N) -> N:
    """Batches of a recipe: those typed on the plan, of all its rows, else those worked out."""
    return choose(above(typed_rows, 0), typed_batches, worked_out)


def units_needed(need: N, used_batches: N, good_in_base_units: N, counted_in: N) -> N:
    """What is needed of a recipe, for packs and inside others, as it is counted [units]."""
    return (need + used_batches * good_in_base_units) / counted_in


@meets_unknowns
def share_of_recipe(
    products: N,
    to_make: N,
    need: N,
    recipe_need: N,
    typed_rows: N,
    typed_batches: N,
    recipe_typed: N,
) -> N:
    """A product's share of what is made of its recipe for products [1].

    As what is needed of each; where nothing is, as the batches typed for each.
    """
    by_need = need / only_if(above(recipe_need, 0), recipe_need)
    by_batches = typed_batches / only_if(above(recipe_typed, 0), recipe_typed)
    several = choose(above(recipe_need, 0), by_need, by_batches)
    none = both(same(to_make, 0), same(typed_rows, 0))
    return choose(none, 0, choose(same(products, 1), 1, several))


def product_batches(share: N, recipe_batches: N, recipe_used: N) -> N:
    """Batches of a product's recipe that become its packs."""
    return share * (recipe_batches - recipe_used)


def packs_out(product_batches: N, packs_made: N) -> N:
    """Packs that come out [packs]; part packs count as parts."""
    return product_batches * packs_made


def packs_spare(out: N, to_make: N) -> N:
    """Packs that come out beyond those to make [packs]; below zero, as many are short."""
    return out - to_make


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


def packaging_of_batches(product_batches: N, packaging_batch: N) -> N:
    """Packaging of all packs of a product [money]."""
    return product_batches * packaging_batch


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


@meets_unknowns
def strays_said(strays: N) -> Words:
    """What is asked while a row of the plan is nobody's; else nothing."""
    asked = "A row of Plan names no product of yours: till it does, nothing is known."
    return choose(above(strays, 0), asked, "")
