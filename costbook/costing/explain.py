"""How a figure came about, step by step: the chain from a price down to the receipts.

Each step has the rule in words, its numbers, and the cell of the person's that it is read from.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.line import SourceCell
from costbook.costing.rows import FigureKey, Row
from costbook.costing.trail import Trail, declared, mark_of
from costbook.definitions.columns import Show
from costbook.definitions.workings import TABLES

__all__ = ["FIGURES", "Step", "explain", "figure_named"]

FIGURES = {
    column.name: column.heading
    for column in TABLES["prices"].columns
    if column.show is not Show.TEXT
}
"""The figures of a product that can be explained: name → heading."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of an explanation, some levels deep."""

    depth: int
    name: str
    value: Value
    show: Show
    rule: str = ""
    cell: SourceCell | None = None
    subject: str = ""


def figure_named(text: str) -> str | None:
    """The figure a person means by a name such as "Price on step", "selling" or "your work"."""
    plain = text.strip().lower().replace("_", " ")
    for name, heading in FIGURES.items():
        told = declared("prices", name)
        if plain in (name.replace("_", " "), heading.lower(), told.name.lower() if told else ""):
            return name if plain else None
    return None


def explain(costing: Costing, price: Row, figure: str) -> Iterator[Step]:
    """The steps from a figure of a product at an outlet down to the person's cells."""
    explainer = _Explainer(costing)
    waiting: list[ToTell] = [(price, figure, 0)]
    while waiting:  # a stack of our own: recipes may be nested deeper than Python calls may be
        step, below = explainer.step(*waiting.pop())
        yield step
        waiting.extend(reversed(below))


ToTell = tuple[Row, str, int]
"""A figure to be told: its row, its column, and how many levels deep."""


class _Explainer:
    """Tells a figure, and which it rests on; each figure is told once."""

    def __init__(self, costing: Costing) -> None:
        self.trail = Trail(costing)
        self.told: set[FigureKey] = set()

    def step(self, row: Row, name: str, depth: int) -> tuple[Step, list[ToTell]]:
        """One figure, and what comes below it."""
        there = self.trail.origin(row, name)
        if there is None:
            column, subject = self.trail.column(row, name), self.trail.subject(row)
            return Step(
                depth, column.heading, None, column.show, "leads nowhere", None, subject
            ), []
        row, name = there
        column = self.trail.column(row, name)
        key = mark_of((row, name))
        rule, below = "as above", list[ToTell]()
        cell: SourceCell | None = None
        if key not in self.told:
            self.told.add(key)
            basis = self.trail.basis(row, name)
            left_open = self.trail.is_left_open(row, name)
            rule = str(row.fixed[self.trail.lacks(row)]) if left_open else basis.rule
            cell = basis.cell
            below = [(*at, depth + 1) for at in basis.rests_on]
        value, subject = self.trail.value(row, name), self.trail.subject(row)
        return Step(depth, column.heading, value, column.show, rule, cell, subject), below
