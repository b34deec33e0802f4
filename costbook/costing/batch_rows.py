"""Book → rows of Workings for batches, and for the packs that each is shared out in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal

from costbook.book import Book, Record, Value, as_key
from costbook.costing.names import differing, first_of
from costbook.costing.rows import Row

__all__ = ["WORTH", "BatchRows"]

WORTH: Mapping[str, Value] = {"worth_weight": Decimal(1), "worth_area": Decimal(1)}
"""What a gram and a square centimetre are worth, whatever they are of."""


class BatchRows:
    """Adds the rows of batches and of packs; a pack stands after its batch."""

    def __init__(self, add: Callable[..., Row], book: Book, products: Mapping[str, Record]) -> None:
        self.add = add
        self.products = products
        self.records = first_of(book.records("Batches"), "recipe")
        self.contradicted = differing(book.records("Batches"), "recipe")
        self.sold = Counter(as_key(each.text("recipe")) for each in products.values())
        self.batches: dict[str, Row] = {}
        self.packs: dict[str, Row] = {}
        self.packs_of: dict[str, Row] = {}
        """By recipe, the packs of its last product, which know what all of them say."""

    def add_all(self, names: Iterable[tuple[str, str]], item_records: Mapping[str, Record]) -> None:
        """A row a recipe, by key and name in this order; then a row a product."""
        for key, name in names:
            # of two rows that differ, neither counts: which one is meant is asked
            batch = None if key in self.contradicted else self.records.get(key)
            share = batch is not None and "rejects" in batch.shares
            fixed: dict[str, Value] = {"recipe": name, "products": Decimal(self.sold[key])}
            fixed |= {"rejects_are_share": Decimal(share), **WORTH}
            sources = {"Batches": batch, "Items": item_records.get(key)}
            self.batches[key] = self.add("batches", fixed, sources)
        for key, record in self.products.items():
            self._add_pack(key, record)

    def _add_pack(self, key: str, record: Record) -> None:
        """A product's packs, linked to those of the product before that is made of the same."""
        recipe = as_key(record.text("recipe"))
        links = {"batches": self.batches.get(recipe), "packs": self.packs_of.get(recipe)}
        fixed: dict[str, Value] = {"product": record.text("product")}
        self.packs[key] = self.add("packs", fixed, {"Products": record}, links)
        self.packs_of[recipe] = self.packs[key]
