"""Which cells of a person's workbook may be changed without a new run, and what they take.

A cell that holds a formula, or a quantity typed as text, is left alone; so are names.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl

from tests.judges import Cell, address

__all__ = ["InputSheet", "Target", "Typed", "input_sheets"]

Typed = float | str | date | None
PLAIN = ("n", "s", "d")  # numbers and blanks, texts, dates: no formula, truth or error

# The columns of the design that a figure follows live, by what is typed there.
NUMBERS = {
    "Purchases": ("Packs", "Pack count", "Pack size", "Price per pack", "Other cost"),
    "Items": ("Grams per piece", "Grams per ml", "Roll width"),
    "Recipes": ("Amount",),
    "Batches": ("Makes", "Rejects"),
    "Stages": (
        *("People", "Minutes per batch", "Minutes per unit", "Waiting minutes"),
        *("Overlap minutes", "Pay per hour"),
    ),
    "Packaging": ("Amount",),
    "Products": ("Units per pack", "Current price", "Wholesale price now"),
    "Overheads": ("Amount",),
    "Outlets": (
        *("Fee per day", "Hours per day", "Miles per day", "Cost per mile", "Other per day"),
        *("Units sold per day", "Days per year", "Card fixed fee", "Units per sale"),
    ),
    "Market days": (
        *("Hours", "Float", "Cash counted", "Cash paid out", "Card takings", "Card payout"),
        *("Fee paid", "Miles", "Other paid"),
    ),
    "Sales": ("Taken", "Sold", "Sampled", "Spoiled", "Price"),
    "Made": ("Packs", "Rejects", "Minutes"),
    "Counts": ("Amount",),
    "Tests": ("In", "Out", "Minutes", "Units"),
}
SHARES = {
    "Items": ("Usable %",),
    "Recipes": ("Usable %",),
    "Packaging": ("Spare %",),
    "Products": ("Not sold %", "Target margin %"),
    "Overheads": ("Share %",),
    "Outlets": (
        *("Commission %", "Card share %", "Card fee %", "Their margin %"),
        *("Target margin %",),
    ),
}
UNITS = {
    "Purchases": ("Unit",),
    "Items": ("Roll width unit",),
    "Recipes": ("Unit",),
    "Batches": ("Unit",),
    "Packaging": ("Unit",),
    "Counts": ("Unit",),
    "Tests": ("Unit",),
}
DATED = ("Purchases", "Market days", "Sales", "Made", "Counts", "Tests")
CHOICES = {
    "Recipes": (("Measured", ("as bought", "ready to use")),),
    "Packaging": (("Per", ("unit", "pack", "batch", "each")),),
    "Overheads": (("Per", ("year", "monthly", "batch", "market day")),),
    "Outlets": (("Kind", ("stall", "wholesale", "café", "commission")),),
}
SETTINGS_CHOICES = {"Prices include sales tax": ("yes", "no")}
SETTINGS_NUMBERS = (
    *("Pay per hour", "Price step", "Prices stale after days", "Kitchen hire per hour"),
    *("Kitchen booking block minutes", "Batches per year", "Yearly sales cap"),
)
SETTINGS_SHARES = (
    *("Pay on-costs %", "Target margin %", "Small-ingredient allowance %", "Sales tax %"),
)


@dataclass(frozen=True, slots=True)
class Target:
    """A cell that may be changed, what kind of thing it takes, and what it may be."""

    sheet: str
    heading: str
    cell: Cell
    old: Typed
    kind: str
    choices: tuple[str, ...] = ()


class InputSheet:
    """One of the person's sheets: its headings, under a title maybe, and the rows in use."""

    def __init__(self, page: Any, suppliers: Sequence[str]) -> None:
        self.tab: str = page.title
        self.name = KNOWN[_plain(self.tab)]
        self._page = page
        self._suppliers = tuple(suppliers)
        top = _heading_row(page)
        self._columns = {
            _plain(cell.value): cell.column for cell in page[top] if cell.value is not None
        }
        self._rows = [
            row[0].row
            for row in page.iter_rows(min_row=top + 1)
            if any(cell.value is not None for cell in row)
        ]

    def targets(self) -> Iterator[Target]:
        """Every cell of a row in use that may be changed without a new run."""
        if self.name == "Settings":
            yield from self._settings()
        for heading, kind, choices in self._kinds():
            column = self._columns.get(_plain(heading))
            for row in self._rows if column else ():
                yield from self._target(heading, row, column, kind, choices)

    def row(self, number: int) -> dict[str, Typed]:
        """A row's contents by heading, the headings in small letters and digits only."""
        return {
            heading: _typed(self._page.cell(number, column).value)
            for heading, column in self._columns.items()
            if self._page.cell(number, column).data_type in PLAIN
        }

    def below(self, heading: str) -> Cell:
        """The address under a heading in the first row below those in use."""
        return address(max(self._rows) + 1, self._columns[heading])

    def plain_rows(self) -> list[int]:
        """The rows in use that have a price, and whose quantities all are numbers or blank."""
        columns = [self._columns[h] for h in map(_plain, NUMBERS[self.name]) if h in self._columns]
        price = self._columns.get("priceperpack", 0)
        return [
            row
            for row in self._rows
            if price
            and self._page.cell(row, price).value is not None
            and all(self._page.cell(row, column).data_type == "n" for column in columns)
        ]

    def latest(self) -> date:
        """The latest date in a sheet that has dates."""
        column = self._columns.get("date", 1)
        days = [_typed(self._page.cell(row, column).value) for row in self._rows]
        return max((day for day in days if isinstance(day, date)), default=date(2026, 6, 1))

    def _kinds(self) -> Iterator[tuple[str, str, tuple[str, ...]]]:
        yield from ((heading, "number", ()) for heading in NUMBERS.get(self.name, ()))
        yield from ((heading, "share", ()) for heading in SHARES.get(self.name, ()))
        yield from ((heading, "unit", ()) for heading in UNITS.get(self.name, ()))
        if self.name in DATED:
            yield "Date", "date", ()
        yield from ((heading, "choice", words) for heading, words in CHOICES.get(self.name, ()))
        if self.name == "Items" and self._suppliers:
            yield "Usual supplier", "choice", self._suppliers

    def _settings(self) -> Iterator[Target]:
        column = self._columns.get("value")
        names = {_plain(self._page.cell(row, 1).value): row for row in self._rows}
        kinds = {
            **dict.fromkeys(SETTINGS_NUMBERS, "number"),
            **dict.fromkeys(SETTINGS_SHARES, "share"),
            **dict.fromkeys(SETTINGS_CHOICES, "choice"),
            "Costing date": "date",
        }
        for heading, kind in kinds.items():
            row = names.get(_plain(heading))
            if row and column:
                words = SETTINGS_CHOICES.get(heading, ())
                yield from self._target(heading, row, column, kind, words)

    def _target(
        self, heading: str, row: int, column: int | None, kind: str, choices: tuple[str, ...]
    ) -> Iterator[Target]:
        cell = self._page.cell(row, column)
        old = _typed(cell.value)
        is_text = kind in ("unit", "choice")
        if cell.data_type in PLAIN and (old is None or isinstance(old, str) == is_text):
            yield Target(self.tab, heading, cell.coordinate, old, kind, choices)


def input_sheets(path: Path) -> list[InputSheet]:
    """The sheets that a person fills in; a tab's name matches whatever its punctuation."""
    pages = [
        page for page in openpyxl.load_workbook(path).worksheets if _plain(page.title) in KNOWN
    ]
    purchases = [page for page in pages if KNOWN[_plain(page.title)] == "Purchases"]
    suppliers = sorted({name for page in purchases for name in _suppliers(page)})
    return [InputSheet(page, suppliers) for page in pages]


def _suppliers(page: Any) -> set[str]:
    top = _heading_row(page)
    headings = [_plain(cell.value) for cell in page[top]]
    if "supplier" not in headings:
        return set()
    column = headings.index("supplier") + 1
    cells = (page.cell(row, column) for row in range(top + 1, page.max_row + 1))
    return {cell.value for cell in cells if cell.data_type == "s"}


def _heading_row(page: Any) -> int:
    """The one of the first ten rows that names the most columns, the upper of two alike."""
    rows = list(page.iter_rows(max_row=10, values_only=True))
    known = [sum(_plain(value) in HEADINGS for value in row) for row in rows]
    return known.index(max(known)) + 1


def _plain(heading: object) -> str:
    """A heading whatever its case, spaces and punctuation; % tells two columns apart."""
    return "".join(c for c in str(heading).casefold() if c.isalnum() or c == "%")


def _typed(value: object) -> Typed:
    """A cell's content without the time of day that a date comes with."""
    if isinstance(value, datetime):
        return value.date()
    return value if isinstance(value, str | int | float | date) else None


HEADINGS = frozenset(
    _plain(heading)
    for tables in (NUMBERS, SHARES, UNITS)
    for headings in tables.values()
    for heading in (*headings, "Date", "Supplier", "Measured", "Usual supplier", "Value")
)
KNOWN = {_plain(name): name for name in (*NUMBERS, "Settings")}
