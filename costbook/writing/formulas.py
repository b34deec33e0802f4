"""The formula of every cell of Workings: the third reading of ``definitions.workings``.

A column's formula is worked out once, with ``{names}`` for what differs from row to row, and
filled in for each row.
"""

from __future__ import annotations

from collections.abc import Callable, Container
from typing import TypeVar, assert_never

from costbook.book import NOBODY
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.definitions.algebra import UNKNOWN, Term
from costbook.definitions.columns import (
    WORTHS,
    AsCosted,
    Column,
    Computed,
    Criterion,
    Fixed,
    FromPerson,
    Gathered,
    LookedUp,
    Over,
    RowOf,
    RowsNow,
    Same,
    Table,
    Today,
    UnitFact,
    Worth,
)
from costbook.definitions.workings import TABLES
from costbook.writing import lookups
from costbook.writing.folded import computed_of, is_laid_out
from costbook.writing.formula_text import computed, printed
from costbook.writing.layout import Layout
from costbook.writing.person_formulas import PersonFormulas
from costbook.writing.person_places import WITHIN

__all__ = ["Formulas"]

HowKind = TypeVar("HowKind")
Names = Container[str]
"""The names of columns that the run writes in a row."""


class Formulas(PersonFormulas):
    """Gives the formula of a cell of Workings, or None for a cell that the run writes."""

    def __init__(self, costing: Costing, layout: Layout) -> None:
        super().__init__(costing.structure, layout)
        self.costing = costing
        self.open: dict[tuple[str, int], _Open] = {}
        self.templates: dict[tuple[str, str, tuple[str, ...]], str] = {}

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
            case LookedUp() | Worth() if self.layout.linked(row, how.table) is None:
                return ""
            case Gathered() if not row.children.get(how.table):
                return ""
            case Computed():
                return self._filled_in(row, column, self._computed, how)
            case LookedUp():
                return self._looked_up(row, how)
            case Gathered():
                return self._filled_in(row, column, self._gathered, how)
            case UnitFact():
                return self._filled_in(row, column, self._unit_fact, how)
            case Worth():
                return self._filled_in(row, column, self._worth, how)
            case Over():
                return self._filled_in(row, column, self._over, how)
            case _:
                assert_never(how)

    def _filled_in(
        self, row: Row, column: Column, make: Callable[[Table, HowKind, Names], str], how: HowKind
    ) -> str:
        """A column's formula, made once for rows alike, with the numbers of the row."""
        at = row.table, column.name, tuple(row.fixed)
        if at not in self.templates:
            self.templates[at] = make(TABLES[row.table], how, row.fixed)
        return self.templates[at].format_map(self._numbers(row))

    def _within(self, row: Row, name: str) -> str:
        """A column as it stands within the formula of another: a call, an address or a literal."""
        table = TABLES[row.table]
        column = table.columns[table.index[name]]
        if name not in row.fixed and (text := self._text(row, column)):
            return text
        value = self.costing.of(row)[name]
        return lookups.literal(UNKNOWN if value is None else value)

    def _numbers(self, row: Row) -> _Open:
        """The row numbers, and the columns written within, that a template leaves open."""
        numbers = self.open.get((row.table, row.index))
        if numbers is not None:
            return numbers
        numbers = self.open[row.table, row.index] = _Open(lambda name: self._within(row, name))
        numbers["r"] = self.layout.row_number(row)
        for table, link in row.links.items():
            numbers[f"L_{table}"] = self.layout.row_number(link)
        placed = {table: of for table, of in row.children.items() if table in self.layout.first}
        for table, children in placed.items():
            first = self.layout.first[table]
            numbers[f"F_{table}"] = first + children.start
            numbers[f"T_{table}"] = first + children.stop - 1
            numbers[f"N_{table}"] = len(children)
        return numbers

    # ------------------------------------------------------------ within Workings

    def _computed(self, table: Table, how: Computed, written: Names) -> str:
        def cell_of(name: str) -> str:
            return self._cell(table, name)

        return computed(
            how, cell_of, lambda name: None if name in written else computed_of(table, name)
        )

    def _looked_up(self, row: Row, how: LookedUp) -> str:
        """The cell of a row that is linked, or, where that only relays another, that one's."""
        link = self.layout.linked(row, how.table)
        assert link is not None  # else the cell is a constant
        if not is_laid_out(how.table, how.column):
            return self._within(link, how.column)
        letter = self.layout.letter(how.table, how.column)
        prefix = self.prefix(how.table, how.column)
        if how.table in self.layout.only:
            return f"{prefix}${letter}${self.layout.first[how.table]}"
        return f"{prefix}{letter}{self.layout.row_number(link)}"

    def _gathered(self, table: Table, how: Gathered, _: Names) -> str:
        cells, known = self._children(how.table, how.column), how.fold == "total"
        if how.fold == "first":
            return lookups.found_at(cells, '"?*"', cells)
        if how.key:
            keys = self._children(how.table, how.key)
            return lookups.total_where(keys, self._cell(table, how.key), cells, known)
        if known:
            return f"SUM({cells})"
        return f'IF(COUNT({cells})={{N_{how.table}}},SUM({cells}),"")'

    def _children(self, table: str, column: str) -> str:
        letter = self.layout.letter(table, column)
        return f"{self.prefix(table, column)}{letter}{{F_{table}}}:{letter}{{T_{table}}}"

    def _unit_fact(self, table: Table, how: UnitFact, _: Names) -> str:
        at = self._cell(table, how.unit_row)
        facts = self._area("units", how.column)
        return f"IF(ISNUMBER({at}),INDEX({facts},{at}),{lookups.literal(how.without)})"

    def _worth(self, table: Table, how: Worth, _: Names) -> str:
        measure = self._cell(table, how.measure)
        first, last = (self.layout.letter(how.table, WORTHS[at]) for at in (0, -1))
        link, prefix = f"{{L_{how.table}}}", self.prefix(how.table, WORTHS[0])
        return f'IF(ISNUMBER({measure}),INDEX({prefix}{first}{link}:{last}{link},{measure}),"")'

    def _over(self, table: Table, how: Over, _: Names) -> str:
        def where_known(text: str) -> str:
            numbers = [self._cell(table, name) for name in how.numbers]
            return lookups.if_numbers(numbers, text, how.without)

        none = lookups.over_none(how.fold)
        found = where_known(
            self._of_rows_that_pass(table, how) if self.layout.count[how.table] else none
        )
        for name in how.named:
            found = f'IF({self._cell(table, name)}="{NOBODY}",{where_known(none)},{found})'
        return found

    def _of_rows_that_pass(self, table: Table, how: Over) -> str:
        def column(name: str) -> str:
            return self._area(how.table, name)

        def cell_of(name: str) -> str:
            return self._cell(table, name)

        pairs = [(column(each.column), _criterion(each, cell_of)) for each in how.criteria]
        return lookups.over(how.fold, column(how.column), pairs)


class _Open(dict[str, "int | str"]):
    """What a template leaves open: numbers, and, worked out when asked for, columns within it."""

    def __init__(self, within: Callable[[str], str]) -> None:
        super().__init__()
        self.within = within

    def __missing__(self, key: str) -> str:
        self[key] = text = self.within(key.removeprefix(WITHIN))
        return text


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
