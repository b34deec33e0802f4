"""What is double-clicked, or dropped on, to price a workbook: a small file for each system.

Each calls the Python that made it, in the folder where costbook stands, and says which workbook is
meant; what is dropped on it comes after that. Pure texts: nothing here writes or runs.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import PurePath
from types import MappingProxyType
from typing import Final

__all__ = ["SYSTEMS", "Launcher", "launcher_for"]


@dataclass(frozen=True, slots=True)
class Launcher:
    """The file that is started: its ending, and what stands in it."""

    ending: str
    text: str


def launcher_for(system: str, title: str, folder: PurePath, command: Sequence[str]) -> Launcher:
    """The launcher for ``linux``, ``macos`` or ``windows``, run in a folder."""
    ending, text = _MAKERS[system]
    return Launcher(ending, text(title, str(folder), command))


def _desktop(title: str, folder: str, command: Sequence[str]) -> str:
    lines = (
        *("[Desktop Entry]", "Type=Application", f"Name={_desktop_text(title)}"),
        f"Exec={' '.join(map(_desktop_word, command))} %F",
        *(f"Path={_desktop_text(folder)}", "Terminal=true", "Icon=x-office-spreadsheet"),
        "MimeType=application/vnd.openxmlformats-officedocument.spreadsheetml.sheet;",
    )
    return "".join(f"{line}\n" for line in lines)


def _desktop_text(text: str) -> str:
    return text.replace("\\", "\\\\").replace("\n", "\\n")


def _desktop_word(word: str) -> str:
    """A word of Exec: quoted as its own rules ask, and then as a text of the file."""
    quoted = re.sub(r'(["`$\\])', r"\\\1", word.replace("%", "%%"))
    return _desktop_text(f'"{quoted}"')


def _shell(title: str, folder: str, command: Sequence[str]) -> str:
    comment = title.replace("\n", " ")
    words = shlex.join(command)
    return f'#!/bin/sh\n# {comment}\ncd {shlex.quote(folder)} && exec {words} "$@"\n'


def _batch(title: str, folder: str, command: Sequence[str]) -> str:
    """Names on Windows have no quotation marks; a percent sign there would begin a variable."""
    words = " ".join(f'"{word}"' for word in command).replace("%", "%%")
    lines = (
        *("@echo off", f"rem {title}", "chcp 65001 >nul"),
        f'cd /d "{folder.replace("%", "%%")}"',
        f"{words} %*",
    )
    return "".join(f"{line}\r\n" for line in lines)


_MAKERS: Final[Mapping[str, tuple[str, Callable[[str, str, Sequence[str]], str]]]] = (
    MappingProxyType(
        {
            "linux": (".desktop", _desktop),
            "macos": (".command", _shell),
            "windows": (".bat", _batch),
        }
    )
)
SYSTEMS: Final = tuple(_MAKERS)
"""The systems that there is a launcher for."""
