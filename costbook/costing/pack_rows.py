"""Rows for comparing packs: each item's packs, bought or seen, its use, and its suppliers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from costbook.book import Book, Record, Value, as_key
from costbook.costing.names import first_of
from costbook.costing.needs import Add
from costbook.costing.rows import Row
from costbook.definitions.units import SPELLINGS, unit_key

__all__ = ["MOST_PACKS", "PackRows"]

MOST_PACKS = 6
"""Packs of one item that are compared: those bought last."""


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

    def add_all(
        self, book: Book, aliases: Mapping[str, str], until: Decimal, products: Decimal
    ) -> None:
        """Every row behind Packs compared, in the order in which they can be computed."""
        week = self.add("week", {"products": products})
        week.children = {"outlets": range(len(self.rows["outlets"]))}
        self.uses(range(len(self.rows["pack_needs"])))
        bought = sorted(_newest(_latest(book, aliases, until)), key=self._in_order)
        seen = [(_sold(record, aliases), record) for record in book.records("Offers")]
        sold = [*((item, supplier) for (item, supplier, *_), _ in bought), *(k for k, _ in seen)]
        self.suppliers(book.records("Suppliers"), list(dict.fromkeys(sold)))
        self.bought(bought)
        self.seen(seen)
        self.spoilage()

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
        week = self.rows["week"][0]
        for key, item in self.items.items():
            fixed = {"item": item.fixed["item"], "item_key": key}
            links = {"prices_now": self.now[key], "items": item, "week": week}
            row = self.add("item_use", fixed, {"Items": self.records.get(key)}, links)
            row.children = {"pack_needs": needs}
            self.use[key] = row

    def bought(self, latest: Iterable[tuple[tuple[str, ...], Record]]) -> None:
        """One row for the latest purchase of an item from each supplier in each pack size."""
        for (item, supplier, *_), record in latest:
            fixed: dict[str, Value] = {"supplier_key": supplier, "pack_held": _held(record)}
            fixed |= {"least_packs": Decimal(1), "pack": _name(record)}
            self._pack("packs_bought", item, supplier, fixed, {"Purchases": record})

    def _in_order(self, packed: tuple[tuple[str, ...], Record]) -> tuple[int, int]:
        """By item, as items stand, then by row."""
        key, record = packed
        return self.items[key[0]].index if key[0] in self.items else -1, record.row

    def seen(self, offers: Iterable[tuple[tuple[str, str], Record]]) -> None:
        """One row for each pack seen and not bought."""
        for (item, supplier), record in offers:
            self._pack("packs_seen", item, supplier, {"pack": _name(record)}, {"Offers": record})

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

    def spoilage(self) -> None:
        """One row a pack, once all packs are there to be compared with."""
        for packs, spoilage in (
            ("packs_bought", "spoilage_bought"),
            ("packs_seen", "spoilage_seen"),
        ):
            for row in self.rows[packs]:
                fixed = {name: row.fixed[name] for name in ("item", "item_key")}
                row.links[spoilage] = self.add(spoilage, fixed, {}, {packs: row})


def _sold(record: Record, aliases: Mapping[str, str]) -> tuple[str, str]:
    """The keys of what a row sells, and of who sells it."""
    item = as_key(record.text("item"))
    return aliases.get(item, item), as_key(record.text("supplier"))


def _latest(
    book: Book, aliases: Mapping[str, str], until: Decimal
) -> dict[tuple[str, ...], Record]:
    """The latest purchase of each item from each supplier in each pack size."""
    latest: dict[tuple[str, ...], Record] = {}
    for record in book.records("Purchases"):
        if _sets_a_price(record, until):
            key = (*_sold(record, aliases), *_size(record))
            there = latest.get(key)
            if there is None or _when(there) <= _when(record):
                latest[key] = record
    return latest


def _sets_a_price(record: Record, until: Decimal) -> bool:
    day, size, price = (record.number(name) for name in ("day", "pack_size", "price_per_pack"))
    packs = record.values.get("packs", Decimal(1))
    counted = isinstance(packs, Decimal) and packs > 0
    dated = day is not None and day <= until
    return bool(dated and size and price and size > 0 and price > 0 and counted)


def _newest(
    latest: Mapping[tuple[str, ...], Record],
) -> Iterator[tuple[tuple[str, ...], Record]]:
    """Of each item the packs that were bought last, MOST_PACKS at most."""
    taken: Counter[str] = Counter()
    for key, record in sorted(latest.items(), key=lambda each: _when(each[1]), reverse=True):
        taken[key[0]] += 1
        if taken[key[0]] <= MOST_PACKS:
            yield key, record


def _name(record: Record) -> str:
    """A pack in words: ``2 × 18 ea``, ``5 lb``."""
    unit = SPELLINGS.get(unit_key(_unit_of(record)))
    size, count = record.number("pack_size"), _count_of(record)
    shown = f"{_plain(size)} {unit.name if unit else _unit_of(record) or '?'}"
    return shown if count == 1 else f"{_plain(count)} × {shown}"


def _plain(number: Decimal | None) -> str:
    return "?" if number is None else f"{number.normalize():f}"


def _held(record: Record) -> Decimal | None:
    """What the pack holds in base units; None where its unit is not known."""
    unit = SPELLINGS.get(unit_key(_unit_of(record)))
    size = record.number("pack_size")
    return _count_of(record) * size * unit.factor if unit and size is not None else None


def _count_of(record: Record) -> Decimal:
    return record.number("pack_count") or record.counts_in_text.get("pack_size") or Decimal(1)


def _unit_of(record: Record) -> str:
    return record.text("unit") or record.units_in_text.get("pack_size", "")


def _size(record: Record) -> Iterator[str]:
    """What makes two packs the same: count, size and unit."""
    held = _held(record)
    yield "" if held is None else f"{held:.6g}"


def _when(record: Record) -> tuple[Decimal, int]:
    return record.number("day") or Decimal(0), record.row
