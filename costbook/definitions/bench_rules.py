"""The rules of a bench card for several batches: amounts as a scale, a spoon or a hand gives them.

Units as in ``rules.py``: an amount has the unit that it was typed in.
"""

from __future__ import annotations

from costbook.definitions.algebra import N, above, choose, either, only_if, up_to_step

__all__: list[str] = []


def scaled_by_weight(batch_figure: N, batches: N, fine: N) -> N:
    """An amount for several batches as a scale shows it [its unit], coarser where it is larger."""
    exact = batch_figure * batches
    coarse = choose(above(2000 * fine, exact), 20 * fine, 100 * fine)
    return _to_the_next(exact, choose(above(200 * fine, exact), fine, coarse))


def scaled_by_count(batch_figure: N, batches: N, fine: N) -> N:
    """An amount for several batches in pieces or by the spoon [its unit], in halves or quarters."""
    return _to_the_next(batch_figure * batches, fine)


def _to_the_next(exact: N, step: N) -> N:
    """The nearest whole step; less than one stays as it is."""
    return choose(above(step, exact), exact, up_to_step(exact - step / 2, step))


def scaled_exactly(batch_figure: N, batches: N, shown: N) -> N:
    """The exact amount, where what is shown is more than a hundredth off [its unit]."""
    exact = batch_figure * batches
    off = either(above(shown - exact, exact / 100), above(exact - shown, exact / 100))
    return only_if(off, exact)


def grams_each(amount_in_grams: N, started: N, fine: N) -> N:
    """What each piece of a batch has of a line, to a hundredth of it at worst [g]."""
    exact = amount_in_grams / started
    coarse = choose(above(5000 * fine, exact), 10 * fine, 100 * fine)
    return _to_the_next(exact, choose(above(500 * fine, exact), fine, coarse))
