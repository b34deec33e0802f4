"""Structure → figures: every column of every row, exactly.

The engine walks the tables of ``definitions.workings`` and knows no column by name. Unknown
figures are None; texts are str; everything else is Decimal.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Mapping
from decimal import Decimal, DecimalException
from typing import Any

from costbook.book import Record, Value, as_key
from costbook.costing.rows import Row, Structure
from costbook.costing.structure import item_keys
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.columns import (
    Column,
    Computed,
    Discounts,
    FirstRank,
    FirstText,
    Fixed,
    Given,
    How,
    Key,
    LatestRank,
    LeastWhere,
    LookedUp,
    Renamed,
    RowsNow,
    Today,
    Totalled,
    TotalledWhere,
    UnitFact,
    UnitRow,
    YearSpend,
    Worth,
)
from costbook.definitions.rules import ROWS_IN_RANK
from costbook.definitions.units import SPELLINGS, unit_key
from costbook.definitions.workings import TABLES, WORTHS

__all__ = ["Costing", "Figures", "cost"]

DAYS_IN_YEAR = 365

NOBODY = as_key("")
"""The key of a supplier that isn't named."""

Figures = dict[str, Value]
"""One row's figures by column."""


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


def cost(structure: Structure) -> Costing:
    """Compute every figure of the structure."""
    engine = _Engine(structure)
    for row in structure.order:
        engine.compute(row)
    return engine.costing


Compute = Callable[[Row, Figures], Value]


class _Engine:
    """How each kind of column is computed."""

    def __init__(self, structure: Structure) -> None:
        self.structure = structure
        self.costing = Costing(structure)
        self.settings: Figures = {}
        self.aliases = item_keys(structure.book)
        self.unit_rows = {key: Decimal(i) for i, key in enumerate(SPELLINGS, 1)}
        self.units = tuple(SPELLINGS.values())
        self.ranks: dict[tuple[str, ...], list[Decimal]] = defaultdict(list)
        self.discounts: dict[tuple[Value, ...], Decimal] = defaultdict(Decimal)
        self.plans = {
            name: [(column.name, self._plan(column)) for column in table.columns]
            for name, table in TABLES.items()
        }

    def compute(self, row: Row) -> None:
        """Fill in the figures of one row, left to right."""
        figures = self.costing.of(row)
        if row.table == "settings":
            self.settings = figures
        fixed = row.fixed
        if row.table == "since":
            # what was left out when this was costed is what is left out now
            lines = self.costing.figures["purchases"]
            fixed["left_out_costed"] = sum((_number(f["left_out"]) for f in lines), Decimal(0))
        for name, plan in self.plans[row.table]:
            figures[name] = fixed[name] if name in fixed else plan(row, figures)
        if row.table == "purchases":
            self._remember(figures)

    def _plan(self, column: Column) -> Compute:
        how: How = column.how
        makers: dict[type, Callable[[Any], Compute]] = {
            Fixed: self._fixed,
            Today: self._fixed,
            Given: self._given,
            Key: self._key,
            LookedUp: self._looked_up,
            Computed: self._computed,
            Totalled: self._totalled,
            TotalledWhere: self._totalled_where,
            FirstText: self._first_text,
            UnitRow: self._unit_row,
            UnitFact: self._unit_fact,
            Worth: self._worth,
            RowsNow: self._rows_now,
            Renamed: self._renamed,
            LatestRank: self._latest_rank,
            FirstRank: self._first_rank,
            YearSpend: self._year_spend,
            LeastWhere: self._least_where,
            Discounts: self._discounts,
        }
        return makers[type(how)](how)

    def _fixed(self, how: Fixed | Today) -> Compute:
        return lambda row, figures: None

    def _record(self, how: Given | Key | UnitRow) -> Callable[[Row, Figures], Record | None]:
        """Where a row reads the person's cells: its own record, or the purchase that counts."""
        sheet, at_row = how.sheet, how.at_row
        if not at_row:
            return lambda row, figures: row.sources.get(sheet)
        purchases = self.structure.purchases

        def bought(row: Row, figures: Figures) -> Record | None:
            number = figures[at_row]
            return purchases.get(int(number)) if isinstance(number, Decimal) else None

        return bought

    def _given(self, how: Given) -> Compute:
        record_of, name = self._record(how), how.field
        blank: Value = None if how.blank is UNKNOWN else how.blank

        def given(row: Row, figures: Figures) -> Value:
            record = record_of(row, figures)
            if record is not None:
                if name in record.values:
                    return record.values[name]
                if how.count_in in record.counts_in_text:
                    return record.counts_in_text[how.count_in]
            elif how.at_row:
                return "" if blank == "" else None
            if how.stands_in:
                return self._beside(figures, how.stands_in)
            if how.together_with and not _any_given(record, how.together_with):
                return None
            return blank

        return given

    def _beside(self, figures: Figures, name: str) -> Value:
        """A column of the row, else a setting."""
        return figures[name] if name in figures else self.settings[name]

    def _key(self, how: Key) -> Compute:
        record_of = self._record(how)
        aliases = self.aliases if how.field == "item" else {}

        def key(row: Row, figures: Figures) -> Value:
            record = record_of(row, figures)
            own = as_key(record.text(how.field) if record else "")
            return aliases.get(own, own)

        return key

    def _looked_up(self, how: LookedUp) -> Compute:
        table, column = how.table, how.column
        without: Value = None if how.without is UNKNOWN else how.without
        rows = self.costing.figures[table]
        only = table in ("settings", "year")

        def looked_up(row: Row, figures: Figures) -> Value:
            if only:
                return rows[0][column]
            link = row.links.get(table)
            return rows[link.index][column] if link is not None else without

        return looked_up

    def _computed(self, how: Computed) -> Compute:
        rule, names, nothing_of = how.rule, how.arguments, how.nothing_of
        tolerant = how.meets_unknowns

        def computed(row: Row, figures: Figures) -> Value:
            values: list[Any] = [
                figures[name] if name in figures else self.settings[name] for name in names
            ]
            if tolerant:
                values = [UNKNOWN if value is None else value for value in values]
            else:
                if nothing_of and self._beside(figures, nothing_of) == 0:
                    return Decimal(0)
                if None in values:
                    return None
            try:
                return _plain(rule(*values))
            except DecimalException:
                return None

        return computed

    def _totalled(self, how: Totalled) -> Compute:
        rows, column = self.costing.figures[how.table], how.column

        def totalled(row: Row, figures: Figures) -> Value:
            values = [rows[i][column] for i in row.children.get(how.table, ())]
            if None in values and not how.known:
                return None
            return sum((v for v in values if isinstance(v, Decimal)), Decimal(0))

        return totalled

    def _totalled_where(self, how: TotalledWhere) -> Compute:
        rows, column, key = self.costing.figures[how.table], how.column, how.key

        def totalled_where(row: Row, figures: Figures) -> Value:
            own = figures[key]
            children = row.children.get(how.table, ())
            values = [rows[i][column] for i in children if rows[i][key] == own]
            if None in values:
                return None
            return sum((v for v in values if isinstance(v, Decimal)), Decimal(0))

        return totalled_where

    def _first_text(self, how: FirstText) -> Compute:
        rows, column = self.costing.figures[how.table], how.column

        def first_text(row: Row, figures: Figures) -> Value:
            texts = (rows[i][column] for i in row.children.get(how.table, ()))
            return next((text for text in texts if text), "")

        return first_text

    def _unit_row(self, how: UnitRow) -> Compute:
        record_of = self._record(how)

        def unit_row(row: Row, figures: Figures) -> Value:
            record = record_of(row, figures)
            if record is None:
                return None
            text = record.text(how.field) or record.units_in_text.get(how.text_in, "")
            return self.unit_rows.get(unit_key(text))

        return unit_row

    def _unit_fact(self, how: UnitFact) -> Compute:
        without: Value = None if how.without is UNKNOWN else how.without
        facts: Mapping[str, tuple[Value, ...]] = {
            "factor": tuple(unit.factor for unit in self.units),
            "measure": tuple(Decimal(int(unit.measure)) for unit in self.units),
            "piece_word": tuple(unit.piece_word for unit in self.units),
        }
        values, at = facts[how.column], how.unit_row

        def unit_fact(row: Row, figures: Figures) -> Value:
            number = figures[at]
            return values[int(number) - 1] if isinstance(number, Decimal) else without

        return unit_fact

    def _worth(self, how: Worth) -> Compute:
        rows = self.costing.figures[how.table]

        def worth(row: Row, figures: Figures) -> Value:
            link, measure = row.links.get(how.table), figures[how.measure]
            if link is None or not isinstance(measure, Decimal):
                return None
            return rows[link.index][WORTHS[int(measure) - 1]]

        return worth

    def _rows_now(self, how: RowsNow) -> Compute:
        return lambda row, figures: figures["rows_costed"]

    def _renamed(self, how: Renamed) -> Compute:
        return lambda row, figures: Decimal(0)

    def _remember(self, figures: Figures) -> None:
        """File a purchase under its item, and under its item and supplier."""
        item, supplier, rank = figures["item_key"], figures["supplier_key"], figures["rank"]
        if isinstance(rank, Decimal):
            self.ranks[str(item),].append(rank)
            self.ranks[str(item), str(supplier)].append(rank)
        if figures["discount"]:
            amount = figures["discount"]
            assert isinstance(amount, Decimal)
            self.discounts[item, supplier, figures["day"]] += amount

    def _latest_rank(self, how: LatestRank) -> Compute:
        def latest_rank(row: Row, figures: Figures) -> Value:
            up_to = figures[how.up_to]
            if not isinstance(up_to, Decimal):
                return None
            item = str(figures[how.key])
            if not how.supplier:
                return self._latest((item,), up_to)
            supplier = str(figures[how.supplier])
            return self._latest((item, supplier), up_to) if supplier != NOBODY else Decimal(0)

        return latest_rank

    def _latest(self, of: tuple[str, ...], up_to: Decimal) -> Decimal:
        """The highest rank up to a day; zero for none."""
        ranks = self.ranks.get(of, [])
        ranks.sort()  # sorted already after the first call, which then costs next to nothing
        at = bisect_left(ranks, (up_to + 1) * ROWS_IN_RANK)
        return ranks[at - 1] if at else Decimal(0)

    def _first_rank(self, how: FirstRank) -> Compute:
        def first_rank(row: Row, figures: Figures) -> Value:
            return min(self.ranks.get((str(figures[how.key]),), ()), default=Decimal(0))

        return first_rank

    def _year_spend(self, how: YearSpend) -> Compute:
        def year_spend(row: Row, figures: Figures) -> Value:
            day, supplier = figures[how.day], figures[how.supplier]
            if not isinstance(day, Decimal):
                return None
            lines = (
                line
                for line in self.costing.figures["purchases"]
                if line["supplier_key"] == supplier
                and isinstance(line["day"], Decimal)
                and day - DAYS_IN_YEAR < line["day"] <= day
            )
            return sum((_number(line["line_total"]) for line in lines), Decimal(0))

        return year_spend

    def _least_where(self, how: LeastWhere) -> Compute:
        rows = self.costing.figures[how.table]
        by_key: dict[Value, list[Figures]] = {}

        def least_where(row: Row, figures: Figures) -> Value:
            if not by_key:  # the other table is whole by the time the first row asks
                for other in rows:
                    by_key.setdefault(other[how.key], []).append(other)
            own = figures[how.size]
            if not isinstance(own, Decimal):
                return Decimal(0)
            values = (
                other[how.column]
                for other in by_key.get(figures[how.key], ())
                if _number(other[how.size]) < own and other[how.size] is not None
            )
            return min((v for v in values if isinstance(v, Decimal)), default=Decimal(0))

        return least_where

    def _discounts(self, how: Discounts) -> Compute:
        def discounts(row: Row, figures: Figures) -> Value:
            if figures[how.day] is None:
                return None
            key = figures[how.key], figures[how.supplier], figures[how.day]
            return self.discounts.get(key, Decimal(0))

        return discounts


def _number(value: Value) -> Decimal:
    return value if isinstance(value, Decimal) else Decimal(0)


def _any_given(record: Record | None, names: tuple[str, ...]) -> bool:
    return record is not None and any(name in record.values for name in names)


def _plain(value: Any) -> Value:
    """A rule's answer as a figure: whole numbers become Decimal, an unknown becomes None."""
    if isinstance(value, str):
        return value
    number = Decimal(value)
    return None if number.is_nan() else number
