"""What comparing packs found, in words."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, Decimal
from typing import Final

from costbook.book import Book
from costbook.deciding.mix import Mix
from costbook.deciding.pack import ComparedItem, Pack, money, plain
from costbook.definitions.rounding import rounded
from costbook.definitions.units import Measure

__all__ = ["finding", "mix_in_words", "packs_in_words", "percent"]

ABOUT: Final = Decimal("0.0005")
"""Packs whose prices differ by less than this come to the same: it would be shown as 0.0 %."""

_BEFORE_NOISE: Final = 9
"""Decimal places that a share of a number of pieces is good for."""

OLDER: Final = 7
"""A price that is older than another by more than so many days may not hold any more [days]."""


def finding(packs: Sequence[Pack], book: Book) -> str:
    """Which pack is cheapest, by how much, as long as what holds, and where its price is old."""
    said = _finding(packs)
    days = [day for pack in packs if (day := pack.day) is not None]
    first = packs[0].day
    if len(packs) < 2 or not days or first is None or max(days) - first <= OLDER:
        return said
    return f"{said} The price of the {packs[0].called} is of {book.day(first).isoformat()}."


def _finding(packs: Sequence[Pack]) -> str:
    priced = [pack for pack in packs if pack.used_price]
    if len(packs) < 2:
        return "Only one pack of it is known."
    if len(priced) < 2:
        return "Fewer than two packs of it have a price that can be compared."
    best, other = priced[0], priced[1]
    assert best.used_price is not None
    assert other.used_price is not None
    saved = 1 - best.used_price / other.used_price
    if saved < ABOUT:
        return f"The {best.called} and the {other.called} come to the same.{_because(priced)}"
    said = f"The {best.called} is {percent(saved)} cheaper than the {other.called}"
    smaller = _best_smaller(best, priced)
    if smaller is None:
        return f"{said}.{_because(priced)}"
    if smaller is other:
        return f"{said}, {_as_long_as(best)}.{_because(priced)}"
    stays = f" It beats the smaller {smaller.called}, {_as_long_as(best)}."
    return f"{said}.{stays}{_because(priced)}"


def percent(share: Decimal) -> str:
    """A share as a person writes it: ``12.0 %``."""
    return f"{share * 100:.1f} %"


def _best_smaller(best: Pack, packs: Sequence[Pack]) -> Pack | None:
    """The cheapest pack that holds less, where it is the dearer one as long as nothing is lost."""
    size = best.number("pack_in_units_of_now")
    if size is None or not isinstance(best.spoilage["break_even_spoilage"], Decimal):
        return None
    holding = ((pack, pack.number("pack_in_units_of_now")) for pack in packs)
    less = [pack for pack, holds in holding if holds is not None and holds < size]
    return min(less, key=lambda pack: pack.number("compared_ready") or Decimal(0), default=None)


def _as_long_as(pack: Pack) -> str:
    """How much must not be wasted for a larger pack to stay the cheaper one."""
    spoilage = pack.spoilage["break_even_spoilage"]
    assert isinstance(spoilage, Decimal)
    pieces = pack.number("pack_held")
    if pack.figures["price_measure"] != int(Measure.PIECE) or pieces is None:
        return f"as long as less than {percent(spoilage)} of it is thrown away"
    too_many = rounded(pieces * spoilage, _BEFORE_NOISE).to_integral_value(ROUND_CEILING)
    if too_many <= 1:
        return f"but only if none of {plain(pieces)} is lost"
    return f"but only if fewer than {plain(too_many)} of {plain(pieces)} are lost"


def _because(packs: Sequence[Pack]) -> str:
    """Why a pack that costs less by what it holds is not the cheapest: it spoils first."""
    cheapest = min(packs, key=lambda pack: pack.number("compared_ready") or Decimal(0))
    part = cheapest.number("used_part")
    if cheapest is packs[0] or part is None or part >= 1:
        return ""
    return f" Of the {cheapest.called}, only {percent(part)} is used before it spoils."


def packs_in_words(packs: Sequence[Pack], mix: Mix) -> str:
    """How many of which packs: ``1 × 25 lb from Mill and 2 × 5 lb from Shop``."""
    counted = zip(packs, mix.counts, strict=True)
    return " and ".join(f"{count} × ({pack.called})" for pack, count in counted if count)


def mix_in_words(item: ComparedItem, places: int) -> str:
    """What to buy for the coming weeks, what is left over, and what it costs as usual."""
    mix = item.mix
    if mix is None:
        return ""
    days = f"{plain(rounded(item.days, 1))} days"
    left = _left(mix.left_over, item.base_unit)
    usual = "" if item.usual_cost is None else f"; as usual {money(item.usual_cost, places)}"
    sure = "" if mix.proved else " (the best found; there are too many mixes to try them all)"
    return (
        f"For {days}: {packs_in_words(item.packs, mix)} for {money(mix.cost, places)}{sure}, "
        f"{left} left over{usual}."
    )


def _left(amount: Decimal, unit: str) -> str:
    return f"{plain(rounded(amount, 1 if unit == 'ea' else 0))} {unit}"
