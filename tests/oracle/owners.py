"""Whose a row is. A name that is nobody's may be each one's that it could be.

Design, "Said and asked": the near name's, else all; a blank name below a name is that name. Near is
here only a name with one letter too many; random books make no other slips.
"""

from __future__ import annotations

from tests.oracle.numbers import Row, key
from tests.oracle.packs import Packs

__all__ = ["Owners"]

_NAMES = {"Recipes": "recipe", "Stages": "recipe", "Packaging": "product"}


class Owners(Packs):
    """Rows by who owns them, and by who may."""

    def sure(self, sheet: str, owner: str) -> list[Row]:
        """The rows that are an owner's."""
        return [row for row in self.rows(sheet) if self._named(sheet, row) == owner]

    def perhaps(self, sheet: str, owner: str) -> list[Row]:
        """The rows that may be an owner's, and nobody knows."""
        return [row for row in self.rows(sheet) if owner in self._may_be(sheet, row)]

    def _named(self, sheet: str, row: Row) -> str:
        """The name of a row, which is that of the row above where it has none."""
        rows = [each for each in self.rows(sheet) if each["#"] <= row["#"]]
        names = [key(each[_NAMES[sheet]]) for each in rows]
        return next((name for name in reversed(names) if name), "")

    def _may_be(self, sheet: str, row: Row) -> set[str]:
        """The possible owners of a row of nobody's; none where it is somebody's."""
        name = self._named(sheet, row)
        recipes, products = set(self.batches), self._recipes_of_products()
        if sheet == "Packaging" and name == "all":
            return set()
        wanted = {
            "Recipes": recipes,
            "Stages": self._spoken_of() | set(products),
            "Packaging": set(products),
        }[sheet]
        if name in wanted:
            return set()
        if sheet == "Packaging" and name in recipes:
            return {each for each in products if products[each] == name} or set(products)
        near = {each for each in wanted if _one_too_many(name, each)}
        return near or (set(products) if sheet == "Packaging" else recipes)

    def _spoken_of(self) -> set[str]:
        """Recipes that have lines, or are sold or used; one on Batches alone may be a slip."""
        asked = {key(row["uses"]) for row in self.rows("Recipes")}
        asked |= set(self._recipes_of_products().values())
        return {name for name in self.batches if name in asked or self.sure("Recipes", name)}

    def _recipes_of_products(self) -> dict[str, str]:
        return {key(row["product"]): key(row["recipe"]) for row in self.rows("Products")}


def _one_too_many(name: str, right: str) -> bool:
    """Whether a name has one letter more than another."""
    return any(name[:at] + name[at + 1 :] == right for at in range(len(name)))
