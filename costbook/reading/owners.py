"""Whose a row is: of a recipe, a product, every product; or nobody's, and whose it then may be.

A row that is nobody's is not left out: what it may belong to is not known until that is answered.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from costbook.book import Book, Record, Stray, as_key
from costbook.definitions.sheets import EVERY_PRODUCT, EVERY_PRODUCT_TOO
from costbook.near_names import NearNames

__all__ = ["is_every_product", "products_by_recipe", "shares_without_owner", "strays_of"]

Keys = tuple[str, ...]

_EVERY = frozenset(as_key(word) for word in (EVERY_PRODUCT, *EVERY_PRODUCT_TOO))


def is_every_product(text: str) -> bool:
    """Whether a packaging line's product stands for all of them."""
    return as_key(text) in _EVERY


def products_by_recipe(book: Book) -> dict[str, list[str]]:
    """The key of each recipe that is sold, and the names of the products made of it."""
    found: dict[str, list[str]] = {}
    for record in book.records("Products"):
        if name := record.text("product"):
            found.setdefault(as_key(record.text("recipe")), []).append(name)
    return found


def strays_of(book: Book) -> tuple[Stray, ...]:
    """All rows of nobody's, with the keys of the recipes and products they may belong to."""
    owners = _Owners(book)
    return (*owners.lines(), *owners.stages(), *owners.packaging())


def shares_without_owner(book: Book) -> frozenset[str]:
    """The keys of the items that a usable share without a name may be of: those without a row."""
    rows = book.records("Items")
    if not any("usable_share" in row.values and not row.text("item") for row in rows):
        return frozenset()
    names = ((row.text("item"), *row.text("also_called").split(";")) for row in rows)
    named = {as_key(name) for several in names for name in several}
    used = (as_key(line.text("uses")) for line in book.records("Recipes"))
    return frozenset(key for key in used if key not in named)


def _names(book: Book, sheet: str, name: str) -> dict[str, str]:
    """Key → name, of every name in a column."""
    found: dict[str, str] = {}
    for record in book.records(sheet):
        if text := record.text(name):
            found.setdefault(as_key(text), text)
    return found


class _Near:
    """Some names that may be meant, each with the keys of what it stands for."""

    def __init__(self, owners: Mapping[str, Sequence[str]]) -> None:
        self.owners = {name: keys for name, keys in owners.items() if keys}
        self.names = NearNames(self.owners)

    def meant(self, text: str) -> Keys:
        """What the near ones of a name stand for; nothing where none is near."""
        near = [name for name in self.names.likely(text) if as_key(name) != as_key(text)]
        return tuple(dict.fromkeys(key for name in near for key in self.owners[name]))


class _Owners:
    """The recipes and products that somebody asks for, and the rows that are none of theirs."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.products = _names(book, "Products", "product")
        self.sold = products_by_recipe(book)
        self.recipe_of = {as_key(each): key for key, names in self.sold.items() for each in names}
        self.lines_of: dict[str, list[Record]] = {}
        for record in self._rows("Recipes"):
            self.lines_of.setdefault(as_key(record.text("recipe")), []).append(record)
        written = _names(book, "Recipes", "recipe")
        asked = self.sold.keys() | _names(book, "Recipes", "uses").keys()
        known = {key: name for key, name in written.items() if key in asked}
        self.recipes = _names(book, "Batches", "recipe") | known
        self.spoken_of = self.lines_of.keys() | asked
        """Recipes that have lines, or are sold or used: a row on Batches alone may be a slip."""
        self.near_recipes = _Near(
            {name: [key] for key, name in self.recipes.items()}
            | {
                name: [self.recipe_of[key]]
                for key, name in self.products.items()
                if key not in self.recipes and self.recipe_of[key] in self.recipes
            }
        )
        self.lost = {
            key: owners
            for key, name in written.items()
            if key not in self.recipes and (owners := self._meant(key, name))
        }
        """Recipes' names that nobody asks for, and the recipes whose lines those may be."""

    def _rows(self, sheet: str) -> Iterator[Record]:
        """The rows of a sheet that say anything."""
        return (each for each in self.book.records(sheet) if not set(each.values) <= {"note"})

    def _meant(self, key: str, name: str) -> Keys:
        """The recipes of which the lines under a strange name may be; none for a new recipe.

        Several lines are a new recipe, whose batch is still to be filled in, where their name is
        like no other's, or the near one uses some of the same.
        """
        if key in self.recipe_of:
            return (self.recipe_of[key],)
        near = self.near_recipes.meant(name)
        if len(self.lines_of[key]) == 1:
            return near or tuple(self.recipes)
        return tuple(each for each in near if not self._used_in(key) & self._used_in(each))

    def _used_in(self, key: str) -> set[str]:
        return {as_key(line.text("uses")) for line in self.lines_of.get(key, ())}

    def lines(self) -> Iterator[Stray]:
        """Lines of recipes without a name, or under one that is nobody's."""
        everyone = tuple(self.recipes)
        for record in self._rows("Recipes"):
            text = record.text("recipe")
            if not text or as_key(text) in self.lost:
                yield Stray(record, self.lost.get(as_key(text), everyone))

    def stages(self) -> Iterator[Stray]:
        """Steps of work without a name, or of a recipe or product that nobody knows."""
        everyone = tuple(self.recipes)
        near = _Near({name: [key] for key, name in (self.products | self.recipes).items()})
        somebody = self.spoken_of | self.products.keys()
        for record in self._rows("Stages"):
            text = record.text("recipe")
            if not text or as_key(text) not in somebody:
                own = (as_key(text),) if as_key(text) in self.recipes else ()
                yield Stray(record, near.meant(text) + own or everyone)
            elif as_key(text) in self.lost:
                yield Stray(record, self.lost[as_key(text)])

    def packaging(self) -> Iterator[Stray]:
        """Packaging without a product, or for one that nobody knows; a recipe's name is none."""
        everyone = tuple(self.products)
        of_recipes = {
            name: [as_key(each) for each in self.sold.get(key, ())]
            for key, name in self.recipes.items()
            if key not in self.products
        }
        near = _Near({name: [key] for key, name in self.products.items()} | of_recipes)
        for record in self._rows("Packaging"):
            text = record.text("product")
            if as_key(text) in self.products or is_every_product(text):
                continue
            recipe = self.recipes.get(as_key(text))
            meant = tuple(of_recipes[recipe]) if recipe else near.meant(text)
            yield Stray(record, meant or everyone)
