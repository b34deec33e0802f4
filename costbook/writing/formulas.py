"""The formula of every cell of Workings: the third reading of ``definitions.workings``.

A column's formula is worked out once, with ``{names}`` for what differs from row to row, and
filled in for each row.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, assert_never

from costbook.book import NOBODY
from costbook.costing.rows import Row, Structure
from costbook.definitions.algebra import Term
from costbook.definitions.columns import (
    WORTHS,
    AsCosted,
    Column,
    Computed,
    Criterion,
    FirstText,
    Fixed,
    FromPerson,
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
from costbook.definitions.workings import TABLES
from costbook.writing import lookups
from costbook.writing.formula_text import guarded, printed
from costbook.writing.layout import Layout
from costbook.writing.person_formulas import PersonFormulas

__all__ = ["Formulas"]

Kind = TypeVar("Kind")


class Formulas(PersonFormulas):
    """Gives the formula of a cell of Workings, or None for a cell that the run writes."""

    def __init__(self, structure: Structure, layout: Layout) -> None:
        super().__init__(structure, layout)
        self.templates: dict[tuple[str, str], str] = {}

    def of(self, row: Row, column: Column) -> str | None:
        """The formula of a cell, with its equals sign."""
        how = column.how
        if isinstance(how, Today):
            return None if self.structure.on_given else "=TODAY()"
        if column.name in row.fixed:
            return None
        text = self._text(row, column)
        return f"={text}" if text else None

    def _text(self, row: Row, column: Column) -> str:  # noqa: C901  # one path a kind
        """The formula of a cell that the run doesn't write; nothing for one that is a constant.

        Without a linked row, or rows of its own, a cell is a constant.
        """
        how = column.how
        if isinstance(how, FromPerson):
            return self._from_person(row, how)
        match how:
            case Fixed() | Today() | AsCosted():
                return ""
            case RowOf():
                return self._row_of(row, column, how)
            case RowsNow():
                return self._rows_now(row)
            case LookedUp() | Worth() if not _linked(row, how.table):
                return ""
            case Totalled() | TotalledWhere() | FirstText() if not row.children.get(how.table):
                return ""
            case Computed():
                return self._filled_in(row, column, self._computed, how)
            case LookedUp():
                return self._filled_in(row, column, self._looked_up, how)
            case Totalled():
                return self._filled_in(row, column, self._totalled, how)
            case TotalledWhere():
                return self._filled_in(row, column, self._totalled_where, how)
            case FirstText():
                return self._filled_in(row, column, self._first_text, how)
            case UnitFact():
                return self._filled_in(row, column, self._unit_fact, how)
            case Worth():
                return self._filled_in(row, column, self._worth, how)
            case Over():
                return self._filled_in(row, column, self._over, how)
            case _:
                assert_never(how)

    def _filled_in(
        self, row: Row, column: Column, make: Callable[[Table, Kind], str], how: Kind
    ) -> str:
        """A column's formula, made once, with the numbers of the row."""
        at = row.table, column.name
        if at not in self.templates:
            self.templates[at] = make(TABLES[row.table], how)
        return self.templates[at].format_map(self._numbers(row))

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
        if TABLES[how.table].has_one_row:
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


def _linked(row: Row, table: str) -> bool:
    """Whether a row can look up a row of a table: its own, or the only one."""
    return table in row.links or TABLES[table].has_one_row
