"""Figures that are read from the person's cells, and what a blank cell stands for."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import assert_never

from costbook.book import Record, Value, as_key
from costbook.costing.names import OF_ITEMS, item_keys
from costbook.costing.rows import Compute, Figures, Row, Structure
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.columns import (
    CountInText,
    FromPerson,
    Given,
    Key,
    Renamed,
    RowOf,
    StandsOn,
    UnitRow,
)
from costbook.definitions.row_sources import ROW_NUMBER
from costbook.definitions.units import SPELLINGS, unit_key

__all__ = ["PersonsCells"]


class PersonsCells:
    """How a row reads its own record, or the one of a log that counts for it."""

    def __init__(self, structure: Structure, settings: Figures) -> None:
        self.logs = structure.logs
        self.settings = settings
        self.aliases = item_keys(structure.book)
        self.unit_rows = {key: Decimal(i) for i, key in enumerate(SPELLINGS, 1)}

    def read(self, how: FromPerson | RowOf) -> Compute:
        """How a column over the person's cells is computed."""
        match how:
            case Given():
                return self.given(how)
            case CountInText():
                return self.count_in_text(how)
            case Key():
                return self.key(how)
            case RowOf():
                return self.row_of(how)
            case StandsOn():
                return self.stands_on(how)
            case UnitRow():
                return self.unit_row(how)
            case Renamed():
                return lambda _row, _figures: Decimal(0)
            case _:
                assert_never(how)

    def _record(self, how: Given | Key | UnitRow) -> Callable[[Row, Figures], Record | None]:
        """Where a row reads the person's cells: its own record, or one of a log that it names."""
        sheet, at_row = how.sheet, how.at_row
        if not at_row:
            return lambda row, _figures: row.sources.get(sheet)
        records = self.logs[sheet]

        def logged(_row: Row, figures: Figures) -> Record | None:
            number = figures[at_row]
            return records.get(int(number)) if isinstance(number, Decimal) else None

        return logged

    def given(self, how: Given) -> Compute:
        """How a row reads a cell, or what a blank one means."""
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

    def count_in_text(self, how: CountInText) -> Compute:
        """How a row gets the count that a text of its record brings along."""

        def count_in_text(row: Row, _figures: Figures) -> Value:
            record = row.sources.get(how.sheet)
            return record.counts_in_text.get(how.field, Decimal(1)) if record else None

        return count_in_text

    def _beside(self, figures: Figures, name: str) -> Value:
        """A column of the row, else a setting."""
        return figures[name] if name in figures else self.settings[name]

    def key(self, how: Key) -> Compute:
        """How a row gets what a name is looked up by."""
        record_of = self._record(how)
        aliases = self.aliases if how.field in OF_ITEMS else {}

        def key(row: Row, figures: Figures) -> Value:
            record = record_of(row, figures)
            own = as_key(record.text(how.field) if record else "")
            return aliases.get(own, own)

        return key

    def row_of(self, how: RowOf) -> Compute:
        """How a row of a log finds the row in which what it repeats stands; its own as a rule."""

        def row_of(row: Row, figures: Figures) -> Value:
            record = row.sources.get(how.sheet)
            if record is None or how.field not in record.repeats:
                return figures[ROW_NUMBER]
            return Decimal(record.repeats[how.field]) or None

        return row_of

    def stands_on(self, how: StandsOn) -> Compute:
        """The row on which the record of a row stands."""

        def stands_on(row: Row, _figures: Figures) -> Value:
            record = row.sources.get(how.sheet)
            return None if record is None else Decimal(record.row)

        return stands_on

    def unit_row(self, how: UnitRow) -> Compute:
        """How a row finds its unit in the table of units."""
        record_of = self._record(how)

        def unit_row(row: Row, figures: Figures) -> Value:
            record = record_of(row, figures)
            if record is None:
                return None
            text = record.text(how.field) or record.units_in_text.get(how.text_in, "")
            return self.unit_rows.get(unit_key(text))

        return unit_row


def _any_given(record: Record | None, names: tuple[str, ...]) -> bool:
    return record is not None and any(name in record.values for name in names)
