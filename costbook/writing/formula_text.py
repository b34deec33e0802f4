"""A rule's tree → the text of a formula.

Only functions that Excel 2019, LibreOffice 7.4 and Google Sheets all compute are printed here
and in ``lookups.py``; a test compares them with the list.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any, Final

from costbook.definitions.algebra import Term, known
from costbook.definitions.columns import Computed
from costbook.definitions.words import needs_brackets

__all__ = ["computed", "guarded", "printed", "quoted"]

CellOf = Callable[[str], str]
"""The address of a column's cell, by the column's name."""
Within = Callable[[str], Computed | None]
"""The rule of a column that has no cell of its own, by the column's name; None for any other."""


_LIKE_A_FUNCTION: Final = re.compile(r"(?<=[A-Z])\(")


def quoted(text: str) -> str:
    """A text as a formula's literal.

    One that reads like a function, as in "LEMON DROP(S)", is parted before its bracket: writers of
    workbooks look for functions in literals too, and DROP would make an array formula of it.
    """
    parted = _LIKE_A_FUNCTION.sub('"&"(', text.replace('"', '""'))
    return f'"{parted}"'


def computed(how: Computed, cell_of: CellOf, within: Within) -> str:
    """The formula of a rule; ``within`` gives the rules of columns that have no cell."""
    if how.meets_unknowns:
        return f'IFERROR({printed(how.term(), cell_of)},"")'
    formula = guarded(*_with_rules(how, within), cell_of)
    if how.nothing_of:
        return f"IF({cell_of(how.nothing_of)}=0,0,{formula})"
    return formula


def _with_rules(how: Computed, within: Within) -> tuple[Term, tuple[str, ...]]:
    """A rule's tree, and the names in it, with the rules of columns that have no cell inside.

    Only what gives a number wherever its own arguments are numbers can stand inside: else the
    whole would have to ask whether it does.
    """
    term, names = how.term(), []
    for name in how.arguments:
        inner = within(name) if name != how.nothing_of else None
        if inner is None or inner.meets_unknowns or inner.nothing_of:
            names.append(name)
            continue
        body, its_names = _with_rules(inner, within)
        if _may_be_empty(body) or (_divides(body) and not _is_arithmetic(how.term())):
            names.append(name)
            continue
        term = _replaced(term, name, body)
        names.extend(its_names)
    return term, tuple(dict.fromkeys(names))


def _replaced(term: Any, name: str, body: Term) -> Any:
    if not isinstance(term, Term):
        return term
    if term.operation == "name":
        return body if term.parts == (name,) else term
    return Term(term.operation, tuple(_replaced(part, name, body) for part in term.parts))


def _may_be_empty(term: object) -> bool:
    """Does the tree hold a text, or an unknown, that it may come to?"""
    if isinstance(term, Term):
        return term.operation != "name" and any(_may_be_empty(part) for part in term.parts)
    return isinstance(term, str) or not known(term)


def _is_arithmetic(term: object) -> bool:
    """Is all of the tree worked out, whatever its figures? Then an error anywhere is one of all."""
    if not isinstance(term, Term) or term.operation == "name":
        return True
    return term.operation in "+-*/" and all(_is_arithmetic(part) for part in term.parts)


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
    "wholes_in": lambda amount: f"INT(ROUND({amount},6))",
    "known": lambda value: f"ISNUMBER({value})",
    "above": lambda left, right: f"{left}>{right}",
    "same": lambda left, right: f"{left}={right}",
    "opposite": lambda test: f"NOT({test})",
    "both": _both,
    "either": _either,
    "choose": lambda test, then, otherwise: f"IF({test},{then},{otherwise})",
    "joined": lambda *texts: "&".join(texts),
}
