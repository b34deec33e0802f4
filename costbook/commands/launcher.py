"""`launcher`: what is double-clicked to price a workbook, and what that runs."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Final

from costbook.costing.result import CAUTION
from costbook.launchers import SYSTEMS, launcher_for
from costbook.printing import Output
from costbook.problems import Refused

__all__ = ["launcher"]

_STARTABLE: Final = 0o755
_HERE: Final = {"darwin": "macos", "win32": "windows"}


def launcher(options: argparse.Namespace, output: Output) -> int:
    """Make the launcher of a workbook; or be what it runs."""
    if options.run_now is not None:
        return _run(options.run_now or [options.file], output)
    return _make(options, output)


def _make(options: argparse.Namespace, output: Output) -> int:
    from costbook.keeping.replacing import create

    book: Path = options.file.absolute()
    if not book.exists():
        raise Refused(f"There is no file or folder {options.file}.", "Check the name.")
    does = "watch" if options.watch else "launcher"
    own = [] if options.watch else ["--run"]
    command = [sys.executable, "-m", "costbook", does, str(book), *own]
    title = f"Watch {book.name}" if options.watch else f"Price {book.stem}"
    system = options.system or _HERE.get(sys.platform, SYSTEMS[0])
    made = launcher_for(system, title, Path(__file__).parents[2], command)
    path = book.with_name(title + made.ending)
    create(path, made.text.encode(), output.wrote)
    path.chmod(_STARTABLE)
    output.answer({"launcher": str(path), "book": str(book), "cautions": [CAUTION]})
    dropped = "" if options.watch else ", or drop a workbook on it"
    output.text(f"Made {path}. Double-click it{dropped}.")
    output.text()
    output.text(CAUTION)
    return 0


def _run(books: list[Path], output: Output) -> int:
    """Price each workbook, show the lines of its front sheet, and wait to be closed."""
    from costbook.watching.pricing import priced

    runs = [priced(book.absolute()) for book in books]
    for run in runs:
        output.text(run.in_words)
        for line in run.in_short:
            output.text(f"  {line}")
        output.text()
    output.text(CAUTION)
    output.answer({"runs": [each.as_data() for each in runs], "cautions": [CAUTION]})
    if not output.json:
        _wait(output)
    return max(run.status for run in runs)


def _wait(output: Output) -> None:
    """Keep the window open until somebody has read it."""
    output.text("Press Enter to close.")
    output.done()
    if sys.stdin is not None:
        sys.stdin.readline()
