"""What a cell may hold, and what is said of a number that it may not."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions.fields import Field, Kind, Least

PACKS = Field("packs", "Packs", Kind.NUMBER)
HOLDS = Field("holds", "Holds", Kind.NUMBER, least=Least.ABOVE_ZERO)
OTHER = Field("other", "Other cost", Kind.MONEY, least=Least.ANY)
MARGIN = Field("margin", "Margin %", Kind.SHARE)
USABLE = Field("usable", "Usable %", Kind.SHARE, limit=Decimal(5))  # rice takes up water


@pytest.mark.parametrize(
    ("field", "typed", "held"),
    [
        (MARGIN, "0.35", "0.35"),
        (MARGIN, "35", "0.35"),
        (MARGIN, "1", "1"),  # all of it
        (MARGIN, "1.5", "0.015"),
        (USABLE, "3", "3"),  # three times what was bought
        (USABLE, "89", "0.89"),
        (PACKS, "35", "35"),
    ],
)
def test_a_share_may_be_typed_as_a_percentage(field: Field, typed: str, held: str) -> None:
    assert field.held(Decimal(typed)) == Decimal(held)


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        (PACKS, "0"),
        (PACKS, "1000"),
        (HOLDS, "0.5"),
        (HOLDS, "1"),
        (OTHER, "-1.50"),
        (OTHER, "0"),
        (MARGIN, "0"),
        (MARGIN, "100"),
        (USABLE, "500"),
    ],
)
def test_what_a_cell_may_hold(field: Field, typed: str) -> None:
    assert field.refused(Decimal(typed)) is None


NOT_BELOW = "Type a number that is not below zero, or leave the cell empty."
ABOVE = "Type a number above zero, or leave the cell empty."


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        (PACKS, "-0.5", ("Packs is -0.5.", NOT_BELOW)),
        (HOLDS, "0", ("Holds is 0.", ABOVE)),
        (HOLDS, "-1", ("Holds is -1.", ABOVE)),
        (MARGIN, "101", ("Margin % is 101 %.", "Type a percentage of 100 at most.")),
        (USABLE, "501", ("Usable % is 501 %.", "Type a percentage of 500 at most.")),
    ],
)
def test_what_is_said_of_any_other(field: Field, typed: str, said: tuple[str, str]) -> None:
    assert field.refused(Decimal(typed)) == said


def test_a_field_says_nothing_that_it_was_not_told() -> None:
    assert (PACKS.note, PACKS.example, PACKS.needed, PACKS.or_share) == ("", "", False, False)
