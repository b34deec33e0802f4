"""Standard output and standard error, so that no way of printing can end a run.

A Western code page lacks signs that are printed here, the disk that the answer goes to may be
full, and either stream may be closed or have nobody who reads it. None of that says anything of
the workbook, and it may have been written by then.
"""

from __future__ import annotations

import codecs
import contextlib
import errno
import io
import os
import sys
import unicodedata
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, TextIO

__all__ = ["carries", "is_terminal", "prepare", "send", "settle"]

_PLAINER: Final[Mapping[str, str]] = MappingProxyType(
    dict(
        pair.split(" ")
        for pair in (
            *("← <-", "→ ->", "× x", "÷ /", "− -", "– -", "— -", "⁄ /", "≈ ~", "· -", "• -"),
            *("’ '", "‘ '", '“ "', '” "', "ß ss", "€ EUR", "£ GBP", "¥ JPY", "₹ INR", "¢ c"),
        )
    )
)
"""What stands for a sign where a code page lacks it; for a letter with an accent, the bare one."""

_ERRORS: Final = "costbook.plainer"
_NOBODY_READS: Final = (errno.EPIPE, errno.EINVAL, errno.EBADF)
"""A reader who left, as Unix and as Windows say it; and a stream that was closed."""


def prepare() -> None:
    """Make the streams take any text. The three first numbers of files are taken up, so that no
    file of the person's gets the number of a closed stream, and with it what is printed there."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # gets the lowest free number: this one
    codecs.register_error(_ERRORS, _plainer)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=_ERRORS)


def _plainer(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_plain, error.object[error.start : error.end])), error.end


def _plain(letter: str) -> str:
    """The letter in ASCII, without its accents; `1½` stays one and a half: `1 1/2`."""
    bare = "".join(_PLAINER.get(each, each) for each in unicodedata.normalize("NFKD", letter))
    ascii_only = bare.encode("ascii", "ignore").decode() or "?"
    return f" {ascii_only}" if unicodedata.decomposition(letter).startswith("<frac") else ascii_only


def carries(stream: TextIO | None, text: str) -> bool:
    """Whether the stream's code page has every letter of the text."""
    try:
        text.encode(getattr(stream, "encoding", None) or "utf-8")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def is_terminal(stream: TextIO | None) -> bool:
    """Whether somebody sits before it."""
    try:
        return stream is not None and stream.isatty()
    except ValueError:  # closed meanwhile
        return False


def send(stream: TextIO | None, text: str, *, at_once: bool = False) -> str:
    """Print on a stream, and say why it didn't take that: empty where it did, or nobody reads.

    After a failure the stream leads nowhere, so that Python's own last flush is quiet.
    """
    if stream is None:
        return ""
    try:
        stream.write(text)
        if at_once:
            stream.flush()
    except OSError as error:
        _lead_nowhere(stream)
        return "" if error.errno in _NOBODY_READS else error.strerror or type(error).__name__
    except ValueError:  # closed meanwhile
        _lead_nowhere(stream)
    return ""


def _lead_nowhere(stream: TextIO) -> None:
    with contextlib.suppress(OSError, ValueError):  # no file behind it, or a closed one
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, stream.fileno())
        finally:
            os.close(nowhere)


def settle() -> None:
    """Let both streams take what they still hold, or lose it quietly."""
    for stream in (sys.stdout, sys.stderr):
        send(stream, "", at_once=True)
