"""A rule's tree → the text of a formula.

Only functions that Excel 2019, LibreOffice 7.4 and Google Sheets all compute are printed here
and in ``lookups.py``; a test compares them with the list.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Final

from costbook.definitions.algebra import Term, known
from costbook.definitions.words import needs_brackets

__all__ = ["guarded", "printed", "quoted"]

CellOf = Callable[[str], str]
"""The address of a column's cell, by the column's name."""


_LIKE_A_FUNCTION: Final = re.compile(r"(?<=[A-Z])\(")


def quoted(text: str) -> str:
    """A text as a formula's literal.

    One that reads like a function, as in "LEMON DROP(S)", is parted before its bracket: writers of
    workbooks look for functions in literals too, and DROP would make an array formula of it.
    """
    parted = _LIKE_A_FUNCTION.sub('"&"(', text.replace('"', '""'))
    return f'"{parted}"'


def guarded(term: Term, arguments: tuple[str, ...], cell_of: CellOf) -> str:
    """A formula that is empty unless all its arguments are numbers and it has a result."""
    cells = list(dict.fromkeys(cell_of(name) for name in arguments))
    body = printed(term, cell_of, sure=True)
    if _divides(term):
        body = f'IFERROR({body},"")'
    return f'IF(COUNT({",".join(cells)})={len(cells)},{body},"")'


def _divides(term: object) -> bool:
    if not isinstance(term, Term):
        return False
    return term.operation == "/" or any(_divides(part) for part in term.parts)


def printed(term: object, cell_of: CellOf, *, sure: bool = False) -> str:
    """The tree as formula text; ``sure`` says that every cell in it holds a number."""
    if not isinstance(term, Term):
        return _literal(term)
    operation, parts = term.operation, term.parts
    if operation == "name":
        return cell_of(str(parts[0]))
    if operation in "+-*/":
        texts = [printed(part, cell_of, sure=sure) for part in parts]
        left, right = (
            f"({text})" if needs_brackets(operation, part, at) else text
            for at, (part, text) in enumerate(zip(parts, texts, strict=True))
        )
        return f"{left}{operation}{right}"
    if operation == "above" and not sure:
        return _surely_above(term, cell_of)
    return _FORMS[operation](*(printed(part, cell_of, sure=sure) for part in parts))


def _literal(value: object) -> str:
    if isinstance(value, str):
        return quoted(value)
    if not known(value):
        return '""'
    return format(Decimal(str(value)), "f")


def _surely_above(term: Term, cell_of: CellOf) -> str:
    """``a>b``, false where either is no number: to a spreadsheet any text is above all numbers."""
    left, right = (printed(part, cell_of) for part in term.parts)
    test = f"{left}>{right}"
    for part, text in zip(term.parts, (left, right), strict=True):
        if isinstance(part, Term):
            test = f"IF(ISNUMBER({text}),{test},FALSE)"
    return test


def _both(*tests: str) -> str:
    """All of the tests, looked at one after another: the first that fails ends it."""
    *rest, last = tests
    for test in reversed(rest):
        last = f"IF({test},{last},FALSE)"
    return last


def _either(*tests: str) -> str:
    *rest, last = tests
    for test in reversed(rest):
        last = f"IF({test},TRUE,{last})"
    return last


_FORMS: dict[str, Callable[..., str]] = {
    # the outer ROUND takes out the noise that CEILING itself leaves: 6.050000000000001
    "up_to_step": lambda amount, step: (
        f"IF({step}=0,{amount},ROUND(CEILING(ROUND({amount},6),{step}),6))"
    ),
    "whole_up": lambda amount: f"CEILING(ROUND({amount},6),1)",
    "whole_down": lambda amount: f"INT({amount})",
    "known": lambda value: f"ISNUMBER({value})",
    "above": lambda left, right: f"{left}>{right}",
    "same": lambda left, right: f"{left}={right}",
    "opposite": lambda test: f"NOT({test})",
    "both": _both,
    "either": _either,
    "choose": lambda test, then, otherwise: f"IF({test},{then},{otherwise})",
    "joined": lambda *texts: "&".join(texts),
}
