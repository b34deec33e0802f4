"""The cheapest mix of whole packs that covers a need, found exactly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm
from typing import Final

__all__ = ["MOST_STEPS", "Mix", "PackChoice", "cheapest_mix"]

MOST_STEPS: Final = 100_000
"""Steps after which a search ends with the best mix found so far; about half a second."""


@dataclass(frozen=True, slots=True)
class PackChoice:
    """A pack that can be bought: what it holds that is usable, its price, how many at least.

    ``once`` is what an order of them costs beside the packs, however many: its delivery.
    """

    holds: Decimal
    price: Decimal
    least: int = 1
    once: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Mix:
    """How many of each pack, what the part of them that is used costs, and what is left over.

    ``proved`` is False where there were too many mixes to rule out a cheaper one.
    """

    counts: tuple[int, ...]
    cost: Decimal
    left_over: Decimal
    proved: bool = True


def cheapest_mix(
    packs: Sequence[PackChoice], need: Decimal, later: Decimal = Decimal(0)
) -> Mix | None:
    """The cheapest whole packs that hold at least the need; of equally cheap, the least left over.

    Of what is left over, so much is used ``later``, and bears its part of what was paid; the rest
    is lost. None where there are no packs. Exact, in whole numbers: packs are tried from the
    cheapest by content on, and a branch is left only when even the cheapest content for all that is
    still needed, or used later, could not beat the best mix so far.
    Raises ValueError for a pack that holds nothing or costs less than nothing.
    """
    if any(p.holds <= 0 or p.price < 0 or p.least < 1 or p.once < 0 for p in packs):
        raise ValueError("a pack must hold something, and cost nothing at least")
    if need <= 0:
        return Mix((0,) * len(packs), Decimal(0), Decimal(0))
    if not packs:
        return None
    order = sorted(
        range(len(packs)), key=lambda at: Fraction(packs[at].price) / Fraction(packs[at].holds)
    )
    search = _Search([packs[at] for at in order], need, later)
    search.go(0, search.need, 0, ())
    counts = tuple(count for _, count in sorted(zip(order, search.counts, strict=True)))
    paid = sum((p.price * n + p.once for p, n in zip(packs, counts, strict=True) if n), Decimal(0))
    left = sum((p.holds * n for p, n in zip(packs, counts, strict=True)), Decimal(0)) - need
    cost = paid * need / (need + min(left, later)) if later else paid
    return Mix(counts, cost, left, search.steps <= MOST_STEPS)


def _whole(values: Sequence[Decimal]) -> list[int]:
    """Values in whole numbers of the largest unit that all of them are multiples of."""
    parts = [Fraction(value) for value in values]
    scale = lcm(*(part.denominator for part in parts))
    return [int(part * scale) for part in parts]


class _Search:
    """Branch and bound over how many of each pack, the cheapest content first.

    A mix is worth what is paid for each unit of it that is used, now or later.
    """

    def __init__(self, packs: Sequence[PackChoice], need: Decimal, later: Decimal) -> None:
        *self.holds, self.need, self.later = _whole([*(pack.holds for pack in packs), need, later])
        costs = _whole([*(pack.price for pack in packs), *(pack.once for pack in packs)])
        self.prices, self.once = costs[: len(packs)], costs[len(packs) :]
        self.least = [pack.least for pack in packs]
        # what the packs from here on hold together is a multiple of this
        self.grid = [gcd(*self.holds[at:]) for at in range(len(packs))]
        self.steps = 0
        self.seen: dict[tuple[int, int], int] = {}
        # the best mix so far: to begin with, the pack that is cheapest by content, alone
        alone = self._enough(0, self.need)
        self.counts = (alone, *(0 for _ in packs[1:]))
        self._take(self.once[0] + alone * self.prices[0], alone * self.holds[0] - self.need)

    def _take(self, cost: int, left: int) -> None:
        self.cost, self.left, self.used = cost, left, self._used(left)

    def _used(self, left: int) -> int:
        """What is used, now or later, where so much is left over."""
        return self.need + min(left, self.later)

    def go(self, at: int, need: int, cost: int, counts: tuple[int, ...]) -> None:
        """Try every sensible count of the pack at hand for what is still needed."""
        self.steps += 1
        if need <= 0:
            dearer = cost * self.used - self.cost * self._used(-need)
            if (dearer, -need) < (0, self.left):
                spare = (0,) * (len(self.holds) - at)
                self.counts = (*counts, *spare)
                self._take(cost, -need)
            return
        if at == len(self.holds) or self._hopeless(at, need, cost):
            return
        for count in range(self._enough(at, need), self.least[at] - 1, -1):
            paid = cost + self.once[at] + count * self.prices[at]
            rest = need - count * self.holds[at]
            if rest > 0 and self._dearer(at + 1, rest, paid):
                break  # fewer of this pack only leave more to packs that are dearer by content
            self.go(at + 1, rest, paid, (*counts, count))
        self.go(at + 1, need, cost, (*counts, 0))

    def _enough(self, at: int, need: int) -> int:
        """How many of a pack fill a need alone."""
        return max(-(-need // self.holds[at]), self.least[at])

    def _dearer(self, at: int, need: int, cost: int) -> bool:
        """Would even the cheapest content from here on cost more than the best mix so far?"""
        if at == len(self.holds):
            return True  # nothing is left that could fill the need
        return all(self._more(at, need, cost, left) > 0 for left in self._lefts(0))

    def _lefts(self, least: int) -> tuple[int, ...]:
        """What may be left over: at the ends of what can be used lies the best."""
        return (least, self.later) if self.later > least else (least,)

    def _more(self, at: int, need: int, cost: int, left: int) -> int:
        """By how much the cheapest content costs more than the best mix, if it leaves so much.

        In no unit: only whether it is above zero, or zero, means anything.
        """
        best, used = self.cost * self.holds[at], self._used(left)
        return (cost * self.holds[at] + (need + left) * self.prices[at]) * self.used - best * used

    def _hopeless(self, at: int, need: int, cost: int) -> bool:
        """Can nothing from here on beat the best mix, or has the search taken long enough?"""
        before = self.seen.get((at, need))
        if before is not None and before <= cost:
            return True
        self.seen[at, need] = cost
        whole = -(-need // self.grid[at]) * self.grid[at] - need
        ends = ((self._more(at, need, cost, left), left) for left in self._lefts(whole))
        return all(end >= (0, self.left) for end in ends) or self.steps > MOST_STEPS
