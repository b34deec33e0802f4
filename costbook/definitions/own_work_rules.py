"""Whose work is in a pack: every rule. A stage without a pay of its own is their own work."""

from __future__ import annotations

from costbook.definitions.algebra import (
    UNKNOWN,
    N,
    above,
    asks_for,
    choose,
    known,
    meets_unknowns,
)
from costbook.definitions.parts import WITHOUT_WORK


@meets_unknowns
def own_minutes(typed_pay: N, person_minutes: N) -> N:
    """A stage's minutes of their own work [min/batch]: of one without a pay of its own."""
    own = choose(above(0, typed_pay), person_minutes, 0)
    return choose(known(typed_pay), own, UNKNOWN)


@meets_unknowns
def helpers_labour(typed_pay: N, stage_labour: N) -> N:
    """What a stage costs that has a pay of its own [money/batch]: somebody else's work."""
    paid = choose(above(0, typed_pay), 0, stage_labour)
    return choose(known(typed_pay), paid, UNKNOWN)


def used_own_minutes(share_of_batch: N, own_batch_minutes: N) -> N:
    """Minutes of their own work in a used recipe's share of its batch [min/batch]."""
    return share_of_batch * own_batch_minutes


def used_helpers_labour(share_of_batch: N, helpers_batch: N) -> N:
    """What others' work costs in a used recipe's share of its batch [money/batch]."""
    return share_of_batch * helpers_batch


def own_batch_minutes(stages_own_minutes: N, uses_own_minutes: N) -> N:
    """Minutes of their own work on a batch [min/batch], with the recipes used in it."""
    return stages_own_minutes + uses_own_minutes


def helpers_batch(stages_helpers_labour: N, uses_helpers_labour: N) -> N:
    """What others' work on a batch costs [money/batch], with the recipes used in it."""
    return stages_helpers_labour + uses_helpers_labour


def own_minutes_of_a_pack(own_batch_minutes: N, packs_own_minutes: N, packs_made: N) -> N:
    """Minutes of their own work on a pack [min/pack], sold or not."""
    return (own_batch_minutes + packs_own_minutes) / packs_made


@asks_for(*WITHOUT_WORK)
def made_without_labour(first: N, *others: N) -> N:
    """What a pack sold cost to make, without work [money/pack]."""
    for part in others:
        first = first + part
    return first


def cost_of_a_pack(
    made_without_labour: N,
    packs_sold: N,
    helpers_batch: N,
    packs_helpers_labour: N,
    packs_made: N,
) -> N:
    """What a pack cost, without their own work [money/pack], sold or not.

    It is a batch over the packs made: what was sampled or spoiled is counted as such on Sales, so
    that the share that isn't sold as a rule is not counted again.
    """
    batch = made_without_labour * packs_sold + helpers_batch + packs_helpers_labour
    return batch / packs_made
