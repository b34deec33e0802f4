"""The books of these tests, each costed once for the whole run."""

from __future__ import annotations

import os
from collections.abc import Callable

import pytest

from tests.live.books import SAMPLE_BOOKS
from tests.live.following import Costed, costed

__all__ = ["Books", "books"]

Books = Callable[[str], Costed]

EDITS = int(os.environ.get("COSTBOOK_LIVE_EDITS", "200"))
SEED = 1


def edits_of(name: str) -> int:
    """How often a book is edited in LibreOffice: the samples as often as can be afforded."""
    return EDITS if name in SAMPLE_BOOKS else EDITS // 2 if name == "odd" else EDITS // 4


@pytest.fixture(scope="session")
def books(tmp_path_factory: pytest.TempPathFactory) -> Books:
    """Gives a book by its name, costed."""
    made: dict[str, Costed] = {}

    def book(name: str) -> Costed:
        if name not in made:
            made[name] = costed(name, tmp_path_factory.mktemp("live"))
        return made[name]

    return book
