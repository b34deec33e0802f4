"""Random workbooks, costed by the command line and by the second costing in tests/oracle."""

from __future__ import annotations

from fractions import Fraction
from random import Random
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from tests import oracle
from tests.comparing import Figures, differences, figures
from tests.helpers import priced
from tests.quickly import figures_only
from tests.random_books import COSTED_ON, random_book
from tests.tables import Sheets

__all__ = ["figures_only"]  # a fixture of every test here

pytestmark = pytest.mark.long

# A failing book is shown as it was drawn: shrinking one takes minutes and tells little more.
BOOKS = settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    database=None,
    phases=[Phase.generate],
)


def expected(book: Sheets) -> Figures:
    """The oracle's figures, by the names that the book itself writes."""
    answer = oracle.cost(book, COSTED_ON)
    wanted: Figures = {}
    for (product, outlet), row in answer["products"].items():
        name = ("product", product.capitalize(), outlet.capitalize())
        wanted |= {(*name, *part.split(".")): value for part, value in row.items()}
    for kind in ("recipe", "item"):
        for name, row in answer[f"{kind}s"].items():
            wanted |= {(kind, name.capitalize(), part): value for part, value in row.items()}
    return wanted


def disagreements(book: Sheets) -> list[str]:
    return differences(figures(priced(book, on=COSTED_ON.isoformat())), expected(book))


@BOOKS
@given(st.randoms(use_true_random=False))
def test_two_costings_of_a_whole_book_agree(random: Random) -> None:
    assert not disagreements(random_book(random))


@BOOKS
@given(st.randoms(use_true_random=False))
def test_two_costings_of_a_book_with_gaps_agree_on_what_is_unknown(random: Random) -> None:
    assert not disagreements(random_book(random, gaps=True))


@BOOKS
@given(st.randoms(use_true_random=False))
def test_whatever_is_unknown_is_named(random: Random) -> None:
    """No null without a name for what is missing, and none without a sentence that says where."""
    answer = priced(random_book(random, gaps=True), on=COSTED_ON.isoformat())
    for row in answer["products"]:
        whole = row["cost"]["total"] is not None and row["price"]["at_target_margin"] is not None
        assert whole == (not row["missing"])
        assert row["complete"] == (whole and not row["uncounted"])
        if not whole:
            assert any(problem["severity"] == "wrong" for problem in answer["problems"])


@BOOKS
@given(st.randoms(use_true_random=False))
def test_two_costings_agree_on_what_is_not_counted(random: Random) -> None:
    book = random_book(random, gaps=True)
    wanted = oracle.cost(book, COSTED_ON)["uncounted"]
    for row in priced(book, on=COSTED_ON.isoformat())["products"]:
        assert set(row["uncounted"]) == wanted


@pytest.mark.parametrize("seed", [0, 2, 3])
def test_the_comparison_can_fail(seed: int) -> None:
    """A figure that is off by a part in a hundred million is caught, and so is a missing one."""
    wanted = expected(random_book(Random(seed)))
    name = next(name for name, value in wanted.items() if value and name[-1] == "total")
    off: dict[tuple[str, ...], Any] = wanted | {name: wanted[name] * (1 + Fraction(1, 10**8))}
    assert len(differences(off, wanted)) == 1
    assert len(differences(off | {name: None}, wanted)) == 1
    assert not differences(wanted, wanted)
