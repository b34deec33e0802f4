"""Many what-ifs at once: other prices and settings, case by case, through the engine's own rules.

Only columns that a trial reaches are computed again, over arrays with an element a case; all else
is as costed. Figures are floating point, for comparing cases; one trial's exact figures come from
``trial.tried``.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import add
from typing import assert_never

from costbook.costing.engine import Costing
from costbook.costing.rows import FigureKey, Row
from costbook.deciding.arrays import Array, across, array_of
from costbook.definitions.affected import TRIAL_ANSWERS, columns_between
from costbook.definitions.columns import (
    AsCosted,
    Column,
    Computed,
    CountInText,
    Fixed,
    Gathered,
    Given,
    Key,
    LookedUp,
    Over,
    Renamed,
    RowOf,
    RowsNow,
    StandsOn,
    Today,
    UnitFact,
    UnitRow,
    Worth,
)
from costbook.definitions.workings import TABLES

__all__ = ["WhatIfs"]


class WhatIfs:
    """A book costed for many cases: prices per pack by item key, settings by column.

    ``others`` are any other figures of the person's, by where they stand. Only what ``answers``,
    figures of Prices, rest on is computed again.
    """

    def __init__(
        self,
        costing: Costing,
        prices: Mapping[str, Array],
        settings: Mapping[str, Array] | None = None,
        others: Mapping[FigureKey, Array] | None = None,
        answers: tuple[str, ...] = TRIAL_ANSWERS,
    ) -> None:
        self.costing = costing
        self.varied: dict[FigureKey, Array] = {}
        self.given = {**(others or {}), **self._cells(prices, settings or {})}
        changes = frozenset((table, column) for table, _, column in self.given)
        reached = columns_between(changes, answers)
        tables = {table for table, _ in reached}
        for row in costing.structure.order:
            if row.table not in tables:
                continue
            for column in TABLES[row.table].columns:
                again = (row.table, column.name) in reached
                array = self._computed(row, column) if again else None
                if array is not None:
                    self.varied[row.table, row.index, column.name] = array

    def _cells(
        self, prices: Mapping[str, Array], settings: Mapping[str, Array]
    ) -> Mapping[FigureKey, Array]:
        """Where prices by item key and settings by column stand."""
        rows = self.costing.structure.rows["prices_now"]
        at = {str(row.fixed["item_key"]): row.index for row in rows}
        cells = {("prices_now", at[key], "price_per_pack"): each for key, each in prices.items()}
        return cells | {("settings", 0, name): each for name, each in settings.items()}

    def of(self, row: Row, column: str) -> Array:
        """A figure of a row, an element a case; one element where no case changes it."""
        array = self._varied(row, column)
        return array_of([self.costing.of(row)[column]]) if array is None else array

    def _varied(self, row: Row, column: str) -> Array | None:
        return self.varied.get((row.table, row.index, column))

    def _computed(self, row: Row, column: Column) -> Array | None:  # one path a kind
        """The figure case by case; None where it is the same in every case."""
        given = self.given.get((row.table, row.index, column.name))
        if given is not None:
            return given
        if column.name in row.fixed:
            return None
        match column.how:
            case Computed():
                return self._by_rule(row, column.how)
            case LookedUp():
                source = self._source(row, column.how.table)
                return self._varied(source, column.how.column) if source else None
            case Gathered():
                return self._total(row, column.how)
            case Given(stands_in=name, sheet=sheet, field=field) if name:
                record = row.sources.get(sheet)
                own = record is not None and field in record.values
                return None if own else self._varied(*self._place(row, name))
            case (  # from here on: no what-if reaches these
                Given() | Fixed() | Today() | AsCosted() | RowsNow() | UnitFact() | Worth() | Over()
            ):
                return None
            case CountInText() | Key() | UnitRow() | Renamed() | StandsOn() | RowOf():
                return None
            case _:
                assert_never(column.how)

    def _source(self, row: Row, table: str) -> Row | None:
        if TABLES[table].has_one_row:
            return self.costing.structure.one(table)
        return row.links.get(table)

    def _place(self, row: Row, name: str) -> tuple[Row, str]:
        """Where an argument stands: in the row itself, else on Settings."""
        own = name in TABLES[row.table].index
        return (row if own else self.costing.structure.one("settings")), name

    def _by_rule(self, row: Row, how: Computed) -> Array | None:
        places = {name: self._place(row, name) for name in how.arguments}
        if all(self._varied(*place) is None for place in places.values()):
            return None
        return across(how, {name: self.of(*place) for name, place in places.items()})

    def _total(self, row: Row, how: Gathered) -> Array | None:
        parts = self.costing.gathered_rows(row, how)
        if all(self._varied(part, how.column) is None for part in parts):
            return None
        return reduce(add, (self.of(part, how.column) for part in parts))
