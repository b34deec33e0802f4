"""A rule's tree as a phrase: ``packs × price per pack + other cost``."""

from __future__ import annotations

from typing import Final

from costbook.definitions.algebra import Term, known

__all__ = ["needs_brackets", "words"]

_BINDING: Final = {"+": 1, "-": 1, "*": 2, "/": 2}
_SIGNS: Final = {"+": "+", "-": "−", "*": "×", "/": "÷"}
_PHRASES: Final = {
    "up_to_step": "{0}, up to the next {1}",
    "whole_up": "{0}, up to the next whole number",
    "whole_down": "{0}, without its fraction",
    "wholes_in": "{0}, whole ones only",
    "known": "{0} is known",
    "above": "{0} is above {1}",
    "same": "{0} is {1}",
    "opposite": "not {0}",
    "choose": "if {0}: {1}, else {2}",
}
_LINKS: Final = {"both": " and ", "either": " or ", "joined": " "}


def words(term: object) -> str:
    """A rule's tree as a phrase: ``packs × price per pack + other cost``."""
    if not isinstance(term, Term):
        return f"“{term}”" if isinstance(term, str) else str(term) if known(term) else "unknown"
    operation, parts = term.operation, term.parts
    if operation == "name":
        return str(parts[0]).replace("_", " ")
    if operation in _BINDING:
        left, right = (_in_brackets(operation, part, i) for i, part in enumerate(parts))
        return f"{left} {_SIGNS[operation]} {right}"
    if operation == "choose" and not isinstance(parts[2], Term | str) and not known(parts[2]):
        return f"{words(parts[1])}, if {words(parts[0])}"
    if operation in _LINKS:
        return _LINKS[operation].join(words(part) for part in parts)
    return _PHRASES[operation].format(*(words(part) for part in parts))


def needs_brackets(operation: str, part: object, position: int) -> bool:
    """Must this part of ``+ - * /`` stand in brackets to keep its meaning?"""
    if not isinstance(part, Term) or part.operation not in _BINDING:
        return False
    inner, outer = _BINDING[part.operation], _BINDING[operation]
    return inner < outer or (position == 1 and inner == outer and operation in "-/")


def _in_brackets(operation: str, part: object, position: int) -> str:
    text = words(part)
    return f"({text})" if needs_brackets(operation, part, position) else text
