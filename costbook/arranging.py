"""Problems in the order in which a person puts them right, each said once.

What is wrong comes first; then sheet by sheet, down the rows, from left to right. A doubt that
holds for many cells of one column is said at the first, with the rows where it holds too.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from costbook.problems import Problem, Severity

__all__ = ["SAID_SINGLY", "arranged"]

SAID_SINGLY: Final = 3
"""The same doubt in up to so many cells of a column is said at each."""

_CELL: Final = re.compile("([A-Z]*)([0-9]*)")


def arranged(problems: Iterable[Problem], tabs: Sequence[str]) -> tuple[Problem, ...]:
    """The problems in order, none twice; ``tabs`` are the workbook's, in the order of reading."""
    order = {tab: at for at, tab in enumerate(tabs)}
    once = list(_merged(dict.fromkeys(problems)))

    def position(problem: Problem) -> tuple[bool, int, int, int, str]:
        letters, row = _parts(problem.place.cell)
        tab = order.get(problem.place.sheet, len(order) if problem.place.sheet else -1)
        doubtful = problem.severity is not Severity.WRONG
        return doubtful, tab, row, len(letters), letters

    return tuple(sorted(once, key=position))


def _parts(cell: str) -> tuple[str, int]:
    """Letters and row of an address; none of a whole sheet."""
    found = _CELL.fullmatch(cell)
    return (found[1], int(found[2] or 0)) if found else ("", 0)


def _merged(problems: Iterable[Problem]) -> Iterator[Problem]:
    """Doubts of one reason in one column, said once from the fourth on."""
    alike: dict[tuple[str, str, str, str], list[Problem]] = defaultdict(list)
    for problem in problems:
        letters, row = _parts(problem.place.cell)
        if problem.severity is Severity.WRONG or not row:
            yield problem
        else:
            said = problem.of_many or problem.what
            alike[problem.place.sheet, letters, said, problem.remedy].append(problem)
    for (_, _, said, _), same in alike.items():
        if len(same) <= SAID_SINGLY:
            yield from same
        else:
            rows = sorted(_parts(problem.place.cell)[1] for problem in same)
            first = next(each for each in same if _parts(each.place.cell)[1] == rows[0])
            yield replace(first, what=f"{said} So it is in rows {_ranges(rows[1:])}.")


def _ranges(rows: Sequence[int]) -> str:
    """Row numbers, those that follow one another as 5–9."""
    runs: list[list[int]] = []
    for row in rows:
        if runs and row == runs[-1][-1] + 1:
            runs[-1].append(row)
        else:
            runs.append([row])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)
