"""The command line: it reads the words, calls the parts, prints, and gives the exit status.

No other module prints or exits. Exit status: 0 fine (doubts alone are fine), 1 something in the
workbook is wrong (what could be costed was), 2 wrong use, or a file that can't be read, written
or trusted.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Final, NoReturn

from costbook.command_words import COMMANDS, Run
from costbook.printing import Output
from costbook.printing import plain as on_one_line
from costbook.problems import Refused
from costbook.started import command as as_typed
from costbook.streams import prepare, settle

__all__ = ["main"]

MADE_BETWEEN: Final = 200_000
"""So many things are made between Python's looks for waste: a costing keeps nearly all it makes,
and Python's own 700 would take a twelfth of the time to look at it again and again."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status."""
    words = sys.argv[1:] if arguments is None else arguments
    prepare()
    gc.set_threshold(MADE_BETWEEN)
    try:
        parser = _parser(words)
        _ask_for_command(parser, words)
        options = parser.parse_args(words)
        return _run(options, Output(json=options.json))
    finally:
        settle()


def _run(options: argparse.Namespace, output: Output) -> int:
    try:
        run: Run = options.run
        status = run(options, output)
        output.done()
        return status
    except Refused as refused:
        output.refuse(str(options.file), refused)
    except KeyboardInterrupt:
        output.stopped()
    except Exception as error:
        if os.environ.get("COSTBOOK_DEBUG") == "1":
            raise
        output.broke_off(str(options.file), error)
    output.done()
    return 2


class _Parser(argparse.ArgumentParser):
    """A parser that says in one sentence what is wrong, and shows how it goes."""

    def error(self, message: str) -> NoReturn:
        plain = message.removeprefix("argument ")
        for theirs, ours in _PLAINER.items():
            plain = plain.replace(theirs, ours)
        self.exit(2, f"{self.prog}: {plain}. {self.epilog}")

    def exit(self, status: int = 0, message: str | None = None) -> NoReturn:
        super().exit(status, f"{on_one_line(message)}\n" if message else None)


_PLAINER: Final = {
    "the following arguments are required:": "this is missing:",
    "unrecognized arguments:": "this is not understood:",
}
"""How argparse says it, and how a cook would."""


def _ask_for_command(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """Refuse a command that isn't there, or none: with the one that was meant, or all of them."""
    first = next((word for word in words if not word.startswith("-")), "")
    if first in COMMANDS or {"-h", "--help"} & set(words):
        return
    if not first:
        parser.error(f"say what to do: {', '.join(COMMANDS)}")
    close = get_close_matches(first, COMMANDS, n=1)
    meant = f'did you mean "{close[0]}"?' if close else f"there are: {', '.join(COMMANDS)}."
    parser.exit(2, f'costbook: there is no command "{first}"; {meant} {parser.epilog}')


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    """What understands the words: of one command where one leads, which is made sooner."""
    parser = _Parser(
        prog=as_typed(),
        description="What each pack you sold cost, and what to charge: from your own workbook.",
        epilog=f"Example: {as_typed('cost')} stall.xlsx",
    )
    added = parser.add_subparsers(title="commands", dest="command", required=True, metavar="")
    asked = words[0] if words else ""
    for add in (COMMANDS[asked],) if asked in COMMANDS else COMMANDS.values():
        add(added)
    return parser
