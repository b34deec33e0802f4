"""Cell ranges as numbers, for the checks."""

from __future__ import annotations

import re
from bisect import bisect_left
from heapq import heappop, heappush
from typing import Final, NamedTuple

__all__ = ["Range", "overlapping", "range_of"]

_RANGE: Final = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Z]{1,3})\$?([0-9]{1,7}))?\Z")
_LAST_ROW: Final = 1_048_576
_LAST_COLUMN: Final = 16_384


class Range(NamedTuple):
    """The first and last row and column, counted from 1."""

    top: int
    left: int
    bottom: int
    right: int


def range_of(text: str) -> Range | None:
    """The range that `B2:D9` or `B2` means; None when it isn't one inside a sheet."""
    found = _RANGE.match(text)
    if found is None:
        return None
    left, top = _column(found[1]), int(found[2])
    right = _column(found[3]) if found[3] else left
    bottom = int(found[4]) if found[4] else top
    inside = 0 < top <= bottom <= _LAST_ROW and left <= right <= _LAST_COLUMN
    return Range(top, left, bottom, right) if inside else None


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def overlapping(ranges: list[Range]) -> bool:
    """Whether two of the ranges share a cell.

    Looked at from the top: the columns of the ranges that reach down to a row lie beside each
    other as long as none overlap, so that only the two next to a new one can share a cell with it.
    """
    columns: list[tuple[int, int]] = []
    ends: list[tuple[int, int, int]] = []
    for each in sorted(ranges):
        while ends and ends[0][0] < each.top:
            _, left, right = heappop(ends)
            del columns[bisect_left(columns, (left, right))]
        at = bisect_left(columns, (each.left, each.right))
        before = at > 0 and columns[at - 1][1] >= each.left
        if before or (at < len(columns) and columns[at][0] <= each.right):
            return True
        columns.insert(at, (each.left, each.right))
        heappush(ends, (each.bottom, each.left, each.right))
    return False
