"""How high rows must be for their texts, and where pages begin.

Programs make a row high enough only for cells that aren't merged and only while they look at it,
so the heights are worked out here; and a page may begin only where a block does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from typing import Final

from costbook.writing.description import CellContent, Look, SheetDescription
from costbook.writing.looks import bold, size, wraps

__all__ = [
    "MARGINS",
    "PIXELS_A_LETTER",
    "height_of",
    "page_breaks",
    "page_room",
    "row_heights",
    "text_height",
    "text_width",
]

MARGINS: Final = {"left": 0.4, "right": 0.4, "top": 0.5, "bottom": 0.6}
"""Of a page, in inches."""

_PAPERS: Final = ((8.27, 11.69), (8.5, 11.0))
"""A4 and US Letter, upright, in inches: a page must hold what is put on it on either."""
_NEARLY: Final = 0.98
"""Programs round sizes each in their own way; so much of a page is used."""

_PLAIN_ROW, _PLAIN_WIDTH = 15.0, 8.43
PIXELS_A_LETTER: Final = 7
"""In which the widths of columns count."""
LINE_HEIGHT: Final = 1.27
"""Of a line of text, in sizes of the text."""
_HIGHEST_ROW: Final = 409.0

# The widths of Helvetica's letters in thousandths of their size, from memory of Adobe's font
# metrics; Arial and Liberation Sans have the same.
_WIDTHS: Final[dict[str, int]] = {
    letter: width
    for width, letters in {
        191: "'",
        222: "ijl",
        278: " !,./:;I[]\\ft|",
        333: "()-r`",
        355: '"',
        500: "Jckvxsyz",
        556: "#$0123456789?Labdeghnopqu_",
        584: "+<=>~",
        611: "FTZ",
        667: "&ABEKPSVXY",
        722: "CDHNRUw",
        778: "GOQ",
        833: "Mm",
        889: "%",
        944: "W",
        1015: "@",
    }.items()
    for letter in letters
}
_OTHER_LETTER: Final = 700
_WIDER_IF_BOLD: Final = 1.08


@lru_cache(maxsize=4096)
def text_width(text: str, points: float, *, is_bold: bool = False) -> float:
    """How wide a text is [pixels]."""
    thousandths = sum(_WIDTHS.get(letter, _OTHER_LETTER) for letter in text)
    return thousandths / 1000 * points * 96 / 72 * (_WIDER_IF_BOLD if is_bold else 1)


def height_of(sheet: SheetDescription, first: int) -> float:
    """How high the rows from one on are, to the last that is described so far [points]."""
    rows = range(first, sheet.next_row)
    heights = row_heights(sheet, rows)
    return sum(heights.get(row, _PLAIN_ROW) for row in rows)


def row_heights(sheet: SheetDescription, rows: Iterable[int] | None = None) -> dict[int, float]:
    """The heights of the rows that aren't plain [points]: as asked, or as their texts need."""
    found = dict(sheet.heights)
    spans = {(area[0], area[1]): area[3] for area in sheet.merged}
    plain: dict[int, bool] = {}
    looked_at = sheet.rows if rows is None else rows
    for cell in (cell for row in looked_at for cell in sheet.rows.get(row, {}).values()):
        look = cell.look
        is_plain = plain.get(id(look))
        if is_plain is None:
            is_plain = plain[id(look)] = not wraps(look) and size(look.role) <= _TALLEST_PLAIN
        if not is_plain:
            needed = _height(sheet, cell, spans.get((cell.row, cell.column), cell.column))
            if needed > max(found.get(cell.row, 0), _PLAIN_ROW):
                found[cell.row] = min(needed, _HIGHEST_ROW)
    return found


_TALLEST_PLAIN: Final = 10.0


def _height(sheet: SheetDescription, cell: CellContent, last_column: int) -> float:
    if not (wraps(cell.look) and isinstance(cell.value, str)):
        return text_height("", 1, cell.look)
    room = sum(_pixels(sheet, at) for at in range(cell.column, last_column + 1))
    return text_height(cell.value, room, cell.look)


def text_height(text: str, pixels: float, look: Look) -> float:
    """How high a row must be for a text in a cell so many pixels wide [points]."""
    points = size(look.role)
    lines = _lines(text, pixels - 8 - 9 * look.indent, points, is_bold=bold(look.role))
    return lines * points * LINE_HEIGHT + 2


def _lines(text: str, room: float, points: float, *, is_bold: bool) -> int:
    """How many lines a text takes in so many pixels, broken between words."""
    lines, used = 1, 0.0
    space = text_width(" ", points, is_bold=is_bold)
    for word in text.split(" "):
        width = text_width(word, points, is_bold=is_bold)
        if used and used + space + width > room:
            lines, used = lines + 1, 0.0
        used += width + (space if used else 0)
        if used > room:
            more, used = divmod(used, room)
            lines += int(more)
    return lines


def _pixels(sheet: SheetDescription, column: int) -> float:
    return int(sheet.widths.get(column, _PLAIN_WIDTH) * PIXELS_A_LETTER + 5)


# ---------------------------------------------------------------- pages


def page_breaks(sheet: SheetDescription, heights: Mapping[int, float]) -> list[int]:
    """The rows, from 0, at which a new page begins: where asked, and before what would be cut."""
    if not (sheet.blocks or sheet.page_breaks):
        return []
    room = _room(sheet, heights)
    forced = set(sheet.page_breaks)
    breaks = sorted(forced)
    used = 0.0
    for first, end in _blocks(sheet):
        high = sum(heights.get(row, _PLAIN_ROW) for row in range(first, end))
        if first in forced:
            used = 0.0
        elif used and used + high > room:
            breaks.append(first)
            used = 0.0
        used = (used + high) % room if high > room else used + high
    return sorted(breaks)


def _blocks(sheet: SheetDescription) -> Iterator[tuple[int, int]]:
    """The first row of each block, and the row after its last."""
    repeated = sheet.repeated_rows[1] + 1 if sheet.repeated_rows else 0
    starts = {row for row in (*sheet.blocks, *sheet.page_breaks) if row > repeated}
    yield from pairwise([repeated, *sorted(starts), max(sheet.next_row, repeated)])


def page_room(sheet: SheetDescription) -> float:
    """How much of a page there is for rows that aren't repeated on it [points]."""
    return _room(sheet, sheet.heights)


def _room(sheet: SheetDescription, heights: Mapping[int, float]) -> float:
    """How high a page is, in points of a sheet that is made to fit the page's width."""
    last = max((cell.column for cell in sheet.cells()), default=0)
    cells = sum(_pixels(sheet, at) for at in range(last + 1))
    wide = max(cells, *(chart.width for chart in sheet.charts), 0) / 96 / sheet.pages_wide
    rooms = []
    for paper in _PAPERS:
        across, up = reversed(paper) if sheet.landscape else paper
        across -= MARGINS["left"] + MARGINS["right"]
        up -= MARGINS["top"] + MARGINS["bottom"]
        rooms.append(up * max(1.0, wide / across) * 72)
    repeated = 0.0
    if sheet.repeated_rows:
        first, end = sheet.repeated_rows
        repeated = sum(heights.get(row, _PLAIN_ROW) for row in range(first, end + 1))
    return min(rooms) * _NEARLY - repeated
