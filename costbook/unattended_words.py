"""The commands by which workbooks are priced without a terminal, and what may be said behind each.

As in ``command_words.py``, each is imported when it is run.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from costbook.command_options import command
from costbook.launchers import SYSTEMS
from costbook.printing import Output

__all__ = ["WITHOUT_A_TERMINAL"]


def _add_watch(added: Any) -> None:
    made = command(
        added,
        "watch",
        "Price workbooks as they are saved, until Ctrl-C.",
        "watch stall.xlsx",
        names="your workbook, or the folder it is in",
    )
    made.set_defaults(run=_watch)


def _add_launcher(added: Any) -> None:
    made = command(
        added,
        "launcher",
        "Make what is double-clicked to price a workbook, without a terminal.",
        "launcher stall.xlsx",
        names="your workbook, or with --watch the folder it is in",
    )
    made.add_argument(
        "--for",
        choices=SYSTEMS,
        dest="system",
        help="for which system (default: this one)",
    )
    made.add_argument(
        "--watch", action="store_true", help="one that prices the workbook whenever it is saved"
    )
    made.add_argument(
        "--run",
        nargs="*",
        type=Path,
        dest="run_now",
        metavar="DROPPED",
        help="what the launcher itself does: price FILE, or what was dropped on it, and wait",
    )
    made.set_defaults(run=_launcher)


def _watch(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.watch import watch

    return watch(options, output)


def _launcher(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.launcher import launcher

    return launcher(options, output)


WITHOUT_A_TERMINAL: Final[dict[str, Callable[[Any], None]]] = {
    "watch": _add_watch,
    "launcher": _add_launcher,
}
