"""What changes in a folder, as the system tells it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from watchfiles import watch

__all__ = ["changes"]

_GATHERED: Final = 400
"""How long changes that follow each other are gathered [milliseconds]."""
_LOOKED_AGAIN: Final = 1000
"""After how long nothing is told, so that what waits can be looked at again [milliseconds]."""


def changes(folder: Path) -> Iterator[set[Path]]:
    """Sets of files that were made, written, renamed or removed; an empty one now and then.

    Goes on for ever; Ctrl-C raises KeyboardInterrupt.
    """
    for found in watch(
        folder,
        watch_filter=None,
        debounce=_GATHERED,
        rust_timeout=_LOOKED_AGAIN,
        yield_on_timeout=True,
        raise_interrupt=True,
        recursive=False,
        ignore_permission_denied=True,
    ):
        yield {Path(path) for _, path in found}
