"""What must hold of the labels of any workbook at all, whatever is unknown in it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest

from costbook.deciding.ingredients import Ingredient
from costbook.deciding.labels import DraftLabel, labels
from costbook.round_trip import read_and_cost
from tests.helpers import save
from tests.random_books import COSTED_ON, random_book

SAYS = {"": False, "none": True, "milk": True, "?": False, "gluten-free": False, "egg, soy": True}
"""What may stand under Allergens, and whether it says what is in an item."""
FINE = Decimal("0.00001")
"""Weights less apart than that are equal [g]."""


def drafted(seed: int, folder: Path) -> tuple[dict[str, bool], tuple[DraftLabel, ...]]:
    """The labels of a random workbook, and by item whether its allergens are known."""
    random = Random(f"labels{seed}")
    book = random_book(random, gaps=seed % 2 == 0)
    known: dict[str, bool] = {}
    book["Items"][0].append("Allergens")
    for row in book["Items"][1:]:
        word = random.choice(list(SAYS))
        row.extend([None] * (len(book["Items"][0]) - 1 - len(row)) + [word or None])
        known.setdefault(str(row[0]), SAYS[word])
    return known, labels(read_and_cost(save(book, folder), COSTED_ON).costing)


def every(ingredients: tuple[Ingredient, ...]) -> Iterator[tuple[Ingredient, ...]]:
    """A list, and each that is within."""
    yield ingredients
    for each in ingredients:
        yield from every(each.within)


@pytest.mark.parametrize("seed", range(12))
def test_lists_descend_name_each_item_once_and_drop_no_unknown(seed: int, tmp_path: Path) -> None:
    known, found = drafted(seed, tmp_path)
    for label in found:
        named: set[str] = set()
        for each in every(label.ingredients):
            weights = [one.grams for one in each if one.grams is not None]
            assert all(later - one < FINE for one, later in pairwise(weights))
            items = [item for one in each for item in one.items]
            assert len(items) == len(set(items))
            named |= set(items)
        unsaid = {item for item in named if not known.get(item, False)}
        assert unsaid <= set(label.allergens.unknown)
        assert all(item in label.unfinished for item in unsaid)
    assert found
