"""What a new run of the engine gives for a workbook with an edit in it, cell by cell.

The engine runs in this process on the cells as they were read, with the edit put in, since
reading a file takes longer than all the rest; ``test_live`` also makes one run in twenty through
real files. Where a cell of Workings stands is looked up in the workbook as it was costed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from costbook.book import Book, Value
from costbook.costing.engine import Costing, cost
from costbook.costing.findings import find
from costbook.costing.structure import lay_out
from costbook.definitions.sheets import SHEETS
from costbook.definitions.workings import TABLES
from costbook.problems import Problem
from costbook.reading.cells import Grid, Workbook, read_workbook
from costbook.reading.tables import match_tabs
from costbook.reading.workbook import book_of
from costbook.writing.layout import Layout, column_letters, lay_out_tables
from costbook.writing.sheets import TITLES, describe
from tests.judges import Cell, position
from tests.judges import Value as Shown
from tests.judges.edits import Edit
from tests.judges.stored import formulas

__all__ = ["NewRun", "Run", "Tabs"]

Cells = dict[Cell, Shown]
Tabs = Mapping[str, str]
"""The tab of each of our sheets, by its title."""

# What a formula of Workings shows that a new run would not, each with its reason. Everything else
# is compared.
SINCE_COSTED = {
    ("since", "newly_left_out"): "counts what happened since the last run; a new run starts at 0",
    ("since", "to_cost_again"): "the same",
}
WRITTEN_BY_THE_RUN = {"readings": "the texts that the run has read, a row each; nothing computed"}


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

    def __init__(self, book: Path, costed: Path, tabs: Tabs, on: date | None = None) -> None:
        self.name, self.on, self.tabs = book.name, on, tabs
        self.read = read_workbook(
            book.read_bytes(), lambda all_tabs: set(match_tabs(SHEETS, all_tabs).values()), book.name
        )
        self.first = self.run((), date.today())
        self.layout = lay_out_tables(self.first.costing.structure, tabs["Workings"])
        self.watched = list(_watched(self.first, self.layout, formulas(costed)[tabs["Workings"]]))

    def run(self, change: Iterable[Edit], today: date) -> Run:
        """A run on the workbook with a change in it, as if costed on a day."""
        book = book_of(_edited(self.read, change), self.name)
        return Run(book, cost(lay_out(book, today, self.on)))

    def workings(self, run: Run) -> Cells:
        """What every formula cell of Workings must show."""
        figures = run.costing.figures
        spare = figures["purchases"][-1] if figures["purchases"] else {}
        return {
            cell: _shown(rows[at] if at < len(rows := figures[table]) else spare, column)
            for cell, table, at, column in self.watched
        }

    def all_sheets(self, run: Run) -> dict[str, Cells]:
        """What every formula cell of every sheet of ours must show."""
        described = describe(run.costing, run.problems, self.tabs)
        return {
            sheet.tab: {
                f"{column_letters(cell.column)}{cell.row + 1}": _as_shown(cell.value)
                for cell in sheet.cells()
                if cell.formula
            }
            for sheet in described
        }
