"""What a recipe is made of, in descending order by the weight put in, and of which items.

Recipes used inside stand in their place by their own weight, with what they are made of within.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, Final

from costbook.book import Book, Record, one_line
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.deciding.by_rule import by_rule
from costbook.definitions import label_rules
from costbook.definitions.rounding import rounded

__all__ = [
    "MOST_NAMES",
    "NO_NAME",
    "Ingredient",
    "MadeOf",
    "Recipes",
    "has_labels",
    "is_packaging",
    "item_name",
    "item_record",
    "label_name",
    "label_words",
    "listed",
]

MOST_NAMES: Final = 1_000
"""Names that a list may hold, recipes opened: more is no label, and might never end."""

_FINE: Final = 6
"""Decimal places of a gram to which weights are compared: what is less is binary noise."""

NO_NAME: Final = "a line without a name"
_PACKAGING: Final = "packag"
"""How a Kind on Items begins that says that an item is no food."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One name of a list: how much is put in under it [g], and what that is made of.

    ``grams`` is None where a weight is unknown. It stands for ``items``, or for a ``recipe``, which
    is made of what is ``within``.
    """

    words: str
    grams: Decimal | None
    items: tuple[str, ...] = ()
    recipe: str = ""
    within: tuple[Ingredient, ...] = ()

    def in_words(self) -> str:
        """The name, with what it is made of in brackets; what has no known weight stands out."""
        said = f"{self.words} ({listed(self.within)})" if self.within else self.words
        return said if self.grams is not None else f"[WEIGHT UNKNOWN: {said}]"

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        said: dict[str, Any] = {"name": self.words, "grams": self.grams}
        if not self.recipe:
            return said | {"items": list(self.items)}
        return said | {"recipe": self.recipe, "made_of": [each.as_data() for each in self.within]}


def listed(ingredients: Iterable[Ingredient]) -> str:
    """A list in words."""
    return ", ".join(each.in_words() for each in ingredients)


@dataclass(frozen=True, slots=True)
class MadeOf:
    """What a recipe is made of: as a list, and all its lines, those of recipes inside too."""

    ingredients: tuple[Ingredient, ...]
    lines: Mapping[int, Row]
    """Lines that use an item, by their numbers."""
    uses: Mapping[int, Row]
    """Lines that use a recipe."""
    names: int
    """How many names the list has, with all its recipes opened."""

    @property
    def is_too_long(self) -> bool:
        """Whether no label could hold it; recipes inside are then named and not opened."""
        return self.names > MOST_NAMES

    @property
    def shown(self) -> tuple[Ingredient, ...]:
        """The list, as far as a label could hold it."""
        if not self.is_too_long:
            return self.ingredients
        return tuple(replace(each, within=()) for each in self.ingredients)


class Recipes:
    """What each recipe is made of: found once, however many others use it."""

    def __init__(self, costing: Costing) -> None:
        self.costing = costing
        self.rows = costing.structure.rows
        strays = costing.structure.book.strays
        self._nobodys = {(stray.record.sheet, stray.record.row) for stray in strays}
        self._grams = {line.index: self._grams_of(line) for line in self.rows["lines"]}
        self._made_of: dict[int, MadeOf] = {}
        for recipe in self.rows["recipes"]:  # each after those it uses
            self._made_of[recipe.index] = self._opened(recipe)

    def made_of(self, recipe: Row) -> MadeOf:
        """What a recipe is made of."""
        return self._made_of[recipe.index]

    def is_weighed(self, line: Row) -> bool:
        """Whether the weight that a line puts in of an item is known."""
        return self._grams[line.index] is not None

    def used_grams(self, use: Row) -> Decimal | None:
        """The weight that a line puts in of a recipe [g]."""
        used = use.links.get("recipes")
        if used is None:
            return None
        weights = [each.grams for each in self.made_of(used).ingredients]
        known = [each for each in weights if each is not None]
        whole = sum(known, Decimal(0)) if len(known) == len(weights) else None
        batch = self.costing.of(use.links["batches"])
        more = {"batch_grams": whole, "good": batch["good"], "started": batch["started"]}
        return by_rule(label_rules.grams_of_used, {**self.costing.of(use), **more})

    def _grams_of(self, line: Row) -> Decimal | None:
        record = line.sources["Recipes"]
        if (record.sheet, record.row) in self._nobodys:
            return None
        return by_rule(label_rules.grams_of_line, self.costing.of(line))

    def _opened(self, recipe: Row) -> MadeOf:
        own = {at: self.rows["lines"][at] for at in recipe.children["lines"]}
        own = {at: line for at, line in own.items() if not is_packaging(line)}
        uses = {at: self.rows["uses"][at] for at in recipe.children["uses"]}
        found = [
            Ingredient(label_name(each), self._grams[at], (item_name(each),))
            for at, each in own.items()
        ]
        lines, every_use, names = dict(own), dict(uses), len(own) + len(uses)
        for use in uses.values():
            name = one_line(str(use.fixed["uses"])) or NO_NAME
            used = use.links.get("recipes")
            made_of = self._made_of[used.index] if used is not None else None
            within = made_of.ingredients if made_of and not made_of.is_too_long else ()
            found.append(Ingredient(recipe_name(use), self.used_grams(use), (), name, within))
            if made_of:
                lines |= made_of.lines
                every_use |= made_of.uses
                names += made_of.names
        return MadeOf(_in_order(_once(found)), lines, every_use, names)


def has_labels(book: Book) -> bool:
    """Whether the person has begun with labels: words for one, of any item.

    Allergens alone were typed by many before there were labels, and bring no further sheet.
    """
    return any(each.text("label_name") for each in book.records("Items"))


def is_packaging(line: Row) -> bool:
    """Whether the person says that what a line uses is packaging, which is no ingredient."""
    record = item_record(line)
    return record is not None and record.text("item_kind").lower().strip().startswith(_PACKAGING)


def item_record(line: Row) -> Record | None:
    """The row on Items of what a line uses."""
    item = line.links.get("items")
    return item.sources.get("Items") if item is not None else None


def item_name(line: Row) -> str:
    """The name of the item that a line uses, as on Items."""
    item = line.links.get("items")
    return one_line(str((item or line).fixed["item" if item else "uses"])) or NO_NAME


def label_name(line: Row) -> str:
    """The words for an item on a label: its Label name, else its name."""
    record = item_record(line)
    return (label_words(record) if record else "") or item_name(line)


def label_words(record: Record) -> str:
    """An item's Label name; none where it has no letter, as a 0 has none."""
    words = one_line(record.text("label_name"))
    return words if any(map(str.isalpha, words)) else ""


def recipe_name(use: Row) -> str:
    """The words for a recipe on a label: its Label name on Items, up to a bracket; else its name.

    What is in it is said by its lines.
    """
    batch = use.links.get("batches")
    record = batch.sources.get("Items") if batch is not None else None
    own = record.text("label_name").partition("(")[0] if record else ""
    return one_line(own) or one_line(str(use.fixed["uses"])) or NO_NAME


def _once(found: list[Ingredient]) -> list[Ingredient]:
    """Each name once, with all that is put in under it."""
    merged: dict[tuple[str, str], Ingredient] = {}
    for each in found:
        key = each.words.lower(), each.recipe.lower()
        there = merged.get(key)
        merged[key] = _together(there, each) if there else each
    return list(merged.values())


def _together(one: Ingredient, other: Ingredient) -> Ingredient:
    weights = [each.grams for each in (one, other) if each.grams is not None]
    grams = sum(weights, Decimal(0)) if len(weights) == 2 else None
    return replace(one, grams=grams, items=tuple(dict.fromkeys((*one.items, *other.items))))


def _in_order(found: list[Ingredient]) -> tuple[Ingredient, ...]:
    """By weight, the heaviest first, equal ones by name; what has no known weight at the end."""

    def place(each: Ingredient) -> tuple[bool, Decimal, str]:
        weight = Decimal(0) if each.grams is None else rounded(each.grams, _FINE)
        return each.grams is None, -weight, each.words.lower()

    return tuple(sorted(found, key=place))
