"""The operations a cost rule may use, so that one rule can be read in many ways.

A rule is an ordinary function. Called with ``Decimal`` it gives the exact figure; called with
``Term`` it gives a tree, which ``formulas.py`` in writing prints as a live formula and
``words.py`` as a phrase. Other kinds of number (arrays, quantities with units) join by
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
from functools import singledispatch, wraps
from inspect import Parameter, Signature
from typing import Any, Final, NoReturn, Protocol, TypeVar

__all__ = [
    "UNKNOWN",
    "N",
    "Term",
    "Test",
    "Words",
    "above",
    "asks_for",
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
    "wholes_in",
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

    def __mul__(self, other: Term | Decimal | int) -> Term:
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
    def wholes_in(self, amount: Any) -> Any: ...
    def known(self, value: Any) -> Any: ...
    def above(self, left: Any, right: Any) -> Any: ...
    def same(self, left: Any, right: Any) -> Any: ...
    def both(self, *tests: Any) -> Any: ...
    def either(self, *tests: Any) -> Any: ...
    def opposite(self, test: Any) -> Any: ...
    def choose(self, test: Any, then: Any, otherwise: Any) -> Any: ...
    def joined(self, *texts: Any) -> Any: ...


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

    def wholes_in(self, amount: Decimal) -> Decimal:
        return amount.quantize(MILLIONTH, ROUND_HALF_UP).to_integral_value(ROUND_FLOOR)

    def known(self, value: object) -> bool:
        return not (isinstance(value, Decimal) and value.is_nan())

    def above(self, left: Decimal, right: Decimal) -> bool:
        return self.known(left) and self.known(right) and left > right

    def same(self, left: object, right: object) -> bool:
        return left == right

    def both(self, *tests: bool) -> bool:
        return all(tests)

    def either(self, *tests: bool) -> bool:
        return any(tests)

    def opposite(self, test: bool) -> bool:
        return not test

    def choose(self, test: bool, then: object, otherwise: object) -> object:
        return then if test else otherwise

    def joined(self, *texts: str) -> str:
        return "".join(texts)


class Symbolic:
    """Operations on Term: each is a node of the rule's tree."""

    def __getattr__(self, operation: str) -> Callable[..., Term]:
        if operation not in _OPERATIONS:
            raise AttributeError(operation)
        return lambda *parts: Term(operation, parts)


_OPERATIONS: Final = frozenset(name for name in vars(Operations) if not name.startswith("_"))
_EXACT: Final[Operations] = Exact()
_SYMBOLIC: Final = Symbolic()
_PLAIN: Final = frozenset({Decimal, bool, int, str})
"""What the exact operations serve; told apart first, as nearly every call is one of these."""


@singledispatch
def operations_of(_number: object) -> Operations:
    """The operations for this kind of number; Decimal, texts and truth have the exact ones."""
    return _EXACT


@operations_of.register
def _(_number: Term) -> Any:
    return _SYMBOLIC


def _operations(*values: object) -> Operations:
    """The operations that serve all the values: a Term or an array outranks a plain number."""
    for value in values:
        if type(value) not in _PLAIN and (found := operations_of(value)) is not _EXACT:
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


def wholes_in(amount: N) -> N:
    """How many whole ones are in the amount, after rounding to a millionth."""
    result: N = _operations(amount).wholes_in(amount)
    return result


def known(value: object) -> Test:
    """Is the number there?"""
    result: Test = _operations(value).known(value)
    return result


def above(left: object, right: object) -> Test:
    """Is left a larger number than right? An unknown is above nothing."""
    result: Test = _operations(left, right).above(left, right)
    return result


def same(left: object, right: object) -> Test:
    """Are two texts, or two numbers, the same?"""
    result: Test = _operations(left, right).same(left, right)
    return result


def both(*tests: Test) -> Test:
    """Do all the tests hold?"""
    result: Test = _operations(*tests).both(*tests)
    return result


def either(*tests: Test) -> Test:
    """Does one of the tests hold?"""
    result: Test = _operations(*tests).either(*tests)
    return result


def opposite(test: Test) -> Test:
    """Does the test fail?"""
    result: Test = _operations(test).opposite(test)
    return result


def choose(test: Test, then: Any, otherwise: Any) -> Any:
    """One of two values, as the test says; either may be a text or UNKNOWN."""
    return _operations(test).choose(test, then, otherwise)


def only_if(test: Test, value: N) -> N:
    """The value where the test holds, otherwise UNKNOWN."""
    result: N = choose(test, value, UNKNOWN)
    return result


def joined(*texts: Words) -> Words:
    """The texts one after another."""
    result: Words = _operations(*texts).joined(*texts)
    return result


Rule = TypeVar("Rule", bound=Callable[..., Any])


def meets_unknowns(rule: Rule) -> Rule:
    """Mark a rule that is called even where an argument is unknown."""
    rule.meets_unknowns = True  # type: ignore[attr-defined]  # functions take attributes
    return rule


def asks_for(*names: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Mark a rule of as many arguments as a list has entries: these are their names."""
    keyword = Parameter.POSITIONAL_OR_KEYWORD

    def named(body: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(body)
        def rule(*values: Any, **others: Any) -> Any:
            return body(*values, *(others[name] for name in names[len(values) :]))

        rule.__signature__ = Signature(  # type: ignore[attr-defined]  # inspect looks for it
            [Parameter(name, keyword) for name in names]
        )
        return rule

    return named
