"""What the command line prints: messages on standard error, answers on standard output."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from typing import Any, Final, TextIO

from costbook.definitions.rounding import rounded
from costbook.problems import Problem, Refused, Severity

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

    def answer(self, data: dict[str, Any]) -> None:
        """The answer as JSON, where that was asked for."""
        if self.json:
            _put(as_json(data))

    def text(self, line: str = "") -> None:
        """A line of the answer in words, unless JSON was asked for."""
        if not self.json:
            _put(line)

    def say(self, line: str) -> None:
        """A message on standard error."""
        self._wipe()
        sys.stderr.write(f"{line}\n")

    def step(self, what: str) -> None:
        """What is being done now: one line that comes and goes, on a terminal only."""
        if not sys.stderr.isatty():
            return
        self._wipe()
        self.shown = f"{what} …"
        sys.stderr.write(self.shown)
        sys.stderr.flush()

    def _wipe(self) -> None:
        if self.shown:
            sys.stderr.write("\r" + " " * len(self.shown) + "\r")
            self.shown = ""

    def done(self) -> None:
        """Nothing more is to come."""
        self._wipe()
        try:
            sys.stdout.flush()
        except BrokenPipeError:
            _nobody_reads()

    def refuse(self, file: str, refused: Refused) -> None:
        """Why nothing was done, and the way out."""
        self.say(f"{coloured('wrong', 'costbook', sys.stderr)}: {refused}")
        if self.json:
            self.answer({"book": file, "refused": refused.reason, "remedy": refused.remedy})

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


def _put(text: str) -> None:
    """A line on standard output; one that nobody reads any more is no fault of the workbook."""
    try:
        sys.stdout.write(f"{text}\n")
    except BrokenPipeError:
        _nobody_reads()


def _nobody_reads() -> None:
    """Standard output goes nowhere from here on, so that Python's own last flush is quiet."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def coloured(colour: str, text: str, stream: TextIO) -> str:
    """The text in a colour, on a terminal whose owner wants colours."""
    if os.environ.get("NO_COLOR") or not stream.isatty():
        return text
    return f"{_COLOURS[colour]}{text}{_PLAIN}"


def as_json(data: dict[str, Any]) -> str:
    """Data as one JSON object; Decimal becomes a number at full precision."""
    return json.dumps(data, default=_number, ensure_ascii=False, indent=1, allow_nan=False)


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
