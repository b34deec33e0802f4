"""What the words of every command have in common."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Any

from costbook.arguments import day
from costbook.printing import Output
from costbook.started import command as as_typed

__all__ = ["Run", "add_on", "command"]

Run = Callable[[argparse.Namespace, Output], int]


def command(
    added: Any, name: str, what: str, example: str, names: str = "your workbook (.xlsx)"
) -> argparse.ArgumentParser:
    """A command with what each has: its words, the file and --json; its help says ``names``."""
    made: argparse.ArgumentParser = added.add_parser(
        name, help=what, description=what, epilog=f"Example: {as_typed()} {example}"
    )
    made.add_argument("file", type=Path, metavar="FILE", help=names)
    made.add_argument("--json", action="store_true", help="print one JSON object and nothing else")
    return made


def add_on(made: argparse.ArgumentParser) -> None:
    """Let a command cost as on another day."""
    made.add_argument(
        "--on", type=day, metavar="DATE", help="cost as on this day, for example 2026-11-25"
    )
