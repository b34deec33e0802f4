"""How the person starts costbook here, so that a message names a command that they can type."""

from __future__ import annotations

import sys
from itertools import pairwise

__all__ = ["command"]


def command(*words: object) -> str:
    """A command as it is typed here, as in ``python3 -m costbook cost "my stall.xlsx"``.

    >>> command("new", "my stall.xlsx")
    'costbook new "my stall.xlsx"'
    """
    return " ".join((*_start(sys.orig_argv), *map(_quoted, words)))


def _start(typed: list[str]) -> tuple[str, ...]:
    """The words that started this run, up to the command."""
    if ("-m", "costbook") not in pairwise(typed):
        return ("costbook",)
    return _python(typed[0]), "-m", "costbook"


def _python(typed: str) -> str:
    """How Python was called; Windows shows a program only its path, and there `py` starts it."""
    return "py" if sys.platform == "win32" else _quoted(typed)


def _quoted(word: object) -> str:
    text = str(word)
    return f'"{text}"' if " " in text or not text else text
