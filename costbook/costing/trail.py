"""The trail from a figure down to the person's cells: what it rests on, and where that stands."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import assert_never

from costbook.book import Record, Value
from costbook.costing.engine import Costing
from costbook.costing.line import SourceCell
from costbook.costing.rows import FigureKey, Row
from costbook.definitions.columns import (
    WORTHS,
    AsCosted,
    Column,
    Computed,
    CountInText,
    Fixed,
    Gathered,
    Given,
    Key,
    LookedUp,
    Over,
    Renamed,
    RowOf,
    RowsNow,
    Show,
    StandsOn,
    Today,
    UnitFact,
    UnitRow,
    Worth,
)
from costbook.definitions.figures_told import FIGURES_TOLD
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.told import CODE, Told
from costbook.definitions.words import words
from costbook.definitions.workings import TABLES

__all__ = ["At", "Basis", "Trail", "declared", "mark_of"]

At = tuple[Row, str]
"""A figure: its row, and its column."""


def mark_of(at: At) -> FigureKey:
    """The mark of a figure."""
    row, name = at
    return row.table, row.index, name


@dataclass(frozen=True, slots=True)
class Basis:
    """How a figure comes about: its rule in words, the cell it is read from, what it rests on."""

    rule: str = ""
    cell: SourceCell | None = None
    rests_on: tuple[At, ...] = ()
    rows: bool = False
    """Whether it is the sum of rows."""


class Trail:
    """Leads from any figure of a costing to those it rests on."""

    def __init__(self, costing: Costing) -> None:
        self.costing = costing

    def home(self, row: Row, name: str) -> Row:
        """The row that a name is a column of: the row itself, or Settings."""
        return row if name in TABLES[row.table].index else self.costing.structure.one("settings")

    def column(self, row: Row, name: str) -> Column:
        """The column of that name, of the row or of Settings."""
        return TABLES[self.home(row, name).table].column(name)

    def value(self, row: Row, name: str) -> Value:
        """The figure."""
        return self.costing.of(self.home(row, name))[name]

    def origin(self, row: Row, name: str) -> At | None:
        """Where a figure comes about, not merely looked up; None where a look-up leads nowhere."""
        while True:
            row = self.home(row, name)
            how = self.column(row, name).how
            if name in row.fixed:
                return row, name
            if isinstance(how, Given) and self._stood_in_for(row, how):
                name = how.stands_in
                continue
            if not isinstance(how, LookedUp):
                return row, name
            link = self.linked(row, how.table)
            if link is None:
                return None
            row, name = link, how.column

    def _stood_in_for(self, row: Row, how: Given) -> bool:
        """Whether another cell of the person's is read in place of one that was left blank."""
        if not how.stands_in or self._filled(row, how):
            return False
        return isinstance(self.column(row, how.stands_in).how, Given | LookedUp)

    def linked(self, row: Row, table: str) -> Row | None:
        """The row of another table that this one looks up."""
        return (
            self.costing.structure.one(table) if TABLES[table].has_one_row else row.links.get(table)
        )

    def told(self, row: Row, name: str) -> Told | None:
        """What is declared to be told of a figure, here or where it is looked up from."""
        return declared(self.home(row, name).table, name)

    def looked_up(self, row: Row, name: str) -> At | None:
        """Where a figure is looked up from, unless its own column says what to tell of it."""
        row = self.home(row, name)
        column = self.column(row, name)
        if name in row.fixed or not isinstance(column.how, LookedUp) or _told(row.table, name):
            return None
        link = self.linked(row, column.how.table)
        return (link, column.how.column) if link else None

    def is_left_open(self, row: Row, name: str) -> bool:
        """Whether a figure is open because its row is nobody's, or because nothing was said."""
        return bool(self.lacks(row)) and name in row.fixed and row.fixed[name] is None

    def named_in(self, row: Row) -> SourceCell | None:
        """The cell that says whose a row of the person's is; none where they have no such row."""
        record = next(iter(row.sources.values()), None)
        return (
            self._cell_of(record, INPUT_SHEETS[record.sheet].naming_field.name) if record else None
        )

    def lacks(self, row: Row) -> str:
        """The column that says what a row lacks; empty where none does."""
        return TABLES[row.table].lacks

    def subject(self, row: Row) -> str:
        """What a row is about: the line, the item, the recipe."""
        return str(row.fixed.get(TABLES[row.table].about) or "")

    def basis(self, row: Row, name: str) -> Basis:
        """How a figure comes about, in the row in which it does."""
        how = self.column(row, name).how
        match how:
            case Computed():
                names = () if name in row.fixed else how.arguments
                asked = (at for at in names if self.is_a_step(row, at))
                return Basis(_in_words(how), None, tuple((row, at) for at in asked))
            case Gathered(fold="first"):
                return Basis("the first of")
            case Gathered():
                own = () if name in row.fixed else self.costing.gathered_rows(row, how)
                manner = "the sum of what is known of" if how.fold == "total" else "the sum of"
                return Basis(manner, None, tuple((each, how.column) for each in own), rows=True)
            case Given():
                sheet = INPUT_SHEETS[how.sheet]
                manner = f"{sheet.title}, {sheet.field(how.field).title}"
                return Basis(manner, self._cell(row, how))
            case UnitRow():
                return Basis("", self._cell(row, how))
            case Fixed() | Today() | AsCosted() | RowsNow() | StandsOn() | RowOf() | Renamed():
                return Basis()
            case Worth():
                return Basis(rests_on=self._worth(row, how))
            case CountInText() | Key() | LookedUp() | UnitFact() | Over():
                return Basis()
            case _:
                assert_never(how)

    def _worth(self, row: Row, how: Worth) -> tuple[At, ...]:
        """The figure of the item or used recipe that says what one of a kind of unit is worth."""
        link, measure = row.links.get(how.table), self.value(row, how.measure)
        if link is None or not isinstance(measure, Decimal):
            return ()
        name = WORTHS[int(measure) - 1]
        return ((link, name),) if isinstance(self.column(link, name).how, Given) else ()

    def is_a_step(self, row: Row, name: str) -> bool:
        """Not a text, not a code, no conversion that changes nothing, no cell left blank."""
        told = self.told(row, name)
        if (told and told.code) or self.column(row, name).show is Show.TEXT:
            return False
        there = self.origin(row, name)
        if there is None:
            return True
        value = self.value(*there)
        if told and told.conversion and value == 1:
            return False
        how = self.column(*there).how
        blank = isinstance(how, Given) and value is not None and not self._filled(there[0], how)
        return not blank

    def _filled(self, row: Row, how: Given) -> bool:
        """Did the person fill in the cell that a figure is read from?"""
        record = self._record(row, how)
        if record is None:
            return False
        return how.field in record.values or how.count_in in record.counts_in_text

    def _cell(self, row: Row, how: Given | UnitRow) -> SourceCell | None:
        """The person's cell that a figure was read from."""
        record = self._record(row, how)
        if record is None:
            return None
        typed_in = how.field
        if isinstance(how, Given) and typed_in not in record.values and how.count_in:
            typed_in = how.count_in
        return self._cell_of(record, typed_in)

    def _cell_of(self, record: Record, field: str) -> SourceCell | None:
        if field not in record.cells:
            return None
        tab = self.costing.structure.book.sheets[record.sheet].tab
        return SourceCell(tab, record.cells[field], INPUT_SHEETS[record.sheet].upright)

    def _record(self, row: Row, how: Given | UnitRow) -> Record | None:
        if not how.at_row:
            return row.sources.get(how.sheet)
        number = self.value(row, how.at_row)
        purchases = self.costing.structure.purchases
        return purchases.get(int(number)) if isinstance(number, Decimal) else None


@cache
def declared(table: str, name: str) -> Told | None:
    """What is declared to be told of a column, there or where it is looked up from."""
    if (told := _told(table, name)) is not None:
        return told
    how = TABLES[table].column(name).how
    if isinstance(how, UnitRow):
        return CODE
    if isinstance(how, LookedUp):
        return declared(how.table, how.column)
    return declared("units", how.column) if isinstance(how, UnitFact) else None


def _told(table: str, name: str) -> Told | None:
    """What is declared to be told of a column itself."""
    return FIGURES_TOLD.get(table, {}).get(name)


def _in_words(how: Computed) -> str:
    """A rule in words; of one that weighs cases, what it is about."""
    if not how.meets_unknowns:
        return words(how.term())
    sentence = " ".join((how.rule.__doc__ or "").split()).partition(". ")[0]
    return sentence.partition(" [")[0].rstrip(".:")
