"""Makes and fills the `.venv` of a checkout, once. Standard library only."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import sysconfig
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import IO, NoReturn

__all__ = ["make_ready"]

_UNFINISHED = "unfinished"


class _SetUpFailed(Exception):
    """Why costbook can't be set up here, and the way out, as sentences."""


def make_ready(home: str, python: str, listing: str, wanted: Sequence[str]) -> None:
    """Make `.venv` ready, one run at a time; the listing in it says what it has, a line each.

    Leaves with status 2 and a sentence where that can't be done, 130 when interrupted.
    """
    try:
        with _alone(Path(f"{home}.lock")):
            if not set(wanted) <= set(_lines(Path(listing))) or not Path(python).exists():
                _build(Path(home), Path(python), Path(listing), wanted)
    except _SetUpFailed as failed:
        _leave(str(failed), 2)
    except OSError as error:
        _leave(
            f"Can't write {error.filename or home}: {error.strerror or error}. "
            "Copy costbook to a folder of your own and run the same command there.",
            2,
        )
    except KeyboardInterrupt:
        _leave("Stopped while setting up. The next run starts that afresh.", 130)


def _leave(sentence: str, status: int) -> NoReturn:
    _say(sentence)
    sys.exit(status)


def _say(sentence: str) -> None:
    print(f"costbook: {sentence}", file=sys.stderr, flush=True)


def _lines(listing: Path) -> list[str]:
    return listing.read_text(encoding="utf-8").splitlines() if listing.is_file() else []


def _build(home: Path, python: Path, listing: Path, wanted: Sequence[str]) -> None:
    """Make `.venv` if it is missing, broken or half made, and add what is wanted."""
    _say(
        "Fetching what this needs into the folder .venv beside it. "
        "This happens once and takes about a minute."
    )
    had = _lines(listing)
    if _UNFINISHED in had or not _runs(python, "-c", "pass"):
        _make(home)
        had = []
    installer = _installer(home, python)
    listing.write_text(_UNFINISHED, encoding="utf-8")
    _install(installer, wanted)
    listing.write_text("\n".join([*had, *wanted]), encoding="utf-8")


def _make(home: Path) -> None:
    """A new virtual environment, without an installer where this system keeps that apart."""
    if home.exists():
        shutil.rmtree(home)
    if not _runs(_base(), "-m", "venv", home):
        _runs(_base(), "-m", "venv", "--clear", "--without-pip", home)


def _installer(home: Path, python: Path) -> list[str]:
    """The command that installs into `.venv`: its own pip, or the system's, pointed at it."""
    if _runs(python, "-m", "pip", "--version"):
        return [str(python), "-m", "pip", "install"]
    if _runs(python, "-c", "pass") and _runs(_base(), "-m", "pip", "--version"):
        folder = sysconfig.get_path("purelib", scheme="venv", vars={"base": str(home)})
        return [_base(), "-m", "pip", "install", "--upgrade", "--target", folder]
    raise _SetUpFailed(f"This Python can't make a virtual environment. {_venv_remedy()}")


def _base() -> str:
    """The Python that this one's own virtual environment, if any, was made from."""
    return str(getattr(sys, "_base_executable", sys.executable))


def _venv_remedy() -> str:
    if Path("/etc/debian_version").exists():
        version = f"{sys.version_info.major}.{sys.version_info.minor}"
        return (
            f"Run `sudo apt install python3-venv` (or python{version}-venv), "
            "then the same command again."
        )
    return "Install Python from python.org, then run the same command again with it."


def _runs(*command: str | Path) -> bool:
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode == 0
    except OSError:
        return False


def _install(installer: Sequence[str], wanted: Sequence[str]) -> None:
    quiet = ["--quiet", "--disable-pip-version-check", "--no-input", "--retries", "2"]
    done = subprocess.run(
        [*installer, *quiet, *wanted],
        capture_output=True,
        check=False,
        text=True,
        encoding="utf-8",
        errors="replace",
        stdin=subprocess.DEVNULL,
    )
    if done.returncode != 0:
        raise _SetUpFailed(_why(done.stderr))


def _why(said: str) -> str:
    """pip's complaint as a sentence: nearly always there is no network."""
    if re.search(r"connection|resolve|timed out|No matching distribution", said, re.IGNORECASE):
        return (
            "Can't reach the internet to fetch what this needs. Connect this computer and "
            "run the same command again; it is needed only this once."
        )
    errors = [line for line in said.splitlines() if line.startswith("ERROR")] or ["no reason"]
    return f"Can't install what this needs. pip says: {errors[-1].removeprefix('ERROR: ')}"


@contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Hold the lock file; the system lets go of it when this process ends, however it ends."""
    with path.open("a", encoding="utf-8") as lock:
        if not _locked(lock):
            _say("Another run is setting up costbook here; waiting for it to finish.")
            while not _locked(lock):
                time.sleep(0.2)
        yield


def _locked(lock: IO[str]) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(lock.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
