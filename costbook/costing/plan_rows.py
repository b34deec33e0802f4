"""Rows of Workings for the week ahead: a row a product, a recipe, a use and a stage.

Recipes come before those that they use: how many batches of one are used is found in rows above.
"""

from __future__ import annotations

from collections.abc import Mapping

from costbook.book import Value, as_key
from costbook.costing.row_builder import RowBuilder
from costbook.costing.rows import Row

__all__ = ["PlanRows"]


class PlanRows:
    """Adds the rows of the plan's tables, where the workbook has a plan."""

    def __init__(self, builder: RowBuilder) -> None:
        self.builder, self.rows = builder, builder.rows
        self.wanted = any(table.name == "plan_names" for table in builder.declared)
        self.uses_of: dict[int, list[Row]] = {}
        """By the index of a used recipe's row, the lines that use it."""

    def add_all(self, products: Mapping[str, Row], recipes: Mapping[str, Row]) -> None:
        """Add a row for each product and each recipe, by key, and those that belong to them."""
        if not self.wanted:
            return
        for key, product in products.items():
            self._product(key, product)
        self.builder.add_rows_of("plan_names")
        self._find_uses(recipes)
        made = {row.index: self._recipe(key, row) for key, row in reversed(list(recipes.items()))}
        self.builder.add_rows_of("plan_recipes")
        for row in self.rows["plan_products"]:
            recipe = row.links.get("recipes")
            if recipe is not None:
                row.links["plan_recipes"] = made[recipe.index]
            self._stages("product_stages", row)

    def _product(self, key: str, product: Row) -> None:
        pack, recipe = product.links["packs"], product.links.get("recipes")
        fixed: dict[str, Value] = {"product": product.fixed["product"], "product_key": key}
        fixed["recipe_key"] = as_key(str(recipe.fixed["recipe"])) if recipe else ""
        links = {"packs": pack, "recipes": recipe, "batches": pack.links.get("batches")}
        links["freezer"] = product.links.get("freezer")
        row = self.builder.add("plan_names", fixed, product.sources, links)
        row.children = dict(product.children)

    def _find_uses(self, recipes: Mapping[str, Row]) -> None:
        """Which lines use each recipe; also those of which nobody knows how much of it they use."""
        for use in self.rows["uses"]:
            if used := recipes.get(as_key(str(use.fixed["uses"]))):
                self.uses_of.setdefault(used.index, []).append(use)

    def _recipe(self, key: str, recipe: Row) -> Row:
        first = len(self.rows["plan_uses"])
        for use in self.uses_of.get(recipe.index, ()):
            user = self._planned(use.fixed["recipe"])
            fixed = {name: use.fixed[name] for name in ("recipe", "uses")}
            self.builder.add("plan_uses", fixed, {}, {"uses": use, "plan_recipes": user})
        batch = recipe.links["batches"]
        named: dict[str, Value] = {"recipe": recipe.fixed["recipe"], "recipe_key": key}
        row = self.builder.add(
            "plan_recipes", named, batch.sources, {"batches": batch, "recipes": recipe}
        )
        row.children = {
            "plan_uses": range(first, len(self.rows["plan_uses"])),
            "plan_wanted": range(len(self.rows["plan_wanted"])),
            "plan_products": range(len(self.rows["plan_products"])),
            "lines": recipe.children["lines"],
            "stages": recipe.children["stages"],
        }
        self._stages("stages", row)
        packed = sum(len(each.children["product_stages"]) for each in self.rows["plan_products"])
        row.children["plan_product_stages"] = range(packed)
        return row

    def _planned(self, recipe: Value) -> Row | None:
        """The plan's row of a recipe, if it is there already; in a circle it isn't."""
        found = (row for row in self.rows["plan_recipes"] if row.fixed["recipe"] == recipe)
        return next(found, None)

    def _stages(self, table: str, of: Row) -> None:
        """Add the plan's rows of a recipe's stages, or of a product's."""
        name = f"plan_{table}"
        first = len(self.rows[name])
        for at in of.children[table]:
            stage = self.rows[table][at]
            fixed = {"recipe": stage.fixed["recipe"], "stage": stage.fixed["stage"]}
            fixed["recipe_key"] = of.fixed["recipe_key"]
            row = self.builder.add(name, fixed, stage.sources, {table: stage, of.table: of})
            stage.links[name] = row
        of.children[name] = range(first, len(self.rows[name]))
