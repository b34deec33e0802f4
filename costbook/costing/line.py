"""One line of an explanation, and where it leads: data, printed by the command and by the sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from costbook.book import Value
from costbook.costing.result import problem_data
from costbook.problems import Problem, Severity

__all__ = ["Line", "SourceCell", "together"]

_WEIGHT: Final[Mapping[Severity, str]] = {Severity.WRONG: "wrong", Severity.DOUBTFUL: "check"}
"""What stands before a problem of each weight."""

_ADDRESS: Final = re.compile(r"([A-Z]+)(\d+)")


@dataclass(frozen=True, slots=True)
class SourceCell:
    """A cell of the person's; ``upright`` where its sheet has a row, not a column, a field."""

    tab: str
    address: str
    upright: bool = False

    def __str__(self) -> str:
        return f"{self.tab}!{self.address}"

    @property
    def row(self) -> str:
        """What it shares with the cells of one record: its row, or just itself."""
        found = _ADDRESS.fullmatch(self.address)
        return found[2] if found and not self.upright else self.address

    @property
    def row_of_tab(self) -> tuple[str, str]:
        """The tab and the row."""
        return self.tab, self.row

    @property
    def column(self) -> tuple[int, str]:
        """The letters of its column, so that they sort as on the sheet: Z before AA."""
        found = _ADDRESS.fullmatch(self.address)
        letters = found[1] if found else ""
        return len(letters), letters


@dataclass(frozen=True, slots=True)
class Line:
    """One line: how deep it stands, which figure of what it tells, in words, and where to look.

    ``problems`` are what is wrong or doubtful in the rows that it leads to.
    """

    depth: int
    figure: str
    subject: str
    value: Value
    words: str
    cells: tuple[SourceCell, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def leads_to(self) -> list[str]:
        """The cells, those in one row as a range."""
        return together(self.cells)

    def in_words(self) -> Iterator[str]:
        """As it is printed: the sentence and its cells, and a line for each problem."""
        indent = "   " * self.depth
        leads = f"  ← {', '.join(self.leads_to)}" if self.cells else ""
        yield f"{indent}{self.words}{leads}"
        for problem in self.problems:
            said = problem.place_and_what if problem.as_read else str(problem)
            yield f"{indent}   {'read' if problem.as_read else _WEIGHT[problem.severity]}: {said}"

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "depth": self.depth,
            "figure": self.figure,
            "of": self.subject,
            "value": self.value,
            "words": self.words,
            "cells": self.leads_to,
            "problems": [problem_data(each) for each in self.problems],
        }


def together(cells: Sequence[SourceCell]) -> list[str]:
    """Cells as a person looks them up: those in one row of a sheet as one range."""
    rows: dict[tuple[str, str], list[SourceCell]] = {}
    for cell in cells:
        rows.setdefault((cell.tab, cell.row), []).append(cell)
    return [_range(row) for row in rows.values()]


def _range(cells: Sequence[SourceCell]) -> str:
    first, last = (pick(cells, key=lambda cell: cell.column) for pick in (min, max))
    return str(first) if first == last else f"{first}:{last.address}"
