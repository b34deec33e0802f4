"""The rules of what was made and counted, and of what is left of it in the freezer.

Like ``rules.py``, whose conventions hold here; these are no part of what a pack costs.
"""

from __future__ import annotations

from typing import Final

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
    whole_down,
)
from costbook.definitions.rules import PIECE, ROWS_IN_RANK

LATER_THAN_ANY: Final = 2_958_465
"""The last day that a spreadsheet knows, 9999-12-31: when a row without a date may be."""
BELOW_ZERO: Final = "more went than was there"
"""What is said where the rows would leave less than nothing."""

# ---------------------------------------------------------------- what was made and counted


def day_so_far(day: N, costed_on: N) -> N:
    """The day of a row that counts by the costing date; none for one that is yet to come."""
    return only_if(opposite(above(day, costed_on)), day)


@meets_unknowns
def day_at_latest(day: N) -> N:
    """The day of a row; of one without, the last there is, so that no count sets it right."""
    return choose(known(day), day, LATER_THAN_ANY)


@meets_unknowns
def unread_packs(day: N, packs: N, costed_on: N) -> N:
    """1 for a row that nobody can count: its packs or its day aren't known, and it isn't to come.

    Whose packs they are is asked where it is looked for.
    """
    to_come = above(day, costed_on)
    whole = both(known(day), known(packs))
    return choose(either(to_come, whole), 0, 1)


def packs_gone(sold: N, sampled: N, spoiled: N) -> N:
    """Packs of a row of Sales that are gone [pack]; what came home again is not."""
    return sold + sampled + spoiled


def count_rank(day_so_far: N, row_number: N) -> N:
    """What orders counts: the day, then the row; the last one stands."""
    return day_so_far * ROWS_IN_RANK + row_number


@meets_unknowns
def packs_counted(amount: N, measure: N, unit_factor: N) -> N:
    """Packs that a count of a product says [pack]: a dozen is 12; a weight is no packs.

    Any word that is no unit, as packs, or none at all, is a pack.
    """
    by_unit = only_if(same(measure, PIECE), amount * unit_factor)
    return choose(known(measure), by_unit, amount)


@meets_unknowns
def is_known(packs_counted: N) -> N:
    """1 for a count that can be read, else 0."""
    return choose(known(packs_counted), 1, 0)


@meets_unknowns
def undated(day: N) -> N:
    """1 for a count of nobody knows which day, which may be the last one."""
    return choose(known(day), 0, 1)


# ---------------------------------------------------------------- the freezer


def day_of_count(counted_rank: N) -> N:
    """The day of the last count; 0, before all days, where there is none."""
    return whole_down(counted_rank / ROWS_IN_RANK)


def counted_on(counted_rank: N, last_count: N) -> N:
    """The day of the last count; none where there is no count."""
    return only_if(above(counted_rank, 0), last_count)


def day_of_count_before(before_rank: N) -> N:
    """The day of the count before that one; 0 where there is none."""
    return whole_down(before_rank / ROWS_IN_RANK)


@meets_unknowns
def packs_at_count(counted_rank: N, counted: N, counts_read: N) -> N:
    """Packs at the last count [pack]; none where there is no count, unknown where it is unread."""
    read = choose(above(counts_read, 0), counted, UNKNOWN)
    return choose(above(counted_rank, 0), read, 0)


@meets_unknowns
def packs_at_count_before(before_rank: N, counted_before: N, counts_read_before: N) -> N:
    """Packs at the count before [pack], in the same way."""
    read = choose(above(counts_read_before, 0), counted_before, UNKNOWN)
    return choose(above(before_rank, 0), read, 0)


def packs_by_rows(packs_at_count: N, made_since: N, gone_since: N) -> N:
    """Packs in the freezer [pack]: the last count, and made since, less what is gone since."""
    return packs_at_count + made_since - gone_since


def packs_missing(packs_by_rows: N) -> N:
    """How many more packs went than there were [pack]: a row is missing, or too large."""
    return choose(above(0, packs_by_rows), 0 - packs_by_rows, 0)


def rows_unread(made_unread: N, gone_unread: N, counts_undated: N) -> N:
    """Rows of a product that nobody can count, and that no count has put right since [rows]."""
    return made_unread + gone_unread + counts_undated


def rows_meant(made_meant: N, gone_meant: N, counts_meant: N) -> N:
    """Above zero while a row bears a name that is nobody's and near this product's."""
    return made_meant + gone_meant + counts_meant


@meets_unknowns
def packs_left(packs_by_rows: N, packs_missing: N, rows_unread: N, rows_meant: N) -> N:
    """Packs in the freezer [pack]; unknown below zero, and while a row of it can't be counted."""
    doubts = either(above(packs_missing, 0), above(rows_unread, 0), above(rows_meant, 0))
    return only_if(opposite(doubts), packs_by_rows)


@meets_unknowns
def freezer_lacks(
    packs_left: N, packs_missing: N, rows_unread: N, rows_meant: N, counted_rank: N, counts_read: N
) -> Words:
    """Why the packs of a product aren't known, in words; empty where they are."""
    unread = choose(above(rows_unread, 0), "a row without its day or its packs", "")
    meant = choose(above(rows_meant, 0), "a row with a name nearly like it", unread)
    counted = both(above(counted_rank, 0), opposite(above(counts_read, 0)))
    found = choose(above(packs_missing, 0), BELOW_ZERO, choose(counted, "what was counted", meant))
    return choose(known(packs_left), "", found)


def expected_at_count(
    packs_at_count_before: N,
    made_between: N,
    gone_between: N,
    made_unread_between: N,
    gone_unread_between: N,
) -> N:
    """Packs that the rows up to the last count made it [pack]; none while one is unread."""
    packs = packs_at_count_before + made_between - gone_between
    return only_if(same(made_unread_between + gone_unread_between, 0), packs)


def found_at_count(
    packs_at_count: N, expected_at_count: N, counted_rank: N, before_rank: N, made_between: N
) -> N:
    """What the last count found more than the rows said [pack], or less, below zero.

    None where there is no count, or nothing before it to compare it with.
    """
    before = either(above(before_rank, 0), above(made_between, 0))
    there = both(above(counted_rank, 0), before)
    return only_if(there, packs_at_count - expected_at_count)
