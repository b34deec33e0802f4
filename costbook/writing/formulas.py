"""The formula of every cell of Workings: the third reading of ``definitions.workings``.

A column's formula is worked out once, with ``{names}`` for what differs from row to row, and
filled in for each row.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from costbook.costing.ledger import DAYS_IN_YEAR, NEAR, NOBODY
from costbook.costing.rows import Row, Structure
from costbook.definitions.columns import (
    Column,
    Computed,
    Discounts,
    FirstRank,
    FirstText,
    LatestPack,
    LatestRank,
    LeastWhere,
    LookedUp,
    RowOf,
    RowsNow,
    Table,
    Today,
    Totalled,
    TotalledWhere,
    UnitFact,
    Worth,
    YearSpend,
)
from costbook.definitions.rules import ROWS_IN_RANK
from costbook.definitions.workings import TABLES, WORTHS
from costbook.writing import lookups
from costbook.writing.formula_text import guarded, printed
from costbook.writing.layout import Layout
from costbook.writing.person_formulas import PersonFormulas
from costbook.writing.person_places import FromPerson

__all__ = ["Formulas"]

ONE_ROW = ("settings", "year")
"""Tables of which every row may look up the only row."""


class Formulas(PersonFormulas):
    """Gives the formula of a cell of Workings, or None for a cell that the run writes."""

    def __init__(self, structure: Structure, layout: Layout) -> None:
        super().__init__(structure, layout)
        self.template = lru_cache(maxsize=None)(self._template)
        self.makers: Mapping[type, Callable[[Table, Any], str]] = {
            Computed: self._computed,
            LookedUp: self._looked_up,
            Totalled: self._totalled,
            TotalledWhere: self._totalled_where,
            FirstText: self._first_text,
            UnitFact: self._unit_fact,
            Worth: self._worth,
            LatestRank: self._latest_rank,
            LatestPack: self._latest_pack,
            FirstRank: self._first_rank,
            YearSpend: self._year_spend,
            LeastWhere: self._least_where,
            Discounts: self._discounts,
        }

    def of(self, row: Row, column: Column) -> str | None:
        """The formula of a cell, with its equals sign."""
        how = column.how
        if isinstance(how, Today):
            return None if self.structure.on_given else "=TODAY()"
        if column.name in row.fixed:
            return None
        if isinstance(how, FromPerson):
            text = self._from_person(row, how)
            return f"={text}" if text else None
        if isinstance(how, RowOf):
            return f"={self._row_of(row, column, how)}"
        if isinstance(how, RowsNow):
            return f"={self._rows_now(row, how)}"
        if not self._has_what_it_reads(row, how):
            return None
        template = self.template(row.table, column.name)
        return template.format_map(self._numbers(row)) if template else None

    def _has_what_it_reads(self, row: Row, how: Any) -> bool:
        """Without a linked row, or rows of its own, a cell is a constant."""
        if isinstance(how, LookedUp):
            return how.table in ONE_ROW or how.table in row.links
        if isinstance(how, Worth):
            return how.table in row.links
        if isinstance(how, Totalled | TotalledWhere | FirstText):
            return bool(row.children.get(how.table))
        if isinstance(how, LatestRank | LatestPack | FirstRank | Discounts | YearSpend):
            return self.layout.count["purchases"] > 0
        return True

    def _numbers(self, row: Row) -> dict[str, int]:
        """The row numbers that a template leaves open."""
        numbers = {"r": self.layout.row_number(row)}
        for table, link in row.links.items():
            numbers[f"L_{table}"] = self.layout.row_number(link)
        for table, children in row.children.items():
            first = self.layout.first[table]
            numbers[f"F_{table}"] = first + children.start
            numbers[f"T_{table}"] = first + children.stop - 1
            numbers[f"N_{table}"] = len(children)
        return numbers

    def _template(self, table: str, column: str) -> str:
        here = TABLES[table]
        how = here.columns[here.index[column]].how
        maker = self.makers.get(type(how))
        return f"={maker(here, how)}" if maker else ""

    # ------------------------------------------------------------ within Workings

    def _computed(self, table: Table, how: Computed) -> str:
        def cell_of(name: str) -> str:
            return self._cell(table, name)

        term = how.term()
        if how.meets_unknowns:
            return f'IFERROR({printed(term, cell_of)},"")'
        formula = guarded(term, how.arguments, cell_of)
        if how.nothing_of:
            nothing = self._cell(table, how.nothing_of)
            return f"IF({nothing}=0,0,{formula})"
        return formula

    def _looked_up(self, table: Table, how: LookedUp) -> str:
        letter = self.layout.letter(how.table, how.column)
        prefix = self.prefix(how.table, how.column)
        if how.table in ONE_ROW:
            return f"{prefix}${letter}${self.layout.first[how.table]}"
        return f"{prefix}{letter}{{L_{how.table}}}"

    def _totalled(self, table: Table, how: Totalled) -> str:
        cells = self._children(how.table, how.column)
        if how.known:
            return f"SUM({cells})"
        return f'IF(COUNT({cells})={{N_{how.table}}},SUM({cells}),"")'

    def _totalled_where(self, table: Table, how: TotalledWhere) -> str:
        keys, cells = (self._children(how.table, column) for column in (how.key, how.column))
        return lookups.total_where(keys, self._cell(table, how.key), cells)

    def _first_text(self, table: Table, how: FirstText) -> str:
        cells = self._children(how.table, how.column)
        return lookups.found_at(cells, '"?*"', cells)

    def _children(self, table: str, column: str) -> str:
        letter = self.layout.letter(table, column)
        return f"{self.prefix(table, column)}{letter}{{F_{table}}}:{letter}{{T_{table}}}"

    def _unit_fact(self, table: Table, how: UnitFact) -> str:
        at = self._cell(table, how.unit_row)
        facts = self.layout.column_range("units", how.column)
        return f"IF(ISNUMBER({at}),INDEX({facts},{at}),{lookups.literal(how.without)})"

    def _worth(self, table: Table, how: Worth) -> str:
        measure = self._cell(table, how.measure)
        first, last = (self.layout.letter(how.table, WORTHS[at]) for at in (0, -1))
        link = f"{{L_{how.table}}}"
        return f'IF(ISNUMBER({measure}),INDEX({first}{link}:{last}{link},{measure}),"")'

    def _latest_rank(self, table: Table, how: LatestRank) -> str:
        column = self.layout.column_range
        criteria = [(column("purchases", "item_key"), self._cell(table, how.key))]
        if how.supplier:
            criteria.append((column("purchases", "supplier_key"), self._cell(table, how.supplier)))
        up_to = self._cell(table, how.up_to)
        latest = lookups.latest_rank(up_to, ROWS_IN_RANK, column("purchases", "rank"), criteria)
        if not how.supplier or how.unnamed_too:
            return latest
        supplier = self._cell(table, how.supplier)
        return f'IF({supplier}="{NOBODY}",IF(ISNUMBER({up_to}),0,""),{latest})'

    def _latest_pack(self, table: Table, how: LatestPack) -> str:
        column = self.layout.column_range
        held, sizes = self._cell(table, how.held), column("purchases", "pack_held")
        up_to = self._cell(table, how.up_to)
        criteria = [
            (column("purchases", "item_key"), self._cell(table, how.key)),
            (column("purchases", "supplier_key"), self._cell(table, how.supplier)),
            (sizes, f'">"&{held}*{1 - NEAR}'),
            (sizes, f'"<"&{held}*{1 + NEAR}'),
        ]
        latest = lookups.latest_rank(up_to, ROWS_IN_RANK, column("purchases", "rank"), criteria)
        return f'IF(ISNUMBER({held}),{latest},"")'

    def _first_rank(self, table: Table, how: FirstRank) -> str:
        column = self.layout.column_range
        ranks, keys = column("purchases", "rank"), column("purchases", "item_key")
        return f"_xlfn.MINIFS({ranks},{keys},{self._cell(table, how.key)})"

    def _year_spend(self, table: Table, how: YearSpend) -> str:
        column = self.layout.column_range
        day, supplier = self._cell(table, how.day), self._cell(table, how.supplier)
        days = column("purchases", "day")
        total = (
            f"SUMIFS({column('purchases', 'line_total')},{column('purchases', 'supplier_key')},"
            f'{supplier},{days},">"&({day}-{DAYS_IN_YEAR}),{days},"<="&{day})'
        )
        return f'IF(ISNUMBER({day}),{total},"")'

    def _least_where(self, table: Table, how: LeastWhere) -> str:
        if not self.layout.count[how.table]:
            return "0"
        column = self.layout.column_range
        values, keys, sizes = (column(how.table, name) for name in (how.column, how.key, how.size))
        key, size = self._cell(table, how.key), self._cell(table, how.size)
        least = f'_xlfn.MINIFS({values},{keys},{key},{sizes},"<"&{size})'
        return f"IF(ISNUMBER({size}),{least},0)"

    def _discounts(self, table: Table, how: Discounts) -> str:
        column = self.layout.column_range
        pairs = ",".join(
            f"{column('purchases', name)},{self._cell(table, where)}"
            for name, where in (
                ("item_key", how.key),
                ("supplier_key", how.supplier),
                ("day", how.day),
            )
        )
        total = f"SUMIFS({column('purchases', 'discount')},{pairs})"
        return f'IF(ISNUMBER({self._cell(table, how.day)}),{total},"")'
