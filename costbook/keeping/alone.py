"""One run of costbook at a time on one workbook.

The lock is the system's own: it ends with the program that holds it, however that ends. It is held
on an empty file in the folder for temporary files, not beside the workbook; the file stays there,
one for each workbook, since taking it away could let two runs in.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from costbook.problems import Refused

__all__ = ["alone"]

_LOCK_FILE: Final = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)

if sys.platform == "win32":
    import msvcrt

    def _locked(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _locked(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


@contextlib.contextmanager
def alone(target: Path) -> Iterator[None]:
    """Hold the workbook for this run. Raises Refused while another run holds it."""
    try:
        handle = os.open(_lock_of(target), _LOCK_FILE, 0o600)
    except OSError:  # no folder for temporary files: a second run is still seen by its changes
        yield
        return
    try:
        if not _locked(handle):
            raise Refused(
                f"Another run of costbook is writing {target.name}.",
                "Wait until it has finished, then run this one again.",
            )
        yield
    finally:
        os.close(handle)


def _lock_of(target: Path) -> Path:
    """The lock's file: one for each workbook and person."""
    who = os.getuid() if hasattr(os, "getuid") else 0
    which = hashlib.sha256(os.fsencode(os.path.normcase(target))).hexdigest()[:24]
    return Path(tempfile.gettempdir()) / f"costbook-{who}-{which}.lock"
