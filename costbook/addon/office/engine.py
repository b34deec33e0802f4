"""costbook itself, run in its own Python: asked in words, answered in JSON."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

__all__ = ["Engine", "Failed", "Home", "place_in", "places_remembered", "remember"]

_NOT_OURS = ("PYTHON", "LD_LIBRARY_PATH", "DYLD_", "URE_BOOTSTRAP", "UNO_")
"""Beginnings of variables by which LibreOffice leads programs to its own libraries."""
_KEPT = "costbook-addon.json"


class Failed(Exception):
    """costbook could not answer; the text says why, and what to do."""


class Home(NamedTuple):
    """Where costbook is: its Python, and the folder that holds it."""

    python: str
    folder: str

    def is_there(self) -> bool:
        """Whether it is there still."""
        return (
            Path(self.python).is_file()
            and (Path(self.folder) / "costbook" / "__main__.py").is_file()
        )


def places_remembered(extension: Path, profile: Path) -> list[Home]:
    """Where costbook was last found, and where it was when the add-on was built."""
    found: list[Home] = []
    for file in (profile / _KEPT, extension / "place.json"):
        found += _kept_in(file)
    return found


def _kept_in(file: Path) -> list[Home]:
    try:
        said = json.loads(file.read_text(encoding="utf-8"))
        return [Home(str(said["python"]), str(said["folder"]))]
    except (OSError, ValueError, KeyError, TypeError):
        return []


def remember(profile: Path, place: Home) -> None:
    """Keep where costbook is, in the user's own profile."""
    (profile / _KEPT).write_text(json.dumps(place._asdict()), encoding="utf-8")


class Engine:
    """One question to costbook, which may be broken off."""

    def __init__(self, place: Home, words: Sequence[str]) -> None:
        self._process: subprocess.Popen[bytes] = subprocess.Popen(  # noqa: S603 - no shell is asked
            [place.python, "-m", "costbook", *words],
            cwd=place.folder,
            env=_environment(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )

    def answer(self) -> dict[str, Any]:
        """What it said; waits for it. Raises Failed."""
        out, err = self._process.communicate()
        said = _parsed(out)
        if said is None or "refused" in said:
            raise Failed(_why(said, err.decode("utf-8", "replace")))
        return said

    def stop(self) -> None:
        """Break it off."""
        self._process.kill()


def _environment() -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith(_NOT_OURS)}
    return {**kept, "PYTHONIOENCODING": "utf-8", "NO_COLOR": "1"}


def _parsed(out: bytes) -> dict[str, Any] | None:
    try:
        said = json.loads(out.decode("utf-8", "replace"))
    except ValueError:
        return None
    return said if isinstance(said, dict) else None


def _why(said: dict[str, Any] | None, err: str) -> str:
    if said is not None:
        return f"{said['refused']} {said.get('remedy', '')}".strip()
    last = " ".join(err.split())[-600:] or "It printed nothing."
    return (
        f"costbook gave no answer. It said last: {last}"
        if err
        else f"costbook gave no answer. {last}"
    )


def place_in(folder: Path) -> Home:
    """Where costbook is, if a folder that somebody chose holds it; run by its .venv, if any."""
    inner = ("Scripts", "python.exe") if sys.platform == "win32" else ("bin", "python")
    own = folder.joinpath(".venv", *inner)
    other = shutil.which("py" if sys.platform == "win32" else "python3") or ""
    return Home(str(own) if own.is_file() else other, str(folder))
