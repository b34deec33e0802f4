"""The operations a cost rule may use, so that one rule can be read in many ways.

A rule is an ordinary function. Called with ``Decimal`` it gives the exact figure; called with
``Term`` it gives a tree, which ``formulas.py`` in writing prints as a live formula and ``words``
below prints as a sentence. Other kinds of number (arrays, quantities with units) join by
registering their operations with ``operations_of``.

Rules are written with ``+ - * /`` and the functions here, never with ``if`` or ``<``: a
``Term`` has no truth of its own, and the type checker refuses both.

``UNKNOWN`` (a Decimal that is not a number, and an empty text in a cell) spreads through
``+ - * /``. The engine does not call a rule with an unknown argument, save the rules marked
``@meets_unknowns``, which ask ``known(x)`` first.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import singledispatch
from typing import Any, NoReturn, Protocol, TypeVar

__all__ = [
    "UNKNOWN",
    "N",
    "Term",
    "Test",
    "Words",
    "above",
    "both",
    "choose",
    "either",
    "joined",
    "known",
    "meets_unknowns",
    "only_if",
    "operations_of",
    "opposite",
    "same",
    "up_to_step",
    "whole_down",
    "whole_up",
    "words",
]

UNKNOWN = Decimal("NaN")
"""A figure that is not known."""

MILLIONTH = Decimal("0.000001")
"""Amounts are rounded to this before they are taken up to a step, as ROUND(x, 6) does in a cell,
so that binary noise never moves a price by a step."""


@dataclass(frozen=True, slots=True)
class Term:
    """One node of a rule read symbolically: an operation and what it works on.

    A leaf has the operation ``"name"`` and one part, the name of a column.
    """

    operation: str
    parts: tuple[Any, ...]

    def __add__(self, other: Term | int) -> Term:
        return Term("+", (self, other))

    def __radd__(self, other: int) -> Term:
        return Term("+", (other, self))

    def __sub__(self, other: Term | int) -> Term:
        return Term("-", (self, other))

    def __rsub__(self, other: int) -> Term:
        return Term("-", (other, self))

    def __mul__(self, other: Term | int) -> Term:
        return Term("*", (self, other))

    def __rmul__(self, other: int) -> Term:
        return Term("*", (other, self))

    def __truediv__(self, other: Term | int) -> Term:
        return Term("/", (self, other))

    def __rtruediv__(self, other: int) -> Term:
        return Term("/", (other, self))

    def __bool__(self) -> NoReturn:
        raise TypeError("a rule may not branch on a cell: use choose() or only_if()")


N = TypeVar("N", Decimal, Term)
Words = str | Term
Test = bool | Term


class Operations(Protocol):
    """What a kind of number must offer beside ``+ - * /``."""

    def up_to_step(self, amount: Any, step: Any) -> Any: ...
    def whole_up(self, amount: Any) -> Any: ...
    def whole_down(self, amount: Any) -> Any: ...
    def above(self, left: Any, right: Any) -> Any: ...
    def choose(self, test: Any, then: Any, otherwise: Any) -> Any: ...


class Exact:
    """Operations on Decimal: the exact figure."""

    def up_to_step(self, amount: Decimal, step: Decimal) -> Decimal:
        if not step:
            return amount
        steps = amount.quantize(MILLIONTH, ROUND_HALF_UP) / step
        return steps.to_integral_value(ROUND_CEILING) * step

    def whole_up(self, amount: Decimal) -> Decimal:
        return amount.quantize(MILLIONTH, ROUND_HALF_UP).to_integral_value(ROUND_CEILING)

    def whole_down(self, amount: Decimal) -> Decimal:
        return amount.to_integral_value(ROUND_FLOOR)

    def above(self, left: Decimal, right: Decimal) -> bool:
        return bool(known(left) and known(right) and left > right)

    def choose(self, test: bool, then: object, otherwise: object) -> object:
        return then if test else otherwise


class Symbolic:
    """Operations on Term: the tree of the rule."""

    def up_to_step(self, amount: Term, step: Term) -> Term:
        return Term("up_to_step", (amount, step))

    def whole_up(self, amount: Term) -> Term:
        return Term("whole_up", (amount,))

    def whole_down(self, amount: Term) -> Term:
        return Term("whole_down", (amount,))

    def above(self, left: Term, right: Term) -> Term:
        return Term("above", (left, right))

    def choose(self, test: Term, then: object, otherwise: object) -> Term:
        return Term("choose", (test, then, otherwise))


_EXACT, _SYMBOLIC = Exact(), Symbolic()


@singledispatch
def operations_of(number: object) -> Operations:
    """The operations for this kind of number; Decimal and truth values have the exact ones."""
    return _EXACT


@operations_of.register
def _(number: Term) -> Operations:
    return _SYMBOLIC


def _operations(*values: object) -> Operations:
    """The operations that serve all the values: a Term or an array outranks a plain number."""
    for value in values:
        found = operations_of(value)
        if found is not _EXACT:
            return found
    return _EXACT


def up_to_step(amount: N, step: N) -> N:
    """The amount taken up to the next whole step, after rounding to a millionth.

    A step of zero leaves it as it is.
    """
    result: N = _operations(amount, step).up_to_step(amount, step)
    return result


def whole_up(amount: N) -> N:
    """The amount taken up to the next whole number, after rounding to a millionth."""
    result: N = _operations(amount).whole_up(amount)
    return result


def whole_down(amount: N) -> N:
    """The amount without its fraction."""
    result: N = _operations(amount).whole_down(amount)
    return result


def known(value: object) -> Test:
    """Is the number there?"""
    if isinstance(value, Term):
        return Term("known", (value,))
    return not (isinstance(value, Decimal) and value.is_nan())


def above(left: object, right: object) -> Test:
    """Is left a larger number than right? An unknown is above nothing."""
    result: Test = _operations(left, right).above(left, right)
    return result


def same(left: object, right: object) -> Test:
    """Are two texts, or two numbers, the same?"""
    if isinstance(left, Term) or isinstance(right, Term):
        return Term("same", (left, right))
    return left == right


def both(*tests: Test) -> Test:
    """Do all the tests hold?"""
    return Term("both", tests) if any(isinstance(t, Term) for t in tests) else all(tests)


def either(*tests: Test) -> Test:
    """Does one of the tests hold?"""
    return Term("either", tests) if any(isinstance(t, Term) for t in tests) else any(tests)


def opposite(test: Test) -> Test:
    """Does the test fail?"""
    return Term("opposite", (test,)) if isinstance(test, Term) else not test


def choose(test: Test, then: Any, otherwise: Any) -> Any:
    """One of two values, as the test says; either may be a text or UNKNOWN."""
    return _operations(test).choose(test, then, otherwise)


def only_if(test: Test, value: N) -> N:
    """The value where the test holds, otherwise UNKNOWN."""
    result: N = choose(test, value, UNKNOWN)
    return result


def joined(*texts: Words) -> Words:
    """The texts one after another."""
    if any(isinstance(text, Term) for text in texts):
        return Term("joined", texts)
    return "".join(str(text) for text in texts)


Rule = TypeVar("Rule", bound=Callable[..., Any])


def meets_unknowns(rule: Rule) -> Rule:
    """Mark a rule that is called even where an argument is unknown."""
    rule.meets_unknowns = True  # type: ignore[attr-defined]  # functions take attributes
    return rule


_BINDING = {"+": 1, "-": 1, "*": 2, "/": 2}
_SIGNS = {"+": "+", "-": "−", "*": "×", "/": "÷"}
_PHRASES = {
    "up_to_step": "{0}, up to the next {1}",
    "whole_up": "{0}, up to the next whole number",
    "whole_down": "{0}, without its fraction",
    "known": "{0} is known",
    "above": "{0} is above {1}",
    "same": "{0} is {1}",
    "opposite": "not {0}",
    "choose": "if {0}: {1}, else {2}",
}
_LINKS = {"both": " and ", "either": " or ", "joined": " "}


def words(term: object) -> str:
    """A rule's tree as a phrase: ``packs × price per pack + other cost``."""
    if not isinstance(term, Term):
        return f"“{term}”" if isinstance(term, str) else str(term) if known(term) else "unknown"
    operation, parts = term.operation, term.parts
    if operation == "name":
        return str(parts[0]).replace("_", " ")
    if operation in _BINDING:
        left, right = (_in_brackets(operation, part, i) for i, part in enumerate(parts))
        return f"{left} {_SIGNS[operation]} {right}"
    if operation in _LINKS:
        return _LINKS[operation].join(words(part) for part in parts)
    return _PHRASES[operation].format(*(words(part) for part in parts))


def needs_brackets(operation: str, part: object, position: int) -> bool:
    """Must this part of ``+ - * /`` stand in brackets to keep its meaning?"""
    if not isinstance(part, Term) or part.operation not in _BINDING:
        return False
    inner, outer = _BINDING[part.operation], _BINDING[operation]
    return inner < outer or (position == 1 and inner == outer and operation in "-/")


def _in_brackets(operation: str, part: object, position: int) -> str:
    text = words(part)
    return f"({text})" if needs_brackets(operation, part, position) else text
