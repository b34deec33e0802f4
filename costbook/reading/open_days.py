"""How an OpenDocument spreadsheet writes its days: the date style of most cells that hold one."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from typing import Final
from xml.etree.ElementTree import Element

from costbook.definitions.day_codes import PLAIN_DAY, day_code
from costbook.reading.parts import Parts, local, own, times

__all__ = ["OpenDays"]

_STYLES: Final = "styles.xml"
_PARTS: Final = {"day": "d", "month": "m", "year": "yy"}
_GENERATIONS: Final = 5
"""How far a style is followed to those that it goes back to."""
_CELLS: Final = ("table-cell", "covered-table-cell")


class OpenDays:
    """Learns the styles of a workbook, and counts the days that are shown in each."""

    WANTED: Final = ("date-style", "style", "table-column")
    """The elements to be shown to ``learn``, as each ends."""

    def __init__(self, parts: Parts) -> None:
        self._codes: dict[str, str] = {}
        self._styles: dict[str, tuple[str, str]] = {}
        self._columns: tuple[list[int], list[str]] = [], []
        self._days: Counter[str] = Counter()
        if _STYLES in parts:
            for element in parts.elements(_STYLES, *self.WANTED[:2]):
                self.learn(element)

    def begin_table(self) -> None:
        """Another sheet begins, with columns of its own."""
        self._columns = [], []

    def learn(self, element: Element) -> None:
        """Take in a style, or the style that the cells of some columns have."""
        match local(element.tag):
            case "date-style":
                self._codes[own(element, "name")] = _code(element)
            case "style" if own(element, "family") == "table-cell":
                names = own(element, "data-style-name"), own(element, "parent-style-name")
                self._styles[own(element, "name")] = names
            case "table-column":
                ends, styles = self._columns
                before = ends[-1] if ends else 0
                ends.append(before + times(element, "number-columns-repeated"))
                styles.append(own(element, "default-cell-style-name"))

    def count(self, row: Element) -> None:
        """Count the cells of a row that hold a day."""
        at, of_row = 0, own(row, "default-cell-style-name")
        for cell in row:
            if local(cell.tag) in _CELLS:
                if own(cell, "date-value"):
                    self._days[own(cell, "style-name") or of_row or self._of_column(at)] += 1
                at += times(cell, "number-columns-repeated")

    def most(self) -> str:
        """The code in which most days are written; nothing where none is known."""
        codes: Counter[str] = Counter()
        for style, count in self._days.items():
            if code := self._code_of(style):
                codes[code] += count
        return next((code for code, _ in codes.most_common(1)), "")

    def _of_column(self, at: int) -> str:
        ends, styles = self._columns
        found = bisect_right(ends, at)
        return styles[found] if found < len(styles) else ""

    def _code_of(self, style: str) -> str:
        """The code of a cell's style, or of the style that it goes back to."""
        for _ in range(_GENERATIONS):
            shown, parent = self._styles.get(style, ("", ""))
            if shown or not parent:
                return self._codes.get(shown, "")
            style = parent
        return ""


def _code(element: Element) -> str:
    """A date style as the code of a number format; what the machine chooses has a month's name."""
    if own(element, "automatic-order") == "true" and not own(element, "language"):
        return PLAIN_DAY
    return day_code("".join(map(_part, element)))


def _part(element: Element) -> str:
    name, long = local(element.tag), own(element, "style") == "long"
    if name == "text":
        return element.text or ""
    if name not in _PARTS:
        return name  # a weekday, an hour: no day alone
    letters = _PARTS[name] * (2 if long else 1)
    return "mm" + letters if own(element, "textual") == "true" else letters
