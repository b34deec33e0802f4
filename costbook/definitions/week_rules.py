"""The rules of the week ahead: from packs wanted to batches, and what comes out of them.

Units as in ``rules.py``. Batches are a plain number: a batch's figure times batches is that figure.
"""

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
    up_to_step,
    whole_up,
    wholes_in,
)

__all__: list[str] = []

# ---------------------------------------------------------------- what is wanted


@meets_unknowns
def plan_row(product_key: Words, wanted: N, batches_cell: N, aside: N) -> N:
    """1 for a row of the plan that says anything, and is no total or note; else 0."""
    says = either(opposite(same(product_key, "k")), known(wanted), known(batches_cell))
    return choose(both(says, opposite(same(aside, 1))), 1, 0)


@meets_unknowns
def wanted_read(counts: N, wanted: N) -> N:
    """1 for a row of the plan whose Wanted can be read; else 0."""
    return choose(known(wanted), counts, 0)


@meets_unknowns
def has_batches(batches_cell: N, typed_batches: N) -> N:
    """1 for a row of the plan with batches of the person's own, be they read or not; else 0.

    ``typed_batches`` are none where the cell is blank, and unknown where it can't be read.
    """
    return choose(either(known(batches_cell), opposite(known(typed_batches))), 1, 0)


@meets_unknowns
def batches_typed(typed_rows: N, typed_in_rows: N) -> N:
    """Batches typed in all rows of a product; none where none has any, unknown where one is."""
    return choose(same(typed_rows, 0), 0, typed_in_rows)


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


@meets_unknowns
def product_batches(share: N, recipe_batches: N, recipe_used: N) -> N:
    """Batches of a product's recipe that become its packs; parts of packs among them.

    Unknown where more is used in others than was typed to be made.
    """
    there = both(known(share), known(recipe_batches), known(recipe_used))
    enough = both(there, opposite(above(whole_up(recipe_used - recipe_batches), 0)))
    packed = choose(above(recipe_batches, recipe_used), share * (recipe_batches - recipe_used), 0)
    return choose(same(share, 0), 0, only_if(enough, packed))


def packs_out(product_batches: N, packs_made: N) -> N:
    """Whole packs that come out [packs]."""
    return wholes_in(product_batches * packs_made)


def packs_spare(out: N, to_make: N) -> N:
    """Packs that come out beyond those to make [packs]; below zero, as many are short."""
    return out - to_make


@meets_unknowns
def packed(out: N, units_per_pack: N, unit_amount: N) -> N:
    """What the packs that come out hold of their recipe [base]."""
    there = both(known(out), known(units_per_pack), known(unit_amount))
    return choose(same(out, 0), 0, only_if(there, out * units_per_pack * unit_amount))


def left_over_of_recipe(
    batches: N, used_batches: N, good_in_base_units: N, packed: N, counted_in: N
) -> N:
    """What is made of a recipe and is in no whole pack and no other recipe, as counted [units]."""
    return ((batches - used_batches) * good_in_base_units - packed) / counted_in


def packaging_of_batches(product_batches: N, packaging_batch: N) -> N:
    """Packaging of all packs of a product [money]."""
    return product_batches * packaging_batch


@meets_unknowns
def strays_said(strays: N) -> Words:
    """What is asked while a row of the plan is nobody's; else nothing."""
    asked = "A row of Plan names no product of yours: till it does, nothing is known."
    return choose(above(strays, 0), asked, "")
