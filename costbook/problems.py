"""What is wrong in a workbook, as data: where, what, and what to do about it.

Nothing here prints or exits; only the command line does.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Place", "Problem", "Refused", "Severity", "to_check"]


class Severity(StrEnum):
    """How much a problem weighs.

    WRONG: a figure is missing or can't be trusted until the person acts (exit status 1).
    DOUBTFUL: something was used, and is said so that the person can check it.
    """

    WRONG = "wrong"
    DOUBTFUL = "doubtful"


@dataclass(frozen=True, slots=True)
class Place:
    """A cell or a whole sheet of the person's workbook; an empty cell means the sheet."""

    sheet: str = ""
    cell: str = ""

    def __str__(self) -> str:
        return f"{self.sheet}!{self.cell}" if self.cell else self.sheet


@dataclass(frozen=True, slots=True)
class Problem:
    """One sentence about one place, and one about what to do.

    One that is ``as_read`` only says as what a text was read: 5 lb, for ``5 lb bag``. That is shown
    where the text is looked at, and is no doubt of any answer. Many doubts of one
    column that have the same ``of_many``, or the same ``what``, are said once.
    """

    severity: Severity
    place: Place
    what: str
    remedy: str = ""
    as_read: bool = False
    of_many: str = ""

    def __str__(self) -> str:
        """The problem as one line of text, without the file's name."""
        return f"{self.place_and_what} {self.remedy}".strip()

    @property
    def place_and_what(self) -> str:
        """The problem without what to do."""
        return ": ".join(filter(None, (str(self.place), self.what)))


def to_check(problems: Iterable[Problem]) -> int:
    """How many of some problems are doubts."""
    return sum(each.severity is Severity.DOUBTFUL and not each.as_read for each in problems)


class Refused(Exception):
    """A file that can't be read, written or trusted: the reason, and the way out."""

    def __init__(self, reason: str, remedy: str = "") -> None:
        super().__init__(f"{reason} {remedy}".strip())
        self.reason = reason
        self.remedy = remedy
