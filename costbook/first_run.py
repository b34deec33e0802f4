"""The first run from a fresh checkout: make `.venv` beside the package, and go on there.

Every start from a checkout passes here, so nothing is imported that Python has not loaded by
itself; making and filling `.venv` is `set_up.py`. The system's own Python is never changed. An
installed costbook has no pyproject.toml beside it, and passes straight through.
"""

from __future__ import annotations

import importlib.util
import os
import sys
from collections.abc import Sequence

__all__ = ["enter"]

_CHECKOUT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
_INSIDE = "COSTBOOK_INSIDE_VENV"
"""For the one step from another Python into .venv: how the person called that other one."""


def enter(extras: Sequence[str] = (), checkout: str = _CHECKOUT) -> None:
    """Return if what is needed can be imported; else run this same command again in `.venv`.

    Leaves with status 2 and a sentence where that can't be done, 130 when interrupted.
    """
    inside = os.environ.pop(_INSIDE, "")
    if inside:
        sys.orig_argv[0] = inside  # messages name the Python that was typed
    wanted = _requirements(checkout, extras)
    if all(_is_here(requirement) for requirement in wanted):
        return
    home = os.path.join(checkout, ".venv")
    if inside:
        sys.stderr.write(
            f"costbook: Something is missing from the folder {home}. "
            "Delete that folder and run the same command again.\n"
        )
        sys.exit(2)
    _go_on_with(_ready_python(home, wanted))


def _requirements(checkout: str, extras: Sequence[str]) -> list[str]:
    """What the checkout's pyproject.toml asks for; nothing where costbook is installed.

    A TOML parser takes longer to load than all the rest here; a test holds the two equal.
    """
    try:
        with open(os.path.join(checkout, "pyproject.toml"), encoding="utf-8") as pyproject:
            text = pyproject.read()
    except FileNotFoundError:
        return []
    keys = ("dependencies", *extras)
    lists = [text.split(f"\n{key} = [", 1)[1].split("]", 1)[0] for key in keys]
    return [quoted for each in lists for quoted in each.split('"')[1::2]]


def _is_here(requirement: str) -> bool:
    """Whether this Python can import it; the system's own Python must also have it new enough.

    Requirements have the one form "name>=1.2"; a plugin of pytest's is imported without that name.
    """
    name, _, least = requirement.partition(">=")
    if importlib.util.find_spec(name.lower().removeprefix("pytest-").replace("-", "_")) is None:
        return False
    if sys.prefix != sys.base_prefix:
        return True  # a virtual environment was filled for a purpose
    from importlib import metadata

    try:
        return _numbers(metadata.version(name)) >= _numbers(least)
    except metadata.PackageNotFoundError:
        return False


def _numbers(version: str) -> list[int]:
    return [int(part) for part in version.split(".") if part.isdigit()]


def _ready_python(home: str, wanted: Sequence[str]) -> str:
    """The Python of `.venv`; a list in there, written last, says what it has."""
    inner = ("Scripts", "python.exe") if os.name == "nt" else ("bin", "python")
    python, listing = os.path.join(home, *inner), os.path.join(home, "costbook-has.txt")
    try:
        with open(listing, encoding="utf-8") as has:
            ready = set(wanted) <= set(has.read().splitlines()) and os.path.exists(python)
    except OSError:
        ready = False
    if not ready:
        from costbook.set_up import make_ready

        make_ready(home, python, listing, wanted)
    return python


def _go_on_with(python: str) -> None:
    """This same command, with the same options and arguments, in another Python."""
    command = [python, *sys.orig_argv[1:]]
    os.environ[_INSIDE] = sys.orig_argv[0]
    if sys.stderr:  # a closed one is none
        sys.stderr.flush()
    if sys.platform == "win32":
        import subprocess

        sys.exit(subprocess.call(command))  # execv there would not wait
    os.execv(python, command)
