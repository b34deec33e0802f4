"""Which of the workbooks that changed are to be priced now, and never twice for one saving."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

from costbook.keeping.replacing import Fingerprint, fingerprint_of
from costbook.watching.held import beside, held_by, is_beside, whole
from costbook.watching.pricing import Priced, priced

__all__ = ["Watcher"]

_ENDINGS: Final = (".xlsx", ".xlsm", ".ods")
_HIDDEN: Final = (".", "~")
_PATIENCE: Final = 5
"""Looks at a file that doesn't become a whole workbook before it is said what is wrong with it."""


class Watcher:
    """Looks after one workbook, or all in a folder: each is priced once it was saved.

    One that another program has open is priced beside it, and into it once it is let go, which is
    looked at whether a change tells of it or not.
    """

    def __init__(self, watched: Path) -> None:
        self.folder = watched if watched.is_dir() else watched.parent
        self._only = None if watched.is_dir() else watched.name
        self._waiting: set[Path] = set()
        self._done: dict[Path, Fingerprint] = {}
        self._beside: dict[Path, Fingerprint] = {}
        self._looks: dict[Path, int] = {}

    def look(self, changed: Iterable[Path]) -> Iterator[Priced]:
        """Price what was saved, of these files and of those that wait."""
        here = (self.folder / path.name for path in changed)
        self._waiting.update(filter(self._is_ours_to_price, here))
        for path in sorted(self._waiting):
            yield from self._look_at(path)

    def _is_ours_to_price(self, path: Path) -> bool:
        named = self._only in (None, path.name)
        plain = not path.name.startswith(_HIDDEN) and path.suffix.lower() in _ENDINGS
        return named and plain and not is_beside(path)

    def _look_at(self, path: Path) -> Iterator[Priced]:
        content = self._content(path)
        if content is None:
            return
        now, held = fingerprint_of(content), held_by(path)
        if now == self._done.get(path):
            self._waiting.discard(path)
        elif not (held and now == self._beside.get(path)):
            if held:  # a copy that costbook wrote needs no backup
                self._take_away(beside(path))
            run = priced(path)
            self._settle(path, now, run)
            yield run

    def _content(self, path: Path) -> bytes | None:
        """What the workbook holds, once it is whole; broken too, after some looks."""
        content = whole(path)
        looks = self._looks.pop(path, 0) + 1
        if content is None and not path.exists():
            self._waiting.discard(path)
        elif content is None and looks >= _PATIENCE:
            with contextlib.suppress(OSError):
                return path.read_bytes()
        elif content is None:
            self._looks[path] = looks
        return content

    def _settle(self, path: Path, was: Fingerprint, run: Priced) -> None:
        """Remember what was priced and what was written, so that neither is priced again."""
        if run.written is not None and run.written != path:
            self._remember(run.written)
        if run.open_in and run.written is not None:
            self._beside[path] = was
            return
        self._waiting.discard(path)
        self._done[path] = was
        if run.written == path:
            self._remember(path)
            self._beside.pop(path, None)
            self._take_away(beside(path))

    def _remember(self, path: Path) -> None:
        with contextlib.suppress(OSError):
            self._done[path] = fingerprint_of(path.read_bytes())

    def _take_away(self, copy: Path) -> None:
        """The copy beside the workbook, which holds it all now; not one that somebody changed."""
        with contextlib.suppress(OSError):
            ours = self._done.pop(copy, None)
            if ours is not None and fingerprint_of(copy.read_bytes()) == ours and not held_by(copy):
                copy.unlink()
