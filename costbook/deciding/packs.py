"""Which pack: every pack of an item side by side, and the finding in words."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from costbook.book import Book, Value
from costbook.costing.engine import Costing
from costbook.costing.result import currency_of
from costbook.deciding.least_orders import with_least_orders
from costbook.deciding.pack import SOURCES, SPOILAGE, ComparedItem, Pack, money
from costbook.deciding.pack_mix import days_of, mix_of, need_of, usual_cost
from costbook.deciding.pack_words import finding, mix_in_words
from costbook.deciding.shrunk import shrunk_packs
from costbook.deciding.yearly_costs import with_costs_to_spread
from costbook.definitions.currencies import minor_unit
from costbook.definitions.units import BASE_UNIT, Measure

__all__ = ["SOURCES", "ComparedItem", "Pack", "as_data", "compared", "mix_in_words", "money"]


def compared(costing: Costing, weeks: Decimal) -> list[ComparedItem]:
    """Every item of which a pack is known; ``weeks`` is how long the mix is to last."""
    by_item: dict[str, list[Pack]] = {}
    for table, spoilage in SPOILAGE.items():
        for row in costing.structure.rows[table]:
            figures, lost = costing.of(row), costing.of(row.links[spoilage])
            pack = Pack(row, figures, lost, str(row.fixed["pack"]))
            by_item.setdefault(str(row.fixed["item_key"]), []).append(pack)
    shrunk = shrunk_packs(costing)
    items = [
        _item(costing, key, packs, shrunk.get(key, ()), weeks) for key, packs in by_item.items()
    ]
    return with_least_orders(costing, items)


def _item(
    costing: Costing, key: str, packs: list[Pack], shrunk: Sequence[str], weeks: Decimal
) -> ComparedItem:
    ordered = sorted(packs, key=lambda pack: (pack.used_price is None, pack.used_price or 0))
    days = days_of(ordered, weeks)
    need = need_of(ordered, days)
    unit = _base_unit(ordered[0].figures["measure"])
    coins = minor_unit(currency_of(costing))
    spread = with_costs_to_spread(costing, ordered, unit, 2 if coins is None else coins)
    return ComparedItem(
        item=str(ordered[0].row.fixed["item"]),
        key=key,
        base_unit=unit,
        packs=tuple(ordered),
        in_words=" ".join((finding(ordered, costing.structure.book), *spread, *shrunk)),
        need=need,
        days=days,
        mix=mix_of(costing, ordered, need),
        usual_cost=usual_cost(costing, ordered, need),
    )


def _base_unit(measure: Value) -> str:
    """The base unit as JSON names it; empty where the item has no price."""
    if not isinstance(measure, Decimal):
        return ""
    return "cm²" if measure == Measure.AREA else BASE_UNIT[Measure(int(measure))]


def as_data(item: ComparedItem, book: Book) -> dict[str, Any]:
    """An item's comparison as JSON has it."""
    return {
        "item": item.item,
        "base_unit": item.base_unit or None,
        "packs": [_pack_data(pack, book) for pack in item.packs],
        "in_words": item.in_words,
        "need": item.need,
        "need_days": item.days,
        "mix": _mix_data(item),
    }


def _pack_data(pack: Pack, book: Book) -> dict[str, Any]:
    figures, day = pack.figures, pack.day
    return {
        "supplier": pack.supplier or None,
        "pack": pack.name,
        "price_per_pack": figures["price_per_pack"],
        "price_per_base_unit": figures["compared_price"],
        "price_per_base_unit_ready": figures["compared_ready"],
        "price_per_base_unit_used": figures["used_price"],
        "used_part": figures["used_part"],
        "cash_tied_up": figures["cash_tied_up"],
        "break_even_spoilage": pack.spoilage["break_even_spoilage"],
        "from": SOURCES[pack.row.table],
        "date": None if day is None else book.day(day).isoformat(),
    }


def _mix_data(item: ComparedItem) -> dict[str, Any] | None:
    if item.mix is None:
        return None
    return {
        "packs": [
            {"supplier": pack.supplier or None, "pack": pack.name, "count": count}
            for pack, count in zip(item.packs, item.mix.counts, strict=True)
            if count
        ],
        "cost": item.mix.cost,
        "left_over": item.mix.left_over,
        "usual_cost": item.usual_cost,
        "proved_cheapest": item.mix.proved,
    }
