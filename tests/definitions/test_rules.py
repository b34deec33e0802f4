"""Every cost rule with Decimal: the exact figure of each hand-worked case, and none left out."""

from __future__ import annotations

import ast
import inspect
from collections import Counter
from decimal import Decimal, DecimalException
from fractions import Fraction
from typing import Any

import pytest

from costbook.definitions.algebra import UNKNOWN, Term, known
from tests.definitions.rule_cases import CASES, RULE_BOOKS, RULES, Case, Figure

FINE = Fraction(1, 10**20)
"""How near a Decimal of 28 digits must come to a fraction."""


def plain(figure: Figure) -> Any:
    if isinstance(figure.value, Fraction):
        return Decimal(figure.value.numerator) / figure.value.denominator
    return UNKNOWN if figure.value is None else figure.value


def is_near(found: object, expected: Figure) -> bool:
    """Is a rule's answer the expected one: the same text, unknown, or the number to 20 digits?"""
    if not isinstance(expected.value, Fraction):
        return not known(found) if expected.value is None else found == expected.value
    if isinstance(found, str) or not known(found):
        return False
    apart = abs(Fraction(str(found)) - expected.value)
    return apart <= FINE * max(Fraction(1), abs(expected.value))


def figure_of(case: Case) -> object:
    """The rule's answer; what is divided by nothing is unknown, as the engine has it."""
    try:
        return RULES[case.rule](*map(plain, case.arguments))
    except DecimalException:
        return UNKNOWN


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.text.split("|")[0].strip())
def test_the_figure_is_the_one_worked_by_hand(case: Case) -> None:
    found = figure_of(case)
    assert is_near(found, case.result), found


def test_a_wrong_figure_is_told_from_a_right_one() -> None:
    assert not is_near(Decimal("0.30000000000000004"), Figure(Fraction("0.3")))
    assert not is_near(Decimal(0), Figure(None))
    assert not is_near(UNKNOWN, Figure(Fraction(0)))
    assert not is_near("hold", Figure("raise"))


def test_no_two_rules_bear_one_name() -> None:
    names = [
        node.name
        for book in RULE_BOOKS
        for node in ast.parse(inspect.getsource(book)).body
        if isinstance(node, ast.FunctionDef)
    ]
    assert [name for name, times in Counter(names).items() if times > 1] == []


def test_every_rule_has_a_case() -> None:
    assert RULES.keys() == {case.rule for case in CASES}


def branches(source: str) -> list[str]:
    """Where a rule branches or compares by itself, which a formula can't."""
    kinds = (ast.If, ast.IfExp, ast.Compare, ast.BoolOp, ast.Not, ast.While, ast.Match, ast.Assert)
    return [
        f"{function.name}: {type(node).__name__}"
        for function in ast.parse(source).body
        if isinstance(function, ast.FunctionDef)
        for node in ast.walk(function)
        if isinstance(node, kinds)
    ]


def test_no_rule_branches_or_compares_by_itself() -> None:
    assert [found for book in RULE_BOOKS for found in branches(inspect.getsource(book))] == []


@pytest.mark.parametrize(
    "body",
    ["return a if b else 0", "return a > b", "return a and b", "while a: pass", "return not a"],
)
def test_a_branch_is_found_where_there_is_one(body: str) -> None:
    assert len(branches(f"def rule(a, b):\n    {body}\n")) == 1


@pytest.mark.parametrize("name", sorted(RULES))
def test_every_rule_can_be_read_as_a_tree(name: str) -> None:
    arguments = inspect.signature(RULES[name]).parameters
    tree = RULES[name](**{argument: Term("name", (argument,)) for argument in arguments})
    assert isinstance(tree, Term)
