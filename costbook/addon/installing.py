"""The add-on given to the LibreOffice of the current user, or taken away."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from costbook.addon.building import IDENTIFIER
from costbook.problems import Refused

__all__ = ["find_installer", "install", "remove"]

_SECONDS: Final = 300


def find_installer(system: str = sys.platform) -> Path:
    """LibreOffice's own program for add-ons, at its usual places. Raises Refused."""
    if found := shutil.which("unopkg"):
        return Path(found)
    if there := next((place for place in _usual_places(system) if place.is_file()), None):
        return there
    raise Refused(
        "LibreOffice is not where it usually is.",
        "Install it; or make the add-on with --build costbook.oxt and open that file with it.",
    )


def _usual_places(system: str) -> Iterator[Path]:
    if system == "win32":
        for name in ("ProgramFiles", "ProgramW6432", "ProgramFiles(x86)"):
            if programs := os.environ.get(name):
                yield Path(programs, "LibreOffice", "program", "unopkg.com")
    elif system == "darwin":
        for folder in (Path("/Applications"), Path.home() / "Applications"):
            yield folder / "LibreOffice.app" / "Contents" / "MacOS" / "unopkg"
    else:
        for root in (Path("/usr/lib"), Path("/usr/lib64"), Path("/usr/local/lib"), Path("/opt")):
            for folder in sorted(root.glob("libreoffice*"), reverse=True):
                yield folder / "program" / "unopkg"


def install(file: Path) -> None:
    """Install the add-on, in place of an older one. Raises Refused."""
    _run("add", "--force", "--suppress-license", str(file))


def remove() -> None:
    """Take the add-on away. Raises Refused."""
    _run("remove", IDENTIFIER)


def _run(*words: str) -> None:
    installer = find_installer()
    try:
        done = subprocess.run(  # noqa: S603 - LibreOffice's own program, no shell
            [installer, *words],
            env={k: v for k, v in os.environ.items() if not k.startswith("PYTHON")},
            capture_output=True,
            text=True,
            errors="replace",
            timeout=_SECONDS,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise Refused(f"{installer} did not run ({error}).", _TRY) from error
    if done.returncode != 0:
        said = " ".join(f"{done.stderr} {done.stdout}".split())[:300]
        raise Refused(f"LibreOffice said no: {said}", _TRY)


_TRY: Final = "Close every window of LibreOffice, and run the same command again."
