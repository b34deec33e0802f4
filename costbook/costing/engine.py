"""Structure → figures: every column of every row, exactly.

The engine walks the tables of ``definitions.workings`` and knows no column by name. Unknown
figures are None; texts are str; everything else is Decimal.
"""

from __future__ import annotations

from decimal import Decimal
from typing import assert_never

from costbook.book import Value
from costbook.costing.cells import PersonsCells
from costbook.costing.filed import Filed
from costbook.costing.rows import Compute, Figures, Row, Structure
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.columns import (
    WORTHS,
    AsCosted,
    Column,
    Computed,
    Fixed,
    FromPerson,
    Gathered,
    LookedUp,
    Over,
    RowOf,
    RowsNow,
    Table,
    Today,
    UnitFact,
    Worth,
)
from costbook.definitions.workings import TABLES

__all__ = ["Costing", "Figures", "cost"]


class Costing:
    """The structure and its figures: ``figures[table][row index][column]``."""

    def __init__(self, structure: Structure) -> None:
        self.structure = structure
        self.figures: dict[str, list[Figures]] = {
            name: [{} for _ in rows] for name, rows in structure.rows.items()
        }

    def of(self, row: Row) -> Figures:
        """The figures of a row."""
        return self.figures[row.table][row.index]

    def one(self, table: str) -> Figures:
        """The figures of a table that has one row."""
        return self.figures[table][0]

    def gathered_rows(self, row: Row, how: Gathered) -> list[Row]:
        """The rows of whose figures something is made."""
        rows, key = self.structure.rows[how.table], how.key
        own = self.of(row)
        children = (rows[at] for at in row.children.get(how.table, ()))
        return [each for each in children if not key or self.of(each)[key] == own[key]]


def cost(structure: Structure) -> Costing:
    """Compute every figure of the structure."""
    engine = _Engine(structure)
    for row in structure.order:
        engine.compute(row)
    return engine.costing


class _Engine:
    """How each kind of column is computed."""

    def __init__(self, structure: Structure) -> None:
        self.structure = structure
        self.costing = Costing(structure)
        self.settings = self.costing.one("settings")
        self.filed = Filed(self.costing.figures)
        self.cells = PersonsCells(structure, self.settings)
        self.plans = {
            name: [(column.name, self._plan(table, column)) for column in table.columns]
            for name, table in TABLES.items()
            if structure.rows[name]
        }

    def compute(self, row: Row) -> None:
        """Fill in the figures of one row, left to right."""
        figures = self.costing.of(row)
        fixed = row.fixed
        for name, plan in self.plans[row.table]:
            figures[name] = fixed[name] if name in fixed else plan(row, figures)

    def _plan(self, table: Table, column: Column) -> Compute:  # one path a kind
        how = column.how
        if isinstance(how, FromPerson | RowOf):
            return self.cells.read(how)
        match how:
            case Fixed() | Today():
                return lambda _row, _figures: None
            case AsCosted(column=name) | RowsNow(costed=name):
                return lambda _row, figures: figures[name]
            case Computed():
                return self._computed(table, how)
            case LookedUp():
                return self._looked_up(how)
            case Gathered():
                return self._gathered(how)
            case UnitFact():
                return self._unit_fact(how)
            case Worth():
                return self._worth(how)
            case Over():
                return self.filed.over(how)
            case _:
                assert_never(how)

    def _looked_up(self, how: LookedUp) -> Compute:
        table, column = how.table, how.column
        without: Value = None if how.without is UNKNOWN else how.without
        rows = self.costing.figures[table]
        only = TABLES[table].has_one_row

        def looked_up(row: Row, _figures: Figures) -> Value:
            if only:
                return rows[0][column]
            link = row.links.get(table)
            return rows[link.index][column] if link is not None else without

        return looked_up

    def _computed(self, table: Table, how: Computed) -> Compute:
        figure, settings = how.figure, self.settings
        arguments = tuple((name, name in table.index) for name in how.arguments)

        def computed(_row: Row, figures: Figures) -> Value:
            return figure([(figures if own else settings)[name] for name, own in arguments])

        return computed

    def _gathered(self, how: Gathered) -> Compute:
        costing, column, fold = self.costing, how.column, how.fold

        def gathered(row: Row, _figures: Figures) -> Value:
            values = [costing.of(each)[column] for each in costing.gathered_rows(row, how)]
            if fold == "first":
                return next((text for text in values if text), "")
            if None in values and fold == "all":
                return None
            return sum((v for v in values if isinstance(v, Decimal)), Decimal(0))

        return gathered

    def _unit_fact(self, how: UnitFact) -> Compute:
        without: Value = None if how.without is UNKNOWN else how.without
        units, column, at = self.costing.figures["units"], how.column, how.unit_row

        def unit_fact(_row: Row, figures: Figures) -> Value:
            number = figures[at]
            return units[int(number) - 1][column] if isinstance(number, Decimal) else without

        return unit_fact

    def _worth(self, how: Worth) -> Compute:
        rows = self.costing.figures[how.table]

        def worth(row: Row, figures: Figures) -> Value:
            link, measure = row.links.get(how.table), figures[how.measure]
            if link is None or not isinstance(measure, Decimal):
                return None
            return rows[link.index][WORTHS[int(measure) - 1]]

        return worth
