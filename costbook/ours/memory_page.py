"""Memory: what this run leaves on our sheets, so that the next can tell what was typed on them."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from costbook.ours.imprint import (
    BOX,
    FORMULA,
    NOTHING,
    TICK,
    VALUE,
    Imprint,
    Left,
    bones,
    folded,
    of_number,
    short,
    skin,
)
from costbook.ours.kept import LEFT
from costbook.writing.description import CellContent, Look, Role, SheetDescription
from costbook.writing.pages.page import Context, Page

__all__ = ["FIRST_LINE", "imprint_of", "memory_page"]

FIRST_LINE: Final = 3
"""The row, from 0, of the first line that is remembered."""


def memory_page(
    context: Context, sheets: Iterable[SheetDescription], beside: str
) -> SheetDescription:
    """Describe the hidden sheet Memory; ``beside`` is a hash of the person's own sheets."""
    page = Page(context, LEFT.sheet)
    sheet = page.sheet
    sheet.landscape = False
    sheet.hidden = True
    sheet.widths = {0: 100}
    sheet.line(LEFT.sheet, Role.TITLE)
    sheet.line(
        "What costbook left on its sheets, in short, so that its next run can tell what you typed "
        "there. Please leave it as it is.",
        Role.NOTE,
        across=1,
    )
    sheet.next_row = FIRST_LINE
    left = Left({each.title: imprint_of(each) for each in sheets}, beside)
    for line in folded(left):
        sheet.put(sheet.next_row, 0, line, Look(Role.LABEL))
        sheet.next_row += 1
    page.caution(1)
    return sheet


def imprint_of(sheet: SheetDescription) -> Imprint:
    """A sheet that is about to be written, in short."""
    values: set[Decimal | str] = set()
    skins: set[bytes] = set()
    rows: list[str] = []
    for number in range(max(sheet.rows, default=-1) + 1):
        letters: dict[int, str] = {}
        for cell in sheet.rows.get(number, {}).values():
            letters[cell.column] = _letter(cell)
            if cell.formula:
                skins.add(skin(cell.formula.removeprefix("=").encode()))
            elif cell.value is not None:
                values.add(cell.value)
        width = max(letters, default=-1) + 1
        rows.append("".join([letters.get(at, NOTHING) for at in range(width)]))
    return Imprint(
        tuple(rows),
        frozenset(short(_text(value)) for value in values),
        frozenset(short(bare.decode("ascii")) for bare in set(map(bones, skins))),
        frozenset(map(short, sheet.notes.values())),
        len(sheet.charts),
    )


def _letter(cell: CellContent) -> str:
    if cell.look.role is Role.TYPE_HERE:
        return BOX
    if cell.look.role is Role.TICK:
        return TICK
    if cell.formula:
        return FORMULA
    return NOTHING if cell.value in (None, "") else VALUE


def _text(value: Decimal | str) -> str:
    return of_number(float(value)) if isinstance(value, Decimal) else value
