"""Dated copies of the person's workbook, made before each time that costbook writes into it.

    stall.xlsx
    stall backups/stall (before 2026-11-25 1).xlsx

The number counts the copies of one day. A copy is never written over; ten are kept, of earlier days
the first before the others, so that a day of many savings doesn't push out all days before it.
"""

from __future__ import annotations

import contextlib
import os
import re
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from costbook.keeping.disk import (
    clear_unfinished,
    fitting,
    named,
    removed,
    settle,
    take_over_rights,
    unfinished,
)

__all__ = ["KEPT", "Backup", "backed_up", "folder", "forget_oldest"]

KEPT: Final = 10
"""How many backups of a workbook are kept."""


_ENDING: Final = len(" (before 2026-11-25 999999)")


def folder(target: Path) -> Path:
    """The folder for the backups of a workbook."""
    return target.with_name(f"{_stem(target)} backups")


def _stem(target: Path) -> str:
    """The workbook's name without its ending, cut where no date would fit behind it."""
    return fitting(target.stem, len(os.fsencode(target.suffix)) + _ENDING)


def _kept(target: Path) -> list[tuple[str, int, Path]]:
    """The backups there, the oldest first: day, number, file."""
    stem, ending = re.escape(_stem(target)), re.escape(target.suffix)
    shape = re.compile(rf"{stem} \(before (\d{{4}}-\d\d-\d\d) (\d+)\){ending}")
    place = folder(target)
    files = list(place.iterdir()) if place.is_dir() else []
    found = ((shape.fullmatch(path.name), path) for path in files)
    return sorted((match[1], int(match[2]), path) for match, path in found if match)


@dataclass(frozen=True, slots=True)
class Backup:
    """A copy of the workbook, and whether its folder was made for it."""

    path: Path
    new_folder: bool

    def take_back(self) -> None:
        """Delete it, as nothing was written after it."""
        removed(self.path)
        if self.new_folder:
            _unmade(self.path.parent)


def _unmade(place: Path) -> None:
    """Delete a folder that was made in vain, so that "nothing was changed" is true."""
    with contextlib.suppress(OSError):  # something lies in it by now
        place.rmdir()


def backed_up(target: Path, contents: bytes, today: date) -> Backup:
    """A copy of the workbook under a name that no backup had; its own date and rights kept."""
    place = folder(target)
    new = not os.path.lexists(place)
    place.mkdir(exist_ok=True)
    try:
        return Backup(_copied(target, contents, today.isoformat()), new)
    except BaseException:
        if new:
            _unmade(place)
        raise


def _copied(target: Path, contents: bytes, day: str) -> Path:
    place = folder(target)
    clear_unfinished(place)
    number = max((each for when, each, _ in _kept(target) if when == day), default=0) + 1
    path = place / f"{_stem(target)} (before {day} {number}){target.suffix}"
    with unfinished(path, contents) as complete:
        take_over_rights(target, complete)
        status = target.stat()
        os.utime(complete, ns=(status.st_atime_ns, status.st_mtime_ns))
        named(complete, path)
    settle(place)
    return path


def forget_oldest(target: Path) -> None:
    """Delete the backups beyond ten; what can't be deleted harms nobody."""
    with contextlib.suppress(OSError):
        kept = _kept(target)
        while len(kept) > KEPT:
            least = _least_needed(kept)
            kept.remove(least)
            removed(least[-1])


_LATEST: Final = 5
"""Copies of the latest day that stay before those of other days go."""


def _least_needed(kept: list[tuple[str, int, Path]]) -> tuple[str, int, Path]:
    """An earlier day's that isn't its first; else the latest day's oldest, or the oldest of all."""
    latest = kept[-1][0]
    days = [day for day, *_ in kept]
    for at, each in enumerate(kept):
        if days[at] != latest and days[at] in days[:at]:
            return each
    return kept[days.index(latest)] if days.count(latest) > _LATEST else kept[0]
