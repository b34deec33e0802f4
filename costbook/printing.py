"""What the command line prints: messages on standard error, answers on standard output.

Nothing from a cell or a file's name can steer a terminal: what would is left out of every line
here, and escaped in JSON.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import sys
from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any, Final, TextIO

from costbook.problems import Problem, Refused, Severity
from costbook.started import command
from costbook.streams import carries, is_terminal, send

__all__ = [
    "MOST_SHOWN",
    "Output",
    "Tell",
    "as_json",
    "columns",
    "plain",
    "quietly",
]

MOST_SHOWN: Final = 40
"""Problems printed one by one; the rest is counted, and stands in To put right and in JSON."""

_LONGEST_LINE: Final = 2_000
_LONGEST_NAME: Final = 60
_LONGEST_REST: Final = 200
"""Letters of a cell of a table; the last column holds what to do, not a name."""
_SHORTEST_NAME: Final = 10

_STEERING: Final = re.compile(
    "[\0-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u206f\ufff9-\ufffb\U000e0000-\U000e007f]"
)
"""Control characters, escapes in one character (U+009B), marks that turn the direction of what
follows, line breaks: what a terminal obeys instead of showing it."""
_STEERING_IN_JSON: Final = re.compile(_STEERING.pattern.replace("\0-\x1f", ""))
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
            self._put(plain(line))

    def _put(self, text: str) -> None:
        self.unprinted = send(sys.stdout, f"{text}\n") or self.unprinted

    def say(self, line: str, of: str = "", colour: str = "wrong") -> None:
        """A message on standard error; ``of`` is a name that stands coloured before it."""
        self._wipe()
        before = f"{coloured(colour, plain(of), sys.stderr)}: " if of else ""
        send(sys.stderr, f"{before}{plain(line)}\n")

    def step(self, what: str) -> None:
        """What is being done now: one line that comes and goes, on a terminal only."""
        if not is_terminal(sys.stderr):
            return
        self._wipe()
        self.shown = f"{cut(plain(what), _LONGEST_NAME)} …"
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
        self.say(str(refused), "costbook")
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

    def problems(self, book: str, problems: Sequence[Problem], others: int = 0) -> None:
        """Problems as lines: what is wrong first; many are counted, not listed.

        In one line with the ``others``, which don't touch the answer, stand those that only say
        how a text was read.
        """
        doubted = [each for each in problems if not each.as_read]
        self.every_problem(book, doubted)
        others += len(problems) - len(doubted)
        if others:
            things = "1 other thing" if others == 1 else f"{others} other things"
            them = "it" if others == 1 else "them"
            self.say(f"{book}: {things} to look at: `{command('check', book)}` lists {them}.")

    def every_problem(self, book: str, problems: Sequence[Problem]) -> None:
        """Problems as lines, those too that only say how a text was read."""
        ordered = sorted(problems, key=lambda each: each.severity is not Severity.WRONG)
        for problem in ordered[:MOST_SHOWN]:
            mark = "" if problem.severity is Severity.WRONG else "check: "
            self.say(f"{mark}{problem}", book, problem.severity.value)
        rest = len(ordered) - MOST_SHOWN
        if rest > 0:
            self.say(
                f"{book}: and {rest} more. --json prints them all, and `{command('cost', book)}` "
                "lists them on the sheet To put right."
            )


def plain(line: str) -> str:
    """The text on one line, with a space for whatever would steer a terminal."""
    return cut(_STEERING.sub(" ", line), _LONGEST_LINE)


def cut(text: str, most: int) -> str:
    """The text, or as much of it as fits, with a mark where it ends."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def shortened(text: str, most: int) -> str:
    """A name, or its beginning and its end: `Leek rolls` and `Leek rolls, six` stay apart."""
    if len(text) <= most:
        return text
    end = (most - 1) // 3
    return f"{text[: most - 1 - end].rstrip()}…{text[len(text) - end :].lstrip()}"


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
    sound = _STEERING_IN_JSON.sub(_escaped, _NO_LETTER.sub("\ufffd", text))
    return _NOT_ASCII.sub(_escaped, sound) if ascii_only else sound


def _escaped(found: re.Match[str]) -> str:
    return json.dumps(found[0])[1:-1]


def _number(value: object) -> float | int:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    raise TypeError(f"JSON can't hold {value!r}")


def columns(rows: Iterable[Sequence[str]]) -> list[str]:
    """Rows of texts as lines with aligned columns: the first to the left, the rest to the right.

    Long names are cut, on a terminal so far that a line fits it; the last column is what to do.
    """
    table = [[plain(text) for text in row] for row in rows]
    widths = [max(len(row[at]) for row in table) for at in range(len(table[0]))] if table else []
    widths = _narrowed([min(width, _LONGEST_NAME) for width in widths[:-1]], widths[-1:])
    return [
        "  ".join(
            shortened(text, width).ljust(width) if at == 0 else shortened(text, width).rjust(width)
            for at, (text, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in table
    ]


def _narrowed(names: list[int], rest: list[int]) -> list[int]:
    """The widths of columns, the widest names made narrower until a line fits the terminal."""
    last = [min(width, _LONGEST_REST) for width in rest]
    over = sum(names) + sum(last) + 2 * len(names) - (_width() or sys.maxsize)
    while over > 0 and max(names, default=0) > _SHORTEST_NAME:
        names[names.index(max(names))] -= 1
        over -= 1
    return names + last


def _width() -> int:
    """Letters that fit on a line of the terminal; 0 where there is none."""
    return shutil.get_terminal_size((0, 0)).columns if is_terminal(sys.stdout) else 0
