"""How a figure came about, as a cook would say it: about ten lines, of sums the dearest rows.

What a line says is declared beside each column (``definitions/told.py``), and ``wording.py`` makes
the sentence. Here it is found which lines there are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from heapq import heappop, heappush
from itertools import count
from typing import Final

from costbook.costing.engine import Costing
from costbook.costing.line import Line
from costbook.costing.rows import FigureKey, Row
from costbook.costing.trail import At, Trail, mark_of
from costbook.costing.wording import Draft, Wording
from costbook.definitions.columns import Show

__all__ = ["MOST_LINES", "tell"]

MOST_LINES: Final = 12
"""Lines that are told; what a sum is made of beyond them is named in the line of the sum."""

_ALL: Final = Decimal(1)
_SUMMED: Final = {Show.MONEY: "money", Show.FINE_MONEY: "money", Show.MINUTES: "time"}
"""What figures that are shown so are parts of."""


def tell(costing: Costing, price: Row, figure: str, places: int) -> list[Line]:
    """The lines of a figure of a product at an outlet, from the figure down."""
    trail = Trail(costing)
    wording = Wording(trail, places)
    asked = Draft(*(trail.origin(price, figure) or (price, figure)), 0, _ALL)
    _Teller(trail, wording).choose(asked)
    return [wording.line(draft) for draft in _in_order(asked)]


class _Teller:
    """Finds the lines: what a figure rests on comes whole, the rows of sums while room is."""

    def __init__(self, trail: Trail, wording: Wording) -> None:
        self.trail, self.wording = trail, wording
        self.told: set[FigureKey] = set()
        self.waiting: list[tuple[bool, Decimal, int, Draft]] = []
        self.lines, self.count = 0, count()

    def choose(self, asked: Draft) -> None:
        """Take the line that was asked for, and below it as many as there is room for.

        Rows that are not known come first, then the dearest.
        """
        self.told.add(asked.key)
        self._take(asked)
        while self.waiting and self.lines < MOST_LINES:
            self._take(heappop(self.waiting)[-1])

    def _take(self, first: Draft) -> None:
        taking = [first]
        while taking:
            draft = taking.pop()
            draft.taken = True
            self.lines += 1
            self._look_below(draft)
            taking += reversed(draft.below)
            for row in draft.rows:
                row.known = self.trail.value(row.row, row.name) is not None
                heappush(self.waiting, (row.known, -row.weight, next(self.count), row))

    def _look_below(self, draft: Draft) -> None:
        """Find the lines that a line rests on, through whatever has none of its own."""
        if self.wording.why_uncounted(draft.name):
            return
        seen = {draft.key}
        looking = [(draft.row, draft.name, draft.weight, False)]
        while looking:
            row, name, weight, is_row = looking.pop()
            below = Draft(row, name, draft.depth + int(is_row or draft.is_row), weight, is_row)
            if below.key != draft.key and self.wording.has_line(row, name):
                self._put_below(draft, below)
                continue
            found = [at for at in self.wording.rests_on(row, name) if mark_of(at) not in seen]
            seen.update(map(mark_of, found))
            rows = self.trail.basis(row, name).rows
            parts = zip(found, self._shares(found), strict=True)
            looking += reversed([(*at, weight * share, rows) for at, share in parts])

    def _put_below(self, draft: Draft, below: Draft) -> None:
        """A line that another rests on: at once, or where it is one of many, while room is."""
        if below.key in self.told:
            return
        self.told.add(below.key)
        named = self.wording.told(draft.row, draft.name).names_all
        (draft.rows if below.is_row or named else draft.below).append(below)

    def _shares(self, parts: Sequence[At]) -> list[Decimal]:
        """Which share of what they make each of some figures has: money of money, time of time."""
        sums: dict[str, Decimal] = {}
        values = [self.trail.value(*at) for at in parts]
        kinds = [_SUMMED.get(self.trail.column(*at).show, "") for at in parts]
        for value, kind in zip(values, kinds, strict=True):
            if isinstance(value, Decimal):
                sums[kind] = sums.get(kind, Decimal(0)) + abs(value)
        return [
            abs(value) / sums[kind] if isinstance(value, Decimal) and kind and sums[kind] else _ALL
            for value, kind in zip(values, kinds, strict=True)
        ]


def _in_order(first: Draft) -> Iterator[Draft]:
    """The lines as they are read: of rows the unknown and the dearest first, long stories last."""
    waiting = [first]
    while waiting:
        draft = waiting.pop()
        yield draft
        rows = [row for row in draft.rows if row.taken]
        rows.sort(key=lambda row: (row.known or not row.is_row, -row.weight * row.is_row))
        last = sorted(draft.below, key=lambda below: bool(below.below or below.rows))
        waiting += reversed([*rows, *last])
