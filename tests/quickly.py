"""Figures without the sheets: for tests that ask `cost --json` hundreds of times."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from costbook import write_back
from costbook.round_trip import Costed
from costbook.write_back import Written

__all__ = ["figures_only", "undrawn"]


def _nowhere(costed: Costed, *_where: object, **_how: object) -> Written:
    return Written(costed.path, None, ())


@contextmanager
def undrawn() -> Iterator[None]:
    """`cost` reads, costs and answers, but draws no sheets, which is nine tenths of its time.

    The answer is complete before a sheet is drawn; what the sheets hold has tests of its own.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(write_back, "write", _nowhere)
        yield


@pytest.fixture(scope="module", autouse=True)
def figures_only() -> Iterator[None]:
    """No test of the module draws sheets."""
    with undrawn():
        yield
