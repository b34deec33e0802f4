"""The cheapest mix of whole packs that covers a need, found exactly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

__all__ = ["Mix", "PackChoice", "cheapest_mix"]


@dataclass(frozen=True, slots=True)
class PackChoice:
    """A pack that can be bought: what it holds that is usable, its price, how many at least."""

    holds: Decimal
    price: Decimal
    least: int = 1


@dataclass(frozen=True, slots=True)
class Mix:
    """How many of each pack, what they cost together, and what is left over."""

    counts: tuple[int, ...]
    cost: Decimal
    left_over: Decimal


def cheapest_mix(packs: Sequence[PackChoice], need: Decimal) -> Mix | None:
    """The cheapest whole packs that hold at least the need; of equally cheap, the least left over.

    Exact: packs are tried from the cheapest by content on, and a branch is left only when even
    the cheapest content for all that is still needed could not beat the best mix so far.
    Raises ValueError for a pack that holds nothing or costs less than nothing.
    """
    if any(pack.holds <= 0 or pack.price < 0 or pack.least < 1 for pack in packs):
        raise ValueError("a pack must hold something, and cost nothing at least")
    if need <= 0 or not packs:
        return Mix((0,) * len(packs), Decimal(0), Decimal(0)) if need <= 0 else None
    order = sorted(range(len(packs)), key=lambda at: packs[at].price / packs[at].holds)
    search = _Search([packs[at] for at in order])
    search.go(0, need, Decimal(0), ())
    counts = [0] * len(packs)
    for at, count in zip(order, search.best, strict=True):
        counts[at] = count
    held = sum((pack.holds * n for pack, n in zip(packs, counts, strict=True)), Decimal(0))
    return Mix(tuple(counts), search.cost, held - need)


class _Search:
    """Branch and bound over how many of each pack, the cheapest content first."""

    def __init__(self, packs: Sequence[PackChoice]) -> None:
        self.packs = packs
        self.best: tuple[int, ...] = ()
        self.cost = Decimal("Infinity")
        self.left = Decimal("Infinity")

    def go(self, at: int, need: Decimal, cost: Decimal, counts: tuple[int, ...]) -> None:
        """Try every sensible count of the pack at hand for what is still needed."""
        if need <= 0:
            self._keep((*counts, *(0,) * (len(self.packs) - at)), cost, -need)
            return
        if at == len(self.packs):
            return
        pack = self.packs[at]
        if cost + need * pack.price / pack.holds > self.cost:
            return  # packs from here on are dearer by content still
        enough = max(int((need / pack.holds).to_integral_value(ROUND_CEILING)), pack.least)
        for count in range(enough, -1, -1):
            if count == 0 or count >= pack.least:
                held, paid = pack.holds * count, pack.price * count
                self.go(at + 1, need - held, cost + paid, (*counts, count))

    def _keep(self, counts: tuple[int, ...], cost: Decimal, left: Decimal) -> None:
        if (cost, left) < (self.cost, self.left):
            self.best, self.cost, self.left = counts, cost, left
