"""Cell ranges as numbers, for the checks."""

from __future__ import annotations

import re
from itertools import combinations
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
    """Whether two of the ranges share a cell."""
    if sum((r.bottom - r.top + 1) * (r.right - r.left + 1) for r in ranges) > 200_000:
        return any(_share(one, other) for one, other in combinations(ranges, 2))
    cells = [
        (row, column)
        for each in ranges
        for row in range(each.top, each.bottom + 1)
        for column in range(each.left, each.right + 1)
    ]
    return len(cells) > len(set(cells))


def _share(one: Range, other: Range) -> bool:
    rows = one.top <= other.bottom and other.top <= one.bottom
    return rows and one.left <= other.right and other.left <= one.right
