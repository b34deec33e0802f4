"""What is said of a part of the cost where its line in the list says no more."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.parts import ASKED, MADE, PARTS, SOLD, Part

CLEANING = Part("cleaning", "cleaning up", "cleaning (minutes)")
ROWS = Part(
    "rent", "the rent", "rent_lacks", True, "rent_known", asked="rent_typed", declared="none"
)


def test_a_part_is_made_always_counted_and_without_lines_unless_it_is_said() -> None:
    assert CLEANING.made
    assert not CLEANING.lack_of_rows
    assert (CLEANING.known, CLEANING.line, CLEANING.batch, CLEANING.minutes) == ("", "", "", "")
    assert (CLEANING.timed_with, CLEANING.asked, CLEANING.declared) == ("", "", "")
    assert (CLEANING.uncounted, CLEANING.sheet) == ("", "")


def test_what_a_part_lacks_is_its_own_words_or_those_of_its_rows() -> None:
    assert (CLEANING.title, CLEANING.lacking, CLEANING.what_is_known) == (
        *("Cleaning", ("cleaning",), "cleaning"),
    )
    assert CLEANING.lack_told(iter(["its rows"])) == "cleaning (minutes)"
    assert (ROWS.lacking, ROWS.what_is_known) == (("rent", "rent_lacks"), "rent_known")
    assert ROWS.lack_told(iter(["its rows"])) == "its rows"


@pytest.mark.parametrize(
    ("typed", "declared", "counted"),
    [(Decimal(0), "", True), (UNKNOWN, "yes", True), (UNKNOWN, "no", False), (UNKNOWN, "", False)],
)
def test_a_part_is_counted_where_it_is_given_or_said_to_be_nothing(
    typed: Decimal, declared: str, counted: bool
) -> None:
    assert ROWS.counted_by == ("rent_typed", "none")
    assert ROWS.is_counted(iter([typed, declared])) == counted
    asked = Part("rent", "the rent", "rent", asked="rent_typed")
    assert asked.counted_by == ("rent_typed",)
    assert asked.is_counted(iter([typed])) == (typed == 0)


def test_the_parts_in_the_order_of_the_money() -> None:
    """First what is made, then selling; the one most often forgotten is asked for first."""
    made = ["ingredients", "packaging", "labour", "kitchen", "overhead"]
    assert [part.name for part in PARTS] == [*made, "selling"]
    assert [part.name for part in MADE] == made
    assert [part.name for part in SOLD] == ["selling"]
    assert [part.name for part in ASKED] == (
        ["labour", "packaging", "kitchen", "overhead", "selling"]
    )
    assert {part.name: part.lacking[1:] for part in PARTS if part.lack_of_rows} == {
        "ingredients": ("ingredients_lack",),
        "packaging": ("packaging_lack",),
        "labour": ("labour_lack",),
    }
