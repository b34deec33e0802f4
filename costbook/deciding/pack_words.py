"""What comparing packs found, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_CEILING, Decimal
from typing import Final

from costbook.book import Book
from costbook.deciding.pack import Pack, plain
from costbook.definitions.rounding import in_percent, rounded
from costbook.definitions.units import Measure

__all__ = ["finding"]

ABOUT: Final = Decimal("0.0005")
"""Packs whose prices differ by less than this come to the same: it would be shown as 0.0 %."""

_BEFORE_NOISE: Final = 9
"""Decimal places that a share of a number of pieces is good for."""

OLDER: Final = 7
"""A price that is older than another by more than so many days may not hold any more [days]."""


def finding(packs: Sequence[Pack], book: Book) -> str:
    """Which pack is cheapest, by how much, as long as what holds, and where its price is old.

    A price that a later receipt has overtaken never wins; it is said with its day.
    """
    standing = [pack for pack in packs if pack.stands]
    if not standing:
        return "No price of it still stands: later receipts have overtaken them all."
    said = _finding(standing) if len(standing) == len(packs) else _of_those(standing)
    return " ".join((said, *_old(standing, book), *_overtaken(packs, standing, book)))


def _old(packs: Sequence[Pack], book: Book) -> Iterator[str]:
    """Where the price that wins is much older than the others."""
    days = [day for pack in packs if (day := pack.day) is not None]
    first = packs[0].day
    if first is not None and max(days) - first > OLDER:
        yield f"The price of the {packs[0].called} is of {book.written(first)}."


def _of_those(standing: Sequence[Pack]) -> str:
    """The finding where other packs' prices don't stand any more."""
    if len(standing) > 1:
        return _finding(standing)
    return f"The {standing[0].called} is the only pack whose price still stands."


def _overtaken(packs: Sequence[Pack], standing: Sequence[Pack], book: Book) -> Iterator[str]:
    """Each price that would win, had no later receipt overtaken it."""
    best = standing[0]
    for pack in packs:
        if pack.stands or not pack.weighed or not best.weighed or pack.day is None:
            continue
        saved = 1 - pack.weighed / best.weighed
        if saved >= ABOUT:
            yield (
                f"The {pack.called} was {in_percent(saved)} cheaper on "
                f"{book.written(pack.day)}, but a later receipt has overtaken that price"
                f"{_later(pack, packs, book)}: ask what it costs now."
            )


def _later(pack: Pack, packs: Sequence[Pack], book: Book) -> str:
    """The last pack bought there since, and whether it is the same inner pack: 18, of 2 × 18."""
    since = [
        (day, each)
        for each in packs
        if each.row.table == "packs_bought" and each.supplier_key == pack.supplier_key
        if (day := each.day) is not None and pack.day is not None and day > pack.day
    ]
    if not since:
        return ""
    day, last = max(since, key=lambda each: each[0])
    inner, own = (each.name.rpartition(" × ")[2] for each in (last, pack))
    same = ", the same inner pack" if inner == own else ""
    return f" ({last.name}, {book.written(day)}{same})"


def _finding(packs: Sequence[Pack]) -> str:
    priced = [pack for pack in packs if pack.weighed]
    if len(packs) < 2:
        return "Only one pack of it is known."
    if len(priced) < 2:
        return "Fewer than two packs of it have a price that can be compared."
    best, other = priced[0], priced[1]
    assert best.weighed is not None
    assert other.weighed is not None
    saved = 1 - best.weighed / other.weighed
    if saved < ABOUT:
        return f"The {best.called} and the {other.called} come to the same.{_because(priced)}"
    said = f"The {best.called} is {in_percent(saved)} cheaper than the {other.called}"
    smaller = _best_smaller(best, priced)
    if smaller is None:
        return f"{said}.{_because(priced)}"
    if smaller is other:
        return f"{said}, {_as_long_as(best)}.{_because(priced)}"
    stays = f" It beats the smaller {smaller.called}, {_as_long_as(best)}."
    return f"{said}.{stays}{_because(priced)}"


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
        return f"as long as less than {in_percent(spoilage)} of it is thrown away"
    too_many = rounded(pieces * spoilage, _BEFORE_NOISE).to_integral_value(ROUND_CEILING)
    if too_many <= 1:
        return f"but only if none of {plain(pieces)} is lost"
    return f"but only if fewer than {plain(too_many)} of {plain(pieces)} are lost"


def _because(packs: Sequence[Pack]) -> str:
    """Why a pack that costs less by what it holds is not the cheapest: it spoils first."""
    cheapest = min(packs, key=lambda pack: pack.number("compared_ready") or Decimal(0))
    part = cheapest.number("order_used")
    if cheapest is packs[0] or part is None or part >= 1:
        return ""
    return f" Of the {cheapest.called}, only {in_percent(part)} is used before it spoils."
