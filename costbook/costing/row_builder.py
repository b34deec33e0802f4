"""Adds rows to tables: those whose declaration says all about them, and any other by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import cache

from costbook.book import Book, Record, SheetAsRead, Value, as_key
from costbook.costing.rows import Row
from costbook.definitions.columns import Fixed, Table
from costbook.definitions.reads import reads
from costbook.definitions.row_sources import (
    ASIDE,
    ASKED,
    ROW_NUMBER,
    EachOf,
    EachPair,
    OneRow,
    RowsOfSheet,
)
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import TABLES

__all__ = ["RowBuilder", "in_computing_order"]


class RowBuilder:
    """The rows of every table, as they are added."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.rows: dict[str, list[Row]] = {name: [] for name in TABLES}
        self.added: list[Row] = []
        self.declared = [table for table in TABLES.values() if self._has_rows(table)]
        """The tables that have rows, as far as that is declared."""
        self.each_of: dict[str, list[Table]] = {}
        """By table, those that have a row for each of its rows."""
        for table in self.declared:
            if isinstance(table.rows, EachOf):
                self.each_of.setdefault(table.rows.table, []).append(table)

    def _has_rows(self, table: Table) -> bool:
        return not table.only_with or any(map(self._is_there, table.only_with))

    def _is_there(self, wanted: str) -> bool:
        """Whether a sheet is there, or a field of a sheet is filled in anywhere."""
        sheet, _, field = wanted.partition(".")
        filled = (record.text(field) for record in self.book.records(sheet))
        return any(filled) if field else sheet in self.book.sheets

    def add(
        self,
        table: str,
        fixed: Mapping[str, Value],
        sources: Mapping[str, Record | None] | None = None,
        links: Mapping[str, Row | None] | None = None,
    ) -> Row:
        """Add a row to a table: its fixed cells, its records, the rows it is linked to."""
        row = Row(
            table,
            len(self.rows[table]),
            dict(fixed),
            {name: record for name, record in (sources or {}).items() if record},
            {name: link for name, link in (links or {}).items() if link},
        )
        self.rows[table].append(row)
        self.added.append(row)
        return row

    def add_rows_of_sheets(self) -> None:
        """Add the rows of all tables that have a row for each of an input sheet's."""
        for table in self.declared:
            if isinstance(table.rows, RowsOfSheet):
                self._rows_of_sheet(table, table.rows)
                self.add_rows_of(table.name)

    def _rows_of_sheet(self, table: Table, how: RowsOfSheet) -> None:
        sheet = self.book.sheets.get(how.sheet)
        if how.key and sheet:
            self._rows_of_log(table, how, sheet)
            return
        named = INPUT_SHEETS[how.sheet].naming_field.name
        for record in self.book.records(how.sheet):
            self.add(table.name, {named: record.text(named)}, {how.sheet: record})
        if how.without and not self.rows[table.name]:
            self.add(table.name, how.without)

    def _rows_of_log(self, table: Table, how: RowsOfSheet, sheet: SheetAsRead) -> None:
        # rows that are no records are there too, since the formulas see them
        by_row = {record.row: record for record in (*sheet.records, *sheet.aside)}
        last = max(sheet.last_row, sheet.heading_row)
        last += sheet.rows_below(INPUT_SHEETS[how.sheet].spare_rows)
        for number in range(sheet.heading_row + 1, last + 1):
            record = by_row.get(number)
            asked = record is not None and not record.refused.keys().isdisjoint(how.figures)
            fixed: dict[str, Value] = {ROW_NUMBER: Decimal(number), ASKED: Decimal(asked)}
            if ASIDE in _fixed_in(table.name):
                fixed[ASIDE] = Decimal(record in sheet.aside)
            self.add(table.name, fixed, {how.sheet: record})

    def add_rows_of(self, name: str, first: int = 0) -> None:
        """Add the rows of the tables that have one for each of this table's, and of theirs.

        The table's rows before the ``first`` have theirs already.
        """
        for table in self.each_of.get(name, ()):
            start = len(self.rows[table.name])
            for row in self.rows[name][first:]:
                self._each_of(table, row)
            self.add_rows_of(table.name, start)

    def add_rows_with(self, owner: Row) -> None:
        """Add the rows for a row that was just laid out, and before them those for its own rows.

        What rows are linked to, and what is theirs, is so of the rows that there are for each.
        """
        for name, its in [each for each in owner.children.items() if each[1]]:
            for table in self.each_of.get(name, ()):
                start = len(self.rows[table.name])
                owner.children[table.name] = range(start, start + len(its))
            self.add_rows_of(name, its.start)
        self.add_rows_of(owner.table, owner.index)

    def _each_of(self, table: Table, of: Row) -> None:
        fixed = {name: value for name, value in of.fixed.items() if name in _fixed_in(table.name)}
        links = {**of.links, of.table: of}
        for link in of.links.values():
            for each in self.each_of.get(link.table, ()):
                if each.name in link.links:
                    links.setdefault(each.name, link.links[each.name])
        row = self.add(table.name, fixed, of.sources, links)
        row.children = of.children
        while True:  # a row leads to all that stand for the same thing
            of.links[table.name] = row
            source = TABLES[of.table].rows
            if not isinstance(source, EachOf):
                return
            of = of.links[source.table]

    def add_pairs(self) -> None:
        """Add the rows of all tables that have one for each pair of two tables' rows."""
        for table in self.declared:
            how = table.rows
            if isinstance(how, EachPair):
                for one in self.rows[how.table]:
                    for other in self._others(how, one):
                        self._pair(table, how, one, other)
                self.add_rows_of(table.name)

    def _others(self, how: EachPair, one: Row) -> list[Row]:
        """The rows of the other table that a row goes with."""
        rows = self.rows[how.other]
        if not how.where_sold or not self.book.records("Outlets"):
            return rows
        sold_at, _ = self.book.sold_at(one.sources["Products"])
        return [row for row in rows if as_key(str(row.fixed["outlet"])) in sold_at]

    def _pair(self, table: Table, how: EachPair, one: Row, other: Row) -> None:
        names = {**one.fixed, **other.fixed}
        fixed = {name: value for name, value in names.items() if name in _fixed_in(table.name)}
        if "number" in _fixed_in(table.name):
            fixed["number"] = Decimal(len(self.rows[table.name]) + 1)
        links = {**one.links, how.table: one, how.other: other}
        row = self.add(
            table.name,
            fixed if other.sources else {**fixed, **how.without},
            {**one.sources, **other.sources},
            links,
        )
        row.children = one.children

    def add_single_rows(self) -> None:
        """Add the row of every table that has one; all rows of other tables are there already."""
        for table in self.declared:
            if isinstance(table.rows, OneRow):
                settings = {"Settings": next(iter(self.book.records("Settings")), None)}
                row = next(iter(self.rows[table.name]), None) or self.add(table.name, {}, settings)
                read = {other for each in table.columns for other, _ in reads(each.how).elsewhere}
                row.children = {other: range(len(self.rows[other])) for other in read}


@cache
def _fixed_in(table: str) -> frozenset[str]:
    """The columns of a table whose cells the run writes."""
    columns = TABLES[table].columns
    return frozenset(each.name for each in columns if isinstance(each.how, Fixed))


def in_computing_order(added: Sequence[Row]) -> list[Row]:
    """Rows so that whatever a row reads stands before it; else in the order they were added in.

    A table reads at least the tables that those it reads do. Tables that read one another read the
    same, so that their rows keep their order: each after those it is linked to.
    """
    reach = _reach()
    return sorted(added, key=lambda row: reach[row.table])


@cache
def _reach() -> Mapping[str, int]:
    """How many tables each table reads, itself or through others."""
    direct = {
        name: {other for column in table.columns for other, _ in reads(column.how).elsewhere}
        for name, table in TABLES.items()
    }
    found: dict[str, int] = {}
    for name, own in direct.items():
        seen, waiting = set(own), list(own)
        while waiting:
            more = direct[waiting.pop()] - seen
            seen |= more
            waiting += more
        found[name] = len(seen)
    return found
