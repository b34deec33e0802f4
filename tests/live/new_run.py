"""What a new run of the engine gives for a workbook with an edit in it, cell by cell.

The engine runs in this process on the cells as they were read, with the edit put in, since
reading a file takes longer than all the rest; ``test_live`` also makes one run in twenty through
real files. Where a cell of Workings stands is looked up in the workbook as it was costed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Final

from costbook.book import Book
from costbook.book import Value as Figure
from costbook.costing.engine import Costing, cost
from costbook.costing.findings import find
from costbook.costing.structure import lay_out
from costbook.definitions.sheets import SHEETS
from costbook.definitions.workings import TABLES
from costbook.problems import Problem
from costbook.reading.cells import Cell as Held
from costbook.reading.cells import Grid, Workbook, read_workbook
from costbook.reading.tables import match_tabs
from costbook.reading.workbook import book_of
from costbook.writing.layout import Layout, column_letters, lay_out_tables
from costbook.writing.sheets import describe
from tests.judges import Cell, Value, position
from tests.judges.edits import Edit
from tests.judges.inputs import Typed
from tests.judges.stored import formulas

__all__ = ["Cells", "NewRun", "Run"]

Cells = dict[Cell, Value]

# What shows otherwise than a new run would, each with its reason. All else is compared.
SINCE_COSTED: Final = {
    ("since", "newly_left_out"): "receipts that can't be read here; a new run starts at 0 again",
    ("since", "to_cost_again"): "the same, added up",
}
NOT_COMPUTED: Final = {"readings": "the texts that the run has read, a row each"}
DATED: Final = {
    "To put right": "says what was wrong when this was costed",
    "About": "holds words only",
}


@dataclass(frozen=True, slots=True)
class Run:
    """One run of the engine."""

    book: Book
    costing: Costing

    @property
    def problems(self) -> list[Problem]:
        """What the run would say."""
        return [*self.book.problems, *find(self.costing)]

    @property
    def readings(self) -> frozenset[str]:
        """The keys of all quantities typed as text that this run could read."""
        return frozenset(reading.key for reading in self.book.readings)


class NewRun:
    """Runs the engine on a workbook as it was read, with edits."""

    def __init__(
        self, book: Path, costed: Path, tabs: Mapping[str, str], on: date | None = None
    ) -> None:
        self.name, self.tabs, self.on = book.name, tabs, on
        self.read = read_workbook(
            book.read_bytes(), lambda names: set(match_tabs(SHEETS, names).values()), book.name
        )
        self.first = self.run((), date.today())
        self.layout = lay_out_tables(self.first.costing.structure, tabs["Workings"])
        written = formulas(costed)
        self.watched = list(_watched(self.layout, written[tabs["Workings"]]))
        self.banner = _banner(self.layout, self.first, written[tabs["Prices"]])

    def run(self, change: Iterable[Edit], today: date) -> Run:
        """A run on the workbook with a change in it, as if made on a day."""
        book = book_of(_edited(self.read, change), self.name)
        return Run(book, cost(lay_out(book, today, self.on)))

    def at(self, table: str, column: str) -> Cell:
        """The address on Workings of a figure of a table that has one row."""
        return self.layout.cell(self.first.costing.structure.one(table), column)

    def workings(self, run: Run) -> Cells:
        """What every formula cell of Workings must show."""
        return dict(self._workings(run.costing))

    def _workings(self, costing: Costing) -> Iterator[tuple[Cell, Value]]:
        for cell, table, at, column in self.watched:
            rows = costing.figures[table]
            # a purchase added below takes up a spare row; the rows after it are spare ones still
            yield cell, _shown(rows[min(at, len(rows) - 1)][column])

    def pages(self, run: Run) -> dict[str, Cells]:
        """What every cell of the other live sheets must show, words and headings too."""
        return {
            sheet.tab: {
                _address(cell.row, cell.column): _shown(cell.value)
                for cell in sheet.cells()
                if (sheet.title, _address(cell.row, cell.column)) != ("Prices", self.banner)
            }
            for sheet in describe(run.costing, run.problems, self.tabs)
            if sheet.title not in (*DATED, "Workings")
        }


def _address(row: int, column: int) -> Cell:
    return f"{column_letters(column)}{row + 1}"


def _watched(layout: Layout, written: Mapping[Cell, str]) -> Iterator[tuple[Cell, str, int, str]]:
    """Every formula cell of Workings: its address, and the table, row and column it shows."""
    places = {
        layout.first[name] + at: (table, at)
        for name, table in TABLES.items()
        for at in range(layout.count[name])
    }
    for cell in written:
        row, column = position(cell)
        table, at = places[row]
        name = table.columns[column - 1].name
        if table.name not in NOT_COMPUTED and (table.name, name) not in SINCE_COSTED:
            yield cell, table.name, at, name


def _banner(layout: Layout, run: Run, written: Mapping[Cell, str]) -> Cell:
    """The cell of Prices that asks for a new run: the one that shows what happened since."""
    shown = layout.absolute(run.costing.structure.one("since"), "to_cost_again")
    [cell] = [cell for cell, formula in written.items() if shown in formula]
    return cell


def _shown(figure: Figure) -> Value:
    """A figure as a cell shows it; an unknown is an empty text."""
    return float(figure) if isinstance(figure, Decimal) else figure or ""


def _edited(read: Workbook, change: Iterable[Edit]) -> Workbook:
    """The workbook with a change in it; only the rows it touches are copied."""
    grids = dict(read.grids)
    for edit in change:
        row, column = position(edit.cell)
        rows = dict(grids[edit.sheet].rows)
        cells = {at: held for at, held in rows.get(row, {}).items() if at != column}
        if edit.new is not None:
            cells[column] = _held(edit.new)
        rows[row] = dict(sorted(cells.items()))
        grids[edit.sheet] = Grid(edit.sheet, rows)
    return Workbook(grids, read.tabs, read.day_zero)


def _held(typed: Typed) -> Held:
    """What a cell holds once something was typed into it."""
    assert typed is not None
    return Decimal(repr(typed)) if isinstance(typed, int | float) else typed
