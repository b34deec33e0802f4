"""Rules over arrays say what they say of exact figures, each case worked by hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any

import pytest

from costbook.deciding.arrays import across, array_of
from costbook.definitions.algebra import (
    above,
    choose,
    known,
    meets_unknowns,
    same,
    up_to_step,
    whole_down,
)
from costbook.definitions.columns import Computed

Figure = Decimal | str | None


def said(rule: Callable[..., Any], **columns: Sequence[str | None]) -> list[str]:
    """What a rule gives case by case; figures are given as texts, words in quotes."""
    given = {name: array_of([_figure(each) for each in cases]) for name, cases in columns.items()}
    return [f"{each:.10g}" for each in across(Computed(rule), given)]


def _figure(text: str | None) -> Figure:
    return text and (text.strip('"') if text.startswith('"') else Decimal(text))


def test_texts_stay_texts_and_one_that_is_not_known_is_empty() -> None:
    assert array_of(["kg", None]).tolist() == ["kg", ""]


def test_of_an_unknown_nothing_is_known_though_it_is_above_nothing() -> None:
    def dearer(price: Any) -> Any:
        return choose(above(price, 2), 1, 0)

    assert said(dearer, price=["3", None, "1"]) == ["1", "nan", "0"]


def test_a_rule_that_meets_unknowns_answers_for_them() -> None:
    @meets_unknowns
    def given(price: Any, other: Any) -> Any:
        return choose(known(price), price, other)

    assert said(given, price=["3", None], other=[None, "4"]) == ["3", "4"]


def test_a_word_is_no_unknown() -> None:
    def per_pack(per: Any, amount: Any) -> Any:
        return choose(same(per, "pack"), amount, amount * 6)

    assert said(per_pack, per=['"pack"', '"unit"'], amount=["2", "2"]) == ["2", "12"]


@pytest.mark.parametrize(
    ("amount", "step", "price"),
    [
        ("6.01", "0.25", "6.25"),
        ("12.0000004", "1", "12"),  # to a millionth first, as everywhere
        ("12.000001", "1", "13"),
        ("12.34", "0", "12.34"),  # without a step it is left
        ("3", "1", "3"),
    ],
)
def test_an_amount_is_taken_up_to_its_step(amount: str, step: str, price: str) -> None:
    def stepped(amount: Any, step: Any) -> Any:
        return up_to_step(amount, step)

    assert said(stepped, amount=[amount], step=[step]) == [price]


def test_whole_numbers_are_counted_without_the_noise_of_floating_point() -> None:
    """4.35 x 100 is 435, and 8.2 x 100,000,000 is 820,000,000; as floats both are a little less."""
    assert 4.35 * 100 < 435
    assert 8.2 * 1e8 < 82e7

    def whole(amount: Any, times: Any) -> Any:
        return whole_down(amount * times)

    assert said(whole, amount=["4.35", "8.2", "2.999"], times=["100", "1e8", "1"]) == [
        *("435", "820000000"),
        "2",
    ]
