"""What a price lacks: what is missing in its rows, and the parts that nothing is said of."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.definitions import rules
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.parts import ASKED, MADE, SOLD, Part

__all__ = ["missing_of", "not_counted", "uncounted"]


def missing_of(costing: Costing, price: Row) -> Iterator[str]:
    """Everything that a product's figures lack, each named once."""
    told: set[str] = set()
    for text in _lacks(costing, price):
        if text and text not in told:
            told.add(text)
            yield text


def _lacks(costing: Costing, price: Row) -> Iterator[str]:
    product = price.links["products"]
    if "recipes" in product.links:
        yield from _recipe_lacks(costing, product.links["recipes"])
    for table in ("packaging", "product_stages"):
        for at in product.children[table]:
            yield str(costing.figures[table][at]["lacks"])
    yield from _made_lacks(costing.of(product))
    yield from _price_lacks(costing.of(price))


def _made_lacks(figures: Figures) -> Iterator[str]:
    """What the cost made lacks beside what its rows do."""
    if figures["packs_sold"] is None:
        yield str(figures["lacks"])
        return
    for part in MADE:
        timed = figures[part.timed_with] if part.timed_with else Decimal(0)
        if not part.lack_of_rows and figures[part.name] is None and timed is not None:
            yield part.lacks


def _price_lacks(figures: Figures) -> Iterator[str]:
    """What a price lacks beside the cost made, in the rule's own words."""
    there = Decimal(1)
    names = (*(part.name for part in SOLD), *rules.PRICED_BY)
    for at, name in enumerate(names):
        each = [there] * len(names)
        each[at] = UNKNOWN if figures[name] is None else there
        yield str(rules.price_lacks(there, "", *each))
    yield str(figures["lacks"])


def _recipe_lacks(costing: Costing, recipe: Row) -> Iterator[str]:
    """What a recipe and those it uses lack, each after those it uses."""
    for at in sorted(_used_in(costing, recipe)):
        used = costing.structure.rows["recipes"][at]
        yield from _own_lacks(costing, used)


def _used_in(costing: Costing, recipe: Row) -> set[int]:
    """The index of a recipe and of every recipe used in it; rows stand after those they use."""
    found, waiting = {recipe.index}, [recipe]
    while waiting:
        for at in waiting.pop().children["uses"]:
            used = costing.structure.rows["uses"][at].links.get("recipes")
            if used is not None and used.index not in found:
                found.add(used.index)
                waiting.append(used)
    return found


def _own_lacks(costing: Costing, recipe: Row) -> Iterator[str]:
    for table in ("lines", "uses", "stages"):
        for at in recipe.children[table]:
            if table != "uses" or costing.figures[table][at]["share_of_batch"] is None:
                yield str(costing.figures[table][at]["lacks"])
    if not costing.of(recipe)["lines"]:
        yield str(costing.of(recipe)["lacks"])


def uncounted(costing: Costing) -> Iterator[Part]:
    """The parts that no price counts, since nothing is said of them, not even a 0."""
    settings = costing.one("settings")
    values = (UNKNOWN if settings[name] is None else settings[name] for name in _COUNTED_BY)
    return (part for part in ASKED if not part.is_counted(values))


_COUNTED_BY: Final = tuple(name for part in ASKED for name in part.counted_by)


def not_counted(costing: Costing) -> Iterator[str]:
    """The parts that no price counts, in words, and why."""
    return (f"{part.words} ({part.uncounted})" for part in uncounted(costing))
