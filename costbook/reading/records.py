"""Tables → records: each cell parsed once, into an exact value or a question.

What was typed as text and understood is remembered as a Reading, so that the sheets can show it
and look it up again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.book import Reading, Record, SheetAsRead, Value, escaped, one_line
from costbook.definitions.fields import Field, InputSheet, Kind
from costbook.definitions.headings import InHeading
from costbook.problems import Place, Problem, Severity
from costbook.reading.answers import Answer, CellsByField, Ways, as_text
from costbook.reading.dates import date_order
from costbook.reading.dittos import marks_read, with_dittos_repeated
from costbook.reading.grid import Cell, CellError, Grid, column_letter
from costbook.reading.headed import counts_for, headings_of, read_headed, said_of, unit_taken
from costbook.reading.names_above import name_above_read, with_names_above
from costbook.reading.numbers import NumberStyle, number_style
from costbook.reading.rows import RowKind, TableRow, rows_of
from costbook.reading.table_sayings import of_columns, of_headings, of_rows
from costbook.reading.tables import FoundTable, TextRows

__all__ = ["NUMERIC", "House", "SheetReader", "reading_key"]

NUMERIC: Final = (Kind.NUMBER, Kind.MONEY, Kind.SHARE, Kind.SIZE, Kind.AMOUNT)


def reading_key(sheet: str, name: str, typed: str, beside: tuple[str, ...]) -> str:
    """What a text that was read is looked up by; the writer's formula builds the same.

    T and t differ in kitchens but not in look-ups, so a capital T is marked.
    """
    marked = escaped("|".join((typed, *beside))).replace("T", "T^")
    return f"{sheet}.{name}|{marked}"


@dataclass(frozen=True, slots=True)
class House:
    """What holds for the whole workbook: its first day, its money, its way of writing numbers."""

    day_zero: date
    currency: str = ""
    style: NumberStyle = NumberStyle.UNKNOWN


@dataclass(slots=True)
class SheetReader:
    """Reads one input sheet; what it has to say gathers in ``problems``."""

    sheet: InputSheet
    grid: Grid
    house: House
    problems: list[Problem] = field(default_factory=list)
    readings: dict[str, Reading] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)
    """The keys of texts that were asked about, so that the sheets don't take them for new."""
    ways: dict[str, Ways] = field(default_factory=dict)
    in_headings: dict[str, InHeading] = field(default_factory=dict)

    # ------------------------------------------------------------ the table

    def read_table(self, table: FoundTable | None, texts: TextRows) -> SheetAsRead:
        """The table's records. A sheet without headings gives none, and says so."""
        if table is None:
            return self._without_table()
        self.problems += of_headings(self.sheet, self.grid, table)
        found = rows_of(self.sheet, table, self.grid, texts)
        found = with_dittos_repeated(self.sheet, found, table.heading_row)
        rows = list(with_names_above(self.sheet, found))
        lines = [row for row in rows if row.kind is RowKind.LINE]
        self.learn(line.raw for line in lines)
        raws = [line.raw for line in lines]
        plain = Ways(currency=self.house.currency)
        self.in_headings = headings_of(self.sheet, table, raws, plain)
        addresses = {name: column_letter(at) for name, at in table.columns.items()}
        records = tuple(
            marks_read(line, self.record(line.number, line.raw, cells), self.say)
            for line, cells in self._with_cells(lines, addresses)
        )
        for said in said_of(self.sheet, self.in_headings, raws):
            self.say(*said)
        self.problems += of_columns(self.sheet, self.grid, table, lines)
        self.problems += of_rows(self.grid.tab, rows)
        near = [row for row in rows if row.kind is not RowKind.ELSEWHERE]
        far = (row.number for row in rows if row.kind is RowKind.ELSEWHERE)
        return SheetAsRead(
            self.sheet.title,
            self.grid.tab,
            records,
            addresses,
            table.heading_row,
            max((row.number for row in near), default=table.heading_row),
            addresses.get(self.sheet.naming_field.name, ""),
            self.grid.filled_in(table.columns.get(self.sheet.naming_field.name, 0)),
            self._aside(rows, addresses) if self.sheet.spare_rows else (),
            in_headings=self.in_headings,
            ends_before=next(far, 0),
        )

    def _with_cells(
        self, lines: Iterable[TableRow], addresses: Mapping[str, str]
    ) -> Iterator[tuple[TableRow, dict[str, str]]]:
        """Each line with the addresses of its cells; a name of the row above stands there."""
        for line in lines:
            cells = _cells(line, addresses)
            yield line, cells | name_above_read(line, cells, self.sheet.naming_field, self.say)

    def _without_table(self) -> SheetAsRead:
        if self.grid.rows:
            wanted = ", ".join(each.title for each in self.sheet.fields if each.needed)
            self.say(
                Severity.WRONG,
                "",
                "no row of headings was found.",
                f"Put these above the table: {wanted}.",
            )
        return SheetAsRead(self.sheet.title, self.grid.tab, ())

    def learn(self, rows: Iterator[CellsByField]) -> None:
        """Find out how each column writes its numbers and dates; else as the workbook does."""
        texts: dict[str, list[str]] = {each.name: [] for each in self.sheet.fields}
        for raw in rows:
            for name, cell in raw.items():
                if isinstance(cell, str):
                    texts[name].append(cell)
        for each in self.sheet.fields:
            typed = texts[each.name]
            style = number_style(typed) if each.kind in NUMERIC else NumberStyle.UNKNOWN
            if style is NumberStyle.UNKNOWN:
                style = self.house.style
            order = date_order(typed if each.kind is Kind.DATE else ())
            self.ways[each.name] = Ways(style, order, self.house.day_zero, self.house.currency)

    # ------------------------------------------------------------ rows

    def record(self, number: int, raw: CellsByField, cells: Mapping[str, str]) -> Record:
        """The record of one row; what its cells ask or leave in doubt is said."""
        values: dict[str, Value] = {}
        texts: dict[str, str] = {}
        units: dict[str, str] = {}
        counts: dict[str, Decimal] = {}
        refused: dict[str, Decimal] = {}
        shares: set[str] = set()
        for each in self.sheet.fields:
            if each.name not in raw or _names_nothing(each, raw[each.name]):
                continue
            says = self.in_headings.get(each.name)
            plain, answer = read_headed(each, says, raw, values, self.ways[each.name])
            values[each.name] = answer.value
            if unit := unit_taken(each, says, raw):
                units[each.name] = unit
            self._say_of(answer, cells[each.name])
            if answer.is_share:
                shares.add(each.name)
            if answer.refused is not None:
                refused[each.name] = answer.refused
            if answer.value is None and isinstance(raw[each.name], str):
                self.asked.append(self._key(each, raw))
            if answer.parsed is None:
                continue
            texts[each.name] = str(raw[each.name])
            self._remember(each, raw, plain, cells[each.name])
            if answer.parsed.unit:
                units[each.name] = answer.parsed.unit
            if answer.parsed.count is not None:
                counts[each.name] = answer.parsed.count
        told = (texts, units, counts, refused)
        return Record(self.sheet.title, number, values, cells, *told, shares=frozenset(shares))

    def _say_of(self, answer: Answer, cell: str) -> None:
        if answer.asked:
            self.say(Severity.WRONG, cell, answer.asked.what, answer.asked.remedy)
        if answer.doubt:
            self.say(Severity.DOUBTFUL, cell, answer.doubt.what, answer.doubt.remedy)

    def _remember(self, each: Field, raw: CellsByField, answer: Answer, cell: str) -> None:
        parsed, typed, value = answer.parsed, str(raw[each.name]), answer.value
        if parsed is None or not isinstance(value, Decimal):
            return
        key = self._key(each, raw)
        facts = (key, typed, value, parsed.count, parsed.unit, parsed.shown, cell)
        self.readings.setdefault(key, Reading(self.sheet.title, each.name, *facts))

    def _key(self, each: Field, raw: CellsByField) -> str:
        beside = tuple(self._joined(raw.get(name)) for name in each.goes_with)
        return reading_key(self.sheet.title, each.name, str(raw[each.name]), beside)

    def _joined(self, cell: Cell | None) -> str:
        """A cell as a formula joins it to a text."""
        if cell is None or isinstance(cell, CellError):
            return ""
        if isinstance(cell, bool):
            return str(cell).upper()
        if isinstance(cell, date):
            return str((cell - self.house.day_zero).days)
        return cell if isinstance(cell, str) else as_text(cell)

    def _aside(self, rows: list[TableRow], addresses: Mapping[str, str]) -> tuple[Record, ...]:
        """Rows that are no lines, as the formulas beside them see them; nothing is said of them."""
        return tuple(
            self._unsaid(row, _cells(row, addresses))
            for row in rows
            if row.kind not in (RowKind.LINE, RowKind.ELSEWHERE)
        )

    def _unsaid(self, row: TableRow, cells: Mapping[str, str]) -> Record:
        units: dict[str, str] = {}
        values: dict[str, Value] = {}
        for each in self.sheet.fields:
            if each.name not in row.raw:
                continue
            cell, says = row.raw[each.name], self.in_headings.get(each.name)
            _, answer = read_headed(each, says, row.raw, values, self.ways[each.name])
            if unit := unit_taken(each, says, row.raw):
                units[each.name] = unit
            if isinstance(cell, str) and each.kind in (*NUMERIC, Kind.DATE):
                key = self._key(each, row.raw)
                reading = self.readings.get(key)
                read = reading.value if reading else None
                values[each.name] = counts_for(says, read, values)
                if reading is None:
                    self.asked.append(key)
            else:
                values[each.name] = answer.value
        return Record(
            self.sheet.title, row.number, values, cells, units_in_text=units, repeats=row.repeats
        )

    # ------------------------------------------------------------ saying

    def say(self, severity: Severity, cell: str, what: str, remedy: str) -> None:
        """Something about a cell of this sheet, or about the whole sheet."""
        self.problems.append(Problem(severity, Place(self.grid.tab, cell), what, remedy))


def _names_nothing(each: Field, cell: Cell) -> bool:
    """A name of which nothing is seen is none: a zero-width space that was pasted."""
    return each.kind is Kind.NAME and isinstance(cell, str) and not one_line(cell)


def _cells(row: TableRow, addresses: Mapping[str, str]) -> dict[str, str]:
    return {name: f"{letter}{row.number}" for name, letter in addresses.items()}
