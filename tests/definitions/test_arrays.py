"""Every rule over arrays gives, case by case, what it gives with Decimal."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from math import isclose, isnan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costbook.deciding.arrays import Array, across, array_of
from costbook.definitions import rules
from costbook.definitions.algebra import UNKNOWN, known
from costbook.definitions.columns import Computed
from tests.definitions.rule_cases import CASES, RULES, Case, Figure
from tests.definitions.test_rules import figure_of


def value(figure: Figure) -> Decimal | str | None:
    if isinstance(figure.value, Fraction):
        return Decimal(figure.value.numerator) / figure.value.denominator
    return figure.value


def agree(found: object, expected: object) -> bool:
    if isinstance(expected, str) or isinstance(found, str):
        return found == expected
    if not known(expected):
        return isnan(found)  # type: ignore[arg-type]  # a number, as it is no text
    return isclose(found, float(expected), rel_tol=1e-12)  # type: ignore[arg-type]  # the same


def by_argument(how: Computed, cases: list[Case]) -> Mapping[str, Array]:
    """All cases of a rule as one array an argument."""
    columns = zip(*(case.arguments for case in cases), strict=True)
    return {
        name: array_of([value(figure) for figure in column])
        for name, column in zip(how.arguments, columns, strict=True)
    }


@pytest.mark.parametrize("name", sorted(RULES))
def test_all_cases_of_a_rule_at_once_are_each_of_them(name: str) -> None:
    how, cases = Computed(RULES[name]), [case for case in CASES if case.rule == name]
    found = across(how, by_argument(how, cases))
    expected = [figure_of(case) for case in cases]
    assert [agree(*pair) for pair in zip(found, expected, strict=True)] == [True] * len(cases)


def test_a_wrong_element_is_noticed() -> None:
    assert not agree(6.25, Decimal(6))
    assert not agree(0.0, UNKNOWN)
    assert not agree(float("nan"), Decimal(0))
    assert not agree("hold", "raise")


def test_one_constant_serves_every_case() -> None:
    found = across(
        Computed(rules.price_on_step),
        {"price_at_target": np.array([5.87, 6.01, np.nan]), "price_step": np.array(0.25)},
    )
    assert [
        agree(*pair) for pair in zip(found, (Decimal(6), Decimal("6.25"), UNKNOWN), strict=True)
    ]


def test_none_of_something_costs_nothing_whatever_else_is_unknown() -> None:
    how = Computed(rules.travel_per_day, "miles_per_day")
    found = across(how, {"miles_per_day": np.array([0.0, 2.0]), "cost_per_mile": np.array(np.nan)})
    assert found[0] == 0
    assert isnan(found[1])


def test_an_argument_left_out_is_named() -> None:
    with pytest.raises(KeyError, match="cost_per_mile"):
        across(Computed(rules.travel_per_day), {"miles_per_day": np.array([1.0])})


MONEY = st.decimals(min_value="0.01", max_value="500", places=4)
STEPS = st.sampled_from([Decimal("0.01"), Decimal("0.05"), Decimal("0.25"), Decimal(0), Decimal(1)])


@given(st.lists(st.tuples(MONEY, STEPS), min_size=1, max_size=40))
def test_a_price_lands_on_the_same_step_as_in_decimal(
    prices: list[tuple[Decimal, Decimal]],
) -> None:
    amounts, steps = zip(*prices, strict=True)
    given_arrays = {"price_at_target": array_of(amounts), "price_step": array_of(steps)}
    found = across(Computed(rules.price_on_step), given_arrays)
    expected = [rules.price_on_step(*each) for each in prices]
    assert [agree(*pair) for pair in zip(found, expected, strict=True)] == [True] * len(prices)
