"""What a supplier has of an item, by its receipts: packs of a size, and pieces cut to weight."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final

from costbook.book import Book, Record, as_key
from costbook.definitions import rules
from costbook.definitions.columns import Computed
from costbook.definitions.units import SPELLINGS, Measure, Unit, unit_key

__all__ = ["MOST_PACKS", "Shelf", "count_of", "held", "shelves", "sold", "unit_of"]

MOST_PACKS: Final = 6
"""Packs of one item that are compared: those bought last."""

NEAR: Final = Decimal("0.000001")
"""Packs that differ by less than this share of what they hold are the same size."""

NEXT_WEIGHT: Final = Decimal("1.25")
"""Pieces cut to weight lie no further apart than by this, each from the next heavier one."""

FEWEST_WEIGHTS: Final = 3
"""So many different weights say that pieces are cut to weight; two, if weighed to three digits."""


FINE: Final = 3
"""Digits of a weight that a scale gives, where a bag says two."""

OF_A_PACKER: Final = 100
"""Packers print what they fill in units that are smaller than this: 340 g, 12 oz [g]."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """Packs that are the same thing: their latest receipt, and what such a pack may hold [base]."""

    item: str
    supplier: str
    record: Record
    held_from: Decimal | None
    held_to: Decimal | None
    cut_to_weight: bool = False


def shelves(book: Book, aliases: Mapping[str, str], until: Decimal) -> list[Shelf]:
    """The packs of each item that were bought last, MOST_PACKS at most, the newest first."""
    bought: dict[tuple[str, str], list[Record]] = defaultdict(list)
    for record in book.records("Purchases"):
        if _sets_a_price(record, until):
            bought[sold(record, aliases)].append(record)
    found = [each for key, records in bought.items() for each in _of_one_shop(*key, records)]
    return list(_newest(found))


def _newest(found: Iterable[Shelf]) -> Iterator[Shelf]:
    taken: Counter[str] = Counter()
    for shelf in sorted(found, key=lambda each: _when(each.record), reverse=True):
        taken[shelf.item] += 1
        if taken[shelf.item] <= MOST_PACKS:
            yield shelf


def _of_one_shop(item: str, supplier: str, records: Sequence[Record]) -> Iterator[Shelf]:
    """What one supplier has of one item."""
    by_weight = list(_cut_to_weight(records))
    for pieces in by_weight:
        weights = [weight for each in pieces if (weight := held(each)) is not None]
        least, most = min(weights) / NEXT_WEIGHT, max(weights) * NEXT_WEIGHT
        yield Shelf(item, supplier, max(pieces, key=_when), least, most, cut_to_weight=True)
    taken = {id(each) for pieces in by_weight for each in pieces}
    by_size: dict[str, Record] = {}
    for record in records:
        size = _size(record)
        there = by_size.get(size)
        if id(record) not in taken and (there is None or _when(there) <= _when(record)):
            by_size[size] = record
    for record in by_size.values():
        holds = held(record)
        near = None if holds is None else holds * NEAR
        ends = (None, None) if holds is None or near is None else (holds - near, holds + near)
        yield Shelf(item, supplier, record, *ends)


def _cut_to_weight(records: Sequence[Record]) -> Iterator[list[Record]]:
    """Receipts of pieces that are the same thing, each of another weight: sides of fish."""
    weighed = sorted((each for each in records if _is_weighed(each)), key=_weight)
    others = [_weight(each) for each in records if not _is_weighed(each)]
    for pieces in _runs(weighed):
        weights = {_weight(each) for each in pieces}
        finely = all(_digits(each) >= FINE for each in pieces)
        many = len(weights) >= (2 if finely else FEWEST_WEIGHTS)
        least, most = min(weights) / NEXT_WEIGHT, max(weights) * NEXT_WEIGHT
        alone = not any(least < other < most for other in others)
        if many and alone and len(weights) * 2 > len(pieces):
            yield pieces


def _runs(weighed: Sequence[Record]) -> Iterator[list[Record]]:
    """Receipts in the order of their weights, parted where the next one is much heavier."""
    run = list(weighed[:1])
    for lighter, heavier in pairwise(weighed):
        if _weight(heavier) > _weight(lighter) * NEXT_WEIGHT:
            yield run
            run = []
        run.append(heavier)
    if run:
        yield run


def _is_weighed(record: Record) -> bool:
    """Was it weighed, it seems: by the kilo or the pound, not 12 oz or 340 g, as on a bag?"""
    unit = unit_of(record)
    if unit is None or unit.measure is not Measure.WEIGHT or count_of(record) != 1:
        return False
    return unit.factor > OF_A_PACKER or _digits(record) > FINE


def _digits(record: Record) -> int:
    """How finely a size is written: 1.31 has three digits."""
    return len((record.number("pack_size") or Decimal(0)).normalize().as_tuple().digits)


def _weight(record: Record) -> Decimal:
    return held(record) or Decimal(0)


def sold(record: Record, aliases: Mapping[str, str]) -> tuple[str, str]:
    """The keys of what a row sells, and of who sells it."""
    item = as_key(record.text("item"))
    return aliases.get(item, item), as_key(record.text("supplier"))


def _sets_a_price(record: Record, until: Decimal) -> bool:
    day, size, price = (record.number(name) for name in ("day", "pack_size", "price_per_pack"))
    packs, as_read = record.values.get("packs", Decimal(1)), Decimal(0)
    rank = _RANK.figure((day, Decimal(record.row), size, packs, price, as_read, as_read))
    return rank is not None and day is not None and day <= until


_RANK, _HELD = Computed(rules.rank), Computed(rules.pack_held)


def held(record: Record) -> Decimal | None:
    """What the pack holds in base units; None where its unit is not known."""
    unit = unit_of(record)
    factor = unit.factor if unit else None
    holds = _HELD.figure((count_of(record), record.number("pack_size"), factor))
    return holds if isinstance(holds, Decimal) else None


def count_of(record: Record) -> Decimal:
    """How many inner packs a row's pack has."""
    return record.number("pack_count") or record.counts_in_text.get("pack_size") or Decimal(1)


def unit_of(record: Record) -> Unit | None:
    """The unit of a row's pack size; None where it is not known."""
    word = record.text("unit") or record.units_in_text.get("pack_size", "")
    return SPELLINGS.get(unit_key(word))


def _size(record: Record) -> str:
    """What makes two packs the same: what they hold."""
    holds = held(record)
    return "" if holds is None else f"{holds:.6g}"


def _when(record: Record) -> tuple[Decimal, int]:
    return record.number("day") or Decimal(0), record.row
