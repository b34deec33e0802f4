"""What a cell's format says beside its number: that it is a percentage, or in which money it is.

Only cells whose format says so are looked for, in the parts as they are, so that a workbook
without such formats pays nothing.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.definitions.currencies import minor_unit
from costbook.definitions.day_codes import PLAIN_DAY, day_code
from costbook.reading.grid import Formatted, Workbook, column_number
from costbook.reading.parts import Parts, Unreadable, local
from costbook.reading.plain_cells import sheets_and_styles

__all__ = ["FormatMark", "mark_cells", "mark_of"]


@dataclass(frozen=True, slots=True)
class FormatMark:
    """What a format says: that a number is in per cent, its money, or how a day is written."""

    percent: bool = False
    money: str = ""
    days: str = ""

    def on(self, number: Decimal) -> Formatted:
        """The number with what its format says."""
        return Formatted(number, percent=self.percent, money=self.money)


_ASIDE: Final = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]|_.|\*.')
_SIGN: Final = re.compile("[€£¥₹]")
_CODE: Final = re.compile(r'(?:\[\$|")[^A-Za-z"\]]*([A-Z]{3})(?![A-Za-z])')
_BUILT_IN_PERCENT: Final = ("9", "10")
_AS_THE_MACHINE_WRITES: Final = "14"
"""The format of days whose order each machine chooses: a month's name tells them apart."""


def mark_of(code: str) -> FormatMark | None:
    """What a number format says; None where it is no percentage and names no money.

    >>> mark_of('#,##0.00 [$€-407]'), mark_of("0%"), mark_of("0.00")
    (FormatMark(percent=False, money='€'), FormatMark(percent=True, money=''), None)
    """
    first = code.partition(";")[0]
    if "%" in _ASIDE.sub("", first):
        return FormatMark(percent=True)
    if sign := _SIGN.search(first):
        return FormatMark(money=sign[0])
    named = _CODE.search(first)
    known = named and minor_unit(named[1]) is not None
    return FormatMark(money=named[1]) if named and known else None


def mark_cells(workbook: Workbook, parts: Parts) -> None:
    """Put what their formats say on the numbers of a workbook, and find how it writes its days."""
    days: Counter[str] = Counter()
    try:
        sheets, styles = sheets_and_styles(parts)
        marked = _marked(parts, styles)
    except Unreadable:  # a workbook with broken styles still has its cells
        return
    for tab, grid in workbook.grids.items() if marked else ():
        for row, column, mark in _cells(parts, sheets.get(tab, ""), marked):
            cell = grid.rows.get(row, {}).get(column)
            if isinstance(cell, Decimal) and not mark.days:
                grid.rows[row][column] = mark.on(cell)
            elif isinstance(cell, date) and mark.days:
                days[mark.days] += 1
    workbook.day_code = next((code for code, _ in days.most_common(1)), "")


def _marked(parts: Parts, styles: str) -> dict[int, FormatMark]:
    """The cell formats that say something, by their numbers."""
    codes: dict[str, FormatMark | None] = dict.fromkeys(_BUILT_IN_PERCENT, FormatMark(percent=True))
    codes |= {_AS_THE_MACHINE_WRITES: FormatMark(days=PLAIN_DAY), "15": FormatMark(days="d-mmm-yy")}
    found: dict[int, FormatMark] = {}
    if styles not in parts:
        return found
    for each in parts.elements(styles, "numFmt", "cellXfs"):
        if local(each.tag) == "numFmt":
            code = each.get("formatCode", "")
            days = day_code(code)
            codes[each.get("numFmtId", "")] = FormatMark(days=days) if days else mark_of(code)
            continue
        for at, format_ in enumerate(each):
            if mark := codes.get(format_.get("numFmtId", "")):
                found[at] = mark
    return found


_FEW: Final = 50
"""Formats that are looked for one by one; with more, every cell's format is looked up."""
_COORDINATE: Final = re.compile(rb"\br=[\"']([A-Z]{1,3})([0-9]{1,7})[\"']")


def _cells(
    parts: Parts, part: str, marked: Mapping[int, FormatMark]
) -> Iterator[tuple[int, int, FormatMark]]:
    """Row and column of each cell with a format that says something, and what."""
    if part not in parts:
        return
    few = len(marked) <= _FEW
    numbers = b"|".join(str(number).encode() for number in marked) if few else rb"[0-9]{1,9}"
    wanted = re.compile(
        rb"<(?:[A-Za-z0-9]+:)?c\s(?=[^<>]{0,200}\bs=[\"'](%b)[\"'])([^<>]{0,300})>" % numbers
    )
    for found in wanted.finditer(parts.data(part)):
        at = _COORDINATE.search(found[2])
        if at and int(found[1]) in marked:
            yield int(at[2]), column_number(at[1].decode("ascii")), marked[int(found[1])]
