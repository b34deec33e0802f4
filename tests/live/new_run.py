"""What a new run of the engine gives for a workbook with an edit in it, cell by cell.

The engine runs in this process on the cells as they were read, with the edit put in, since
reading a file takes longer than all the rest; `test_live` also makes one run in twenty through
real files. Rows of Workings are found again by what they are about, wherever they stand.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Final, cast

import pytest

from costbook.book import Book
from costbook.book import Value as Figure
from costbook.costing.engine import Costing, cost
from costbook.costing.findings import find
from costbook.costing.rows import Figures, Row
from costbook.costing.structure import lay_out
from costbook.deciding.moved import moves
from costbook.definitions.columns import Show
from costbook.definitions.workings import TABLES
from costbook.definitions.year_workings import YEAR_TABLES
from costbook.package.workbook_file import WorkbookFile
from costbook.reading.cells import read_workbook
from costbook.reading.grid import Cell as Held
from costbook.reading.grid import Grid, Workbook
from costbook.reading.workbook import book_of
from costbook.writing import sheets
from costbook.writing.description import CellContent, SheetDescription
from costbook.writing.folded import laid_out
from costbook.writing.layout import (
    ROWS_ABOVE,
    Layout,
    column_letters,
    lay_out_tables,
    sheet_name,
)
from costbook.writing.pages.page import Context
from costbook.writing.sheets import describe
from tests.judges import Cell, Value, position
from tests.judges.edits import Edit
from tests.judges.inputs import Typed
from tests.judges.stored import formulas

__all__ = ["Cells", "NewRun", "Run"]

Cells = dict[Cell, Value]

COMPUTED: Final = ("Workings", "Trial workings")

# What shows otherwise than a new run would, each with its reason. All else is compared.
SINCE_COSTED: Final = {
    ("rows", "rows_now"): "rows that need a run; a new one starts at what it finds",
    ("rows", "rows_changed"): "the same; test_asks_for_a_run.py has them",
    ("since", "changed_rows"): "the same, added up",
    ("since", "newly_left_out"): "receipts that can't be read here; a new run starts at 0 again",
    ("since", "to_cost_again"): "the same, added up",
}
NOT_COMPUTED: Final = {"readings": "the texts that the run has read, a row each"}
# A pack of another size is a row more on Packs compared, and rows come with a run. The row of a
# pack that is bought no more must be unknown; how others compare with the new pack can't be known.
OF_ALL_PACKS: Final = ("least_bought", "cheapest_smaller", "break_even_spoilage")
OF_ITS_RECEIPT: Final = ("price_per_pack", "compared_price", "used_price", "cash_tied_up")
# Where a text can't be read before a new run: the answers, in money and shares. Left out is what
# adds up whatever is known, which must be less then, and what counted before that receipt.
ANSWERS: Final = (
    *("lines", "uses", "recipes", "stages", "packaging", "products", "outlets", "overheads"),
    *("year", "prices", "item_prices"),
)
MONEY: Final = frozenset(
    (table, column.name)
    for table in ANSWERS
    for column in TABLES[table].columns
    if column.show in (Show.MONEY, Show.FINE_MONEY, Show.UNIT_PRICE, Show.SHARE)
    and "known" not in column.name
    and not (table == "item_prices" and "before" in column.name)
)
# Which year The year is of is a run's, as it says; once it is over, it asks for another.
OF_ITS_YEAR: Final = tuple(table.name for table in YEAR_TABLES)
# Which lines tell what is picked on Prices is a run's: they say of which day they are.
DATED: Final = {
    "In words": "says where prices came from at the last run",
    "To put right": "says what was wrong when this was costed",
    "About": "holds words only",
    "Earlier costings": "says what earlier runs found",
    "Memory": "says what this run wrote",
}
LIVE_WORDS: Final = ("Prices", "Cost cards", "Latest prices")
"""Pages whose words are compared too; the sentences of the others are as of the last run."""


@dataclass(frozen=True, slots=True)
class Run:
    """One run of the engine."""

    book: Book
    costing: Costing

    @property
    def texts(self) -> frozenset[str]:
        """The keys of all quantities typed as text, whether this run could read them or asked."""
        return frozenset((*(reading.key for reading in self.book.readings), *self.book.asked))


class NewRun:
    """Runs the engine on a workbook as it was read, with edits."""

    def __init__(
        self, book: Path, costed: Path, tabs: Mapping[str, str], on: date | None = None
    ) -> None:
        self.name, self.tabs, self.on = book.name, tabs, on
        self.read = read_workbook(WorkbookFile(book.read_bytes()), lambda names: names)
        self.first = self.run((), date.today())
        self.layout = lay_out_tables(self.first.costing.structure, tabs["Workings"])
        written = formulas(costed)
        self.watched = {
            title: _watched(self.first.costing, self.layout, written[tabs[title]])
            for title in COMPUTED
        }
        self.written = {tab: frozenset(cells) for tab, cells in written.items()}
        self.own_formulas = {tab: list(written[tab]) for tab in self.read.grids if written[tab]}
        self.banner = self._banner(written[tabs["Prices"]])
        self.in_words = _mentioning(written[tabs["Prices"]], sheet_name(tabs["In words"]))

    def run(self, change: Iterable[Edit], today: date) -> Run:
        """A run on the workbook with a change in it, as if made on a day."""
        book = book_of(_edited(self.read, change), self.name)
        return Run(book, cost(lay_out(book, today, self.on)))

    def at(self, table: str, column: str) -> Cell:
        """The address on Workings of a figure of a table that has one row."""
        return self.layout.cell(self.first.costing.structure.one(table), column)

    def workings(self, run: Run, title: str = "Workings") -> Cells:
        """What every formula cell of Workings must show, or of Trial workings: nothing is tried."""
        rows = dict(_by_identity(run.costing))
        watched = self.watched[title]
        if self._in_another_year(run):
            watched = {row: cells for row, cells in watched.items() if row[0] not in OF_ITS_YEAR}
        return dict(_expected(watched, rows, self.other_packs(run)))

    def _in_another_year(self, run: Run) -> bool:
        spans = (each.costing.figures["year_span"] for each in (self.first, run))
        return len({row["eve"] for rows in spans for row in rows}) > 1

    def other_packs(self, run: Run) -> frozenset[Figure]:
        """The keys of items that come in other packs than when the workbook was costed."""
        before, after = (_packs(each.costing) for each in (self.first, run))
        return frozenset(item for _, item in before ^ after)

    def pages(self, run: Run) -> dict[str, Cells]:
        """What the cells of the other live sheets must show, words and headings too.

        A page that a new run would lay out otherwise (a chart more, a pack more) is left out.
        """
        pages: dict[str, Cells] = {}
        for sheet in _described(run, self.tabs):
            cells = {_address(cell): cell for cell in sheet.cells()}
            formulas_now = {address for address, cell in cells.items() if cell.formula}
            if sheet.title not in (*DATED, *COMPUTED) and formulas_now == self.written[sheet.tab]:
                pages[sheet.tab] = {
                    address: _shown(cell.value)
                    for address, cell in cells.items()
                    if cell.formula or sheet.title in LIVE_WORDS
                }
        if _order(run.costing) != _order(self.first.costing):
            pages.pop(self.tabs["Packs compared"], None)
        if _items_moved(run.costing) != _items_moved(self.first.costing):
            pages.pop(self.tabs["What moved"], None)
        if self._in_another_year(run):
            pages.pop(self.tabs["The year"], None)
        for cell in (self.banner, *self.in_words):
            pages.get(self.tabs["Prices"], {}).pop(cell, None)
        return pages

    def money(self, run: Run) -> Cells:
        """What must be shown, or unknown, where a text can't be read before a new run."""
        rows = dict(_by_identity(run.costing))
        return {
            cell: _shown(rows[row][column])
            for row, cells in self.watched["Workings"].items()
            for cell, column in cells
            if (row[0], column) in MONEY
        }

    def _banner(self, written: Mapping[Cell, str]) -> Cell:
        """The cell of Prices that asks for a new run: the one that shows what happened since."""
        since = self.first.costing.structure.one("since")
        shown = self.layout.absolute(since, "to_cost_again")
        [cell] = [cell for cell, formula in written.items() if shown in formula]
        return cell


def _mentioning(written: Mapping[Cell, str], tab: str) -> list[Cell]:
    """The cells of a sheet whose formulas look at a tab."""
    return [cell for cell, formula in written.items() if f"{tab}!" in formula]


# ---------------------------------------------------------------- rows, in any run


def _described(run: Run, tabs: Mapping[str, str]) -> list[SheetDescription]:
    """The sheets but for those that are compared apart: describing them takes longest by far."""

    def left_out(_context: Context, *_more: object) -> SheetDescription:
        return SheetDescription("About", tabs["About"])

    with pytest.MonkeyPatch.context() as patch:
        for title in COMPUTED:
            patch.setitem(cast("dict[str, object]", sheets.PAGES), title, left_out)
        patch.setattr(sheets, "memory_page", left_out)
        return describe(run.costing, [*run.book.problems, *find(run.costing)], tabs)


def _address(cell: CellContent) -> Cell:
    return f"{column_letters(cell.column)}{cell.row + 1}"


Identity = tuple[Figure | int, ...]
"""What a row is about; the same in every run, wherever the row stands."""

NUMBERING: Final = ("row_number", "pack_held", "steps_away")


def _identity(row: Row) -> Identity:
    if row.table.startswith("spoilage"):
        pack = next(link for name, link in row.links.items() if name.startswith("packs_"))
        return (row.table, *_identity(pack)[1:])
    words = [word for word in row.fixed.values() if isinstance(word, str)]
    return (row.table, *words, *(row.fixed.get(name) for name in NUMBERING))


def _identities(rows: Iterable[Row]) -> Iterator[Identity]:
    """The identity of each row of a table; of two alike, the second is the second."""
    seen: Counter[Identity] = Counter()
    for row in rows:
        identity = _identity(row)
        yield (*identity, seen[identity])
        seen[identity] += 1


def _by_identity(costing: Costing) -> Iterator[tuple[Identity, Figures]]:
    for table, rows in costing.structure.rows.items():
        yield from zip(_identities(rows), costing.figures[table], strict=True)


def _order(costing: Costing) -> list[Identity]:
    """The packs that were bought, in the order in which they are shown."""
    return list(_identities(costing.structure.rows["packs_bought"]))


def _items_moved(costing: Costing) -> list[tuple[Identity, ...]]:
    """What By item lists, and in which order: a run's, as the sheet says beside it."""
    return [tuple(_identities((each.row, *each.moved_by))) for each in moves(costing).ranked]


def _packs(costing: Costing) -> frozenset[tuple[Identity, Figure]]:
    """Every pack that was bought, with the key of its item."""
    rows = costing.structure.rows["packs_bought"]
    keys = (row.fixed["item_key"] for row in rows)
    return frozenset(zip(_identities(rows), keys, strict=True))


Watched = Mapping[Identity, list[tuple[Cell, str]]]
"""The formula cells of a sheet of workings by row: the address and column of each."""


def _watched(costing: Costing, layout: Layout, written: Mapping[Cell, str]) -> Watched:
    places = {
        layout.row_number(row): (TABLES[table], identity)
        for table, rows in costing.structure.rows.items()
        for row, identity in zip(rows, _identities(rows), strict=True)
        if layout.has_cells(row)
    }
    watched: defaultdict[Identity, list[tuple[Cell, str]]] = defaultdict(list)
    for cell in written:
        number, column = position(cell)
        if number == ROWS_ABOVE:
            continue  # says whether the sheet is in step, as a new run always is
        table, identity = places[number]
        name = list(laid_out(table.name))[column - 1]
        if table.name not in NOT_COMPUTED and (table.name, name) not in SINCE_COSTED:
            watched[identity].append((cell, name))
    return watched


def _expected(
    watched: Watched, rows: Mapping[Identity, Figures], other: frozenset[Figure]
) -> Iterator[tuple[Cell, Value]]:
    for row, cells in watched.items():
        figures = rows.get(row)
        if figures is None:
            assert str(row[0]).startswith(("packs_", "spoilage")), f"{row} is missing"
            yield from ((cell, "") for cell, column in cells if column in OF_ITS_RECEIPT)
        else:
            unsure = OF_ALL_PACKS if figures.get("item_key") in other else ()
            for cell, column in cells:
                if column not in unsure:
                    yield cell, _shown(figures[column])


def _shown(figure: Figure) -> Value:
    """A figure as a cell shows it; an unknown is an empty text."""
    return float(figure) if isinstance(figure, Decimal) else figure or ""


# ---------------------------------------------------------------- edits


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
        grids[edit.sheet] = Grid(edit.sheet, dict(sorted(rows.items())))
    return Workbook(grids, read.tabs, read.day_zero)


def _held(typed: Typed) -> Held:
    """What a cell holds once something was typed into it."""
    assert typed is not None
    return Decimal(repr(typed)) if isinstance(typed, int | float) else typed
