"""Which names may be slips of one another; the words are cooks' own."""

from __future__ import annotations

import pytest

from costbook.definitions.likeness import alike

SLIPS = [
    ("Hill Farm", "Hillfarm"),
    ("Hill Farm", "hill-farm."),
    ("Leek", "Leeks"),
    ("Tomato", "Tomatoes"),
    ("Eggs, large", "Large eggs"),
    ("Eggs, large", "Egg, large"),
    ("Milk", "Mlik"),
    ("Film", "Flim"),
    ("Flour", "Floor"),
    ("Gruyère", "Gruyere"),
    ("Mill Lane", "Mil Lane"),
]
OTHERS = [
    ("Stall A", "Stall B"),
    ("Tray 18", "Tray 30"),
    ("Bag 1", "Bag 11"),
    ("Butter, salted", "Butter, unsalted"),
    ("Salt", "Butter"),
    ("Oil", "Oats"),
    ("Tea", "Pea soup"),
    ("", "A"),
    ("!", "?"),
    ("Flour", "Flower"),  # two slips
    ("Parmesan", "Parmseans"),
]


@pytest.mark.parametrize(("one", "other"), SLIPS)
def test_a_slip_is_known(one: str, other: str) -> None:
    assert alike(one, other)
    assert alike(other, one)


@pytest.mark.parametrize(("one", "other"), OTHERS)
def test_another_thing_is_no_slip(one: str, other: str) -> None:
    assert not alike(one, other)
    assert not alike(other, one)
