"""The person's workbook as costbook understands it: frozen records, each with its cells.

``reading`` makes a Book; ``costing``, ``deciding`` and ``writing`` only look at it.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from functools import lru_cache
from typing import Final
from unicodedata import category, normalize

from costbook.definitions.day_codes import day_written
from costbook.definitions.headings import InHeading
from costbook.definitions.sheets import EVERYWHERE
from costbook.problems import Problem

__all__ = [
    "NOBODY",
    "Book",
    "Label",
    "Reading",
    "Record",
    "SheetAsRead",
    "Stray",
    "Value",
    "as_key",
    "escaped",
    "key_in_formulas",
    "one_line",
]

Value = Decimal | str | None
"""A cell's value: a number (dates as day numbers), a text, or None for what couldn't be read."""


@dataclass(frozen=True, slots=True)
class Record:
    """One row of an input sheet (of an upright sheet: the whole sheet).

    ``values`` has a field only if its cell is not blank; None there means the cell was not
    understood and is asked about. ``cells`` has the address of each field's cell.
    """

    sheet: str
    row: int
    values: Mapping[str, Value]
    cells: Mapping[str, str] = field(compare=False)
    texts: Mapping[str, str] = field(default_factory=dict)
    """What was typed, where a number was wanted and a text was found."""
    units_in_text: Mapping[str, str] = field(default_factory=dict)
    counts_in_text: Mapping[str, Decimal] = field(default_factory=dict)
    refused: Mapping[str, Decimal] = field(default_factory=dict)
    """Numbers that a cell seems to hold but doesn't mean: ½ that became a date, a TRUE."""
    repeats: Mapping[str, int] = field(default_factory=dict, compare=False)
    """Of a ditto mark: the row whose cell it repeats, 0 for one just below the headings."""
    shares: frozenset[str] = frozenset()
    """Fields that hold a share where a count is meant as well: rejects typed as 4 %."""

    def text(self, name: str) -> str:
        """The field's text; empty when it is blank."""
        value = self.values.get(name)
        return "" if value is None else str(value)

    def read_at(self, name: str) -> str:
        """The address that a field's value is read at: its cell, or the one that it repeats."""
        cell = self.cells.get(name, "")
        if name not in self.repeats:
            return cell
        row = self.repeats[name]
        return f"{cell.rstrip('0123456789')}{row}" if row else ""

    def number(self, name: str) -> Decimal | None:
        """The field's number; None when it is blank or not understood."""
        value = self.values.get(name)
        return value if isinstance(value, Decimal) else None


@dataclass(frozen=True, slots=True)
class Label:
    """What names a row of an upright sheet: its text, its column and the column of its value."""

    text: str
    column: str
    value_column: str


@dataclass(frozen=True, slots=True)
class SheetAsRead:
    """One input sheet: its tab, its records, and which column holds which field."""

    title: str
    tab: str
    records: tuple[Record, ...]
    columns: Mapping[str, str] = field(default_factory=dict)
    heading_row: int = 1
    last_row: int = 1
    named_in: str = ""
    """The letter of the column that names the rows."""
    rows_named: tuple[int, ...] = ()
    """The rows in which that column is filled, heading and title rows too."""
    aside: tuple[Record, ...] = ()
    """Of a log: rows that are no records (totals, notes), as its formulas see them."""
    in_headings: Mapping[str, InHeading] = field(default_factory=dict)
    """What headings say of their figures beside their names, by field."""
    ends_before: int = 0
    """The row below the table in which something else begins, or 0."""
    labels: Mapping[str, Label] = field(default_factory=dict)
    """Of an upright sheet: what names each field's row."""

    def rows_below(self, most: int) -> int:
        """How many rows the table may still grow by, of as many as are wanted at most."""
        last = max(self.last_row, self.heading_row)
        return min(most, self.ends_before - 1 - last) if self.ends_before else most


@dataclass(frozen=True, slots=True)
class Reading:
    """How a text was read: for which field, with which other cells, as what."""

    sheet: str
    field: str
    key: str
    typed: str
    value: Decimal
    count: Decimal | None = None
    unit: str = ""
    shown: str = ""
    cell: str = ""


@dataclass(frozen=True, slots=True)
class Stray:
    """A row whose recipe or product is nobody's, and the keys of all that it may belong to."""

    record: Record
    owners: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Book:
    """All that was read of a workbook."""

    name: str
    sheets: Mapping[str, SheetAsRead]
    readings: tuple[Reading, ...] = ()
    problems: tuple[Problem, ...] = ()
    day_zero: date = date(1899, 12, 30)
    """The day that the workbook's dates count from."""
    asked: tuple[str, ...] = ()
    """The keys of texts that stand for a quantity and were asked about, as readings have keys."""
    other_tabs: tuple[str, ...] = ()
    """The person's tabs that were not read."""
    not_read: tuple[str, ...] = ()
    """Those of them that look like nothing for costing, so that no problem speaks of them."""
    shares_asked: frozenset[str] = frozenset()
    """The keys of items whose usable share stands, perhaps, under another name."""
    day_code: str = ""
    """The number format in which the workbook writes its days; empty where it has none."""
    strays: tuple[Stray, ...] = ()
    """Rows of Recipes, Stages and Packaging of which nobody knows whose they are."""

    def records(self, title: str) -> tuple[Record, ...]:
        """The records of an input sheet; none where the sheet is missing."""
        sheet = self.sheets.get(title)
        return sheet.records if sheet else ()

    @property
    def has_buy_list(self) -> bool:
        """Whether there is anything to buy for: a plan of what to make, or an item's par."""
        return "Plan" in self.sheets or any("par" in each.values for each in self.records("Items"))

    def sold_at(self, product: Record) -> tuple[frozenset[str], tuple[str, ...]]:
        """The keys of the outlets where a product is sold, and the names there that are nobody's.

        It is sold at all of them where it names none, or one that nobody knows: nothing is left
        out on a slip.
        """
        outlets = frozenset(as_key(each.text("outlet")) for each in self.records("Outlets"))
        named = _outlets_in(product.text("sold_at"), outlets)
        strange = tuple(name for name in named if as_key(name) not in outlets)
        return (outlets if strange or not named else frozenset(map(as_key, named))), strange

    def day_number(self, day: date) -> Decimal:
        """A date as the number that stands in a cell of this workbook."""
        return Decimal((day - self.day_zero).days)

    def day(self, number: Decimal) -> date:
        """The date of a day number."""
        return self.day_zero + timedelta(days=int(number))

    def written(self, day: date | Decimal) -> str:
        """A date, or the date of a day number, as the workbook writes its own."""
        return day_written(self.day(day) if isinstance(day, Decimal) else day, self.day_code)


_SWAPPED = str.maketrans({"*": "+", "?": "!", "~": "-"})
"""Characters that spreadsheets read as wildcards, and what stands in for them in a key."""


def escaped(text: str) -> str:
    """A text without the characters that a look-up would read as wildcards."""
    return text.translate(_SWAPPED)


_ALIKE = str.maketrans(
    dict.fromkeys("’‘ʼ´`", "'") | dict.fromkeys("“”„", '"') | dict.fromkeys("‐‑–—", "-")
)
"""Signs that programs put in a plain one's place while somebody types."""

_UNSEEN = frozenset({"Cc", "Cf"})
"""Kinds of character that take no room: control and direction marks, soft hyphens, zero widths."""


def one_line(text: str) -> str:
    """A text as it is seen on one line: single plain spaces, and nothing that takes no room."""
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    seen = "".join(c for c in text if c.isspace() or category(c) not in _UNSEEN)
    return " ".join(seen.split())


@lru_cache(maxsize=4096)
def as_key(name: str) -> str:
    """What a name is looked up by: case, spacing, commas and how a sign is drawn don't count.

    An accent may stand apart from its letter, a letter or number be of full width.

    The letter in front keeps a name such as ``<5`` from being read as a condition.
    """
    seen = one_line(name)
    drawn = seen if seen.isascii() else normalize("NFKC", seen.translate(_ALIKE))
    plain = escaped(drawn).replace(",", " ")
    return "k" + " ".join(plain.split()).lower()


def _outlets_in(text: str, outlets: Collection[str]) -> list[str]:
    """The names in a list of outlets; none where it says all. A name may hold a comma itself."""
    if as_key(text) in outlets:
        return [text]
    if as_key(text) in _EVERYWHERE:
        return []
    found: list[str] = []
    for part in filter(None, map(one_line, re.split(r"[,;/\n]", text))):
        two = [one_line(each) for each in re.split(r"\band\b|[&+]", part)]
        known = as_key(part) not in outlets and all(as_key(each) in outlets for each in two)
        found += two if known else [part]
    return found


NOBODY: Final = as_key("")
"""The key of a name that isn't given."""
_EVERYWHERE: Final = frozenset(as_key(word) for word in EVERYWHERE)


def key_in_formulas(name: str) -> str:
    """What formulas alone make of a name; where that isn't its key, a table leads them to it.

    ``lookups.key_of`` has the same steps in the same order.
    """
    plain = escaped(name).replace("\u00a0", " ").replace("\n", " ").replace(",", " ")
    return "k" + " ".join(filter(None, plain.split(" "))).lower()
