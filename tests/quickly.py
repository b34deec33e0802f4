"""Figures without the sheets: for tests that ask `cost --json` hundreds of times."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from costbook.problems import Problem
from costbook.round_trip import Costed

__all__ = ["figures_only", "written_nowhere"]


Written = tuple[Path, Path | None, list[Problem]]


def written_nowhere(costed: Costed, *_where: object, **_how: object) -> Written:
    """In the place of `commands.write`: nothing is drawn, and nothing is written."""
    return costed.path, None, []


@pytest.fixture(scope="module", autouse=True)
def figures_only() -> Iterator[None]:
    """`cost` reads, costs and answers, but draws no sheets, which is nine tenths of its time.

    The answer is complete before a sheet is drawn; what the sheets hold has tests of its own.
    """
    from costbook import commands

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(commands, "write", written_nowhere)
        yield
