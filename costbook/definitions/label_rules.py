"""The rules of labels: what weight of an ingredient is put in, and what a pack holds.

Their arguments are columns of recipe lines, of the recipes that they use, and of packs, as in
``rules.py``. No rule here is about law: they only put weights in order.
"""

from __future__ import annotations

from costbook.definitions.algebra import UNKNOWN, N, Words, above, choose, known, meets_unknowns
from costbook.definitions.rules import WEIGHED, same_piece

__all__ = ["grams_of_line", "grams_of_used", "held_in_pack", "measure_of_pack"]


@meets_unknowns
def grams_of_line(
    amount_in_base_units: N,
    measure: N,
    worth: N,
    piece_word: Words,
    price_word: Words,
    part: N,
    price_measure: N,
    whole: N,
    line_usable_share: N,
    applied_usable_share: N,
) -> N:
    """The weight of an item as it is put in, ready to use [g].

    Over the item's bridges; what is measured as bought, as pieces are, less what trimming takes.
    Length and area have no weight, and a slice has none where the item's pieces are loaves.
    """
    weighed = choose(above(WEIGHED + 1, measure), worth, UNKNOWN)
    each = same_piece(weighed, piece_word, price_word, part, price_measure, whole)
    return amount_in_base_units * each * line_usable_share / applied_usable_share


@meets_unknowns
def grams_of_used(
    amount_in_base_units: N,
    measure: N,
    worth: N,
    piece_word: Words,
    price_word: Words,
    part: N,
    price_measure: N,
    whole: N,
    share_of_batch: N,
    good: N,
    started: N,
    batch_grams: N,
) -> N:
    """The weight of a used recipe as it is put in [g].

    As weighed, or over its own bridges; else its part of what was put into its batch, of which
    nothing is taken off for water that cooks away. A reject weighs what a good one does.
    """
    weighed = choose(above(WEIGHED + 1, measure), worth, UNKNOWN)
    each = same_piece(weighed, piece_word, price_word, part, price_measure, whole)
    as_weighed = amount_in_base_units * each
    of_batch = share_of_batch * (good / started) * batch_grams
    return choose(known(as_weighed), as_weighed, of_batch)


@meets_unknowns
def held_in_pack(net_weight: N, net_factor: N, portion: N, units_per_pack: N) -> N:
    """What a pack holds [base]: its net weight, else its units, where these are portions."""
    return choose(known(net_weight), net_weight * net_factor, portion * units_per_pack)


@meets_unknowns
def measure_of_pack(net_weight: N, net_measure: N, pack_measure: N) -> N:
    """The kind of unit that what a pack holds is in."""
    return choose(known(net_weight), net_measure, pack_measure)
