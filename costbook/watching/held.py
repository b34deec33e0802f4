"""Whether a workbook that was saved is all there, and whether another program has it open."""

from __future__ import annotations

import io
import time
import zipfile
from pathlib import Path
from typing import Final

from costbook.files import locks_of

__all__ = ["beside", "held_by", "is_beside", "whole"]

_SETTLED: Final = 0.3
"""A file that didn't change for so long isn't being written [seconds]."""
_NOT_SHARED: Final = (32, 33)
"""Windows' numbers for a file that another program keeps to itself."""
_WHILE_OPEN: Final = " - priced while open"


def whole(path: Path) -> bytes | None:
    """What a workbook holds; nothing while it is being written, or can't be read yet."""
    try:
        before = path.stat()
        content = path.read_bytes()
        time.sleep(_SETTLED)
        after = path.stat()
    except OSError:
        return None
    settled = (before.st_size, before.st_mtime_ns) == (after.st_size, after.st_mtime_ns)
    return content if settled and zipfile.is_zipfile(io.BytesIO(content)) else None


def held_by(path: Path) -> str:
    """The program that has a workbook open; nothing where none has."""
    for name, program in locks_of(path.name):
        if path.with_name(name).exists():
            return program
    try:
        with path.open("r+b"):
            return ""
    except OSError as error:
        kept = getattr(error, "winerror", None) in _NOT_SHARED
        return "another program" if kept else ""


def beside(path: Path) -> Path:
    """The workbook that is written while another program has this one open; its name says so."""
    return path.with_name(f"{path.stem}{_WHILE_OPEN}{path.suffix}")


def is_beside(path: Path) -> bool:
    """Whether a workbook is one that was written beside another."""
    return path.stem.endswith(_WHILE_OPEN)
