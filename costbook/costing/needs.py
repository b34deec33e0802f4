"""Rows of the one table from which needs are read: what each product takes of each item.

Costing what-ifs, turning prices, buy lists, labels and allergens are all products of this table.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Protocol

from costbook.book import Record, Value, as_key
from costbook.costing.rows import Row

__all__ = ["NeedRows"]


class Add(Protocol):
    """Adds a row to a table: its fixed cells, its records, the rows it is linked to."""

    def __call__(
        self,
        table: str,
        fixed: Mapping[str, Value],
        sources: Mapping[str, Record | None] | None = None,
        links: Mapping[str, Row | None] | None = None,
    ) -> Row: ...


class NeedRows:
    """Builds the rows of recipe_needs, use_needs and pack_needs as recipes and products come."""

    def __init__(
        self,
        add: Add,
        rows: Mapping[str, list[Row]],
        items: Mapping[str, Row],
        items_in: Callable[[str], Iterable[str]],
    ) -> None:
        self.add, self.rows, self.items, self.items_in = add, rows, items, items_in
        self.of_recipe: dict[int, dict[str, Row]] = {}
        """By the index of a recipe's row: its recipe_needs by item key."""

    def of_a_recipe(self, recipe: Row) -> None:
        """One row for each item that goes into a recipe, itself or through recipes it uses."""
        own = [self.rows["lines"][at] for at in recipe.children["lines"]]
        uses = [self.rows["uses"][at] for at in recipe.children["uses"]]
        through = {at: self._through(use) for at, use in enumerate(uses)}
        keys = [str(line.fixed["item_key"]) for line in own]
        keys += [key for needs in through.values() for key in needs]
        needed: dict[str, Row] = {}
        for key in dict.fromkeys(keys):
            if key not in self.items:
                continue
            name = self.items[key].fixed["item"]
            named = {"recipe": recipe.fixed["recipe"], "item": name}
            first = len(self.rows["use_needs"])
            for at, needs in through.items():
                if key in needs:
                    links = {"uses": uses[at], "recipe_needs": needs[key]}
                    self.add("use_needs", named, {}, links)
            needed[key] = row = self.add("recipe_needs", {**named, "item_key": key})
            row.children = {
                "lines": recipe.children["lines"],
                "use_needs": range(first, len(self.rows["use_needs"])),
            }
        self.of_recipe[recipe.index] = needed

    def _through(self, use: Row) -> Mapping[str, Row | None]:
        """The needs of a used recipe by item key; nobody knows how much of one without a link."""
        if "recipes" in use.links:
            return self.of_recipe.get(use.links["recipes"].index, {})
        return dict.fromkeys(self.items_in(as_key(str(use.fixed["uses"]))))

    def of_a_product(self, product: Row, pack: Row, now: Mapping[str, Row]) -> None:
        """One row for each item that a pack of a product takes."""
        recipe = product.links.get("recipes")
        needs = self.of_recipe.get(recipe.index, {}) if recipe else {}
        packages = [self.rows["packaging"][at] for at in product.children["packaging"]]
        keys = [*needs, *(str(package.fixed["item_key"]) for package in packages)]
        first = len(self.rows["pack_needs"])
        for key in dict.fromkeys(keys):
            if key not in self.items:
                continue
            fixed: dict[str, Value] = {"product": product.fixed["product"], "item_key": key}
            fixed["item"] = self.items[key].fixed["item"]
            links = {
                "recipe_needs": needs.get(key),
                "packs": pack,
                "prices_now": now[key],
                "item_moves": now[key].links["item_moves"],
            }
            row = self.add("pack_needs", fixed, {}, links)
            row.children = {"packaging": product.children["packaging"]}
        product.children["pack_needs"] = range(first, len(self.rows["pack_needs"]))
