"""Tabs that were not read: another log of receipts, a copy of a sheet, a recipe on its own.

One that may hold what a figure rests on leaves the figures of its sheet unknown, until there is
one tab; one that can't is only said. Each is said once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final

from costbook.book import Book, Record, SheetAsRead, Value, as_key
from costbook.definitions.headings import InHeading
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.problems import Place, Problem, Severity
from costbook.reading.finding import Found, without_copies
from costbook.reading.other_rows import Weighed, rows_not_there, weigh
from costbook.reading.tables import FoundTable, find_table
from costbook.reading.texts import quoted

__all__ = ["OtherTab", "like_ours", "not_read", "on_their_own", "other_tabs"]

_RESTS_ON: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "Purchases": ("price_per_pack",),
        "Items": ("usable_share", "grams_per_piece", "grams_per_ml"),
        "Recipes": ("amount",),
        "Batches": ("makes",),
        "Stages": ("minutes_per_batch", "minutes_per_unit", "waiting_minutes"),
        "Packaging": ("amount",),
        "Products": ("units_per_pack",),
        "Overheads": ("amount",),
        "Outlets": ("fee_per_day", "hours_per_day", "units_sold_per_day", "commission"),
    }
)
"""What the figures of each sheet rest on, and isn't known while another tab has rows of it."""
_ENOUGH: Final = 3
"""Headings of one of our sheets by which a tab looks like ours."""


_MOST_NAMED: Final = 8
"""Tabs that were not read and are called by their names."""


@dataclass(frozen=True, slots=True)
class OtherTab:
    """A tab that has all the headings of a sheet, and its rows."""

    title: str
    tab: str
    heading_row: int
    records: tuple[Record, ...] = field(default=())


def other_tabs(book: Book, tabs: Iterable[OtherTab]) -> tuple[Book, list[Problem]]:
    """The book with unknown what may stand on another tab, and what is said of those tabs."""
    problems: list[Problem] = []
    sheets = dict(book.sheets)
    for other in tabs:
        new = rows_not_there(book.records(other.title), other.records)
        weighed = weigh(book, other.title, new)
        problems.append(_said(book, other, len(new), weighed))
        if weighed.changes:
            sheets[other.title] = _left_open(sheets[other.title])
    return replace(book, sheets=sheets), problems


def _left_open(sheet: SheetAsRead) -> SheetAsRead:
    """The sheet with unknown what its figures rest on, in the formulas too."""
    names = [name for name in _RESTS_ON[sheet.title] if name in sheet.columns]
    asked = {name: replace(InHeading(""), asked=True) for name in names}
    unknown: dict[str, Value] = dict.fromkeys(names)

    def opened(record: Record) -> Record:
        here = {name: value for name, value in unknown.items() if name in record.values}
        return replace(record, values={**record.values, **here})

    return replace(
        sheet,
        records=tuple(map(opened, sheet.records)),
        aside=tuple(map(opened, sheet.aside)),
        in_headings={**sheet.in_headings, **asked},
    )


# ---------------------------------------------------------------- what is said


def _said(book: Book, other: OtherTab, new: int, weighed: Weighed) -> Problem:
    title, tab = other.title, quoted(book.sheets[other.title].tab)
    place = Place(other.tab, f"A{other.heading_row}")
    move = (
        f"Copy its rows below those of {tab} and delete it; or move it to another workbook, if "
        "they don't count."
    )
    if weighed.changes:
        rows = "1 row that isn't" if new == 1 else f"{new} rows that aren't"
        what = (
            f"this tab has the headings of {title} too, and {rows} on {tab}; until there is one "
            f"tab, what rests on {title} is not known."
        )
        return Problem(Severity.WRONG, place, what, move)
    if weighed.only_there:
        names = ", ".join(quoted(name) for name in weighed.only_there[:_MOST_NAMED])
        what = f"this tab was not read, and only there stands what is needed of {title}: {names}."
        return Problem(Severity.WRONG, place, what, move)
    if new:
        older = "what counts is newer" if title == "Purchases" else "no cost rests on its rows"
        what = f"this tab has the headings of {title} too, and was not read: {older}."
        return Problem(Severity.DOUBTFUL, place, what, f"Copy its rows to {tab}, if you want them.")
    what = f"this tab was not read: all its rows stand on {tab} too."
    return Problem(Severity.DOUBTFUL, place, what, "Delete it once you don't need it.")


def on_their_own(book: Book, found: Found, tabs: Iterable[str]) -> Iterator[Problem]:
    """Recipes on tabs of their own: lines without a recipe's name, on a tab that has it."""
    lines = INPUT_SHEETS["Recipes"]
    wanted = {
        as_key(record.text(name)): record.text(name)
        for sheet, name in (("Batches", "recipe"), ("Products", "recipe"), ("Stages", "recipe"))
        for record in book.records(sheet)
        if record.text(name)
    }
    have = {as_key(record.text("recipe")) for record in book.records("Recipes")}
    for tab in tabs:
        table = find_table(lines, found.texts[tab])
        if table is None or not {"uses", "amount"} <= table.columns.keys():
            continue
        names = (each for each in (tab, *_titles(found, tab, table)) if as_key(each) in wanted)
        name = next(names, "")
        if name and as_key(name) not in have:
            yield Problem(
                Severity.WRONG,
                Place(tab, f"A{table.heading_row}"),
                f"this tab was not read: it looks like the recipe {quoted(name)} on its own.",
                f"Copy its lines to the sheet Recipes, each with {quoted(name)} in front of it "
                "under the heading Recipe.",
            )


def _titles(found: Found, tab: str, table: FoundTable) -> Iterator[str]:
    """The texts that stand alone in a row above a table."""
    for number, row in sorted(found.workbook.grids[tab].rows.items()):
        if number < table.heading_row and len(row) == 1:
            yield str(*row.values())


def like_ours(found: Found, tabs: Sequence[str]) -> list[str]:
    """The tabs that look as if something for costing stood on them: by name, or by headings."""
    named = [sheet.title for sheet in SHEETS]
    like: list[str] = []
    for tab in tabs:
        tables = (find_table(each, found.texts[tab]) for each in SHEETS if not each.upright)
        most = max((len(table.columns) for table in tables if table), default=0)
        if most >= _ENOUGH or not without_copies([tab], named):
            like.append(tab)
    return like


def not_read(tabs: Sequence[str]) -> list[Problem]:
    """The tabs that look like ours and are no sheet's, in one sentence."""
    if not tabs:
        return []
    named = ", ".join(quoted(tab) for tab in tabs[:_MOST_NAMED])
    more = f" and {len(tabs) - _MOST_NAMED} more" if len(tabs) > _MOST_NAMED else ""
    what = "this tab was" if len(tabs) == 1 else "these tabs were"
    return [
        Problem(
            Severity.DOUBTFUL,
            Place(tabs[0]),
            f"{what} not read: {named}{more}.",
            "If there are rows for costing, copy them to the sheet that they belong to.",
        )
    ]
