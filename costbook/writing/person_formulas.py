"""The formulas over the person's own cells: how a number, a choice, a name or a unit is read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal

from costbook.book import NOBODY, Record
from costbook.costing.names import OF_ITEMS, SUPPLIER, item_keys, respelled
from costbook.costing.rows import Row, Structure
from costbook.definitions.columns import (
    CountInText,
    FromPerson,
    Given,
    Key,
    Renamed,
    StandsOn,
    UnitRow,
)
from costbook.definitions.fields import Field, InputSheet, Kind
from costbook.definitions.reads import ColumnAt
from costbook.definitions.row_sources import ROW_NUMBER
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.writing import headed, lookups
from costbook.writing.folded import is_laid_out, log_twin, repeating
from costbook.writing.layout import Layout
from costbook.writing.person_places import PlacesOfPerson

__all__ = ["PersonFormulas"]

InItsRow = Given | CountInText | Key | UnitRow | Renamed
"""The kinds of column that read a cell of the row's record, wherever that stands."""


FRACTIONS = (Kind.NUMBER, Kind.MONEY, Kind.SIZE, Kind.AMOUNT)
"""Kinds of field in which a fraction may be typed that a program turns into a date."""
DAYS_ON, DAYS_ABOUT = 3653, 2191
"""A fraction becomes a day of its own year: for ten years on, and as many years back as rest."""


class PersonFormulas(PlacesOfPerson):
    """Gives the formulas of cells of Workings that read the person's cells."""

    def __init__(self, structure: Structure, layout: Layout) -> None:
        super().__init__(structure, layout)
        aliases = item_keys(self.book)
        others = {key for key, own in aliases.items() if key != own}
        others |= respelled(self.book, aliases).keys()
        self.led = {SUPPLIER if key.startswith(SUPPLIER) else "" for key in others}
        """What stands before the keys of names that the table of other names leads on."""
        texts = (*(reading.key for reading in self.book.readings), *self.book.asked)
        today = int(self.book.day_number(structure.costed_on))
        self.days = (today + DAYS_ON - DAYS_ABOUT, DAYS_ABOUT)
        self.as_large_as_days = frozenset(self._as_large_as_days())
        self.with_texts = {key.partition("|")[0] for key in texts}
        """The fields, as Sheet.field, in which the run found quantities typed as text."""

    def _renamed(self, row: Row, how: Renamed, cell_of: Callable[[str], str]) -> str:
        """0 while each name, and each quantity typed as text, is still one that was costed."""
        record = row.sources.get(how.sheet)
        sheet = INPUT_SHEETS[how.sheet]
        names = [(name, cell_of(name), record.text(name)) for name in how.fields] if record else []
        tests = self._names_stand(row, sheet, names)
        if record and (found := self._record_row(row, how.sheet)):
            tests.append(f"ISNUMBER({found})")
        tests += self._labels_stand(how.sheet) if record else ()
        tests += self._still_dittos(row, record)
        for name in how.quantities:
            if cell := cell_of(name):
                key = self._reading_key(row, sheet, name, cell_of)
                keys = self._area("readings", "key") if key else ""
                marks = self._blank_marks(row, sheet.field(name))
                days = self._days(sheet.title, sheet.field(name), record)
                tests.append(lookups.text_was_seen(cell, key, keys, days, marks))
        return f"IFERROR(IF(AND({','.join(tests)}),0,1),1)" if tests else ""

    def _as_large_as_days(self) -> Iterator[tuple[str, str]]:
        """The fields, by sheet, in which the person has numbers that could be taken for days."""
        middle, about = self.days
        for title, sheet in self.book.sheets.items():
            for record in sheet.records:
                for name, value in record.values.items():
                    if isinstance(value, Decimal) and abs(value - middle) < about:
                        yield title, name

    def _from_person(self, row: Row, how: FromPerson) -> str:
        """The formula over the person's cell; empty where there is no cell to look at."""
        if isinstance(how, StandsOn):
            return self._stands_on(row, how)
        if isinstance(how, Given | Key | UnitRow):
            twin = log_twin(how)
            if twin and is_laid_out(*twin) and self.layout.count[twin[0]]:
                return self._of_the_log(row, how, twin)
        text = self._of_its_cell(row, how)
        if text and isinstance(how, Given | Key) and (column := repeating(row.table, how)):
            return self._repeated(row, how, column, text)
        return text

    def _repeated(self, row: Row, how: Given | Key, column: str, text: str) -> str:
        """The formula of a log's cell in which a ditto mark may repeat what the row above has."""
        number, letter = self.layout.row_number(row), self.layout.letter(row.table, column)
        nothing = NOBODY if isinstance(how, Key) else ""
        above = f"{letter}{number - 1}" if row.index else f'"{nothing}"'
        cell, marks = self._person_cells(row, how)(how.field), self._own(row, "ditto_marks")
        return f'IFERROR(IF({lookups.is_ditto(cell, marks)},{above},{text}),"{nothing}")'

    def _of_its_cell(self, row: Row, how: InItsRow) -> str:
        """The formula over the person's cell itself."""
        cell_of = self._person_cells(row, how)
        sheet = INPUT_SHEETS[how.sheet]
        if isinstance(how, Key):
            return self._key(row, how, cell_of(how.field))
        if isinstance(how, UnitRow):
            return self._unit_row(row, sheet, how, cell_of)
        if isinstance(how, Renamed):
            return self._renamed(row, how, cell_of)
        if isinstance(how, CountInText):
            return self._count_in_text(row, sheet, how, cell_of)
        given = self._given(row, sheet, how, cell_of)
        says = headed.counts_otherwise(self.book, how.sheet, how.field)
        if says is None or not cell_of(how.field):
            return given
        beside = Given(how.sheet, "packs", Decimal(1), at_row=how.at_row)
        packs = self._given(row, sheet, beside, cell_of) if says.by_packs else ""
        blank = lookups.is_blank(cell_of(how.field), self._blank_marks(row, sheet.field(how.field)))
        return headed.as_headed(self.book, how.sheet, says, blank, given, packs)

    def _of_the_log(self, row: Row, how: Given | Key | UnitRow, twin: ColumnAt) -> str:
        """What the table of a log already has of the row to read there."""
        at, nothing = self._own(row, how.at_row), NOBODY if isinstance(how, Key) else ""
        above = self._area(twin[0], ROW_NUMBER).partition(":")[0]
        return f'IFERROR(INDEX({self._area(*twin)},{at}-{above}+1),"{nothing}")'

    def _key(self, row: Row, how: Key, cell: str) -> str:
        if not cell:
            return ""
        key = lookups.key_of(cell)
        if marks := self._blank_marks(row, INPUT_SHEETS[how.sheet].field(how.field)):
            key = f'IF({lookups.is_blank(cell, marks)},"{NOBODY}",{key})'
        before = "" if how.field in OF_ITEMS else SUPPLIER
        if before in self.led:
            column = self._area
            own, other = column("aliases", "item_key"), column("aliases", "other_key")
            sought = f'"{before}"&{key}' if before else key
            key = lookups.found_at(own, sought, other, key)
        return f'IFERROR({key},"{NOBODY}")'

    def _reading(
        self, row: Row, sheet: InputSheet, name: str, cell_of: Callable[[str], str], what: str
    ) -> str:
        """What a text was read as, where the field has texts that were read; else empty text."""
        key = self._reading_key(row, sheet, name, cell_of)
        if not key:
            return '""'
        column = self._area
        return lookups.found_at(column("readings", what), key, column("readings", "key"))

    def _reading_key(
        self, row: Row, sheet: InputSheet, name: str, cell_of: Callable[[str], str]
    ) -> str:
        """What a text is looked up by; nothing where the field has no texts, or no cell."""
        cell = cell_of(name)
        if not cell or f"{sheet.title}.{name}" not in self.with_texts:
            return ""
        field, marks = sheet.field(name), self._marks(row)
        beside = [
            f'IF({lookups.is_blank(each, marks)},"",{each})' if (each := cell_of(name)) else '""'
            for name in field.goes_with
        ]
        return lookups.reading_at(field, sheet.title, cell, beside)

    def _count_in_text(
        self, row: Row, sheet: InputSheet, how: CountInText, cell_of: Callable[[str], str]
    ) -> str:
        count = self._reading(row, sheet, how.field, cell_of, "count")
        return f"IF(ISNUMBER({count}),{count},1)" if count != '""' else ""

    def _unit_row(
        self, row: Row, sheet: InputSheet, how: UnitRow, cell_of: Callable[[str], str]
    ) -> str:
        cell = cell_of(how.field)
        spellings = self._area("units", "spelling")
        typed = lookups.unit_at(cell, spellings) if cell else '""'
        in_text = self._reading(row, sheet, how.text_in, cell_of, "unit")
        amount = cell_of(how.text_in) if how.text_in else ""
        empty = lookups.is_blank(
            amount, self._blank_marks(row, sheet.field(how.text_in or how.field))
        )
        named = headed.unit_of(self.book, sheet.title, how.text_in, empty, spellings)
        if in_text == named == '""':
            return typed if cell else ""
        brought = f"IFERROR(MATCH({in_text},{spellings},0),{named})"
        if not cell:
            return brought
        beside = lookups.is_blank(cell, self._blank_marks(row, sheet.field(how.field)))
        return f'IFERROR(IF({beside},{brought},{typed}),"")'

    def _given(self, row: Row, sheet: InputSheet, how: Given, cell_of: Callable[[str], str]) -> str:
        cell = cell_of(how.field)
        field, says = sheet.field(how.field), headed.says_of(self.book, how.sheet, how.field)
        field = says.meant(field) if says else field
        blank = self._blank(row, sheet, how, cell_of)
        if not cell:
            return self._given_nowhere(row, how, blank)
        marks = self._blank_marks(row, field)
        if field.kind in (Kind.TEXT, Kind.NAME, Kind.UNIT):
            text = lookups.text_of(cell)
            if how.blank == "" and not marks:
                return f'IFERROR({text},"")'
            return f'IFERROR(IF({lookups.is_blank(cell, marks)},{blank},{text}),"")'
        if field.kind is Kind.CHOICE:
            column = self._area
            words = {name: column("choices", name) for name in ("key", "meaning")}
            return lookups.choice_of(sheet.title, field, cell, blank, words, marks)
        otherwise = self._reading(row, sheet, how.field, cell_of, "value")
        refused = self._record_of(row, how)
        number = refused.refused.get(how.field) if refused else None
        days = self._days(sheet.title, field, None)
        return lookups.date_or_number_of(field, cell, blank, otherwise, number, days, marks)

    def _days(self, sheet: str, field: Field, record: Record | None) -> lookups.Days | None:
        """The days that a fraction typed into the field would become; none if figures reach there.

        Nor where the run has asked about that very cell.
        """
        asked = record is not None and field.name in record.refused
        if asked or field.kind not in FRACTIONS or (sheet, field.name) in self.as_large_as_days:
            return None
        return self.days

    def _given_nowhere(self, row: Row, how: Given, blank: str) -> str:
        """A field that the sheet has no column for: what a blank means, once there is a row."""
        if how.at_row and how.blank != "" and blank != '""':
            found = self._own(row, how.at_row)
            return f'IF(ISNUMBER({found}),{blank},"")'
        return blank if how.stands_in or (how.count_in and blank != '""') else ""

    def _record_of(self, row: Row, how: Given) -> Record | None:
        return row.sources.get(how.sheet)

    def _blank(self, row: Row, sheet: InputSheet, how: Given, cell_of: Callable[[str], str]) -> str:
        """What a blank cell means, as formula text."""
        if how.stands_in:
            return self._own(row, how.stands_in)
        constant = lookups.literal(how.blank)
        if how.count_in:
            count = self._reading(row, sheet, how.count_in, cell_of, "count")
            if count != '""':
                return f"IF(ISNUMBER({count}),{count},{constant})"
        if how.together_with:
            cells = [cell for name in how.together_with if (cell := cell_of(name))]
            marks = self._blank_marks(row, sheet.field(how.field))
            return f'IF({lookups.any_filled(cells, marks)},{constant},"")' if cells else '""'
        return constant
