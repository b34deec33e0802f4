"""Every rule proves its own dimensions: quantities with units in, a quantity of the right unit out.

The units stand beside the numbers of the hand-worked cases. A rule is called with pint's
quantities, so that money added to minutes, or a price per gram times an amount in pieces, fails.
Sizes are proved elsewhere; here only kinds count (an hour and a minute are one kind).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Context, Decimal, localcontext
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from pint import DimensionalityError, Quantity

from costbook.definitions import units
from costbook.definitions.algebra import operations_of
from tests.definitions.rule_cases import CASES, RULES, Case, Figure

MORE = (
    "unit = [unit]",  # what a batch starts, and what an outlet sells
    "pack = [pack]",  # what a product is
    "year = [calendar]",
    "week = year / 52",
    "day = week / 7",
    "odd = [oddity]",  # belongs nowhere
)


@cache
def registry() -> Any:
    """A registry of the test's own, with the kinds that only proofs know."""
    ours = units.registry.__wrapped__()
    for definition in MORE:
        ours.define(definition)
    return ours


class Truth:
    """The answer to a test, which is either."""


class Text:
    """Some text or other."""


class OfOneKind:
    """Operations that ask of their parts only that they are of one kind."""

    def up_to_step(self, amount: Any, step: Any) -> Any:
        return alike(amount, step)

    def whole_up(self, amount: Any) -> Any:
        return amount

    def whole_down(self, amount: Any) -> Any:
        return amount

    def wholes_in(self, amount: Any) -> Any:
        return amount

    def known(self, _value: Any) -> Truth:
        return Truth()

    def above(self, left: Any, right: Any) -> Truth:
        alike(left, right)
        return Truth()

    def same(self, left: Any, right: Any) -> Truth:
        if not isinstance(left, Text):
            alike(left, right)
        return Truth()

    def both(self, *_tests: Any) -> Truth:
        return Truth()

    def either(self, *_tests: Any) -> Truth:
        return Truth()

    def opposite(self, _test: Any) -> Truth:
        return Truth()

    def choose(self, _test: Any, then: Any, otherwise: Any) -> Any:
        if isinstance(then, Text | str) or isinstance(otherwise, Text | str):
            return Text()
        return alike(then, otherwise)

    def joined(self, *_texts: Any) -> Text:
        return Text()


def alike(left: Any, right: Any) -> Any:
    """One of two quantities of one kind; a bare number in a rule (0, 1, unknown) is of any kind.

    Raises DimensionalityError.
    """
    if not isinstance(left, Quantity):
        return right
    return left if not isinstance(right, Quantity) else left + 0 * right


for kind in (Quantity, Truth, Text):

    @operations_of.register(kind)
    def _(_number: object) -> Any:
        return OfOneKind()


def quantity(figure: Figure) -> Any:
    """A figure as something that knows its kind; an unknown one is 1 of it."""
    if isinstance(figure.value, str):
        return Text()
    value = Fraction(1) if figure.value is None else figure.value
    return registry().Quantity(Decimal(value.numerator) / value.denominator, figure.unit)


def fault(case: Case) -> str:
    """What is wrong with the units of a case, if anything."""
    try:
        with localcontext(
            Context(traps=[])
        ):  # only kinds count: what is divided by nothing has one too
            found = RULES[case.rule](*map(quantity, case.arguments))
    except DimensionalityError as error:
        return str(error)
    if isinstance(case.result.value, str):
        return "" if isinstance(found, Text) else f"{found} is no text"
    if not isinstance(found, Quantity):  # a bare number
        found = registry().Quantity(Decimal(1), "")
    expected = quantity(case.result)
    if found.dimensionality != expected.dimensionality:
        return f"{found.units} is not {expected.units}"
    return ""


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.text.split("|")[0].strip())
def test_the_units_of_a_rule_come_out_right(case: Case) -> None:
    assert fault(case) == ""


def with_one_unit_wrong(case: Case) -> Iterator[Case]:
    """The case with each of its arguments that has a unit given another one in turn."""
    for at, argument in enumerate(case.arguments):
        if argument.unit:
            wrong = replace(argument, unit=f"{argument.unit}*odd")
            rest = case.arguments[:at], case.arguments[at + 1 :]
            yield replace(case, arguments=(*rest[0], wrong, *rest[1]))


def test_a_wrong_unit_is_noticed_wherever_it_stands() -> None:
    cases = [case for case in CASES if not isinstance(case.result.value, str)]
    wrong = [(case.text, each) for case in cases for each in with_one_unit_wrong(case)]
    assert len(wrong) > 250
    assert [text for text, each in wrong if fault(each) == ""] == []


def test_a_wrong_unit_is_told_in_words() -> None:
    case = next(case for case in CASES if case.rule == "day_costs")
    assert fault(next(with_one_unit_wrong(case))) == (
        "Cannot convert from 'money * odd / day' ([oddity] * [money] / [calendar]) to "
        "'money / day' ([money] / [calendar])"
    )
