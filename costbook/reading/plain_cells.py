"""A workbook's parts → plain cells, for workbooks that openpyxl can't read.

Strict workbooks, and those whose styles, names or pictures are broken, still have their cells:
only the list of sheets, the shared texts, the formats of dates and the cells are looked at.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from posixpath import dirname, join, normpath
from typing import Final
from xml.etree.ElementTree import Element

from costbook.reading.grid import (
    LOST,
    NEVER_WORKED_OUT,
    TIME,
    Cell,
    CellError,
    Grid,
    Workbook,
    cell_of_number,
    cell_of_text,
    column_number,
    decoded,
    refuse_beyond,
    refuse_rows,
)
from costbook.reading.parts import Parts, Unreadable, local

__all__ = ["read_plainly", "sheets_and_styles"]

_BUILT_IN_DATES: Final = frozenset({*range(14, 18), 22, *range(27, 32), *range(50, 59)})
_BUILT_IN_TIMES: Final = frozenset({*range(18, 22), *range(45, 48)})
_QUOTED: Final = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]|_.|\*.')
_COORDINATE: Final = re.compile("([A-Za-z]{1,3})([0-9]{1,7})")


@dataclass(frozen=True, slots=True)
class _Book:
    """What the cells of every sheet need."""

    texts: Sequence[str]
    dated: frozenset[int]
    timed: frozenset[int]
    day_zero: date


def read_plainly(parts: Parts, wanted: Callable[[Sequence[str]], Collection[str]]) -> Workbook:
    """Read the tabs that ``wanted`` picks of all. Raises Unreadable."""
    start = _targets(parts, "", "officeDocument")
    workbook = next(iter(start.values()), "xl/workbook.xml")
    sheets, day_zero = _sheets(parts, workbook)
    dated, timed = _formats(parts, next(iter(_targets(parts, workbook, "styles").values()), ""))
    texts = _texts(parts, next(iter(_targets(parts, workbook, "sharedStrings").values()), ""))
    book = _Book(texts, dated, timed, day_zero)
    picked = wanted(tuple(sheets))
    parts.refuse_more({tab: part for tab, part in sheets.items() if tab in picked})
    grids = {tab: _grid(parts, tab, part, book) for tab, part in sheets.items() if tab in picked}
    return Workbook(grids, tuple(sheets), day_zero)


def sheets_and_styles(parts: Parts) -> tuple[dict[str, str], str]:
    """Tab → part of every worksheet, and the part with the styles. Raises Unreadable."""
    workbook = next(iter(_targets(parts, "", "officeDocument").values()), "xl/workbook.xml")
    styles = next(iter(_targets(parts, workbook, "styles").values()), "")
    return _sheets(parts, workbook)[0], styles


def _targets(parts: Parts, part: str, kind: str) -> dict[str, str]:
    """The parts that a part names as of one kind: id → name."""
    folder, _, file = part.rpartition("/")
    rels = join(folder, "_rels", f"{file}.rels")
    if rels not in parts:
        return {}
    found: dict[str, str] = {}
    for each in parts.elements(rels, "Relationship"):
        if each.get("Type", "").rpartition("/")[2] == kind and each.get("TargetMode") != "External":
            target = each.get("Target", "")
            inside = target[1:] if target.startswith("/") else join(dirname(part), target)
            found[each.get("Id", "")] = normpath(inside)
    return found


def _sheets(parts: Parts, workbook: str) -> tuple[dict[str, str], date]:
    """Tab → part of every worksheet, in order; and the day that dates count from."""
    worksheets = _targets(parts, workbook, "worksheet")
    sheets: dict[str, str] = {}
    day_zero = date(1899, 12, 30)
    for each in parts.elements(workbook, "sheet", "workbookPr"):
        if local(each.tag) == "workbookPr":
            if each.get("date1904") in ("1", "true"):
                day_zero = date(1904, 1, 1)
            continue
        ids = [value for key, value in each.items() if local(key) == "id"]
        if ids and ids[0] in worksheets:
            sheets[each.get("name", "")] = worksheets[ids[0]]
    if not sheets:
        raise Unreadable(workbook)
    return sheets, day_zero


def _texts(parts: Parts, name: str) -> list[str]:
    """The shared texts, without the readings that stand above some of them."""
    if name not in parts:
        return []
    return [_text(each) for each in parts.elements(name, "si")]


def _text(element: Element) -> str:
    """A text in one piece or several."""
    pieces = []
    for child in element:
        if local(child.tag) == "t":
            pieces.append(child.text or "")
        elif local(child.tag) == "r":
            pieces += [each.text or "" for each in child if local(each.tag) == "t"]
    return decoded("".join(pieces))


def _formats(parts: Parts, name: str) -> tuple[frozenset[int], frozenset[int]]:
    """Which cell formats show dates, and which show times of day."""
    if name not in parts:
        return frozenset(), frozenset()
    dates, times = set(_BUILT_IN_DATES), set(_BUILT_IN_TIMES)
    used: list[int] = []
    for each in parts.elements(name, "numFmt", "cellXfs"):
        if local(each.tag) == "cellXfs":
            used = [_whole(format_.get("numFmtId")) for format_ in each]
            continue
        code = _QUOTED.sub("", each.get("formatCode", "")).lower()
        if re.search("[yd]", code):
            dates.add(_whole(each.get("numFmtId")))
        elif re.search("[hs]", code):
            times.add(_whole(each.get("numFmtId")))
    return (
        frozenset(at for at, number in enumerate(used) if number in dates),
        frozenset(at for at, number in enumerate(used) if number in times),
    )


def _row_number(text: str | None) -> int:
    """A row's number; one of too many digits is beyond all sheets, whichever it is."""
    return min(int(text[:12]), 10**11) if text and text.isdecimal() else 0


def _whole(text: str | None) -> int:
    return int(text) if text and text.isdecimal() and len(text) < 10 else 0


def _grid(parts: Parts, tab: str, part: str, book: _Book) -> Grid:
    grid = Grid(tab)
    number = 0
    for row in parts.elements(part, "row", until="sheetData"):
        number = _row_number(row.get("r")) or number + 1
        cells = _row(row, book)
        if cells:
            refuse_beyond(tab, number, max(cells))
            grid.rows.setdefault(number, {}).update(cells)
            refuse_rows(grid)
    return grid


def _row(row: Element, book: _Book) -> dict[int, Cell]:
    cells: dict[int, Cell] = {}
    at = 0
    for element in row:
        if local(element.tag) != "c":
            continue
        coordinate = _COORDINATE.fullmatch(element.get("r", ""))
        at = column_number(coordinate[1]) if coordinate else at + 1
        cell = _cell(element, book)
        if cell is not None:
            cells[at] = cell
    return cells


def _cell(element: Element, book: _Book) -> Cell | None:
    inside: Mapping[str, Element] = {local(child.tag): child for child in element}
    kind = element.get("t", "n")
    if kind == "inlineStr":
        return cell_of_text(_text(inside["is"])) if "is" in inside else None
    typed = (inside["v"].text or "") if "v" in inside else ""
    if not typed:
        return CellError(NEVER_WORKED_OUT) if "f" in inside and kind != "str" else None
    match kind:
        case "s":
            at = int(typed) if typed.isdecimal() and len(typed) < 10 else len(book.texts)
            return cell_of_text(book.texts[at]) if at < len(book.texts) else CellError(LOST)
        case "b":
            return typed in ("1", "true")
        case "str" | "e":
            return cell_of_text(decoded(typed))
        case "d":
            return _iso(typed)
        case _:
            return _number(typed, _whole(element.get("s")), book)


def _number(typed: str, style: int, book: _Book) -> Cell:
    try:  # a cell is a double, and is shown by the fewest digits that name it
        number = Decimal(repr(float(typed)))
    except ValueError:
        return CellError(typed[:40])
    cell = CellError(typed[:40]) if number.is_nan() else cell_of_number(number)
    if not isinstance(cell, Decimal):
        return cell
    if style in book.timed:
        return CellError(TIME, cell)
    if style in book.dated:
        try:
            return book.day_zero + timedelta(days=int(cell))
        except OverflowError:
            return cell
    return cell


def _iso(typed: str) -> Cell:
    try:
        return datetime.fromisoformat(typed).date()
    except ValueError:
        return CellError(typed[:40])
