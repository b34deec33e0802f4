"""Columns as wide as their figures may become: a page upright has no room to spare."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from costbook.writing.looks import number_format, size
from costbook.writing.pages.page import Page
from costbook.writing.paper import PIXELS_A_LETTER, text_width

__all__ = ["fit_figures"]

ROOM_TO_GROW = 10


def fit_figures(page: Page, columns: Sequence[int]) -> None:
    """Make columns wide enough for figures ten times as large as theirs are now."""
    widest = {at: page.sheet.widths.get(at, 0.0) for at in columns}
    for cell in page.sheet.cells():
        if cell.column in widest and isinstance(cell.value, Decimal):
            code = number_format(cell.look, page.context.places).split(";")[-1]
            decimals = code.partition(".")[2].count("0")
            text = f"{cell.value * ROOM_TO_GROW:,.{decimals}f}"
            needed = text_width(text, size(cell.look.role), is_bold=True) / PIXELS_A_LETTER
            widest[cell.column] = max(widest[cell.column], needed + 1)
    page.sheet.widths |= widest
