"""The books of these tests, each costed once for the whole run."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest

from tests.judges.edits import random_changes
from tests.judges.libreoffice import LibreOffice
from tests.live.books import LONGEST_FIRST, SAMPLE_BOOKS
from tests.live.following import Costed, Tally, costed, differences

__all__ = ["Books", "Followed", "books", "followed"]

Books = Callable[[str], Costed]
Followed = Callable[[str], Tally]

EDITS = int(os.environ.get("COSTBOOK_LIVE_EDITS", "200"))
SEED = 1
IN_LIBREOFFICE = "test_libreoffice_shows_what_a_new_run_gives"


def edits_of(name: str) -> int:
    """How often a book is edited in LibreOffice: the samples as often as can be afforded."""
    return EDITS if name in SAMPLE_BOOKS else EDITS // 2 if name == "odd" else EDITS // 4


def in_libreoffice(name: str, folder: Path) -> Tally:
    """Follow one book in a LibreOffice of its own."""
    folder.mkdir()
    with LibreOffice() as office:
        book = costed(name, folder)
        return differences(office, book, random_changes(book.book, SEED, edits_of(name)))


@pytest.fixture(scope="session")
def followed(
    request: pytest.FixtureRequest,
    libreoffice: LibreOffice,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Followed]:
    """How a book was followed in LibreOffice: two at a time, since each keeps one core busy."""
    wanted = [
        str(item.callspec.params["name"])
        for item in request.session.items
        if isinstance(item, pytest.Function) and item.originalname == IN_LIBREOFFICE
    ]
    folder = tmp_path_factory.mktemp("followed")
    # the longest first, so that none is left to run alone
    order = sorted(wanted, key=LONGEST_FIRST.index)
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        tallies = {name: pool.submit(in_libreoffice, name, folder / name) for name in order}
        yield lambda name: tallies[name].result()
        pool.shutdown(cancel_futures=True)


@pytest.fixture(scope="session")
def books(tmp_path_factory: pytest.TempPathFactory) -> Books:
    """Gives a book by its name, costed."""
    made: dict[str, Costed] = {}

    def book(name: str) -> Costed:
        if name not in made:
            made[name] = costed(name, tmp_path_factory.mktemp("live"))
        return made[name]

    return book
