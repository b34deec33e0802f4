"""Formulas as a file of ISO/IEC 29500 holds them → as a cell of the open document takes them."""

from __future__ import annotations

import re

__all__ = ["in_calc", "same_formula"]

_PARTS = re.compile(
    r"""
    ("(?:[^"]|"")*")        # a text stays as it is
    | ('(?:[^']|'')+')!     # a sheet's name in quotes, as ours always are
    | (_xlfn\.)             # the prefix of newer functions
    | \b(CEILING|FLOOR)\(   # functions that Calc has in two kinds
    | (,)                   # between arguments
    """,
    re.VERBOSE,
)


def in_calc(formula: str) -> str:
    """The same formula, with `$'Sheet'.A1` and `;`.

    >>> in_calc("=_xlfn.MAXIFS('My, prices'!$A:$A,B1,\\"<5,0\\")")
    '=MAXIFS($\\'My, prices\\'.$A:$A;B1;"<5,0")'
    """
    return _PARTS.sub(_spelled, formula)


def _spelled(found: re.Match[str]) -> str:
    text, sheet, prefix, of_a_file, _comma = found.groups()
    if text or sheet:
        return text or "$" + sheet + "."
    if of_a_file:
        return f"{of_a_file}.XCL("
    return "" if prefix else ";"


_SPELLED = re.compile(
    r"""
    ("(?:[^"]|"")*")                      # a text
    | \$?'((?:[^']|'')+)'\.               # a sheet's name in quotes
    | \$?([^\W\d]\w*)\.(?=\$?[A-Z])      # or without
    | \b(TRUE|FALSE)\b(?:\(\))?          # a truth, which may come back as 1 or 0
    | (?<![\w.])(\d+\.\d+)(?![\d.])       # a number with noughts that may go
    | \s+
    """,
    re.VERBOSE,
)
_TRUTHS = {"TRUE": "1", "FALSE": "0"}


def same_formula(one: str, other: str) -> bool:
    """Whether two formulas are one, however sheets, truths and spaces in them are spelled."""
    return one == other or _plainest(one) == _plainest(other)


def _plainest(formula: str) -> str:
    return _SPELLED.sub(_plain, formula)


def _plain(found: re.Match[str]) -> str:
    text, quoted, bare, truth, number = found.groups()
    if quoted or bare:
        return f"{quoted or bare}."
    if number:
        return number.rstrip("0").rstrip(".")
    return text or _TRUTHS.get(truth or "", "")
