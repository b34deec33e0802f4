"""Figures without the sheets: for tests that ask `cost --json` hundreds of times."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

__all__ = ["figures_only"]


@pytest.fixture(scope="module", autouse=True)
def figures_only() -> Iterator[None]:
    """`cost` reads, costs and answers, but draws no sheets, which is nine tenths of its time.

    The answer is complete before a sheet is drawn; what the sheets hold has tests of its own.
    """
    from costbook import commands

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(commands, "write", lambda costed, _other: (costed.path, None, []))
        yield
