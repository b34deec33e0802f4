"""The formula of every cell of Workings: the third reading of ``definitions.workings``.

A column's formula is worked out once, with ``{names}`` for what differs from row to row, and
filled in for each row.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from costbook.book import NOBODY
from costbook.costing.rows import Row, Structure
from costbook.definitions.algebra import Term
from costbook.definitions.columns import (
    Column,
    Computed,
    Criterion,
    FirstText,
    LookedUp,
    Over,
    RowOf,
    RowsNow,
    Same,
    Table,
    Today,
    Totalled,
    TotalledWhere,
    UnitFact,
    Worth,
)
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
            Over: self._over,
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

    def _over(self, table: Table, how: Over) -> str:
        def where_known(text: str) -> str:
            numbers = [self._cell(table, name) for name in how.numbers]
            return lookups.if_numbers(numbers, text, how.without)

        found = where_known(
            self._of_rows_that_pass(table, how) if self.layout.count[how.table] else "0"
        )
        for name in how.named:
            found = f'IF({self._cell(table, name)}="{NOBODY}",{where_known("0")},{found})'
        return found

    def _of_rows_that_pass(self, table: Table, how: Over) -> str:
        def column(name: str) -> str:
            return self.layout.column_range(how.table, name)

        def cell_of(name: str) -> str:
            return self._cell(table, name)

        pairs = [(column(each.column), _criterion(each, cell_of)) for each in how.criteria]
        return lookups.over(how.fold, column(how.column), pairs)


def _criterion(how: Criterion, cell_of: Callable[[str], str]) -> str:
    """What the cells of the rows that pass are like, as SUMIFS takes it."""
    if isinstance(how, Same):
        return cell_of(how.own)
    term = how.bound(Term("name", (how.own,)))
    text = printed(term, cell_of)
    if how.sign == "=":
        return text
    bound = f"({text})" if term.operation in "+-" else text
    return f'"{how.sign}"&{bound}'
