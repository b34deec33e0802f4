"""Rows of Workings for each product: its packs, its packaging, the work on it, its cost."""

from __future__ import annotations

from collections.abc import Mapping

from costbook.book import Record, Value, as_key
from costbook.costing.line_rows import LineRows
from costbook.costing.needs import Add, NeedRows
from costbook.costing.rows import Row
from costbook.costing.strays import NO_PACKAGING, NO_WORK

__all__ = ["ProductRows"]


class ProductRows:
    """Builds the rows of packaging, product_stages and products, a product at a time."""

    def __init__(self, add: Add, lines: LineRows, now: Mapping[str, Row]) -> None:
        self.add_row, self.lines, self.now = add, lines, now
        self.book = lines.builder.book
        self.products: dict[str, Row] = {}

    def add(
        self, pack: Row, key: str, record: Record, recipes: Mapping[str, Row], needs: NeedRows
    ) -> None:
        """Add the rows of one product, whose packs are there already."""
        name, recipe = record.text("product"), recipes.get(as_key(record.text("recipe")))
        its = self.lines.add("products", key, name, {"packs": pack})
        if self.book.records("Packaging") and not its["packaging"]:
            its["packaging"] = self._not_said("packaging", {"product": name, **NO_PACKAGING}, pack)
        worked = its["product_stages"] or (recipe and recipe.children["stages"])
        if self.book.records("Stages") and recipe and not worked:
            no_work: dict[str, Value] = {"recipe": name, **NO_WORK}
            its["product_stages"] = self._not_said("product_stages", no_work, pack)
        links = {"packs": pack, "recipes": recipe}
        row = self.add_row("products", {"product": name}, {"Products": record}, links)
        self.products[key], row.children = row, its
        needs.of_a_product(row, pack, self.now)

    def _not_said(self, table: str, fixed: Mapping[str, Value], pack: Row) -> range:
        """A row for work or packaging that others have on their sheet, and this product hasn't."""
        row = self.add_row(table, fixed, {}, {"packs": pack})
        return range(row.index, row.index + 1)
