"""The cheapest mix of whole packs, against every mix there is and an independent solver."""

from __future__ import annotations

import itertools
import time
from collections.abc import Sequence
from decimal import Decimal
from math import lcm
from operator import mul

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from costbook.deciding.mix import Mix, PackChoice, cheapest_mix

Case = tuple[int, int, int, int]
"""What a pack holds, its price, how many at least, what an order costs beside."""

FEW = st.lists(
    st.tuples(st.integers(1, 9), st.integers(0, 12), st.integers(1, 3), st.integers(0, 5)),
    min_size=1,
    max_size=4,
)
CENTS = st.integers(1, 5000)
REAL = st.lists(
    st.tuples(CENTS, CENTS, st.integers(1, 12), st.sampled_from([0, 300, 700])),
    min_size=1,
    max_size=6,
)


def choices(cases: Sequence[Case]) -> list[PackChoice]:
    return [PackChoice(Decimal(h), Decimal(p), least, Decimal(o)) for h, p, least, o in cases]


def best(packs: Sequence[PackChoice], need: Decimal) -> Mix:
    mix = cheapest_mix(packs, need)
    assert mix is not None
    return mix


@settings(max_examples=80, deadline=None, derandomize=True)
@given(FEW, st.integers(1, 25))
def test_no_mix_is_cheaper_and_none_as_cheap_leaves_less(cases: list[Case], need: int) -> None:
    """Against every mix there is, tried one by one."""
    counts = [[0, *range(least, max(least, -(-need // h)) + 1)] for h, _, least, _ in cases]
    every = [
        (sum(n * p + (o if n else 0) for n, (_, p, _, o) in zip(mix, cases, strict=True)), held)
        for mix in itertools.product(*counts)
        if (held := sum(n * h for n, (h, *_) in zip(mix, cases, strict=True))) >= need
    ]
    cost, held = min(every)
    found = best(choices(cases), Decimal(need))
    assert (found.cost, found.left_over, found.proved) == (cost, held - need, True)
    assert all(
        n == 0 or n >= least for n, (_, _, least, _) in zip(found.counts, cases, strict=True)
    )


@settings(max_examples=60, deadline=None, derandomize=True)
@given(REAL, st.integers(1, 30_000))
def test_an_independent_solver_finds_no_cheaper_mix(cases: list[Case], need: int) -> None:
    """scipy's mixed-integer solver; a second variable a pack says whether any of it is bought."""
    holds, prices, least, once = (
        np.array(column, dtype=float) for column in zip(*cases, strict=True)
    )
    many = np.maximum(np.ceil(need / holds), least)
    each, none = np.eye(len(cases)), np.zeros(len(cases))
    solved = milp(
        np.hstack([prices, once]),
        integrality=np.ones(2 * len(cases)),
        bounds=Bounds(0, np.hstack([many, none + 1])),
        constraints=[
            LinearConstraint(np.hstack([holds, none]), lb=need),
            LinearConstraint(np.hstack([each, -np.diag(many)]), ub=0),
            LinearConstraint(np.hstack([each, -np.diag(least)]), lb=0),
        ],
        options={"mip_rel_gap": 0},
    )
    assert solved.success
    found = best(choices(cases), Decimal(need))
    assert found.proved
    assert float(found.cost) == pytest.approx(solved.fun, abs=1e-3)  # of a cent
    held = sum(n * h for n, (h, *_) in zip(found.counts, cases, strict=True))
    assert held - need == found.left_over >= 0


def test_of_two_as_cheap_the_one_that_leaves_less_is_taken() -> None:
    """Ten for 4.00 and twelve for 4.00: eleven are wanted; nine are, and ten suffice."""
    packs = choices([(12, 4, 1, 0), (10, 4, 1, 0)])
    assert best(packs, Decimal(11)).counts == (1, 0)
    assert best(packs, Decimal(9)).counts == (0, 1)


@pytest.mark.parametrize(
    ("packs", "need", "counts"),
    [
        # two of three, or three and one: 6.00 either way, but 3 + 1 leave nothing over
        pytest.param([(3, 3, 1, 0), (1, 3, 1, 0)], 4, (1, 1), id="found later, leaves less"),
        # the same beside ten for 10.00, which are tried first
        pytest.param(
            [(10, 10, 1, 0), (3, 3, 1, 0), (1, 3, 1, 0)], 4, (0, 1, 1), id="found last, leaves less"
        ),
        # five for 2.00 and 2.00 for delivery, or six for 4.00: the six leave one more
        pytest.param(
            [(5, 2, 1, 2), (6, 4, 1, 0), (1, 7, 1, 0)], 4, (1, 0, 0), id="found later, leaves more"
        ),
    ],
)
def test_a_tie_goes_to_what_leaves_less_whichever_is_found_first(
    packs: list[Case], need: int, counts: tuple[int, ...]
) -> None:
    assert best(choices(packs), Decimal(need)).counts == counts


@pytest.mark.parametrize(
    ("packs", "need", "counts", "cost"),
    [
        # four for 4.00 and one for 2.00; two of four are 8.00, five of one 10.00
        pytest.param(
            [(4, 4, 1, 0), (1, 2, 1, 0), (1, 9, 1, 0)], 5, (1, 1, 0), 6, id="one of each of two"
        ),
        # with 5.00 for delivery the cheapest by content is 9.00; 3.00 + 2.00 are 5.00
        pytest.param(
            [(2, 2, 1, 5), (2, 3, 1, 0), (1, 2, 1, 0)], 3, (0, 1, 1), 5, id="the same rest for less"
        ),
    ],
)
def test_the_second_best_by_content_may_be_in_the_cheapest_mix(
    packs: list[Case], need: int, counts: tuple[int, ...], cost: int
) -> None:
    found = best(choices(packs), Decimal(need))
    assert (found.counts, found.cost) == (counts, Decimal(cost))


def test_a_pack_sold_in_fives_is_bought_in_fives_or_not_at_all() -> None:
    """Five at 1.00 hold 5; three are wanted, and two at 2.40 hold 4: 4.80 against 5.00."""
    packs = choices([(1, 100, 5, 0), (2, 240, 1, 0)])
    assert (best(packs, Decimal(3)).counts, best(packs, Decimal(5)).counts) == ((0, 2), (5, 0))


def test_delivery_is_paid_once_an_order() -> None:
    """Delivered, 4 x 2.00 + 3.00 = 11.00 beats 4 x 3.00; a single one, 5.00, does not beat 3.00."""
    packs = choices([(1, 2, 1, 3), (1, 3, 1, 0)])
    four, one = best(packs, Decimal(4)), best(packs, Decimal(1))
    assert (four.counts, four.cost) == ((4, 0), Decimal(11))
    assert (one.counts, one.cost) == ((0, 1), Decimal(3))


@pytest.mark.parametrize("need", ["0", "-3"])
def test_for_nothing_nothing_is_bought(need: str) -> None:
    assert best(choices([(3, 5, 2, 4)]), Decimal(need)) == Mix((0,), Decimal(0), Decimal(0))


def test_without_packs_there_is_a_mix_only_for_nothing() -> None:
    assert cheapest_mix([], Decimal(1)) is None
    assert cheapest_mix([], Decimal(0)) == Mix((), Decimal(0), Decimal(0))


@pytest.mark.parametrize(
    "case", [(0, 5, 1, 0), (-1, 5, 1, 0), (3, -1, 1, 0), (3, 5, 0, 0), (3, 5, 1, -1)]
)
def test_a_pack_that_cannot_be_is_refused(case: Case) -> None:
    with pytest.raises(ValueError, match="a pack must hold something, and cost nothing at least"):
        cheapest_mix(choices([case]), Decimal(1))


def test_a_thousand_packs_are_mixed_at_once() -> None:
    """1,000 trays hold 30,000; ten more are cheapest from one carton of 18."""
    packs = [PackChoice(Decimal(30), Decimal("7.13")), PackChoice(Decimal(18), Decimal("4.99"))]
    found = best(packs, Decimal(30_010))
    assert (found.counts, found.cost) == ((1000, 1), Decimal("7134.99"))


@pytest.mark.parametrize(
    "packs",
    [
        pytest.param(
            [PackChoice(Decimal(w), Decimal(w) * 11) for w in ("7.75", "7.9", "8.1", "8.2", "8.4")],
            id="sides of fish, all at 11.00 a pound",
        ),
        pytest.param(
            [PackChoice(Decimal(7 + n) / 3, Decimal(7 + n) / 7) for n in range(8)],
            id="thirds and sevenths, all at one price by content",
        ),
        pytest.param(
            [
                PackChoice(Decimal(1000 + 37 * n) / 100, Decimal(1100 + 41 * n + n % 3) / 100)
                for n in range(12)
            ],
            id="twelve packs that differ by pence",
        ),
    ],
)
def test_a_thousand_packs_of_many_kinds_take_bounded_time(packs: list[PackChoice]) -> None:
    """Where no cheaper mix can be ruled out in time it is said; what is found is near the best."""
    need = packs[0].holds * 1000 + Decimal("0.03")
    start = time.process_time()
    found = best(packs, need)
    assert time.process_time() - start < 10  # half a second where nothing else runs
    lowest = need * min(pack.price / pack.holds for pack in packs)
    assert lowest <= found.cost <= lowest + max(pack.price for pack in packs)
    assert found.left_over >= 0


def test_what_could_not_be_proved_is_not_called_proved() -> None:
    packs = [PackChoice(Decimal(7 + n) / 3, Decimal(7 + n) / 7) for n in range(8)]
    assert not best(packs, Decimal("7000.377")).proved
    assert best(packs[:1], Decimal("7000.377")).proved


@pytest.mark.parametrize(
    ("packs", "need", "counts", "steps"),
    [
        # one alone: none can hold less than a whole number of it, nor cost less by content
        ([(2, 3, 1, 0)], 3, (2,), 1),
        # 1 start, 2 two of the first (6.00), 3 one of it, and one more is wanted: of the second
        # at least 5.00 more, 4 none of the first, 5 one of the second (5.00), 6 nothing at all
        ([(2, 3, 1, 0), (3, 5, 1, 0)], 3, (0, 1), 6),
        # 1 start, 2 two of the first (6.00); one of it, and one more is 9.00 at least; 3 none of it
        ([(3, 3, 1, 0), (1, 9, 1, 0)], 4, (2, 0), 3),
        # 1 start, 2 one of the first (5.00), 3 none, 4 two of the second (4.00), one of it leaves
        # two that nothing can fill, 5 nothing at all
        ([(5, 5, 1, 0), (2, 2, 1, 0)], 4, (0, 2), 5),
        # 1 start, 2 two of the first (4.00), 3 one, 4 and one of the second (4.00), 5 none of it,
        # 6 one of the third (7.00), 7 none; 8 none of the first, 9 two of the second (4.00), 10 one
        # of it leaves what step 5 left at the same cost, 11 none of it: the third alone is 6.00
        ([(2, 2, 1, 0), (2, 2, 1, 0), (1, 2, 1, 3)], 3, (2, 0, 0), 11),
    ],
)
def test_a_mix_is_proved_once_every_branch_is_tried_or_ruled_out_and_no_sooner(
    packs: list[Case],
    need: int,
    counts: tuple[int, ...],
    steps: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for allowed in range(steps + 1):
        monkeypatch.setattr("costbook.deciding.mix.MOST_STEPS", allowed)
        found = best(choices(packs), Decimal(need))
        assert found.proved == (allowed == steps)
    assert found.counts == counts


@settings(max_examples=120, deadline=None, derandomize=True)
@given(FEW, st.integers(1, 25), st.integers(1, 30))
def test_where_some_is_used_later_no_mix_makes_what_is_used_cheaper(
    cases: list[Case], need: int, later: int
) -> None:
    """Against every mix that takes no pack beyond the need, by what a unit that is used costs.

    Delivery is left out: taking more than is needed to spread it is no buying for the need.
    """
    cases = [(h, p, least, 0) for h, p, least, _ in cases]
    counts = [[0, *range(least, max(least, -(-need // h)) + 1)] for h, _, least, _ in cases]
    holds, prices = [h for h, *_ in cases], [p for _, p, *_ in cases]
    scale = lcm(*range(need, need + later + 1))  # so that all is in whole numbers, which is quick
    every = [
        (sumprod(mix, prices) * (scale // (need + min(left, later))), left)
        for mix in itertools.product(*counts)
        if (left := sumprod(mix, holds) - need) >= 0
    ]
    found = cheapest_mix(choices(cases), Decimal(need), Decimal(later))
    assert found is not None
    paid = sum(n * p for n, (_, p, _, _) in zip(found.counts, cases, strict=True))
    left = int(found.left_over)
    used = need + min(left, later)
    assert (paid * (scale // used), left, found.proved) == (*min(every), True)
    assert found.cost == Decimal(paid) * need / used


def sumprod(counts: Sequence[int], each: Sequence[int]) -> int:
    return sum(map(mul, counts, each))


def test_what_is_used_later_is_worth_what_was_paid() -> None:
    """Five are needed. Twelve for 9.00, or five for 5.00.

    If nothing is used later the five are cheaper: 5.00 against 9.00. If four more are, nine of the
    twelve are used, at 1.00 each: as cheap, and the five leave nothing. With five more, ten are
    used at 0.90: the five that are needed cost 4.50.
    """
    packs = choices([(12, 9, 1, 0), (5, 5, 1, 0)])
    for later, counts, cost in ((0, (0, 1), "5"), (4, (0, 1), "5"), (5, (1, 0), "4.5")):
        found = cheapest_mix(packs, Decimal(5), Decimal(later))
        assert found is not None
        assert (found.counts, found.cost) == (counts, Decimal(cost))
