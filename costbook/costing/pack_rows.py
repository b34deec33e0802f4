"""Rows for comparing packs: each item's packs, bought or seen, its use, and its suppliers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from costbook.book import Book, Record, Value
from costbook.costing.names import first_of
from costbook.costing.needs import Add
from costbook.costing.rows import Row
from costbook.costing.shelves import Shelf, count_of, held, shelves, sold, unit_of

__all__ = ["PackRows"]

CUT_TO_WEIGHT = "piece cut to weight"
"""What a pack is called that is of another weight each time."""


class PackRows:
    """Builds the rows of the tables behind Packs compared."""

    def __init__(
        self,
        add: Add,
        rows: Mapping[str, list[Row]],
        items: Mapping[str, Row],
        now: Mapping[str, Row],
        records: Mapping[str, Record],
    ) -> None:
        self.add, self.rows, self.items, self.now, self.records = add, rows, items, now, records
        self.use: dict[str, Row] = {}
        self.shares: dict[str, Row] = {}

    def add_all(self, book: Book, aliases: Mapping[str, str], until: Decimal) -> None:
        """Every row behind Packs compared, in the order in which they can be computed."""
        self.uses(range(len(self.rows["pack_needs"])))
        bought = sorted(shelves(book, aliases, until), key=self._in_order)
        seen = [(sold(record, aliases), record) for record in book.records("Offers")]
        sells = [*((each.item, each.supplier) for each in bought), *(key for key, _ in seen)]
        self.suppliers(book.records("Suppliers"), list(dict.fromkeys(sells)))
        self.bought(bought)
        self.seen(seen)

    def suppliers(self, records: Iterable[Record], sold: Sequence[tuple[str, str]]) -> None:
        """One row a supplier that costs something beside its prices, and one an item it sells."""
        for key, record in first_of(records, "supplier").items():
            first = len(self.rows["supplier_needs"])
            fixed: dict[str, Value] = {"supplier": record.text("supplier")}
            for item in (item for item, by in sold if by == key and item in self.items):
                named = fixed | {"item": self.items[item].fixed["item"]}
                links = {"item_use": self.use[item], "prices_now": self.now[item]}
                self.add("supplier_needs", named, {}, links)
            fixed["supplier_key"] = key
            share = self.add("supplier_shares", fixed, {"Suppliers": record})
            share.children = {"supplier_needs": range(first, len(self.rows["supplier_needs"]))}
            self.shares[key] = share

    def uses(self, needs: range) -> None:
        """One row an item: how much of it is used in a week."""
        products = Decimal(len(self.rows["products"]))
        for key, item in self.items.items():
            fixed = {"item": item.fixed["item"], "item_key": key, "products": products}
            links = {"prices_now": self.now[key], "items": item}
            row = self.add("item_use", fixed, {"Items": self.records.get(key)}, links)
            row.children = {"pack_needs": needs}
            self.use[key] = row

    def bought(self, latest: Iterable[Shelf]) -> None:
        """One row for each pack of a size, or piece cut to weight, of an item from a supplier."""
        for shelf in latest:
            fixed: dict[str, Value] = {"supplier_key": shelf.supplier, "least_packs": Decimal(1)}
            fixed |= {"held_from": shelf.held_from, "held_to": shelf.held_to}
            if shelf.cut_to_weight:
                fixed |= {"cut_to_weight": Decimal(1), "pack": CUT_TO_WEIGHT}
            else:
                fixed |= {"cut_to_weight": Decimal(0), "pack": _name(shelf.record)}
                fixed["pack_held"] = held(shelf.record)
            sources = {"Purchases": shelf.record}
            self._pack("packs_bought", shelf.item, shelf.supplier, fixed, sources)

    def _in_order(self, shelf: Shelf) -> tuple[int, int]:
        """By item, as items stand, then by row."""
        item = self.items.get(shelf.item)
        return -1 if item is None else item.index, shelf.record.row

    def seen(self, offers: Iterable[tuple[tuple[str, str], Record]]) -> None:
        """One row for each pack seen and not bought."""
        for (item, supplier), record in offers:
            fixed: dict[str, Value] = {"pack": _name(record), "cut_to_weight": Decimal(0)}
            self._pack("packs_seen", item, supplier, fixed, {"Offers": record})

    def _pack(
        self,
        table: str,
        item: str,
        supplier: str,
        fixed: Mapping[str, Value],
        sources: Mapping[str, Record],
    ) -> None:
        if item not in self.items:
            return
        named = {"item": self.items[item].fixed["item"], "item_key": item, **fixed}
        links = {
            "items": self.items[item],
            "prices_now": self.now[item],
            "item_use": self.use[item],
            "supplier_shares": self.shares.get(supplier),
        }
        self.add(table, named, sources, links)


def _name(record: Record) -> str:
    """A pack in words: ``2 × 18 ea``, ``5 lb``."""
    unit, size, count = unit_of(record), record.number("pack_size"), count_of(record)
    shown = f"{_plain(size)} {unit.name if unit else record.text('unit') or '?'}"
    return shown if count == 1 else f"{_plain(count)} × {shown}"


def _plain(number: Decimal | None) -> str:
    return "?" if number is None else f"{number.normalize():f}"
