"""Cells → tables: where a sheet's headings stand, and which column holds which field."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import islice
from typing import TypeAlias

from costbook.definitions.fields import Field, InputSheet
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.wordings import heading_words, lost_words, tab_words
from costbook.reading.cells import Cell, Grid

__all__ = [
    "FoundTable",
    "Position",
    "TextRows",
    "end_of",
    "find_table",
    "heading_key",
    "looks_like",
    "match_tabs",
    "text_rows",
]

_FEWEST_HEADINGS = 2
"""Headings of a sheet's own that a row must have to be its heading row."""
_SURELY = 3
"""Headings, all needed ones among them, by which a table is known on a tab of another name."""

_LONGEST_HEADING = 100

Position: TypeAlias = tuple[int, int]
"""Row and column of a cell."""

TextRows: TypeAlias = Sequence[tuple[int, Mapping[int, Cell]]]
"""Rows of nothing but texts, by their numbers, from the top."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands above a column, and the row it stands in: of two storeys, the lower."""

    row: int
    text: str
    typed: str


@dataclass(frozen=True, slots=True)
class FoundTable:
    """A table on a sheet: its headings, each field's column, and what could not be matched.

    ``heading_row`` is the row above the first line: of two storeys of headings, the lower.
    """

    heading_row: int
    headings: Mapping[int, Heading]
    columns: Mapping[str, int]
    near: Mapping[str, int]
    """Columns taken by another wording than the field's own title."""
    lost: Mapping[str, int]
    """Columns of what is thrown away, in the place of what is left."""
    twice: Mapping[str, int]
    """Further columns that bear a field's heading again; they are not read."""
    missing: tuple[Field, ...]
    unread: Mapping[int, str]
    """Headings that mean nothing here, by column."""

    @property
    def cells(self) -> set[Position]:
        """Where its headings stand."""
        return {(self.headings[at].row, at) for at in self.columns.values()}


@lru_cache(maxsize=4096)
def heading_key(text: str) -> str:
    """A heading without case, accents, spaces and punctuation; a longer text is none."""
    plain = unicodedata.normalize("NFKD", text[:_LONGEST_HEADING].casefold())
    return "".join(character for character in plain if character.isalnum())


_BRACKETS = re.compile(r"[(\[][^()\[\]]*[)\]]\s*\Z")


@lru_cache(maxsize=4096)
def _keys(text: str) -> tuple[str, str]:
    """How a heading may be known: as it stands, and without what is in brackets behind it."""
    return heading_key(text), heading_key(_BRACKETS.sub("", text))


@cache
def _vocabulary(title: str) -> tuple[Mapping[str, str], Mapping[str, str], Mapping[str, str]]:
    """Key → field's name, of a sheet's own headings, near wordings, and those of the contrary."""
    sheet = INPUT_SHEETS[title]
    own = {heading_key(field.title): field.name for field in sheet.fields}
    near = {
        heading_key(word): name for name, words in heading_words(sheet).items() for word in words
    }
    lost = {heading_key(word): name for name, words in lost_words(sheet).items() for word in words}
    return own, near, lost


def match_tabs(sheets: Iterable[InputSheet], tabs: Iterable[str]) -> dict[str, str]:
    """Which tab holds which input sheet, by the tabs' names: title → tab."""
    by_key: dict[str, str] = {}
    for tab in tabs:
        by_key.setdefault(heading_key(tab), tab)
    found: dict[str, str] = {}
    for sheet in sheets:
        for title in (sheet.title, *tab_words(sheet)):
            if heading_key(title) in by_key:
                found.setdefault(sheet.title, by_key[heading_key(title)])
    return found


def find_table(
    sheet: InputSheet, rows: TextRows, taken: Collection[Position] = (), *, surely: bool = False
) -> FoundTable | None:
    """The row that has most of the sheet's headings; None if none has two.

    With ``surely``, a row must also have all that are needed, and at least three.
    """
    best: FoundTable | None = None
    above: tuple[int, Mapping[int, Cell]] = (0, {})
    for number, row in rows:
        for headings in (_one_storey(number, row), _two_storeys(sheet, above, number, row)):
            found = _match_row(sheet, number, headings, taken)
            enough = looks_like(found) if surely else len(found.columns) >= _FEWEST_HEADINGS
            if enough and (best is None or _more(found) > _more(best)):
                best = found
        above = number, row
    return best


def _more(found: FoundTable) -> tuple[int, int]:
    """How many headings a row has, and how many of them in the sheet's own words."""
    return len(found.columns), -len(found.near)


def _one_storey(number: int, row: Mapping[int, Cell]) -> dict[int, Heading]:
    return {at: Heading(number, str(cell), str(cell)) for at, cell in row.items()}


def _two_storeys(
    sheet: InputSheet, above: tuple[int, Mapping[int, Cell]], number: int, row: Mapping[int, Cell]
) -> dict[int, Heading]:
    """A row's headings together with those in the row above it, which may reach over several.

    "Pack" over "count" and "size" is Pack count and Pack size; what has nothing below it, as
    merged cells have, stands for itself.
    """
    if above[0] != number - 1:
        return {}
    vocabulary = _vocabulary(sheet.title)
    headings = {at: Heading(above[0], str(cell), str(cell)) for at, cell in above[1].items()}
    over = ""
    for at in range(min((*above[1], *row), default=0), max(row, default=-1) + 1):
        over = str(above[1].get(at, over))
        if at in row:
            joined = f"{over} {row[at]}".strip()
            known = any(key in words for words in vocabulary for key in _keys(joined))
            headings[at] = Heading(number, joined if known else str(row[at]), str(row[at]))
    return headings


def looks_like(found: FoundTable) -> bool:
    """Whether a row of headings is surely this sheet's: all that are needed, at least three."""
    return not found.missing and len(found.columns) >= _SURELY


def end_of(sheet: InputSheet, table: FoundTable, rows: TextRows) -> tuple[int | None, set[int]]:
    """The row at which another table begins below this one, and rows that repeat its headings."""
    repeated: set[int] = set()
    first, last = min(table.columns.values()), max(table.columns.values())
    for number, row in rows:
        if number <= table.heading_row:
            continue
        here = {at: cell for at, cell in row.items() if first <= at <= last}
        if len(here) < _FEWEST_HEADINGS:
            continue
        again = _match_row(sheet, number, _one_storey(number, here))
        if all(again.columns.get(name) == at for name, at in table.columns.items()):
            repeated.add(number)
        elif any(
            looks_like(_match_row(other, number, _one_storey(number, here)))
            for other in INPUT_SHEETS.values()
            if not other.upright and other.title != sheet.title
        ):
            return number, repeated
    return None, repeated


def text_rows(grid: Grid) -> TextRows:
    """The rows of a sheet that may be headings: nothing but texts, and two of them known words.

    A row above such a one needs one known word, which may reach over several columns.
    """
    found: list[tuple[int, Mapping[int, Cell]]] = []
    below = 0
    for number, row in sorted(grid.rows.items(), reverse=True):
        if any(type(cell) is not str for cell in row.values()):
            continue
        known = _words_known(row.values())
        if known >= _FEWEST_HEADINGS or (known and below == number + 1):
            found.append((number, row))
        if known >= _FEWEST_HEADINGS:
            below = number
    return found[::-1]


def _words_known(cells: Iterable[Cell]) -> int:
    """How many of a row's texts may be headings, of whichever sheet; two are enough."""
    words = _every_word()
    known = (1 for cell in cells if any(key in words for key in _keys(str(cell))))
    return sum(islice(known, _FEWEST_HEADINGS))


@cache
def _every_word() -> frozenset[str]:
    """The keys of all headings of all sheets."""
    return frozenset(key for title in INPUT_SHEETS for words in _vocabulary(title) for key in words)


def _match_row(
    sheet: InputSheet,
    number: int,
    headings: Mapping[int, Heading],
    taken: Collection[Position] = (),
) -> FoundTable:
    """The row as this sheet's headings; where two tables stand side by side, the better one."""
    free = {at: each for at, each in headings.items() if (each.row, at) not in taken}
    whole = _match(sheet, number, free)
    if not whole.twice:
        return whole
    parts = [_match(sheet, number, part) for part in _parts(free)]
    if len(parts) == 1:
        return whole
    return max(parts, key=lambda part: (not part.missing, len(part.columns)))


def _parts(headings: Mapping[int, Heading]) -> list[dict[int, Heading]]:
    """A row's headings in runs that no empty column parts."""
    parts: list[dict[int, Heading]] = []
    for at in sorted(headings):
        if not parts or at - 1 not in parts[-1]:
            parts.append({})
        parts[-1][at] = headings[at]
    return parts


def _match(sheet: InputSheet, number: int, headings: Mapping[int, Heading]) -> FoundTable:
    columns: dict[str, int] = {}
    near: dict[str, int] = {}
    lost: dict[str, int] = {}
    twice: dict[str, int] = {}
    known: set[int] = set()
    for wording, words in enumerate(_vocabulary(sheet.title)):
        for at, heading in headings.items():
            name = next((words[key] for key in _keys(heading.text) if key in words), None)
            if name is None or at in known:
                continue
            known.add(at)
            if name in columns:
                twice.setdefault(name, at)
            else:
                columns[name] = at
                if wording == 1:
                    near[name] = at
                elif wording:
                    lost[name] = at
    missing = tuple(field for field in sheet.fields if field.needed and field.name not in columns)
    unread = {at: each.text for at, each in headings.items() if at not in known}
    return FoundTable(number, headings, columns, near, lost, twice, missing, unread)
