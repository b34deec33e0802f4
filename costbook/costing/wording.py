"""The sentence of one line: what is declared to be told of a figure, with the figures in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final

from costbook.costing.lacking import uncounted
from costbook.costing.line import Line, SourceCell
from costbook.costing.rows import FigureKey, Row
from costbook.costing.spoken import NOT_KNOWN, Spoken
from costbook.costing.trail import At, Trail, declared, mark_of
from costbook.definitions.columns import Computed
from costbook.definitions.told import ASKED, NOT_TOLD, Told

__all__ = ["Draft", "Wording"]

_NAMED: Final = 3
"""Rows of a sum without a line of their own that are named; the others are counted."""


@dataclass(slots=True)
class Draft:
    """A figure that may get a line, and the lines below it.

    ``weight`` is about which part of the figure that was asked for it is; ``rows`` are the figures
    of a sum, of which only those ``taken`` get a line.
    """

    row: Row
    name: str
    depth: int
    weight: Decimal
    is_row: bool = False
    known: bool = True
    taken: bool = False
    below: list[Draft] = field(default_factory=list)
    rows: list[Draft] = field(default_factory=list)

    @property
    def key(self) -> FigureKey:
        """The figure, as a set can hold it."""
        return mark_of((self.row, self.name))


class Wording:
    """Says the figures of a costing in lines."""

    def __init__(self, trail: Trail, places: int) -> None:
        self.trail, self.spoken = trail, Spoken(trail, places)
        self.uncounted = {part.name: part.uncounted for part in uncounted(trail.costing)}
        self.lacking: set[str] = set()
        """What was said to be missing."""
        self.leads: list[SourceCell] = []
        """The cells that the line which is being made leads to."""

    def told(self, row: Row, name: str) -> Told:
        """What is declared to be told of a figure."""
        return self.trail.told(row, name) or Told()

    def has_line(self, row: Row, name: str) -> bool:
        """Whether a figure is told in a line of its own."""
        return bool(self.told(row, name).name)

    def why_uncounted(self, name: str) -> str:
        """Why a part of what a pack costs isn't counted; empty where it is."""
        return self.uncounted.get(name, "")

    def rests_on(self, row: Row, name: str) -> Iterator[At]:
        """The figures that one rests on, where they come about; none that changes nothing."""
        for at in self.trail.basis(row, name).rests_on:
            there = self.trail.origin(*at)
            if there is not None and not self._is_plain(*there):
                yield there

    def line(self, draft: Draft) -> Line:
        """The line of a figure."""
        row, name, self.leads = draft.row, draft.name, []
        words = self._sentence(draft)
        if self.trail.is_left_open(row, name):
            self.leads = [cell for cell in [self.trail.named_in(row)] if cell]
        elif not self.leads and not ASKED.search(self.told(row, name).words):
            self._lead(row, name)
        heading, subject = self.trail.column(row, name).heading, self.trail.subject(row)
        value, cells = self.trail.value(row, name), tuple(self.leads)
        return Line(draft.depth, heading, subject, value, words, cells)

    def _sentence(self, draft: Draft) -> str:
        row, name, told = draft.row, draft.name, self.told(draft.row, draft.name)
        called, own = self._called(draft), self._own(row, name)
        if why := self.why_uncounted(name):
            return f"{called}: not counted, {why}"
        bare = "" if self.trail.is_left_open(row, name) else self._words(draft, told)
        words = bare.replace(NOT_TOLD, self._rest(draft))
        repeated = _is_repeated(own, bare.replace(NOT_TOLD, ""))
        so = "" if repeated else self._filled(row, name, told.so)
        return f"{called}{': ' if words else ''}{words}{so}{self._lacking(draft, told)}"

    def _called(self, draft: Draft) -> str:
        told = self.told(draft.row, draft.name)
        if not told.name:
            return self.trail.column(draft.row, draft.name).heading
        return self._filled(draft.row, draft.name, told.name)

    def _words(self, draft: Draft, told: Told) -> str:
        """The words of a line between its name and its figure."""
        words = told.words if told.name else self._words_of_nothing(draft.row, draft.name)
        if not words:
            return ""
        words = words if NOT_TOLD in words else f"{words}{NOT_TOLD}"
        return _tidy(self._filled(draft.row, draft.name, words))

    def _words_of_nothing(self, row: Row, name: str) -> str:
        """What is said of a figure without a line of its own, where that is asked for."""
        within = self.told(row, name).within
        if within != _BARE:
            return within
        computed = isinstance(self.trail.column(row, name).how, Computed)
        return self.trail.basis(row, name).rule if computed else ""

    def _lacking(self, draft: Draft, told: Told) -> str:
        """What is missing where the figure isn't known."""
        lacks = told.lacks or self.trail.lacks(draft.row)
        if not lacks or self.trail.value(draft.row, draft.name) is not None:
            return ""
        lack = str(self.trail.value(draft.row, lacks) or "")
        if not lack or (lack in self.lacking and not draft.is_row):
            return ""
        self.lacking.add(lack)
        return f"; missing: {lack}"

    def _rest(self, draft: Draft) -> str:
        """The rows of a sum that have no line: the unknown and the dearest of them by name."""
        left = [row for row in draft.rows if row.is_row and not row.taken]
        if not left:
            return ""
        left.sort(key=self._unknown_then_dearest)
        named = [f"{self._called(row)} {self._own(row.row, row.name)}" for row in left[:_NAMED]]
        more = [f"{len(left) - _NAMED} more"] if len(left) > _NAMED else []
        also = "also " if any(row.taken for row in draft.rows) else ""
        return f" ({also}{_and([*named, *more])})"

    def _unknown_then_dearest(self, draft: Draft) -> tuple[bool, Decimal]:
        value = self.trail.value(draft.row, draft.name)
        return (True, -value) if isinstance(value, Decimal) else (False, Decimal(0))

    # ------------------------------------------------------------ the figures in a sentence

    def _filled(self, row: Row, name: str, text: str) -> str:
        """A text with what is told of each column in its place."""
        return ASKED.sub(
            lambda found: self._phrase(row, found[1]) if found[1] else self._said(row, name), text
        )

    def _phrase(self, row: Row, name: str) -> str:
        """What is told of a column within another's line; nothing where it changes nothing."""
        there = self.spoken.place(row, name)
        while there and (link := self.trail.looked_up(*there)):
            there = link
        if there is None:
            table, _, own = name.rpartition(".")
            bare = (declared(table or row.table, own) or Told()).within == _BARE
            return NOT_KNOWN if bare else ""
        row, name = self.trail.home(*there), there[1]
        if self.why_uncounted(name):
            return "not counted"
        told = self.told(row, name)
        if told.within == _BARE:
            return self._said(row, name)
        if self._is_plain(row, name) or self._was_told(row, name) or self._is_empty(row, name):
            return ""
        return self._filled(row, name, told.within)

    def _said(self, row: Row, name: str) -> str:
        """A figure with its unit, in a line that then leads to where it comes from."""
        if not self.has_line(row, name):
            self._lead(row, name)
        return self._own(row, name)

    def _own(self, row: Row, name: str) -> str:
        """A figure with its unit."""
        measured = self.told(row, name).measured
        if measured:
            return self.spoken.measured(row, name, measured)
        return self.spoken.figure(row, name)

    def _lead(self, row: Row, name: str) -> None:
        """Note the cells that a figure leads to, as far as no other line leads there."""
        there = self.trail.origin(row, name)
        looking, seen = [there] if there else [], set[FigureKey]()
        while looking:
            at = looking.pop()
            if mark_of(at) in seen or (seen and self.has_line(*at)):
                continue
            seen.add(mark_of(at))
            cell = self.trail.basis(*at).cell
            if cell and cell not in self.leads:
                self.leads.append(cell)
            looking += reversed(list(self.rests_on(*at)))

    def _is_plain(self, row: Row, name: str) -> bool:
        """Whether there is nothing to tell, which is known and not merely left out."""
        plain, value = self.told(row, name).plain, self.trail.value(row, name)
        return plain is not None and value == plain and not self.why_uncounted(name)

    def _was_told(self, row: Row, name: str) -> bool:
        """Whether the figure is that of another column, which was told already."""
        value, others = self.trail.value(row, name), self.told(row, name).same_as
        return value is not None and any(value == self.trail.value(row, at) for at in others)

    def _is_empty(self, row: Row, name: str) -> bool:
        """Whether there is no text, or only the want of a figure is carried on."""
        value, told = self.trail.value(row, name), self.told(row, name)
        return value == "" or (value is None and (told.conversion or bool(told.same_as)))


_BARE: Final = Told().within


def _is_repeated(figure: str, words: str) -> bool:
    """Whether words begin with the figure that they lead to, and name no other."""
    known = figure != NOT_KNOWN and words.startswith(figure)
    return known and not re.search(r"\d", words[len(figure) :])


def _tidy(words: str) -> str:
    """Words whose first phrases were left out, without the comma or the "and" that joined them."""
    return re.sub(r"(^|, )(?:, | and )+", r"\1", words).strip()


def _and(texts: Sequence[str]) -> str:
    *first, last = texts
    return f"{', '.join(first)} and {last}" if first else last
