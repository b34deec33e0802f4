"""The commands for who works in a spreadsheet program and not in a terminal: their words."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from costbook.printing import Output
from costbook.started import command as as_typed
from costbook.unattended_words import WITHOUT_A_TERMINAL

__all__ = ["DESK_COMMANDS"]


def _add_addon(added: Any) -> None:
    what = "Put a menu into LibreOffice, so that no terminal is needed."
    example = f"Example: {as_typed()} addon"
    made = added.add_parser("addon", help=what, description=what, epilog=example)
    made.add_argument("--remove", action="store_true", help="take the menu away again")
    made.add_argument("--build", type=Path, metavar="FILE.oxt", help="only make what is installed")
    made.set_defaults(run=_addon, json=False, file="costbook")


def _add_describe(added: Any) -> None:
    what = "Print the sheets of cost as data, for a program that draws them."
    example = f"Example: {as_typed()} describe stall.xlsx --json"
    made = added.add_parser("describe", help=what, description=what, epilog=example)
    made.add_argument("file", type=Path, metavar="FILE", help="your workbook (.xlsx)")
    made.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    made.add_argument(
        "--blank", action="store_true", help="the sheets to fill in that it lacks, each blank"
    )
    made.set_defaults(run=_describe)


# Each command is imported when it is run: `--help` must not wait for the libraries.


def _addon(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.addon import addon

    return addon(options, output)


def _describe(options: argparse.Namespace, output: Output) -> int:
    from costbook.commands.describe import describe

    return describe(options, output)


DESK_COMMANDS: Final[dict[str, Callable[[Any], None]]] = {
    "addon": _add_addon,
    "describe": _add_describe,
    **WITHOUT_A_TERMINAL,
}
