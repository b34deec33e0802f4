"""Which file a person names, before it is opened: one of theirs, or what it is instead."""

from __future__ import annotations

import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from costbook.problems import Refused

__all__ = ["locks_of", "refuse_no_file", "refuse_other_ending", "with_ending"]

_LOCKS: Final = (("~$", "", "Excel"), (".~lock.", "#", "LibreOffice"))
"""How the small file is called that a program keeps beside a workbook while it is open there."""

_LARGEST_LOCK: Final = 1024
_KINDS: Final = (
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)
_ENDINGS: Final = (
    *(".xlsx", ".xlsm", ".xltx", ".xltm", ".xlam", ".xlsb", ".xls", ".xlt"),
    *(".ods", ".csv", ".tsv", ".txt", ".pdf", ".html", ".json", ".numbers"),
)
_HOLDS: Final = {
    ".xlsx": "an Excel workbook",
    ".xlsm": "an Excel workbook with macros",
    ".xltx": "an Excel template",
    ".xltm": "an Excel template with macros",
    ".xlam": "an Excel add-in",
    ".csv": "a list for a label printer",
    ".oxt": "an add-on for LibreOffice",
}


def locks_of(name: str) -> Iterator[tuple[str, str]]:
    """The names that programs give their small files beside a workbook, and the programs."""
    for before, behind, program in _LOCKS:
        yield f"{before}{name}{behind}", program


def refuse_no_file(path: Path) -> None:
    """Raise Refused for what would wait for ever, never end, or is no file of the person's own.

    What is missing, or can't be looked at, passes: whoever opens it has the sentence for that.
    """
    try:
        status = path.stat()
    except (OSError, ValueError):
        return
    for is_kind, what in _KINDS:
        if is_kind(status.st_mode):
            raise Refused(
                f"{path} is {what} and no file.",
                "Give the name of your workbook as it is saved on the disk.",
            )
    if status.st_size <= _LARGEST_LOCK:
        _refuse_lock(path)


def _refuse_lock(path: Path) -> None:
    for before, behind, program in _LOCKS:
        if path.name.startswith(before) and path.name.endswith(behind):
            real = path.name.removeprefix(before).removesuffix(behind)
            raise Refused(
                f"{path.name} is no workbook: {program} keeps that small file beside {real} while "
                "it is open there, and may leave it behind.",
                f"Give {real} itself.",
            )


def with_ending(path: Path, right: str) -> Path:
    """The file under that ending where its name has none. Raises Refused for another ending."""
    named = path if path.suffix or path.name == right else path.with_name(path.name + right)
    refuse_other_ending(named, right)
    return named


def refuse_other_ending(target: Path, right: str) -> None:
    """Raise Refused for a name under which no program would open what is written there."""
    if target.name.lower() == right:
        raise Refused(f"{target.name} is an ending without a name.", f"Name it priced{right}.")
    if target.suffix.lower() != right:
        known = target.suffix.lower() in _ENDINGS
        name = (target.stem if known else target.name) + right
        raise Refused(
            f"What is written is {_HOLDS[right]}, which programs open only under a name that ends "
            f"in {right}; {target.name} doesn't.",
            f"Name it {name}.",
        )
    for before, _, program in _LOCKS:
        if target.name.startswith(before):
            raise Refused(
                f"A name that begins with {before} is what {program} gives its own small files.",
                f"Name it {target.name.removeprefix(before)}.",
            )
