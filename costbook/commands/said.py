"""What several commands say: how much is wrong, what was not read, what no price counts."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from costbook.costing.lacking import uncounted
from costbook.definitions.rounding import in_money
from costbook.problems import Problem, Severity, to_check
from costbook.round_trip import Costed
from costbook.started import command as as_typed

__all__ = ["left_out", "not_read", "signed", "summary"]


def summary(problems: Sequence[Problem]) -> str:
    """How much is wrong, how much to check, and how many texts were read as what they seem."""
    wrong = sum(each.severity is Severity.WRONG for each in problems)
    doubts = to_check(problems)
    read = len(problems) - wrong - doubts
    texts = (
        "1 text was read as what it seems to mean."
        if read == 1
        else f"{read} texts were read as what they seem to mean."
    )
    said = f"{wrong} wrong, {doubts} to check." if wrong or doubts else _NOTHING
    return f"{said} {texts}" if read else said


_NOTHING = "Nothing is wrong, and nothing is doubtful."


def not_read(costed: Costed) -> list[str]:
    """The tabs that have nothing to do with costing, named once."""
    tabs = costed.costing.structure.book.not_read
    return [f"Not read: {', '.join(tabs)}."] if tabs else []


def left_out(costed: Costed) -> list[str]:
    """What no price counts, so that none is a price to charge; nothing where all is counted."""
    parts = list(uncounted(costed.costing))
    if not parts:
        return []
    named, why = ", ".join(each.words for each in parts), "; ".join(p.uncounted for p in parts)
    there = costed.costing.structure.book.sheets
    missing = [each.sheet for each in parts if each.sheet and each.sheet not in there]
    adding = as_typed("new", *(word for each in missing for word in ("--add", each)), costed.path)
    return [
        f"No price to charge yet: at least, without: {named} ({why}).",
        *([f"To add what is missing: {adding}"] if missing else []),
    ]


def signed(amount: Decimal, places: int) -> str:
    """Money with its sign, also where it is a rise."""
    shown = in_money(amount, places)
    return shown if shown.startswith("-") else f"+{shown}"
