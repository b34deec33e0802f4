"""Marks that stand for something else: for the cell above, or for a cell left blank."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from costbook.definitions.fields import Field, Kind

__all__ = ["BLANKS", "DITTOS", "MARKS", "is_blank", "is_ditto", "may_say_blank"]

DITTOS: Final = (
    *('"', "“", "”", "„", "″", "〃", "''", "‘‘", "’’", "´´", "``", ",,", '""', "“”", "״"),
    *('-"-', '- " -', '--"--', '–"–', "-”-", "-“-", "-''-", "-,,-", "^", "↑"),
    *("ditto", "(ditto)", "ditto.", "dito", "do.", "do", "dto.", "dto", "idem", "idem.", "id."),
    *("ídem", "same", "(same)", "same as above", "as above", "see above", "wie oben"),
    *("s. o.", "s.o.", "siehe oben", "comme ci-dessus", "come sopra", "igual"),
)
"""Marks and words that repeat the cell above, in small letters; no dash is among them."""


def is_ditto(cell: object) -> bool:
    """Does a cell hold nothing but a ditto mark? The formulas look for it in the same list."""
    return isinstance(cell, str) and _plain(cell) in DITTOS


def _plain(text: str) -> str:
    return " ".join(filter(None, text.replace("\u00a0", " ").split(" "))).lower()


BLANKS: Final = (
    *("", "-", "–", "—", "−", "--", "---", "–-", "- -", "/", "n/a", "n.a.", "n. a.", "n.a", "na"),
    *("none", "not applicable", "does not apply", "entfällt", "s/o", "sans objet", "no aplica"),
)
"""What people type to say that they left a cell blank on purpose, in small letters.

A question mark is none of these: it says that a figure isn't known, and a blank may count as 0.
"""


MARKS: Final[Mapping[str, str]] = MappingProxyType(
    {"ditto_marks": f"|{'|'.join(DITTOS)}|", "blank_marks": f"|{'|'.join(BLANKS)}|"}
)
"""The two lists as the formulas look into them, with a stroke on both sides of each mark."""


def may_say_blank(field: Field) -> bool:
    """Whether a dash in a field's cells leaves it blank: not in texts, nor in a row's own name."""
    return field.kind is not Kind.TEXT and not (field.kind is Kind.NAME and field.needed)


def is_blank(field: Field, cell: object) -> bool:
    """Does a cell only look filled? The formulas look for these words in the same list."""
    if not isinstance(cell, str):
        return False
    return _plain(cell) in BLANKS if may_say_blank(field) else not _plain(cell)
