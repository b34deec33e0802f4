"""The operations of the rules: on Decimal by hand, on trees by shape, and what each refuses."""

from __future__ import annotations

import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.definitions.algebra import (
    UNKNOWN,
    Term,
    above,
    both,
    choose,
    either,
    joined,
    known,
    only_if,
    opposite,
    same,
    up_to_step,
    whole_down,
    whole_up,
)

HOUSE = Path(__file__).parent.parent.parent
A, B = Term("name", ("a",)), Term("name", ("b",))


@pytest.mark.parametrize(
    ("amount", "step", "expected"),
    [
        ("6.01", "0.25", "6.25"),
        ("6.25", "0.25", "6.25"),
        ("6.2500000004", "0.25", "6.25"),  # noise below a millionth
        ("6.250001", "0.25", "6.50"),  # a millionth is no noise
        ("1234", "100", "1300"),
        ("0.07", "0.05", "0.10"),
        ("6.013", "0", "6.013"),  # no step, no rounding
        ("-0.30", "0.25", "-0.25"),
    ],
)
def test_an_amount_goes_up_to_the_next_step(amount: str, step: str, expected: str) -> None:
    assert up_to_step(Decimal(amount), Decimal(step)) == Decimal(expected)


@given(
    st.decimals(min_value=0, max_value=10_000, places=5),
    st.sampled_from(["0.01", "0.05", "0.25", "0.5", "1", "7"]),
)
def test_a_step_is_the_least_that_reaches_the_amount(amount: Decimal, step: str) -> None:
    found = up_to_step(amount, Decimal(step))
    assert found % Decimal(step) == 0
    assert found - Decimal(step) < amount <= found


@pytest.mark.parametrize(
    ("amount", "up", "down"),
    [("79.9", 80, 79), ("80", 80, 80), ("80.0000001", 80, 80), ("80.000001", 81, 80)],
)
def test_whole_numbers(amount: str, up: int, down: int) -> None:
    assert whole_up(Decimal(amount)) == up
    assert whole_down(Decimal(amount)) == down


ONE, TWO = Decimal(1), Decimal(2)
TRUTHS = [
    (known(ONE), True),
    (known(UNKNOWN), False),
    (known(""), True),
    (above(TWO, ONE), True),
    (above(ONE, ONE), False),
    (above(UNKNOWN, ONE), False),
    (above(ONE, UNKNOWN), False),
    (above(0, UNKNOWN), False),
    (same("pack", "pack"), True),
    (same(ONE, 1), True),
    (same(UNKNOWN, UNKNOWN), False),
    (both(True, True), True),
    (both(True, False), False),
    (either(False, True), True),
    (either(False, False), False),
    (opposite(True), False),
]


@pytest.mark.parametrize(("found", "expected"), TRUTHS)
def test_tests_of_numbers(found: object, expected: bool) -> None:
    assert found is expected


def test_choosing_between_numbers() -> None:
    assert choose(True, "a", "b") == "a"
    assert only_if(True, ONE) == ONE
    assert not known(only_if(False, ONE))
    assert joined("Leek", " (price)") == "Leek (price)"


TREES = [
    (A + 1, ("+", A, 1)),
    (1 - A, ("-", 1, A)),
    (2 * A, ("*", 2, A)),
    (1 / A, ("/", 1, A)),
    (up_to_step(A, B), ("up_to_step", A, B)),
    (whole_up(A), ("whole_up", A)),
    (whole_down(A), ("whole_down", A)),
    (known(A), ("known", A)),
    (above(0, A), ("above", 0, A)),
    (same("x", A), ("same", "x", A)),
    (both(True, known(A)), ("both", True, known(A))),
    (either(known(A), known(B)), ("either", known(A), known(B))),
    (opposite(known(A)), ("opposite", known(A))),
    (choose(known(A), A, 0), ("choose", known(A), A, 0)),
    (joined("x", A), ("joined", "x", A)),
]


@pytest.mark.parametrize(("tree", "parts"), TREES, ids=lambda each: str(each)[:30])
def test_operations_on_terms_are_kept_as_a_tree(tree: Term, parts: tuple[object, ...]) -> None:
    assert (tree.operation, *tree.parts) == parts


def test_a_rule_that_branches_on_a_cell_says_what_to_write() -> None:
    with pytest.raises(TypeError) as caught:
        bool(above(A, B))
    assert str(caught.value) == "a rule may not branch on a cell: use choose() or only_if()"


def test_an_operation_that_no_rule_may_use_is_refused() -> None:
    from costbook.definitions.algebra import operations_of

    with pytest.raises(AttributeError, match="square_root"):
        _ = operations_of(A).square_root  # type: ignore[attr-defined]  # that is the point


RULE = """
from decimal import Decimal
from costbook.definitions.algebra import N, Term, above, only_if
def rule(price: N, share: N) -> N:
    {body}
rule(Decimal(1), Decimal(2))
{call}
"""
REFUSED = [
    ("return price * 1.1", "", "Unsupported operand types for *"),
    ("return price if price > share else share", "", "Unsupported left operand type for >"),
    ("return price", "rule(1.5, 2.5)", 'Value of type variable "N" of "rule" cannot be "float"'),
    ("return price", "rule(Decimal(1), Term('name', ('a',)))", "of \"rule\" cannot be"),
]  # fmt: skip


@pytest.mark.long
@pytest.mark.parametrize(("body", "call", "complaint"), REFUSED)
def test_the_type_checker_refuses(tmp_path: Path, body: str, call: str, complaint: str) -> None:
    """A float in money, a comparison a formula can't make, a number mixed with a cell."""
    assert complaint in checked(tmp_path, RULE.format(body=body, call=call))


@pytest.mark.long
def test_the_type_checker_takes_what_is_right(tmp_path: Path) -> None:
    good = RULE.format(body="return only_if(above(price, share), price * 2 - share / 3)", call="")
    assert checked(tmp_path, good).startswith("Success")


def checked(folder: Path, source: str) -> str:
    """What mypy says of a module."""
    pytest.importorskip("mypy")
    module = folder / "module.py"
    module.write_text(source)
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", module],
        cwd=HOUSE,
        capture_output=True,
        text=True,
    )
    return done.stdout
