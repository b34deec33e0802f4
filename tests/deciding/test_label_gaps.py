# ruff: noqa: E501 - one line a sentence, however long it is
"""What is to be put right before a label is more than a rough draft: each sentence, word for word."""

from __future__ import annotations

import pytest

from costbook.deciding.labels import labels
from tests.deciding.asking import costed
from tests.deciding.label_books import problems
from tests.deciding.test_labels import doubling

ITEMS = ("Flour", "Leek", "Cheddar", "Egg", "Cream", "Salt")
GAPS = {
    "a blank cell": (
        {"Salt ": "Salt | | | | | | salt"},
        'wrong: Items!F7: the allergens of "Salt" are unknown. Type those that its pack names, or none.',
    ),
    "no row on Items": (
        {"Leek  ": ""},
        'wrong: Recipes!B8: "Leek" has no row on Items, so its allergens are unknown. Add a row for it there, with its Allergens.',
    ),
    "what is not in it": (
        {"Salt ": "Salt | | | | | none, gluten-free | salt"},
        'doubtful: Items!F7: "gluten-free" says what is not in "Salt", and stands on no label. Type what is in it, or none.',
    ),
    "a word that may be another": (
        {"Salt ": "Salt | | | | | mlik | salt"},
        'doubtful: Items!F7: "mlik" is no word for an allergen that costbook knows, and stands on labels as typed. Did you mean "milk"?',
    ),
    "a word like no other": (
        {"Salt ": "Salt | | | | | kiwi | salt"},
        'doubtful: Items!F7: "kiwi" is no word for an allergen that costbook knows, and stands on labels as typed. Check its spelling.',
    ),
    "a piece that nobody weighed": (
        {"Egg ": "Egg | | 0.88 | | | egg | egg"},
        'wrong: Recipes!C4: how much "Egg" weighs as it is put in is unknown, so it has no place in the order of a label. Give its amount as a weight, or type its Grams per piece or Grams per ml on Items.',
    ),
    "a recipe of unknown weight": (
        {"Roll    | Filling": "Roll | Filling | 2 | ea |"},
        'wrong: Recipes!C5: how much "Filling" weighs as it is put in is unknown, so it has no place in the order of a label. Give its amount as a weight, and all that goes into it a weight.',
    ),
    "to taste": (
        {"Roll    | Salt": "Roll | Salt | to taste | |"},
        'doubtful: Recipes!C2: "Salt" has no amount that could be weighed, and stands last on labels. Weigh it once, if its place matters.',
    ),
    "a circle": (
        {"Filling | Salt": "Filling | Salt | 5 | g |\nFilling | Filling | 1 | g |"},
        'wrong: Recipes!B7: what is in "Filling" can\'t be told here, so its allergens are unknown. Put right what else is said of this line.',
    ),
    "no Label name": (
        {"Salt ": "Salt | | | | | none |"},
        'doubtful: Items!G7: "Salt" has no Label name, so it stands on labels by its own. Type there the words that a label needs, with what is in it: cheddar (milk, salt).',
    ),
    "a Label name without a letter": (
        {"Salt ": "Salt | | | | | none | 0"},
        'doubtful: Items!G7: "Salt" has no Label name, so it stands on labels by its own. Type there the words that a label needs, with what is in it: cheddar (milk, salt).',
    ),
    "no Label name at all": (
        {f"{name:7} |": f"{name} | | | 9 | 1 | none |" for name in ITEMS},
        "doubtful: Items: no item has a Label name, so all stand on labels by their own. Type there the words that a label needs, with what is in it: cheddar (milk, salt).",
    ),
    "packaging in a recipe": (
        {"Salt ": "Salt | Packaging | | | | none | salt"},
        'doubtful: Items!B7: "Salt" stands in a recipe, and is left out of labels as its Kind is packaging. Type another Kind, if it is eaten.',
    ),
    "no recipe": (
        {"Leek roll": "Leek roll | Buns | 1 | 12 | oz"},
        'wrong: Products!B2: no ingredients of "Leek roll" are known, so its label names none. Name its recipe here, and type that recipe\'s lines on Recipes.',
    ),
    "no net weight": (
        {"Leek roll": "Leek roll | Roll | 1 | | "},
        'wrong: Products!D2: the net weight of "Leek roll" is unknown. Type it here with its unit: 12 oz, or 340 g.',
    ),
    "no business": (
        {"Business": ""},
        "doubtful: Settings!A1: no Business is typed, so labels bear none. Type Business on Settings.",
    ),
    "no address": (
        {"Address": ""},
        "doubtful: Settings!A1: no Address is typed, so labels bear none. Type Address on Settings.",
    ),
    "an allowance": (
        {"Address": "Address | 1 Mill Lane\nSmall-ingredient allowance % | 2"},
        "doubtful: Settings!B5: what the small-ingredient allowance stands for is on no label, and neither are its allergens. Type a recipe line for each, with what it weighs.",
    ),
}


def test_nothing_is_said_of_a_label_that_lacks_nothing() -> None:
    assert problems({}) == []


@pytest.mark.parametrize("gap", GAPS)
def test_each_gap_is_said_with_its_cell_and_what_to_do(gap: str) -> None:
    changes, said = GAPS[gap]
    assert said in problems(changes)


def test_a_list_too_long_for_a_label_is_said() -> None:
    (label,) = labels(costed(doubling(12)))
    assert (
        'Products!B2: "X" has more than 1,000 ingredients, so its label does not open the recipes in '
        "it. Look whether a recipe uses others over and over."
    ) in map(str, label.problems)
