"""Rows of Workings for each product: its packs, its packaging, the work on it, its cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from costbook.book import Book, Record, Value, as_key
from costbook.costing.needs import Add, NeedRows
from costbook.costing.rows import Row
from costbook.costing.strays import NO_PACKAGING, NO_WORK, Strays
from costbook.definitions.sheets import EVERY_PRODUCT, EVERY_PRODUCT_TOO

__all__ = ["ProductRows"]

_EVERY_PRODUCT = frozenset(as_key(word) for word in (EVERY_PRODUCT, *EVERY_PRODUCT_TOO))


class ProductRows:
    """Builds the rows of packs, packaging, product_stages and products, a product at a time."""

    def __init__(
        self,
        add: Add,
        rows: Mapping[str, list[Row]],
        book: Book,
        strays: Strays,
        aliases: Mapping[str, str],
    ) -> None:
        self.add_row, self.rows, self.book = add, rows, book
        self.strays, self.aliases = strays, aliases
        self.products: dict[str, Row] = {}
        self.names = {as_key(record.text("product")) for record in book.records("Products")}

    def of_items(self, items: Mapping[str, Row], now: Mapping[str, Row]) -> None:
        """Take the rows of items and of their prices, by the items' keys."""
        self.items, self.now = items, now

    def add(
        self,
        pack: Row,
        key: str,
        record: Record,
        recipes: Mapping[str, Row],
        needs: NeedRows,
    ) -> None:
        """Add the rows of one product, whose packs are there already."""
        recipe, name = as_key(record.text("recipe")), record.text("product")
        fixed: dict[str, Value] = {"product": name}
        starts = {table: len(self.rows[table]) for table in ("packaging", "product_stages")}
        for line in self._packaging_of(key):
            self._package(fixed, line, pack)
        for line in self.strays.of("Packaging", key):
            self._package(fixed | self.strays.left_open("packaging", line), line, pack)
        # a stage named for a recipe and a product alike belongs to the recipe
        if key not in recipes:
            links: dict[str, Row | None] = {"packs": pack}
            self.strays.add_stages(self.add_row, "product_stages", key, name, links)
        self._parts_not_said(pack, recipes.get(recipe), starts)
        links = {"packs": pack, "recipes": recipes.get(recipe)}
        sources = {"Products": record}
        self.products[key] = row = self.add_row("products", fixed, sources, links)
        row.children = {
            table: range(start, len(self.rows[table])) for table, start in starts.items()
        }
        needs.of_a_product(row, pack, self.now)

    def _packaging_of(self, key: str) -> Iterator[Record]:
        for line in self.book.records("Packaging"):
            of = as_key(line.text("product"))
            if of == key or (of in _EVERY_PRODUCT and of not in self.names):
                yield line

    def _package(self, fixed: Mapping[str, Value], line: Record, pack: Row) -> None:
        key = as_key(line.text("uses"))
        own = self.aliases.get(key, key)
        links = {"prices_now": self.now.get(own), "items": self.items.get(own), "packs": pack}
        named: dict[str, Value] = {"uses": line.text("uses"), "item_key": own}
        self.add_row("packaging", {**fixed, **named}, {"Packaging": line}, links)

    def _parts_not_said(self, pack: Row, recipe: Row | None, starts: Mapping[str, int]) -> None:
        """A row for work or packaging that others have on their sheet, and this product hasn't."""
        name, links = pack.fixed["product"], {"packs": pack}
        packed = len(self.rows["packaging"]) > starts["packaging"]
        if self.book.records("Packaging") and not packed:
            self.add_row("packaging", {"product": name, **NO_PACKAGING}, {}, links)
        worked = len(self.rows["product_stages"]) > starts["product_stages"]
        if self.book.records("Stages") and recipe and not (worked or recipe.children["stages"]):
            self.add_row("product_stages", {"recipe": name, **NO_WORK}, {}, links)
