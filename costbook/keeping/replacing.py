"""The person's workbook kept whole while it is replaced.

The order of the steps is the promise: nothing touches the workbook until a dated copy of it and
the complete new file lie on the disk, and then one step moves the new file over. Killed at any
moment, the old or the new workbook stands there whole.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from costbook.files import locks_of
from costbook.keeping.alone import alone
from costbook.keeping.backups import Backup, backed_up, folder, forget_oldest
from costbook.keeping.disk import (
    clear_unfinished,
    named,
    new_file_rights,
    settle,
    take_over_rights,
    unfinished,
)
from costbook.problems import Refused

__all__ = [
    "Fingerprint",
    "Wrote",
    "create",
    "fingerprint",
    "fingerprint_of",
    "other_names",
    "replace_safely",
    "unheard",
]

_NO_ROOM: Final = (errno.ENOSPC, errno.EDQUOT)
_WRITABLE_BY_ANYONE: Final = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH

Wrote = Callable[[Path, Path | None], None]
"""Takes the file that stands there new, and the backup of the one before it."""


def unheard(_path: Path, _backup: Path | None) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Fingerprint:
    """What a file held when it was read, in short: equal fingerprints are equal contents."""

    size: int
    digest: str


def fingerprint_of(contents: bytes) -> Fingerprint:
    """The fingerprint of bytes already read."""
    return Fingerprint(len(contents), hashlib.sha256(contents).hexdigest())


def fingerprint(path: Path) -> Fingerprint:
    """The fingerprint of a file as it is now. Raises Refused when it can't be read."""
    return fingerprint_of(_contents(path))


def other_names(target: Path) -> int:
    """Under how many further names the file stands on its disk (hard links)."""
    try:
        return max(target.stat().st_nlink - 1, 0)
    except OSError:
        return 0


def replace_safely(
    target: Path, new: bytes, read_as: Fingerprint, today: date, wrote: Wrote = unheard
) -> Path | None:
    """Put the new contents in the workbook's place, and return where its backup lies.

    None when there was nothing to change: no backup is made then either. `read_as` is the
    fingerprint of what the new contents were made from; `wrote` is told once the new ones stand
    there, however the run ends after that. Raises Refused, with the workbook as it was: open
    elsewhere, changed meanwhile, a second run, read-only, no room on the disk.
    """
    real = target.resolve()
    with _said_plainly(real), alone(real):
        old = _contents(real)
        _refuse_changed(real, fingerprint_of(old), read_as)
        if old == new:
            return None
        _refuse_open(real)
        _refuse_read_only(real)
        clear_unfinished(real.parent, real.name)
        backup = backed_up(real, old, today)
        _moved_over(real, new, read_as, backup, wrote)
        settle(real.parent)
        forget_oldest(real)
        return backup.path


def _moved_over(
    target: Path, new: bytes, read_as: Fingerprint, backup: Backup, wrote: Wrote
) -> None:
    """Move the new file over the old one, if that still is what was read.

    An interruption may come just after the move, so what stands there tells how it ended.
    """
    try:
        with unfinished(target, new) as complete:
            take_over_rights(target, complete)
            _refuse_changed(target, fingerprint(target), read_as)
            _refuse_open(target)
            complete.replace(target)
        wrote(target, backup.path)
    except BaseException:
        with contextlib.suppress(Refused):
            now = fingerprint(target)
            if now == read_as:
                backup.take_back()
            elif now == fingerprint_of(new):
                wrote(target, backup.path)
        raise


def create(path: Path, new: bytes, wrote: Wrote = unheard) -> None:
    """Write a new file, whole or not at all; `wrote` is told once it stands there.

    Raises Refused: something of that name is there, the folder is missing or can't be written
    in, no room on the disk.
    """
    real = path.resolve()
    with _said_plainly(real), alone(real):
        _refuse_present(real)
        _refuse_open(real)
        try:
            with unfinished(real, new) as complete:
                new_file_rights(complete)
                named(complete, real)
            wrote(real, None)
        except KeyboardInterrupt:
            with contextlib.suppress(Refused):
                if fingerprint(real) == fingerprint_of(new):
                    wrote(real, None)
            raise
        settle(real.parent)


@contextlib.contextmanager
def _said_plainly(target: Path) -> Iterator[None]:
    """Turn what the system says into a sentence for the person."""
    try:
        yield
    except OSError as error:
        raise _sentence(error, target) from error


def _sentence(error: OSError, target: Path) -> Refused:
    unharmed = "nothing was changed."
    if error.errno in _NO_ROOM:
        return Refused(
            "There is no room left on the disk.",
            f"Free some, then run costbook again; {unharmed}",
        )
    if isinstance(error, FileExistsError):
        return _present(Path(error.filename2 or error.filename or target))
    if error.errno == errno.ENAMETOOLONG:
        return Refused(
            f"The name {target.name} is too long for this disk.",
            f"Give the workbook a shorter one, then run costbook again; {unharmed}",
        )
    if isinstance(error, PermissionError) and _in_backups(error, target):
        return Refused(
            f"costbook may not write in the folder {folder(target)}, where the copy of your "
            "workbook as it was belongs.",
            f"Give that folder another name, so that a new one is made, or get the right to write "
            f"in it; {unharmed}",
        )
    if isinstance(error, PermissionError) or error.errno == errno.EROFS:
        return Refused(
            f"costbook may not write in the folder {target.parent}, or {target.name} is open in"
            " another program.",
            "Close it there; or copy the workbook to a folder of your own, or name another file"
            f" with --output; {unharmed}",
        )
    if isinstance(error, FileNotFoundError):
        return Refused(f"There is no folder {target.parent}.", "Make it, or name another.")
    what = error.strerror or "the disk didn't take it"
    return Refused(f"{target.name} couldn't be written: {what}.", f"Run again; {unharmed}")


def _in_backups(error: OSError, target: Path) -> bool:
    """Whether it is the folder for the backups, there already, that didn't take a file."""
    place = folder(target)
    said = (error.filename, error.filename2)
    names = [Path(each) for each in said if isinstance(each, str | os.PathLike)]
    return place.is_dir() and any(place in (each, each.parent) for each in names)


def _contents(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError as error:
        raise Refused(
            f"There is no file {path.name} in {path.parent}.", "Check the name."
        ) from error
    except OSError as error:
        raise Refused(
            f"{path.name} can't be read: {error.strerror or 'the disk gave no reason'}.",
            "If it is open in another program, close it there and run costbook again.",
        ) from error


def _refuse_changed(target: Path, now: Fingerprint, read_as: Fingerprint) -> None:
    if now != read_as:
        raise Refused(
            f"{target.name} was changed by another program while costbook was working on it.",
            "Nothing was written. Run costbook again, so that it costs what is there now.",
        )


def _refuse_open(target: Path) -> None:
    """Refuse while another program's lock file says that it has the workbook open."""
    for name, program in locks_of(target.name):
        if os.path.lexists(target.with_name(name)):
            raise Refused(
                f"{target.name} is open in {program}, which would write over what costbook writes.",
                f"Save and close it there, then run costbook again. If it is open nowhere, delete"
                f" the file {name} beside it, which {program} left behind.",
            )


def _refuse_read_only(target: Path) -> None:
    if not target.stat().st_mode & _WRITABLE_BY_ANYONE or not os.access(target, os.W_OK):
        raise Refused(
            f"{target.name} is read-only.",
            "Take that off in the file's properties, or name another file with --output.",
        )


def _refuse_present(path: Path) -> None:
    if os.path.lexists(path):
        raise _present(path)


def _present(path: Path) -> Refused:
    return Refused(
        f"{path.name} is already there, and costbook doesn't write over it.",
        "Give another name, or move that file away.",
    )
