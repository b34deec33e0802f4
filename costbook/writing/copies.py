"""Copies of what a person's sheets show, for a file that can't be written into.

The cells stand where they stood, so that every address that is said is right in both files.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Final

from costbook.book import Value
from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.workbook import draw

__all__ = ["Copied", "copied_workbook"]

Copied = Mapping[int, Mapping[int, Value | date]]
"""One sheet's cells: by row, then by column, both from 1."""

_PLAIN: Final = Look(Role.GIVEN)
_DAY: Final = Look(Role.GIVEN, Show.DATE)
_WIDEST: Final = 40.0


def copied_workbook(sheets: Mapping[str, Copied], day_zero: date) -> bytes:
    """A workbook of plain values under the tabs' own names; its dates count from ``day_zero``."""
    described = [_described(tab, cells, day_zero) for tab, cells in sheets.items()]
    return draw(described, places=2, from_1904=day_zero.year == 1904)


def _described(tab: str, cells: Copied, day_zero: date) -> SheetDescription:
    sheet = SheetDescription(tab.replace("&", "&&"), tab)  # in a page's footer, & begins a code
    for row, columns in sorted(cells.items()):
        for column, value in sorted(columns.items()):
            _put(sheet, (row - 1, column - 1), value, day_zero)
    sheet.next_row = max(sheet.rows, default=-1) + 1
    return sheet


def _put(sheet: SheetDescription, at: tuple[int, int], value: Value | date, day_zero: date) -> None:
    width = max(sheet.widths.get(at[1], 11.0), min(len(str(value)) + 2.0, _WIDEST))
    sheet.widths[at[1]] = width
    if isinstance(value, date):
        sheet.put(*at, Decimal((value - day_zero).days), _DAY)
    else:
        sheet.put(*at, value, _PLAIN)
