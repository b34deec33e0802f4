"""The last line of defence: so much time and memory, and no more, to read a workbook.

What is made to take minutes or gigabytes is refused long before, by the limits on what a file may
hold. This is for the shape that nobody thought of.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from costbook.package.limits import MEGABYTE, MOST_SECONDS, MOST_SPACE
from costbook.problems import Refused

__all__ = ["within_bounds"]

_MAPPED: Final = Path("/proc/self/statm")


class _OutOfTime(BaseException):
    """Not an Exception: parsers that take whatever goes wrong for a broken file must not see it."""


@contextmanager
def within_bounds(seconds: float = MOST_SECONDS, space: int = MOST_SPACE) -> Iterator[None]:
    """Refuse what takes longer, or more memory, than any book that a person keeps.

    Systems that can't bound a program (Windows; for memory, all but Linux) are left as they are.
    """
    try:
        with _bounded_time(seconds), _bounded_space(space):
            yield
    except _OutOfTime:
        raise _refused(f"takes more than {seconds:g} seconds of computing") from None
    except MemoryError:
        raise _refused(f"takes more than {space // MEGABYTE:,} MB of memory") from None


def _refused(what: str) -> Refused:
    return Refused(
        f"The workbook can't be read: it {what}, as none that a person keeps does.",
        "Copy what you typed into a new workbook, as values, and use that; if it isn't your own, "
        "ask whoever sent it for a clean copy.",
    )


@contextmanager
def _bounded_time(seconds: float) -> Iterator[None]:
    if not hasattr(signal, "setitimer") or threading.current_thread() != threading.main_thread():
        yield
        return

    def stop(*_: object) -> None:
        raise _OutOfTime

    before = signal.signal(signal.SIGPROF, stop)
    left, _ = signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, left)  # of bounds around these, if there are any
        signal.signal(signal.SIGPROF, before)


@contextmanager
def _bounded_space(space: int) -> Iterator[None]:
    if sys.platform != "linux" or not _MAPPED.exists():
        yield
        return
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    mapped = int(_MAPPED.read_text(encoding="ascii").split()[0]) * os.sysconf("SC_PAGESIZE")
    unbounded = resource.RLIM_INFINITY
    bound = min(each for each in (mapped + space, soft, hard) if each != unbounded)
    resource.setrlimit(resource.RLIMIT_AS, (bound, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, (soft, hard))
