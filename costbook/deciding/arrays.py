"""The rules over arrays: a thousand what-ifs at once, by the same functions as one figure.

Figures are floating point here, so they are for comparing many cases; a figure that is printed or
stored comes from ``costing``, which is exact. This is the only module that knows numpy.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import reduce
from typing import Any

import numpy as np

from costbook.definitions.algebra import operations_of
from costbook.definitions.columns import Computed

__all__ = ["Array", "across", "array_of"]

Array = np.ndarray[Any, np.dtype[Any]]
"""Figures or texts, one a case; a figure that is not known is NaN."""


def array_of(values: Sequence[Decimal | str | None]) -> Array:
    """Figures of the engine as an array: texts stay texts, an unknown becomes NaN."""
    if any(isinstance(value, str) for value in values):
        return np.array(["" if value is None else value for value in values], dtype=object)
    return np.array([np.nan if value is None else float(value) for value in values], dtype=float)


def across(how: Computed, values: Mapping[str, Array]) -> Array:
    """What a column's rule gives for every case, where the engine would give it; else NaN.

    ``values`` has an array for each argument of the rule; they are broadcast against each other.
    Raises KeyError for an argument that is left out.
    """
    given = dict(zip(values, np.broadcast_arrays(*values.values()), strict=True))
    arguments = [given[name] for name in how.arguments]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        result: Array = _plain(how.rule(*arguments))
    result = np.broadcast_to(result, arguments[0].shape)
    if result.dtype == object:
        return result
    if not how.meets_unknowns:
        unknown = reduce(np.logical_or, (_unknown(each) for each in arguments))
        result = np.where(unknown, np.nan, result)
    result = np.where(np.isinf(result), np.nan, result)  # divided by nothing
    if how.nothing_of:
        result = np.where(given[how.nothing_of] == 0, 0.0, result)
    return result


class _Elementwise:
    """Operations on arrays: each element as the exact operations would have it."""

    def up_to_step(self, amount: Any, step: Any) -> Array:
        stepped: Array = np.ceil(_steps(np.round(amount, 6) / step)) * step
        return np.where(step == 0, amount, stepped)

    def whole_up(self, amount: Any) -> Any:
        return np.ceil(np.round(amount, 6))

    def whole_down(self, amount: Any) -> Any:
        return np.floor(_steps(amount))

    def wholes_in(self, amount: Any) -> Any:
        return np.floor(np.round(amount, 6))

    def known(self, value: Any) -> Any:
        return np.logical_not(_unknown(value))

    def above(self, left: Any, right: Any) -> Any:
        return np.greater(_plain(left), _plain(right))

    def same(self, left: Any, right: Any) -> Any:
        return np.equal(left, right).astype(bool)

    def both(self, *tests: Any) -> Any:
        return reduce(np.logical_and, tests)

    def either(self, *tests: Any) -> Any:
        return reduce(np.logical_or, tests)

    def opposite(self, test: Any) -> Any:
        return np.logical_not(test)

    def choose(self, test: Any, then: Any, otherwise: Any) -> Array:
        chosen: Array = np.where(test, _plain(then), _plain(otherwise))
        return chosen

    def joined(self, *texts: Any) -> Any:
        return reduce(np.add, (np.asarray(text, dtype=object) for text in texts))


def _steps(amount: Any) -> Any:
    """An amount without the noise of its last digits, so that 12 steps are never 13."""
    near = np.round(amount)
    return np.where(np.abs(amount - near) <= 1e-9 * np.maximum(1.0, np.abs(near)), near, amount)


def _plain(value: Any) -> Array:
    """A constant of a rule as an element: its texts are objects, its UNKNOWN is NaN."""
    if isinstance(value, str):
        return np.asarray(value, dtype=object)
    return np.asarray(float(value) if isinstance(value, Decimal) else value)


def _unknown(value: Any) -> Array:
    array = np.asarray(value)
    return np.isnan(array) if array.dtype == float else np.zeros(array.shape, dtype=bool)


@operations_of.register(np.ndarray)
@operations_of.register(np.generic)
def _(_number: object) -> Any:
    return _ELEMENTWISE


_ELEMENTWISE = _Elementwise()
