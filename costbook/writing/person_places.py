"""Where the person's cells stand, as formulas find them: by names, by labels, by row numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final

from costbook.book import NOBODY, Book, Record
from costbook.costing.rows import Row, Structure
from costbook.definitions.columns import (
    Column,
    FromPerson,
    RowOf,
    StandsOn,
    Table,
)
from costbook.definitions.fields import Field, InputSheet
from costbook.definitions.marks import may_say_blank
from costbook.definitions.row_sources import ROW_NUMBER
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import LOGS, TABLES, row_column
from costbook.writing import lookups
from costbook.writing.folded import is_laid_out
from costbook.writing.formula_text import quoted
from costbook.writing.layout import Layout, sheet_name

__all__ = ["PlacesOfPerson"]

DIGITS, LETTERS = "0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
WITHIN = "in_"
"""What stands before the name of a column that is written within a formula."""
A_NAME = f"{NOBODY}?*"
"""The key of any name."""
SPARE_ROWS = 50
"""Rows below a sheet's last in which a name is looked for when it isn't where it was."""


_ROW_OF: Final = {
    (log, column.how.field): column.name
    for log, (table, _) in LOGS.items()
    for column in TABLES[table].columns
    if isinstance(column.how, RowOf)
}
"""The column of a log's table that says in which row a field stands, by the sheet and field."""


class PlacesOfPerson:
    """Gives the addresses of the person's cells: where each record stands, sorted or not."""

    def __init__(self, structure: Structure, layout: Layout) -> None:
        self.structure = structure
        self.layout = layout
        self.book: Book = structure.book
        self.alike = lru_cache(maxsize=None)(self._names_said)

    def _cell(self, table: Table, name: str) -> str:
        """A column of the same row, else a setting; as text to be filled in, if not laid out."""
        if name in table.index:
            if not is_laid_out(table.name, name):
                return f"{{{WITHIN}{name}}}"
            prefix = self.prefix(table.name, name)
            return f"{prefix}{self.layout.letter(table.name, name)}{{r}}"
        setting = self.structure.one("settings")
        letter = self.layout.letter("settings", name)
        prefix = self.prefix("settings", name)
        return f"{prefix}${letter}${self.layout.row_number(setting)}"

    def _own(self, row: Row, name: str) -> str:
        """What a row's formulas have for a column of it, or for a setting."""
        return self._cell(TABLES[row.table], name).format_map(self._numbers(row))

    def _numbers(self, row: Row) -> Mapping[str, int | str]:
        """What the text of a formula leaves open in each row."""
        raise NotImplementedError

    def _area(self, table: str, column: str) -> str:
        """A whole column of a table."""
        return self.prefix(table, column) + self.layout.column_range(table, column)

    def prefix(self, table: str, column: str) -> str:
        """The sheet on which a column stands, as formulas write it; nothing for this one."""
        del table, column
        return ""

    def _rows_now(self, row: Row) -> str:
        title = str(row.fixed["sheet"])
        sheet = self.book.sheets[title]
        filled = f"COUNTA({sheet_name(sheet.tab)}!${sheet.named_in}:${sheet.named_in})"
        table, key = LOGS.get(title, ("", ""))
        if not table or not self.layout.count[table]:
            return filled
        return f'{filled}-COUNTIF({self.layout.column_range(table, key)},"{A_NAME}")'

    def _row_of(self, row: Row, column: Column, how: RowOf) -> str:
        """Where a name in a log stands: in its own row, or, of a ditto mark, where that above is.

        The mark of the first row repeats nothing.
        """
        number = self.layout.row_number(row)
        own = f"{self.layout.letter(row.table, ROW_NUMBER)}{number}"
        sheet = self.book.sheets[how.sheet]
        if how.field not in sheet.columns:
            return own
        letter = sheet.columns[how.field]
        cell = f"INDEX({sheet_name(sheet.tab)}!${letter}:${letter},{own})"
        above = f"{self.layout.letter(row.table, column.name)}{number - 1}" if row.index else '""'
        marks = self._own(row, "ditto_marks")
        return f"IF({lookups.is_ditto(cell, marks)},{above},{own})"

    def _names_stand(
        self, row: Row, sheet: InputSheet, names: Iterable[tuple[str, str, str]]
    ) -> list[str]:
        """Tests that the cells of some fields hold the texts they held.

        A longer text than a formula takes is taken for the same.
        """
        return [
            f"{lookups.text_of(cell)}={quoted(text)}"
            if text
            else lookups.is_blank(cell, self._blank_marks(row, sheet.field(name)))
            for name, cell, text in names
            if cell and len(text) <= lookups.LONGEST_LITERAL
        ]

    def _stands_on(self, row: Row, how: StandsOn) -> str:
        """Where a record's names stand now: in the row where they were costed, or in another."""
        record = row.sources.get(how.sheet)
        if record is None:
            return ""
        sheet = self.book.sheets[how.sheet]
        tab = sheet_name(sheet.tab)
        names = {name: record.text(name) for name in how.fields if name in record.cells}
        own = all(_row_of(record.read_at(name)) == record.row for name in names)
        first, last = sheet.heading_row + 1, sheet.last_row + sheet.rows_below(SPARE_ROWS)
        elsewhere = '""'
        if own and self.alike(how)[_said(record, how)] == 1:
            letters = {name: sheet.columns[name] for name in names}
            elsewhere = lookups.row_where(
                (f"{tab}!${letters[name]}${first}:${letters[name]}${last}", text)
                for name, text in names.items()
            )
        said = [(name, f"{tab}!{record.read_at(name)}", text) for name, text in names.items()]
        stand = self._names_stand(row, INPUT_SHEETS[how.sheet], said)
        here = f"{tab}!{next(iter(sheet.columns.values()))}{record.row}"
        return lookups.row_found(here, stand, elsewhere)

    def _labels_stand(self, title: str) -> Iterator[str]:
        """Tests that what names the rows of an upright sheet is still there."""
        sheet = self.book.sheets[title]
        for label in sheet.labels.values():
            yield f"ISNUMBER({lookups.label_at(sheet_name(sheet.tab), label)})"

    def _still_dittos(self, row: Row, record: Record | None) -> list[str]:
        """A test for each ditto mark of a record: it is read as the cell above while it stands."""
        if record is None or record.sheet in LOGS:
            return []
        marks = self._own(row, "ditto_marks")
        tab = sheet_name(self.book.sheets[record.sheet].tab)
        return [lookups.is_ditto(f"{tab}!{record.cells[name]}", marks) for name in record.repeats]

    def _names_said(self, how: StandsOn) -> Counter[tuple[str, ...]]:
        """How many records of a sheet bear the same names."""
        return Counter(_said(record, how) for record in self.book.records(how.sheet))

    def _record_row(self, row: Row, sheet: str) -> str:
        """The cell that says on which row of a sheet the row's record stands; or nothing."""
        column = row_column(row.table, sheet)
        if not column:
            return ""
        return self._own(row, column)

    def _person_cells(self, row: Row, how: FromPerson) -> Callable[[str], str]:
        """The address of each of a row's cells on a sheet of the person's, or nothing."""
        sheet = self.book.sheets.get(how.sheet)
        if how.sheet in LOGS and sheet is not None:
            tab, at_row = sheet_name(sheet.tab), getattr(how, "at_row", "")

            def logged(name: str) -> str:
                letter = sheet.columns.get(name)
                at = self._row_logged(row, (how.sheet, name), at_row)
                return f"INDEX({tab}!${letter}:${letter},{at})" if letter else ""

            return logged
        record = row.sources.get(how.sheet)
        if record is None:
            return lambda name: ""
        tab = sheet_name(self.book.sheets[how.sheet].tab)
        labels = self.book.sheets[how.sheet].labels
        if labels:
            return lambda name: lookups.beside(tab, labels[name]) if name in labels else ""
        at = self._record_row(row, how.sheet)

        def cell_of(name: str) -> str:
            cell = record.read_at(name)
            if not cell or not at or name in record.repeats:
                return f"{tab}!{cell}" if cell else ""
            letter = cell.rstrip(DIGITS)
            return f"INDEX({tab}!${letter}:${letter},{at})"

        return cell_of

    def _row_logged(self, row: Row, field: tuple[str, str], at_row: str) -> str:
        """The row of a log in which a field of its sheet stands; a ditto mark's is above."""
        stands = _ROW_OF.get(field, "")
        if stands and not is_laid_out(LOGS[field[0]][0], stands):
            stands = ""
        if not at_row:
            return self._own(row, stands or ROW_NUMBER)
        at = self._own(row, at_row)
        if not stands:
            return at
        table, _ = LOGS[field[0]]
        above = self._area(table, ROW_NUMBER).partition(":")[0]
        return f"INDEX({self._area(table, stands)},{at}-{above}+1)"

    def _marks(self, row: Row) -> str:
        return self._own(row, "blank_marks")

    def _blank_marks(self, row: Row, field: Field) -> str:
        """Where the words stand that leave a field blank; nothing where none does."""
        return self._marks(row) if may_say_blank(field) else ""


def _said(record: Record, how: StandsOn) -> tuple[str, ...]:
    """The names that a record is found by, as a comparison sees them."""
    return tuple(record.text(name).lower() for name in how.fields)


def _row_of(cell: str) -> int:
    """The row of an address; 0 for none."""
    return int(cell.lstrip(LETTERS) or 0)
