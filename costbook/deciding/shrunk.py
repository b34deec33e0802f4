"""Packs that shrank while their price held."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.book import Record, Value
from costbook.costing.engine import Costing, Figures
from costbook.deciding.pack import plain
from costbook.deciding.receipts import receipts
from costbook.definitions.units import SPELLINGS, Measure

__all__ = ["shrunk_packs"]

SAME_PRICE: Final = Decimal("0.02")
"""A pack whose price moved by less than this is said to have held it; one that costs less than
this more by content is said to be as it was: no two sides of fish weigh the same."""


def shrunk_packs(costing: Costing) -> dict[str, list[str]]:
    """By item, a sentence for each pack that holds less for the same price than it did before.

    Compared are the receipts of one supplier in the order of their dates, up to the costing date,
    as long as no later one holds as much as before.
    """
    last: dict[tuple[Value, Value, Measure], Figures] = {}
    said: dict[tuple[Value, Value, Measure], tuple[Decimal, str]] = {}
    for receipt, _ in receipts(costing):
        where = receipt["item_key"], receipt["supplier_key"], _measure(receipt)
        before, held = last.get(where), receipt["pack_held"]
        if not isinstance(held, Decimal):
            continue
        if before is not None and _has_shrunk(before, receipt):
            then = before["pack_held"]
            assert isinstance(then, Decimal)
            said[where] = then, _sentence(costing, before, receipt)
        elif where in said and held >= said[where][0]:
            del said[where]
        last[where] = receipt
    by_item: dict[str, list[str]] = {}
    for (item, *_), (_, sentence) in said.items():
        by_item.setdefault(str(item), []).append(sentence)
    return by_item


def _measure(receipt: Figures) -> Measure:
    """The kind of unit: a dozen and a pound are not compared."""
    return tuple(SPELLINGS.values())[int(str(receipt["unit_row"])) - 1].measure


def _has_shrunk(before: Figures, now: Figures) -> bool:
    """Is there less in it, but more than half, for nearly the same price?"""
    then, held = before["pack_held"], now["pack_held"]
    paid, price = before["price_per_pack"], now["price_per_pack"]
    assert isinstance(then, Decimal)
    assert isinstance(held, Decimal)
    if not isinstance(paid, Decimal) or not isinstance(price, Decimal) or not paid:
        return False
    held_its_price = abs(price / paid - 1) < SAME_PRICE
    return (
        then / 2 < held < then and held_its_price and price * then / (paid * held) > 1 + SAME_PRICE
    )


def _sentence(costing: Costing, before: Figures, now: Figures) -> str:
    records = costing.structure.purchases
    then, record = (records[int(str(each["row_number"]))] for each in (before, now))
    return (
        f"The pack from {record.text('supplier') or 'one supplier'} shrank from {_content(then)} "
        f"to {_content(record)} while its price held (Purchases row {record.row})."
    )


def _content(record: Record) -> str:
    """What stands on the receipt: ``6 × 500 g``."""
    count = record.number("pack_count") or record.counts_in_text.get("pack_size") or Decimal(1)
    unit = record.text("unit") or record.units_in_text.get("pack_size", "")
    size = f"{plain(record.number('pack_size'))} {unit}"
    return size if count == 1 else f"{plain(count)} × {size}"
