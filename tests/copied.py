"""A copy of the package that is changed as DEVELOPERS.md says, and costs a workbook."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import costbook

__all__ = ["copied_into", "costed_by", "put_before", "python"]


def copied_into(folder: Path) -> Path:
    """Copy the package into a folder; returns the copy."""
    ours, there = Path(costbook.__file__).parent, folder / "costbook"
    shutil.copytree(ours, there, ignore=shutil.ignore_patterns("__pycache__"))
    return there


def put_before(path: Path, before: str, added: str) -> None:
    """Write something before a text that stands there once."""
    text = path.read_text(encoding="utf-8")
    assert text.count(before) == 1
    path.write_text(text.replace(before, added + before), encoding="utf-8")


def python(folder: Path, *words: str) -> str:
    """What Python prints, with the copy in this folder in place of the package."""
    here = Path(costbook.__file__).parent.parent
    paths = os.pathsep.join((str(folder), str(here)))
    environment = os.environ | {"PYTHONPATH": paths, "PYTHONUTF8": "1"}
    command = [sys.executable, *words]
    done = subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode in (0, 1), done.stderr
    return done.stdout


def costed_by(folder: Path) -> Mapping[str, Any]:
    """What the copy in a folder says of stall.xlsx there; its sheets are in out.xlsx beside it."""
    entry = "import sys; from costbook.cli import main; sys.exit(main())"
    words = ("cost", "stall.xlsx", "--output", "out.xlsx", "--on", "2026-11-20", "--json")
    found: Mapping[str, Any] = json.loads(python(folder, "-c", entry, *words))
    return found
