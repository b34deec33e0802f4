"""One saved workbook priced, and what is said of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from costbook.deciding.in_short import at_one_look
from costbook.problems import Problem, Refused, Severity, to_check
from costbook.round_trip import read_and_cost
from costbook.watching.held import beside, held_by
from costbook.write_back import write

__all__ = ["Priced", "priced"]


@dataclass(frozen=True, slots=True)
class Priced:
    """A run: its workbook, what was written, and how it went.

    ``in_short`` are the lines of the front sheet. ``open_in``: the program that had the workbook
    open, so that another was written. ``refused``: why nothing was.
    """

    path: Path
    written: Path | None = None
    problems: Sequence[Problem] = ()
    in_short: tuple[str, ...] = ()
    open_in: str = ""
    refused: str = ""

    @property
    def in_words(self) -> str:
        """The run in one line."""
        if self.written is None:
            return f"{self.path.name}: {self.refused}"
        wrong, doubts = self._counted
        counted = f"{wrong} wrong, {doubts} to check."
        if not self.open_in:
            return f"{self.path.name}: priced, in {self.written.name}. {counted}"
        return (
            f"{self.path.name} is open in {self.open_in}, so its prices stand beside it for now, "
            f"in {self.written.name}. {counted}"
        )

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        wrong, doubts = self._counted
        return {
            "book": str(self.path),
            "written": str(self.written) if self.written else None,
            "open_in": self.open_in or None,
            "wrong": wrong,
            "to_check": doubts,
            "in_short": list(self.in_short),
            "refused": self.refused or None,
        }

    @property
    def status(self) -> int:
        """As a command's exit status: 0 fine, 1 something is wrong, 2 nothing was priced."""
        return 2 if self.written is None else min(1, self._counted[0])

    @property
    def _counted(self) -> tuple[int, int]:
        wrong = sum(each.severity is Severity.WRONG for each in self.problems)
        return wrong, to_check(self.problems)


def priced(path: Path) -> Priced:
    """Price a workbook: our sheets go into it, or beside it while another program has it open.

    What goes wrong is said, and ends nothing.
    """
    open_in = "" if path.suffix.lower() == ".ods" else held_by(path)
    try:
        costed = read_and_cost(path, None)
        written = write(costed, beside(path) if open_in else None)
    except Refused as refused:
        return Priced(path, refused=str(refused))
    except Exception as error:  # noqa: BLE001 - the next save may go well: this one is said
        what = f"costbook met something that nobody foresaw ({type(error).__name__})"
        return Priced(path, refused=f"{what}. Nothing was half written.")
    told = at_one_look(costed.costing, costed.problems, costed.places)
    return Priced(
        path,
        written.path,
        (*costed.problems, *written.problems),
        tuple(f"{each.about}: {each.words}" for each in told),
        open_in,
    )
