"""The books of these tests, each costed once for the whole run."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.live.following import Costed, costed

__all__ = ["Books", "books"]

Books = Callable[[str], Costed]


@pytest.fixture(scope="session")
def books(tmp_path_factory: pytest.TempPathFactory) -> Books:
    """Gives a book by its name, costed."""
    made: dict[str, Costed] = {}

    def book(name: str) -> Costed:
        if name not in made:
            made[name] = costed(name, tmp_path_factory.mktemp("live"))
        return made[name]

    return book
