"""Files put on the disk so that they are there whole or not at all.

Each step is a plain call of the system, so that the tests can stop before, in and after each.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Final

__all__ = [
    "clear_unfinished",
    "fitting",
    "named",
    "new_file_rights",
    "removed",
    "settle",
    "take_over_rights",
    "unfinished",
]

_UNFINISHED: Final = ".costbook-unfinished"
_LONGEST_NAME: Final = 255  # bytes, on nearly every disk
_NEW_FILE: Final = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)


def fitting(name: str, beside: int) -> str:
    """The name, or as much of it that so many bytes fit beside it, with what tells it from others.

    The same name always gives the same; a letter is never cut in two.
    """
    whole = os.fsencode(name)
    if len(whole) + beside <= _LONGEST_NAME:
        return name
    which = f"~{hashlib.sha256(whole).hexdigest()[:8]}"
    room = _LONGEST_NAME - beside - len(which)
    kept = name
    while len(os.fsencode(kept)) > room:
        kept = kept[:-1]
    return f"{kept}{which}"


@contextlib.contextmanager
def unfinished(target: Path, contents: bytes) -> Iterator[Path]:
    """The complete new file beside the target, under a name of its own; gone afterwards."""
    path = target.with_name(f"{_start_of(target.name)}{os.getpid()}")
    try:
        _written(path, contents)
        yield path
    finally:
        removed(path)


def _start_of(name: str) -> str:
    """How the names of unfinished files for a file begin; the number of the run follows."""
    return f".{fitting(name, len(_UNFINISHED) + 12)}{_UNFINISHED}-"


def _written(path: Path, contents: bytes) -> None:
    """A new file with these contents, on the disk when this returns; read back to be sure."""
    handle = os.open(path, _NEW_FILE, 0o600)
    try:
        rest = memoryview(contents)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    finally:
        os.close(handle)
    if path.read_bytes() != contents:
        raise OSError(errno.EIO, "the disk gave back other bytes than it was given")


def clear_unfinished(folder: Path, name: str = "") -> None:
    """Remove what a run that was killed left in a folder: for a file of this name, or for any."""
    start = _start_of(name) if name else "."
    for path in folder.iterdir():
        if path.name.startswith(start) and _UNFINISHED in path.name:
            removed(path)


def removed(path: Path) -> None:
    """Delete a file of ours if it is there; if it can't be, it harms nobody."""
    with contextlib.suppress(OSError):
        path.unlink()


def named(complete: Path, path: Path) -> None:
    """Give the complete file its name. Raises FileExistsError when a file has it by now."""
    try:
        os.link(complete, path)
    except FileExistsError:
        raise
    except OSError as error:  # a disk without links, such as a memory stick
        if os.path.lexists(path):
            raise FileExistsError(errno.EEXIST, "it is there", str(path)) from error
        complete.replace(path)


def new_file_rights(path: Path) -> None:
    """Give a file the rights that new files of this person get."""
    withheld = os.umask(0o077)
    os.umask(withheld)
    path.chmod(0o666 & ~withheld)


def take_over_rights(source: Path, path: Path) -> None:
    """Give the new file the old one's rights, and its owner and labels where that is allowed."""
    status = source.stat()
    if hasattr(os, "chown"):
        with contextlib.suppress(OSError):
            os.chown(path, status.st_uid, status.st_gid)
    path.chmod(stat.S_IMODE(status.st_mode))
    if hasattr(os, "listxattr"):
        with contextlib.suppress(OSError):
            for name in os.listxattr(source):
                os.setxattr(path, name, os.getxattr(source, name))


def settle(folder: Path) -> None:
    """Make the move itself last through a power cut, where the system offers that."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
