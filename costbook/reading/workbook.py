"""A workbook's file → Book."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from costbook.book import Book, Reading, Record, SheetAsRead
from costbook.definitions.offered import CHOSEN_FROM, FieldOf, NamesAt
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.package.workbook_file import WorkbookFile
from costbook.problems import Place, Problem, Refused, Severity
from costbook.reading.cells import read_workbook
from costbook.reading.checks import check
from costbook.reading.finding import Found, find, without_copies
from costbook.reading.grid import Workbook
from costbook.reading.numbers import NumberStyle, number_style
from costbook.reading.other_tabs import OtherTab, like_ours, not_read, on_their_own, other_tabs
from costbook.reading.owners import shares_without_owner, strays_of
from costbook.reading.records import NUMERIC, House, SheetReader
from costbook.reading.settings_sheet import read_settings
from costbook.reading.tables import FoundTable, match_tabs
from costbook.reading.texts import quoted
from costbook.reading.twin_checks import shares_asked
from costbook.started import command

__all__ = ["Sheets", "book_of", "read_book", "sheets_there"]

_NEEDED = tuple(sheet.title for sheet in SHEETS if sheet.needed)


@dataclass(frozen=True, slots=True)
class Sheets:
    """The input sheets that a workbook has, title → tab, and the day it counts from."""

    tabs: Mapping[str, str]
    day_zero: date
    names: Mapping[FieldOf, NamesAt]
    """Where each field of its tables begins, below the heading."""


def read_book(file: WorkbookFile) -> Book:
    """Read the input sheets of a workbook, all tabs but ours. Raises Refused where it is none."""
    return book_of(_cells(file), file.name)


def sheets_there(file: WorkbookFile) -> Sheets:
    """Which input sheets a workbook has. Raises Refused where it is none."""
    workbook = _cells(file)
    found = find(workbook)
    names = {
        (title, name): NamesAt(found.tabs[title], table.heading_row, column - 1)
        for title, table in found.tables.items()
        for name, column in table.columns.items()
    }
    return Sheets(found.tabs, workbook.day_zero, names)


def _cells(file: WorkbookFile) -> Workbook:
    """The cells of all tabs but ours."""

    def wanted(tabs: Sequence[str]) -> Collection[str]:
        named = set(match_tabs(SHEETS, tabs).values())
        ours = [] if set(tabs) == named else [tab.name for tab in file.ours.values()]
        return without_copies(tabs, ours)

    return read_workbook(file, wanted)


def book_of(workbook: Workbook, name: str) -> Book:
    """The book that a workbook's cells make. Raises Refused where it has none of our sheets."""
    found = find(workbook)
    if not found.tabs.keys() & set(_NEEDED):
        raise _nothing_here(workbook)
    house = House(workbook.day_zero, style=_style_of(found))
    sheets: dict[str, SheetAsRead] = {}
    problems: list[Problem] = []
    readings: dict[str, Reading] = {}
    asked: dict[str, None] = {}
    for title in (sheet.title for sheet in SHEETS if sheet.title in found.tabs):
        reader = SheetReader(INPUT_SHEETS[title], found.grid(title), house)
        if INPUT_SHEETS[title].upright:
            sheets[title] = read_settings(reader)
            currency = sheets[title].records[0].text("currency").strip().upper()
            house = replace(house, currency=currency)
        else:
            sheets[title] = reader.read_table(
                found.tables.get(title), found.texts[found.tabs[title]]
            )
        problems += [*_tab_read_as(found, title), *reader.problems]
        readings |= reader.readings
        asked |= dict.fromkeys(reader.asked)
    problems += _missing_sheets(sheets, name)
    book = Book(name, sheets, tuple(readings.values()), (), workbook.day_zero, tuple(asked))
    book = replace(book, day_code=workbook.day_code)
    book, said = _of_other_tabs(book, found, house)
    problems += said
    shares = shares_asked(book) | shares_without_owner(book)
    book = replace(book, shares_asked=shares, strays=strays_of(book))
    return replace(book, problems=(*problems, *_not_said(check(book), problems)))


def _of_other_tabs(book: Book, found: Found, house: House) -> tuple[Book, list[Problem]]:
    """The book as the tabs that weren't read leave it, and what is said of them."""
    read = set(found.tabs.values())
    rest = [tab for tab, grid in found.workbook.grids.items() if grid.rows and tab not in read]
    others = [
        OtherTab(title, tab, table.heading_row, records)
        for title, tab, table in found.more
        if (records := _records(found, title, tab, table, house))
    ]
    settled, problems = other_tabs(book, others)
    problems += on_their_own(book, found, rest)
    told = {problem.place.sheet for problem in problems}
    alike = like_ours(found, [tab for tab in rest if tab not in told])
    problems += not_read(alike)
    quiet = tuple(tab for tab in rest if tab not in {*told, *alike, CHOSEN_FROM})
    return replace(settled, other_tabs=tuple(rest), not_read=quiet), problems


def _records(
    found: Found, title: str, tab: str, table: FoundTable, house: House
) -> tuple[Record, ...]:
    """The rows of a further tab of a sheet; what is to be said of them waits until they count."""
    reader = SheetReader(INPUT_SHEETS[title], found.workbook.grids[tab], house)
    return reader.read_table(table, found.texts[tab]).records


def _not_said(found: Iterable[Problem], said: Iterable[Problem]) -> Iterator[Problem]:
    """What the checks found, without what the reading of the headings has said already."""
    known = {(problem.place, problem.what) for problem in said}
    return (problem for problem in found if (problem.place, problem.what) not in known)


def _style_of(found: Found) -> NumberStyle:
    """How the whole workbook writes numbers that stand in texts."""
    texts = [
        cell
        for title, table in found.tables.items()
        for name, at in table.columns.items()
        if INPUT_SHEETS[title].field(name).kind in NUMERIC
        for row in found.grid(title).rows.values()
        if isinstance(cell := row.get(at), str)
    ]
    return number_style(texts)


def _tab_read_as(found: Found, title: str) -> list[Problem]:
    """Said where a tab isn't called what its sheet is called."""
    tab = found.tabs[title]
    if tab.strip().lower() == title.lower():
        return []
    by = "headings" if title in found.guessed else "name"
    table = found.tables.get(title)
    row = f"A{table.heading_row}" if table is not None and title in found.guessed else ""
    return [
        Problem(
            Severity.DOUBTFUL,
            Place(tab, row),
            f"by its {by}, this was read as the sheet {title}.",
            f'If that is right, you may rename the tab "{title}".'
            if len([each for each in found.tabs.values() if each == tab]) == 1
            else f'If that is right, you may move it to a tab "{title}".',
        )
    ]


def _nothing_here(workbook: Workbook) -> Refused:
    """What to say of a workbook that is another one altogether."""
    shown = ", ".join(quoted(tab) for tab in workbook.tabs[:5])
    more = f" and {len(workbook.tabs) - 5} more" if len(workbook.tabs) > 5 else ""
    return Refused(
        f"None of the sheets {', '.join(_NEEDED)} is in this workbook, so it holds nothing to "
        f"cost. Its sheets are {shown}{more}.",
        f"Name your sheets like that, or start with: {command('new', 'my-stall.xlsx')}",
    )


def _missing_sheets(sheets: Mapping[str, SheetAsRead], name: str) -> list[Problem]:
    return [
        Problem(
            Severity.WRONG,
            Place(title),
            "this sheet is missing.",
            f"Add it, to be filled in: {command('new', '--add', title, name)}",
        )
        for title in _NEEDED
        if title not in sheets
    ]
