"""The rules of what was weighed, timed and watched, beside what is typed.

Like ``rules.py``, whose conventions hold here; these are no part of what a pack costs.
"""

from __future__ import annotations

from costbook.definitions.algebra import (
    N,
    Words,
    above,
    both,
    choose,
    known,
    meets_unknowns,
    only_if,
    same,
)

# ---------------------------------------------------------------- what was weighed and timed


@meets_unknowns
def tested_in(test_kind: Words, weighed_in: N, weighed_out: N, unit_factor: N) -> N:
    """What a yield test weighed before [base], where what it left is known too."""
    whole = both(above(weighed_in, 0), known(weighed_out), known(unit_factor))
    return only_if(both(same(test_kind, "yield"), whole), weighed_in * unit_factor)


@meets_unknowns
def tested_out(test_kind: Words, weighed_in: N, weighed_out: N, unit_factor: N) -> N:
    """What a yield test left [base], where what was weighed before is known too."""
    whole = both(above(weighed_in, 0), known(weighed_out), known(unit_factor))
    return only_if(both(same(test_kind, "yield"), whole), weighed_out * unit_factor)


def tested_share(tested_out: N, tested_in: N) -> N:
    """The share that one test left [1]."""
    return tested_out / tested_in


@meets_unknowns
def timed_minutes(test_kind: Words, minutes: N, units: N) -> N:
    """Minutes of a time test, by the clock [min], where its units are known too."""
    whole = both(known(minutes), above(units, 0))
    return only_if(both(same(test_kind, "time"), whole), minutes)


@meets_unknowns
def timed_units(test_kind: Words, minutes: N, units: N) -> N:
    """Units done in a time test [unit], where its minutes are known too."""
    whole = both(known(minutes), above(units, 0))
    return only_if(both(same(test_kind, "time"), whole), units)


def minutes_each(timed_minutes: N, timed_units: N) -> N:
    """Minutes for a unit, or a pack, in one test or on one row [min/unit]."""
    return timed_minutes / timed_units


@meets_unknowns
def is_yield(tested_share: N) -> N:
    """1 for a yield test that can be read, else 0."""
    return choose(known(tested_share), 1, 0)


@meets_unknowns
def is_timed(minutes_each: N) -> N:
    """1 for a row that says minutes and for how many, else 0."""
    return choose(known(minutes_each), 1, 0)


def real_share(in_all: N, out_all: N, least_measure: N, most_measure: N) -> N:
    """The share that all tests of an item left [1]: all that was left over all that was weighed.

    Not the mean of the shares, which would let a small test weigh as much as a large one. None
    where some were weighed and others measured otherwise.
    """
    return only_if(both(above(in_all, 0), same(least_measure, most_measure)), out_all / in_all)


def real_minutes(minutes_all: N, units_all: N) -> N:
    """Minutes for a unit, or a pack, over all that was timed [min/unit]: all over all."""
    return minutes_all / units_all


def planned_minutes(work_minutes: N, units_started: N) -> N:
    """Minutes for a unit as typed [min/unit], with those of the batch shared out."""
    return work_minutes / units_started


def unit_minutes_to_type(real_minutes: N, minutes_per_batch: N, units_started: N) -> N:
    """What to type as Minutes per unit [min/unit], where Minutes per batch stay as they are."""
    figure = real_minutes - minutes_per_batch / units_started
    return only_if(above(figure, 0), figure)


def batch_minutes_to_type(real_minutes: N, units_started: N) -> N:
    """What to type as Minutes per batch [min], where no Minutes per unit are typed."""
    return real_minutes * units_started


# ---------------------------------------------------------------- what Made shows


def made_minutes(packs: N, minutes: N) -> N:
    """Minutes of a row of Made [min], where it made packs."""
    return only_if(above(packs, 0), minutes)


def made_packs(packs: N, minutes: N) -> N:
    """Packs of a row of Made whose minutes are known [pack]."""
    return only_if(both(above(packs, 0), known(minutes)), packs)


def made_rejects(packs: N, rejects: N) -> N:
    """Rejects of a row of Made [unit], where it made packs."""
    return only_if(above(packs, 0), rejects)


def packs_beside(packs: N, rejects: N) -> N:
    """Packs of a row of Made whose rejects are known [pack]."""
    return only_if(both(above(packs, 0), known(rejects)), packs)


def rejects_each(made_rejects: N, packs_beside: N) -> N:
    """Rejects for each good pack, on one row [unit/pack]."""
    return made_rejects / packs_beside


@meets_unknowns
def is_watched(rejects_each: N) -> N:
    """1 for a row of Made that says its rejects, else 0."""
    return choose(known(rejects_each), 1, 0)


def planned_pack_minutes(person_minutes: N, pack_minutes: N, packs_made: N) -> N:
    """Everybody's minutes for a pack made, as typed on Stages [min/pack]."""
    return (person_minutes + pack_minutes) / packs_made


def labour_apart(labour: N, real_minutes: N, planned_minutes: N) -> N:
    """What the minutes found add to a pack sold [money/pack]: work costs as much more as it takes.

    As if every stage took so much more or less.
    """
    return labour * (real_minutes / planned_minutes - 1)


def rejected_share(rejects_per_pack: N, units_per_pack: N) -> N:
    """The share of what is started that is rejected [1], of so many rejects a good pack."""
    return rejects_per_pack / (units_per_pack + rejects_per_pack)


def least_share(least: N, units_per_pack: N) -> N:
    """The smallest share rejected on one row [1]."""
    return rejected_share(least, units_per_pack)


def most_share(most: N, units_per_pack: N) -> N:
    """The largest share rejected on one row [1]."""
    return rejected_share(most, units_per_pack)


def rejects_a_pack(rejects_all: N, watched_packs: N) -> N:
    """Rejects for each good pack, over all rows [unit/pack]."""
    return rejects_all / watched_packs


def rejects_typed(units_started: N, units_good: N) -> N:
    """The share of a batch that is rejected, as typed on Batches [1]."""
    return (units_started - units_good) / units_started


def rejects_to_type(rejected_share: N, started: N) -> N:
    """What to type as the rejects of a batch, as it is counted [unit]."""
    return rejected_share * started
