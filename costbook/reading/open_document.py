"""An OpenDocument spreadsheet (.ods) → plain cells."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal, InvalidOperation
from typing import Final
from xml.etree.ElementTree import Element

from costbook.package.limits import MOST_READ
from costbook.problems import Refused
from costbook.reading.grid import (
    NEVER_WORKED_OUT,
    TIME,
    Cell,
    CellError,
    Formatted,
    Grid,
    Workbook,
    cell_of_number,
    cell_of_text,
    refuse_beyond,
    too_much,
)
from costbook.reading.open_days import OpenDays
from costbook.reading.parts import Parts, local, own, times

__all__ = ["is_open_document", "read_open_document"]

_CONTENT: Final = "content.xml"
_ROW_TAKES: Final = 3
"""Cells that take as much memory as a row does by itself."""


def is_open_document(parts: Parts) -> bool:
    """Whether the file says of itself that it is an OpenDocument one."""
    return "mimetype" in parts and b"opendocument" in parts.data("mimetype")[:200]


def read_open_document(
    parts: Parts, wanted: Callable[[Sequence[str]], Collection[str]]
) -> Workbook:
    """Read the tabs that ``wanted`` picks of all. Raises Unreadable, and Refused for a locked one.

    A sheet's formulas are taken at their stored values.
    """
    _refuse_locked(parts)
    day_zero = date(1899, 12, 30)
    grids: dict[str, Grid] = {}
    opened: list[_Table] = []  # a table may stand in a cell of another
    days = OpenDays(parts)
    looked_at = ("null-date", "table-row", "table", *OpenDays.WANTED)
    for what, each in parts.events(_CONTENT, looked_at, opening=True):
        match local(each.tag), what:
            case "null-date", "end":
                day_zero = _day(own(each, "date-value")) or day_zero
            case "table", "start":
                opened.append(_Table(Grid(own(each, "name"))))
                days.begin_table()
            case "table", "end":
                grid = opened.pop().grid
                if grid.tab:
                    grids[grid.tab] = grid
            case "table-row", "end" if opened:
                opened[-1].add(each)
                days.count(each)
            case _, "end":
                days.learn(each)
    picked = wanted(tuple(grids))
    read = {tab: grids[tab] for tab in grids if tab in picked}
    return Workbook(read, tuple(grids), day_zero, days.most())


@dataclass(slots=True)
class _Table:
    """A sheet as far as it was read: how many rows, and how many cells that hold something."""

    grid: Grid
    rows: int = 0
    held: int = 0

    def add(self, row: Element) -> None:
        """A row, as often as it repeats. Raises Refused for more than a sheet can hold."""
        repeated = times(row, "number-rows-repeated")
        cells = _row(row, self.grid.tab)
        if cells:
            self.held += repeated * (len(cells) + _ROW_TAKES)
            refuse_beyond(self.grid.tab, self.rows + repeated, max(cells))
            if self.held > MOST_READ:
                raise too_much(self.grid.tab)
            for extra in range(repeated):
                self.grid.rows[self.rows + extra + 1] = dict(cells)
        self.rows += repeated


def _refuse_locked(parts: Parts) -> None:
    if "META-INF/manifest.xml" not in parts:
        return
    for _ in parts.elements("META-INF/manifest.xml", "encryption-data"):
        raise Refused(
            "The workbook is locked with a password.",
            "Open it, remove the password, save it, and run costbook again.",
        )


def _row(row: Element, tab: str) -> dict[int, Cell]:
    cells: dict[int, Cell] = {}
    at = 0
    for element in row:
        if local(element.tag) not in ("table-cell", "covered-table-cell"):
            continue
        repeated = times(element, "number-columns-repeated")
        cell = _cell(element)
        if cell is not None:
            refuse_beyond(tab, 1, at + repeated)
            for extra in range(repeated):
                cells[at + extra + 1] = cell
        at += repeated
    return cells


def _cell(element: Element) -> Cell | None:
    kind = next(
        (value for key, value in element.items() if key.endswith("office:1.0}value-type")), ""
    )
    if any(value == "error" for key, value in element.items() if local(key) == "value-type"):
        return CellError(_shown(element) or "#VALUE!")
    match kind:
        case "float" | "percentage" | "currency":
            number = _number(own(element, "value"))
            return _marked(number, kind, own(element, "currency"))
        case "date":
            return _day(own(element, "date-value")) or CellError(own(element, "date-value")[:40])
        case "time":
            return CellError(TIME, _of_a_day(own(element, "time-value")))
        case "boolean":
            return own(element, "boolean-value") == "true"
        case "string":
            return cell_of_text(_shown(element)) if _shown(element) else None
        case _:
            return CellError(NEVER_WORKED_OUT) if own(element, "formula") else None


def _marked(number: Cell, kind: str, currency: str) -> Cell:
    """A number with what its cell says of it: a percentage, or its money."""
    if kind == "float" or not isinstance(number, Decimal):
        return number
    return Formatted(number, percent=kind == "percentage", money=currency)


def _number(text: str) -> Cell:
    try:
        return cell_of_number(Decimal(text))
    except InvalidOperation:
        return CellError(text[:40])


def _day(text: str) -> date | None:
    try:
        return datetime.fromisoformat(text).date()
    except ValueError:
        return None


def _of_a_day(text: str) -> Decimal | None:
    """A duration such as PT01H30M00S as the part of a day that a formula sees."""
    try:
        clock = datetime.strptime(text.partition(".")[0].rstrip("S"), "PT%HH%MM%S")  # noqa: DTZ007 - a time of day has no zone
    except ValueError:
        return None
    seconds = timedelta(hours=clock.hour, minutes=clock.minute, seconds=clock.second)
    return Decimal(repr(seconds / timedelta(days=1)))


def _shown(element: Element) -> str:
    """The text of a cell: its paragraphs, without the notes that hang on it."""
    return "\n".join(_spoken(child) for child in element if local(child.tag) == "p")


def _spoken(element: Element) -> str:
    """The text within an element, runs of spaces and line breaks in their own elements."""
    pieces = [element.text or ""]
    for child in element:
        match local(child.tag):
            case "s":
                pieces.append(" " * min(times(child, "c"), 100))
            case "tab" | "line-break":
                pieces.append(" ")
            case "annotation" | "note":
                pass
            case _:
                pieces.append(_spoken(child))
        pieces.append(child.tail or "")
    return "".join(pieces)
