"""Dated copies of the person's workbook, made before each time that costbook writes into it.

    stall.xlsx
    stall backups/stall (before 2026-11-25 1).xlsx

The number counts the copies of one day. A copy is never written over; the last ten are kept.
"""

from __future__ import annotations

import contextlib
import os
import re
from datetime import date
from pathlib import Path
from typing import Final

from costbook.keeping.disk import (
    clear_unfinished,
    named,
    removed,
    settle,
    take_over_rights,
    unfinished,
)

__all__ = ["KEPT", "backed_up", "folder", "forget_oldest", "taken_back"]

KEPT: Final = 10
"""How many backups of a workbook are kept."""


def folder(target: Path) -> Path:
    """The folder for the backups of a workbook."""
    return target.with_name(f"{target.stem} backups")


def _kept(target: Path) -> list[tuple[str, int, Path]]:
    """The backups there, the oldest first: day, number, file."""
    shape = re.compile(
        rf"{re.escape(target.stem)} \(before (\d{{4}}-\d\d-\d\d) (\d+)\){re.escape(target.suffix)}"
    )
    place = folder(target)
    files = list(place.iterdir()) if place.is_dir() else []
    found = ((shape.fullmatch(path.name), path) for path in files)
    return sorted((match[1], int(match[2]), path) for match, path in found if match)


def backed_up(target: Path, contents: bytes, today: date) -> Path:
    """A copy of the workbook under a name that no backup had; its own date and rights kept.

    A folder that was made for it goes again if that fails: nothing was changed is to be true.
    """
    place = folder(target)
    place.mkdir(exist_ok=True)
    try:
        return _copied(target, contents, place, today.isoformat())
    except BaseException:
        _cleared(place)
        raise


def _copied(target: Path, contents: bytes, place: Path, day: str) -> Path:
    clear_unfinished(place, f"{target.stem} (before ")
    number = max((each for when, each, _ in _kept(target) if when == day), default=0) + 1
    path = place / f"{target.stem} (before {day} {number}){target.suffix}"
    with unfinished(path, contents) as complete:
        take_over_rights(target, complete)
        status = target.stat()
        os.utime(complete, ns=(status.st_atime_ns, status.st_mtime_ns))
        named(complete, path)
    settle(place)
    return path


def taken_back(backup: Path) -> None:
    """Delete a backup that nothing was written after, and its folder if that is empty then."""
    removed(backup)
    _cleared(backup.parent)


def _cleared(place: Path) -> None:
    with contextlib.suppress(OSError):  # other backups lie in it
        place.rmdir()


def forget_oldest(target: Path) -> None:
    """Delete the backups beyond the last ten; what can't be deleted harms nobody."""
    with contextlib.suppress(OSError):
        for *_, path in _kept(target)[:-KEPT]:
            removed(path)
