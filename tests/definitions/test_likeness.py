"""Which names may be slips of one another; the words are cooks' own."""

from __future__ import annotations

import pytest

from costbook.definitions.likeness import Alike, alike, nearly

SLIPS = [
    ("Hill Farm", "Hillfarm"),
    ("Hill Farm", "hill-farm."),
    ("Leek", "Leeks"),
    ("Tomato", "Tomatoes"),
    ("Peas, frozen", "Frozen pea"),
    ("Eggs, large", "Large eggs"),
    ("Eggs, large", "Egg, large"),
    ("Milk", "Mlik"),
    ("Film", "Flim"),
    ("Butter", "Btuter"),
    ("Flour", "Floor"),
    ("Cream", "Crean"),
    ("Oil", "Oill"),
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
    ("Gas, blue", "Blue ga"),  # no plural
    ("Beets", "Boots"),
    ("Milk", "Mlip"),
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
    assert list(Alike(["Salt", other]).to(one)) == [other]


@pytest.mark.parametrize(("one", "other"), OTHERS)
def test_another_thing_is_no_slip(one: str, other: str) -> None:
    assert not alike(one, other)
    assert not alike(other, one)


BADLY_TYPED = [
    ("Flour", "Flower"),
    ("Leeks", "Leak"),
    ("Parmesan", "Parmseans"),
    ("Broccoli", "Brokoli"),
    ("Hill Farm", "Hilfarrm"),
    ("Eggs, large", "Egs, lrge"),
]
NOT_EVEN_SO = [
    ("Flour, white", "Flour, rye"),
    ("Label 10", "Label 12"),
    ("Coffee", "Eggs"),
    ("Butter", "Beans"),
]


@pytest.mark.parametrize(("one", "other"), BADLY_TYPED)
def test_a_bad_slip_is_near(one: str, other: str) -> None:
    assert nearly(one, other)
    assert not alike(one, other)


@pytest.mark.parametrize(("one", "other"), NOT_EVEN_SO)
def test_what_has_another_word_is_not_near(one: str, other: str) -> None:
    assert not nearly(one, other)
