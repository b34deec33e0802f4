"""What keeps a label from being more than a rough draft, each with its cell and what to do."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from costbook.book import Record, one_line
from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.costing.rows import Row
from costbook.deciding.allergens import KNOWN_WORDS, said_of_allergens
from costbook.deciding.ingredients import (
    MOST_NAMES,
    MadeOf,
    Recipes,
    has_labels,
    is_packaging,
    item_name,
    item_record,
    label_words,
    recipe_name,
)
from costbook.near_names import NearNames, did_you_mean
from costbook.problems import Place, Problem, Severity

__all__ = ["gaps_of"]

_WRONG, _DOUBTFUL = Severity.WRONG, Severity.DOUBTFUL
_WEIGH: Final = "Give its amount as a weight, or type its Grams per piece or Grams per ml on Items."
_WORDS: Final = "Type there the words that a label needs, with what is in it: cheddar (milk, salt)."
_WEIGH_RECIPE: Final = "Give its amount as a weight, and all that goes into it a weight."


def gaps_of(
    costing: Costing, recipes: Recipes, product: Row, made_of: MadeOf, has_net: bool
) -> Iterator[Problem]:
    """What is missing or doubtful on the label of a product; in the order of the label."""
    gaps = _Gaps(costing, recipes)
    yield from gaps.of_list(product, made_of)
    yield from gaps.of_weights(made_of)
    yield from gaps.of_allergens(made_of)
    yield from gaps.of_words(made_of)
    if not has_net:
        yield gaps.no_net(product)
    yield from gaps.of_settings()


class _Gaps:
    """Says what is missing, and where."""

    def __init__(self, costing: Costing, recipes: Recipes) -> None:
        self.costing, self.recipes = costing, recipes

    def _at(self, record: Record, name: str) -> Place:
        return place_of(self.costing, record, name)

    def of_list(self, product: Row, made_of: MadeOf) -> Iterator[Problem]:
        """No list of ingredients, or one that is too long."""
        name, record = one_line(str(product.fixed["product"])), product.sources["Products"]
        if not made_of.ingredients:
            yield Problem(
                _WRONG,
                self._at(record, "recipe"),
                f'no ingredients of "{name}" are known, so its label names none.',
                "Name its recipe here, and type that recipe's lines on Recipes.",
            )
        if made_of.is_too_long:
            yield Problem(
                _WRONG,
                self._at(record, "recipe"),
                f'"{name}" has more than {MOST_NAMES:,} ingredients, so its label does not open '
                "the recipes in it.",
                "Look whether a recipe uses others over and over.",
            )
        recipe = product.links.get("recipes")
        for at in recipe.children["lines"] if recipe else ():
            line = self.costing.structure.rows["lines"][at]
            record_of_item = item_record(line)
            if record_of_item and is_packaging(line):
                yield Problem(
                    _DOUBTFUL,
                    self._at(record_of_item, "item_kind"),
                    f'"{item_name(line)}" stands in a recipe, and is left out of labels as its '
                    "Kind is packaging.",
                    "Type another Kind, if it is eaten.",
                )

    def of_weights(self, made_of: MadeOf) -> Iterator[Problem]:
        """What has no known place in the order."""
        for line in made_of.lines.values():
            if not self.recipes.is_weighed(line):
                yield self._no_weight(line, item_name(line), _WEIGH)
            elif self.costing.of(line)["amount"] == 0:
                yield Problem(
                    _DOUBTFUL,
                    self._at(line.sources["Recipes"], "amount"),
                    f'"{item_name(line)}" has no amount that could be weighed, and stands last on '
                    "labels.",
                    "Weigh it once, if its place matters.",
                )
        for use in made_of.uses.values():
            if self.recipes.used_grams(use) is None:
                yield self._no_weight(use, recipe_name(use), _WEIGH_RECIPE)

    def _no_weight(self, line: Row, name: str, remedy: str) -> Problem:
        return Problem(
            _WRONG,
            self._at(line.sources["Recipes"], "amount"),
            f'how much "{name}" weighs as it is put in is unknown, so it has no place in the order '
            "of a label.",
            remedy,
        )

    def of_allergens(self, made_of: MadeOf) -> Iterator[Problem]:
        """What leaves open which allergens are in it."""
        for line in made_of.lines.values():
            record = item_record(line)
            if record is None:
                yield Problem(
                    _WRONG,
                    self._at(line.sources["Recipes"], "uses"),
                    f'"{item_name(line)}" has no row on Items, so its allergens are unknown.',
                    "Add a row for it there, with its Allergens.",
                )
            else:
                yield from self._of_cell(record, item_name(line))
        for use in made_of.uses.values():
            if "recipes" not in use.links:
                yield Problem(
                    _WRONG,
                    self._at(use.sources["Recipes"], "uses"),
                    f'what is in "{recipe_name(use)}" can\'t be told here, so its allergens are '
                    "unknown.",
                    "Put right what else is said of this line.",
                )

    def _of_cell(self, record: Record, name: str) -> Iterator[Problem]:
        said, at = said_of_allergens(record.text("allergens")), self._at(record, "allergens")
        if not said.is_known:
            yield Problem(
                _WRONG,
                at,
                f'the allergens of "{name}" are unknown.',
                "Type those that its pack names, or none.",
            )
        for word in said.not_in_it:
            yield Problem(
                _DOUBTFUL,
                at,
                f'"{word}" says what is not in "{name}", and stands on no label.',
                "Type what is in it, or none.",
            )
        for word in said.as_typed:
            yield Problem(
                _DOUBTFUL,
                at,
                f'"{word}" is no word for an allergen that costbook knows, and stands on labels as '
                "typed.",
                did_you_mean(word, NearNames(KNOWN_WORDS), "Check its spelling."),
            )

    def of_words(self, made_of: MadeOf) -> Iterator[Problem]:
        """Items that stand on the label by the name that they are bought by."""
        book = self.costing.structure.book
        if not has_labels(book):
            tab = book.sheets["Items"].tab if "Items" in book.sheets else ""
            yield Problem(
                _DOUBTFUL,
                Place(tab),
                "no item has a Label name, so all stand on labels by their own.",
                _WORDS,
            )
            return
        for line in made_of.lines.values():
            record = item_record(line)
            if record and not label_words(record):
                yield Problem(
                    _DOUBTFUL,
                    self._at(record, "label_name"),
                    f'"{item_name(line)}" has no Label name, so it stands on labels by its own.',
                    _WORDS,
                )

    def no_net(self, product: Row) -> Problem:
        """A pack of which nobody knows what it holds."""
        name = one_line(str(product.fixed["product"]))
        return Problem(
            _WRONG,
            self._at(product.sources["Products"], "net_weight"),
            f'the net weight of "{name}" is unknown.',
            "Type it here with its unit: 12 oz, or 340 g.",
        )

    def of_settings(self) -> Iterator[Problem]:
        """What stands on every label, or is missing from each."""
        settings = next(iter(self.costing.structure.book.records("Settings")), None)
        for name, title in (("business", "Business"), ("address", "Address")):
            if settings is None or not settings.text(name):
                at = self._at(settings, name) if settings else Place()
                yield Problem(
                    _DOUBTFUL,
                    at,
                    f"no {title} is typed, so labels bear none.",
                    f"Type {title} on Settings.",
                )
        allowance = self.costing.one("settings")["small_ingredient_allowance"]
        if settings and isinstance(allowance, Decimal) and allowance > 0:
            yield Problem(
                _DOUBTFUL,
                self._at(settings, "small_ingredient_allowance"),
                "what the small-ingredient allowance stands for is on no label, and neither are "
                "its allergens.",
                "Type a recipe line for each, with what it weighs.",
            )
