"""What the command line prints: messages on standard error, answers on standard output."""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any, Final, TextIO

from costbook.definitions.rounding import rounded
from costbook.problems import Problem, Refused, Severity
from costbook.streams import carries, is_terminal, send

__all__ = [
    "MOST_SHOWN",
    "Output",
    "Tell",
    "as_json",
    "columns",
    "money_text",
    "quietly",
    "share_text",
]

MOST_SHOWN: Final = 40
"""Problems printed one by one; the rest is counted, and stands in To put right and in JSON."""

_NO_LETTER: Final = re.compile("[\ud800-\udfff]")
_NOT_ASCII: Final = re.compile(r"[^\x00-\x7f]")
_COLOURS: Final = {"wrong": "\x1b[31m", "doubtful": "\x1b[33m", "bold": "\x1b[1m"}
_PLAIN: Final = "\x1b[0m"


Tell = Callable[[str], None]
"""Takes what is being done now, for whoever waits."""


def quietly(_what: str) -> None:
    """Tell nobody."""


class Output:
    """Where one command's answer and messages go."""

    def __init__(self, *, json: bool) -> None:
        self.json = json
        self.shown = ""
        """The step that stands on the terminal now."""
        self.written = ""
        """What was written, as a sentence, from the moment on in which it stands there."""
        self.unprinted = ""
        """Why the answer couldn't be printed in full."""

    def answer(self, data: dict[str, Any]) -> None:
        """The answer as JSON, where that was asked for."""
        if self.json:
            text = as_json(data)
            self._put(text if carries(sys.stdout, text) else as_json(data, ascii_only=True))

    def text(self, line: str = "") -> None:
        """A line of the answer in words, unless JSON was asked for."""
        if not self.json:
            self._put(line)

    def _put(self, text: str) -> None:
        self.unprinted = send(sys.stdout, f"{text}\n") or self.unprinted

    def say(self, line: str) -> None:
        """A message on standard error."""
        self._wipe()
        send(sys.stderr, f"{line}\n")

    def step(self, what: str) -> None:
        """What is being done now: one line that comes and goes, on a terminal only."""
        if not is_terminal(sys.stderr):
            return
        self._wipe()
        self.shown = f"{what} …"
        send(sys.stderr, self.shown, at_once=True)

    def _wipe(self) -> None:
        if self.shown:
            send(sys.stderr, "\r" + " " * len(self.shown) + "\r")
            self.shown = ""

    def wrote(self, path: Path, backup: Path | None) -> None:
        """A file stands there now: whatever ends the run from here on, that is to be said."""
        before = f'; the one before it is kept as "{backup}"' if backup else ""
        self.written = f"{path.name} is written, and whole{before}."

    def done(self) -> None:
        """Nothing more is to come."""
        self._wipe()
        self.unprinted = send(sys.stdout, "", at_once=True) or self.unprinted
        if self.unprinted:
            why, self.unprinted = self.unprinted, ""
            self.say(
                f"costbook: the answer couldn't be printed in full ({why}). "
                f"{self.written or 'That is no fault of the workbook.'}"
            )

    def refuse(self, file: str, refused: Refused) -> None:
        """Why nothing was done, and the way out."""
        self.say(f"{coloured('wrong', 'costbook', sys.stderr)}: {refused}")
        if self.json:
            self.answer({"book": file, "refused": refused.reason, "remedy": refused.remedy})

    def broke_off(self, file: str, error: Exception) -> None:
        """A fault of costbook's own."""
        show = (
            "run the same command with COSTBOOK_DEBUG=1 set, and show what it prints to whoever "
            "looks after costbook."
        )
        way_out = (
            "Nothing was half written. Save the workbook once in your spreadsheet program and try "
            f"again; if that doesn't help, {show}"
        )
        if self.written:
            way_out = f"But {self.written} To find out what it was, {show}"
        what = f"costbook met something that nobody foresaw ({type(error).__name__}), and stopped."
        self.refuse(file, Refused(what, way_out))

    def stopped(self) -> None:
        """What a person who stopped the run should know."""
        self.say(f"Stopped. {self.written or 'Your workbook is as it was.'}")

    def problems(self, book: str, problems: Sequence[Problem]) -> None:
        """Problems as lines: what is wrong first; many are counted, not listed."""
        ordered = sorted(problems, key=lambda each: each.severity is not Severity.WRONG)
        for problem in ordered[:MOST_SHOWN]:
            weight = problem.severity.value
            name = coloured(weight, book, sys.stderr)
            mark = "" if problem.severity is Severity.WRONG else "check: "
            self.say(f"{name}: {mark}{problem}")
        rest = len(ordered) - MOST_SHOWN
        if rest > 0:
            self.say(
                f"{book}: and {rest} more. --json prints them all, and `costbook cost` lists them "
                "on the sheet To put right."
            )


def coloured(colour: str, text: str, stream: TextIO | None) -> str:
    """The text in a colour, on a terminal whose owner wants colours."""
    if os.environ.get("NO_COLOR") or not is_terminal(stream):
        return text
    return f"{_COLOURS[colour]}{text}{_PLAIN}"


def as_json(data: dict[str, Any], *, ascii_only: bool = False) -> str:
    """Data as one JSON object; Decimal becomes a number at full precision.

    Bytes in a file's name that are no letters (lone surrogates to Python) become U+FFFD.
    """
    text = json.dumps(data, default=_number, ensure_ascii=False, indent=1, allow_nan=False)
    sound = _NO_LETTER.sub("\ufffd", text)
    return _NOT_ASCII.sub(lambda each: json.dumps(each[0])[1:-1], sound) if ascii_only else sound


def _number(value: object) -> float | int:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    raise TypeError(f"JSON can't hold {value!r}")


def columns(rows: Iterable[Sequence[str]]) -> list[str]:
    """Rows of texts as lines with aligned columns: the first to the left, the rest to the right."""
    table = [list(row) for row in rows]
    widths = [max(len(row[at]) for row in table) for at in range(len(table[0]))] if table else []
    return [
        "  ".join(
            text.ljust(width) if at == 0 else text.rjust(width)
            for at, (text, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in table
    ]


def money_text(value: object, places: int) -> str:
    """Money to the currency's coin; a question mark for what isn't known."""
    if not isinstance(value, Decimal):
        return "?"
    if value.adjusted() > 15:  # a slip somewhere: no sum of a stall has sixteen digits
        return f"{value:.6g}"
    return f"{rounded(value, places):,}"


def share_text(value: object) -> str:
    """A share as a percentage; a question mark for what isn't known."""
    return f"{value * 100:.1f} %" if isinstance(value, Decimal) else "?"
