"""Tabs that were not read: another log of receipts, a copy of a sheet, a recipe on its own.

One that may hold what a figure rests on leaves the figures of its sheet unknown, until there is
one tab; one that can't is only said. Each is said once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.book import Book, Record, SheetAsRead, Value, as_key
from costbook.definitions.headings import InHeading
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.problems import Place, Problem, Severity
from costbook.reading.finding import Found, without_copies
from costbook.reading.purchase_checks import own_keys
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
        new = _not_there(sheets[other.title].records, other.records)
        problem = _said(book, other, new)
        problems.append(problem)
        if problem.severity is Severity.WRONG:
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


# ---------------------------------------------------------------- what may stand there


def _not_there(read: Iterable[Record], others: Iterable[Record]) -> list[Record]:
    """The rows of another tab that don't stand on the one that was read."""
    known = {_all_said(record) for record in read}
    return [record for record in others if _all_said(record) not in known]


def _all_said(record: Record) -> tuple[tuple[str, str], ...]:
    fields = {**record.values, **record.texts}
    fields.pop("note", None)
    return tuple(sorted((name, as_key(str(value))) for name, value in fields.items()))


def _outdated(book: Book, receipts: Iterable[Record]) -> bool:
    """Whether a later receipt, of those that were read, counts before each of these."""
    own = own_keys(book)

    def item_of(record: Record) -> str:
        key = as_key(record.text("item"))
        return own.get(key, key)

    usual = {
        as_key(each.text("item")) for each in book.records("Items") if each.text("usual_supplier")
    }
    latest: dict[tuple[str, ...], Decimal] = {}
    for each in book.records("Purchases"):
        day = each.number("day")
        for key in ((item_of(each),), (item_of(each), as_key(each.text("supplier")))):
            if day is not None and each.number("price_per_pack"):
                latest[key] = max(day, latest.get(key, day))

    def before(record: Record) -> bool:
        item, day = item_of(record), record.number("day")
        if (item,) not in latest:
            return True  # what isn't bought on the tab that was read has no price, and says so
        from_same = (item, as_key(record.text("supplier")))
        later = latest.get(from_same if item in usual else (item,))
        return day is not None and later is not None and day < later

    return all(before(record) for record in receipts)


# ---------------------------------------------------------------- what is said


def _said(book: Book, other: OtherTab, new: Sequence[Record]) -> Problem:
    title, tab = other.title, book.sheets[other.title].tab
    place = Place(other.tab, f"A{other.heading_row}")
    if not new:
        return Problem(
            Severity.DOUBTFUL,
            place,
            f"this tab was not read: all its rows stand on {quoted(tab)} too.",
            "Delete it once you don't need it.",
        )
    if title not in _RESTS_ON or (title == "Purchases" and _outdated(book, new)):
        older = (
            "its receipts are older than those that count"
            if title == "Purchases"
            else (f"it has the headings of {title}, and only {quoted(tab)} was")
        )
        return Problem(
            Severity.DOUBTFUL,
            place,
            f"this tab was not read: {older}.",
            f"Copy its rows to {quoted(tab)}, if they are to be seen.",
        )
    rows = "1 row that isn't" if len(new) == 1 else f"{len(new)} rows that aren't"
    return Problem(
        Severity.WRONG,
        place,
        f"this tab has the headings of {title} too, and {rows} on {quoted(tab)}; until there is "
        f"one tab, what rests on {title} is not known.",
        f"Copy its rows below those of {quoted(tab)} and delete it; or move it to another "
        "workbook, if they don't count.",
    )


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
