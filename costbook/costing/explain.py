"""How a figure came about: the chain from a price down to the receipts.

Each step has the rule in words, its numbers, and the cell on Workings or of the person's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from costbook.book import Record, Value
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.definitions.algebra import words
from costbook.definitions.columns import (
    Column,
    Computed,
    FirstText,
    Given,
    LookedUp,
    Show,
    Totalled,
    UnitRow,
)
from costbook.definitions.sheets import INPUT_SHEETS
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
    cell: str = ""
    subject: str = ""


def figure_named(text: str) -> str | None:
    """The figure a person means by a name such as "Price on step" or "selling"."""
    plain = text.strip().lower().replace("_", " ")
    for name, heading in FIGURES.items():
        if plain in (name.replace("_", " "), heading.lower()):
            return name
    return None


def explain(costing: Costing, price: Row, figure: str) -> Iterator[Step]:
    """The steps from a figure of a product at an outlet down to the person's cells."""
    yield from _Explainer(costing).steps(price, figure, 0)


class _Explainer:
    """Walks from a figure to what it rests on; each figure is told once."""

    def __init__(self, costing: Costing) -> None:
        self.costing = costing
        self.told: set[tuple[str, int, str]] = set()

    def steps(self, row: Row, name: str, depth: int) -> Iterator[Step]:
        table = TABLES[row.table]
        if name not in table.index:
            row, table = self.costing.structure.one("settings"), TABLES["settings"]
        column = table.columns[table.index[name]]
        value = self.costing.of(row)[name]
        how = column.how
        key = (row.table, row.index, name)
        if isinstance(how, LookedUp) and name not in row.fixed:
            yield from self._looked_up(row, how, column, depth)
            return
        if key in self.told:
            yield Step(depth, column.heading, value, column.show, "as above", "", _subject(row))
            return
        self.told.add(key)
        rule = words(how.term()) if isinstance(how, Computed) else _manner(how)
        cell = self._cell(row, how)
        yield Step(depth, column.heading, value, column.show, rule, cell, _subject(row))
        if name in row.fixed:
            return
        if isinstance(how, Computed):
            for argument in how.arguments:
                if not self._is_text(row, argument):
                    yield from self.steps(row, argument, depth + 1)
        elif isinstance(how, Totalled):
            for at in row.children.get(how.table, ()):
                child = self.costing.structure.rows[how.table][at]
                yield from self.steps(child, how.column, depth + 1)

    def _looked_up(self, row: Row, how: LookedUp, column: Column, depth: int) -> Iterator[Step]:
        only = how.table in ("settings", "year")
        link = self.costing.structure.one(how.table) if only else row.links.get(how.table)
        if link is None:
            yield Step(depth, column.heading, None, column.show, "leads nowhere", "", _subject(row))
        else:
            yield from self.steps(link, how.column, depth)

    def _is_text(self, row: Row, name: str) -> bool:
        table = TABLES[row.table]
        if name not in table.index:
            table = TABLES["settings"]
        return table.columns[table.index[name]].show is Show.TEXT

    def _cell(self, row: Row, how: object) -> str:
        """The person's cell that a figure was read from."""
        if not isinstance(how, Given | UnitRow):
            return ""
        record = self._record(row, how)
        if record is None or how.field not in record.cells:
            return ""
        tab = self.costing.structure.book.sheets[record.sheet].tab
        return f"{tab}!{record.cells[how.field]}"

    def _record(self, row: Row, how: Given | UnitRow) -> Record | None:
        if not how.at_row:
            return row.sources.get(how.sheet)
        number = self.costing.of(row)[how.at_row]
        purchases = self.costing.structure.purchases
        return purchases.get(int(number)) if isinstance(number, Decimal) else None


def _manner(how: object) -> str:
    if isinstance(how, Totalled):
        return "the sum of" if not how.known else "the sum of what is known of"
    if isinstance(how, Given):
        return f"{INPUT_SHEETS[how.sheet].title}, {INPUT_SHEETS[how.sheet].field(how.field).title}"
    return "the first of" if isinstance(how, FirstText) else ""


_SUBJECTS = ("stage", "uses", "cost", "item", "recipe", "product", "outlet")


def _subject(row: Row) -> str:
    """What a row is about: the line, the item, the recipe."""
    for name in _SUBJECTS:
        if isinstance(row.fixed.get(name), str):
            return str(row.fixed[name])
    return ""
