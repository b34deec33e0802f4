"""Slips of a tired person: one cell of a workbook blanked, misspelt, merged, repeated or moved.

And what a pack holds, in litres for millilitres or kilos for grams.

A slip is a workbook and the rows in which it was made. What may follow from it is judged here,
too: each figure stays, or a problem names one of those rows.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from tests.comparing import Figures, differences, figures
from tests.helpers import Merged
from tests.tables import Sheets

__all__ = ["Slip", "named", "silent", "slips_in"]

FREE: Final = {
    "Settings": {"Setting", "Business", "Note"},
    "Purchases": {"Note"},
    "Items": {"Kind", "Allergens", "Source"},
    "Recipes": {"Note"},
    "Batches": {"Note"},
    "Stages": {"Stage"},
    "Overheads": {"Cost"},
    "Outlets": {"Outlet", "Days per year"},
    "Plan": {"For"},
    "Made": {"Batch code"},
    "Tests": {"Date"},
}
"""Words of their own, which name nothing that another row refers to."""

BLANK_MEANS: Final = {
    "Settings": {
        *("Costing date", "Pay on-costs %", "Price step", "Small-ingredient allowance %"),
        *("Prices include sales tax", "Kitchen hire per hour", "Kitchen booking block minutes"),
        *("Currency", "Prices stale after days"),
    },
    "Purchases": {"Packs", "Pack count", "Other cost"},
    "Items": {
        *("Item", "Usable %", "Usual supplier", "Roll width unit"),
        *("Grams per piece", "Grams per ml", "Roll width", "On hand", "Par"),
    },
    "Recipes": {"Measured", "Usable %"},
    "Batches": {"Rejects"},
    "Stages": {
        *("People", "Minutes per batch", "Minutes per unit", "Waiting minutes"),
        *("Overlap minutes", "Pay per hour"),
    },
    "Packaging": {"Spare %"},
    "Products": {"Not sold %", "Current price", "Wholesale price now", "Target margin %"},
    "Overheads": {"Share %"},
    "Outlets": {
        *("Kind", "Fee per day", "Miles per day", "Other per day", "Card fee %"),
        *("Card fixed fee", "Units per sale", "Their margin %", "Target margin %"),
    },
    "Made": {"Rejects", "Minutes", "Use by"},
    "Market days": {"Fee paid"},
    "Sales": {"Taken", "Sampled"},
}
"""Cells whose blank has a meaning that the person was told: 1 pack, no reject, no spare …

A bridge that is blank makes lines unknown by themselves, and they say so; a stage needs one of its
minutes. None of these can be seen to be missing.
"""


@dataclass(frozen=True, slots=True)
class Slip:
    """A workbook with one slip; ``rows`` are the sheet's rows it was made in.

    ``typed`` is what stands there instead, where something does; ``was`` the name that stood there.
    """

    what: str
    sheet: str
    rows: tuple[int, ...]
    book: Sheets
    typed: str = ""
    was: str = ""


def slips_in(book: Sheets) -> Iterator[Slip]:
    """Every slip of every cell that a figure may rest on."""
    for sheet, rows in book.items():
        for at, row in enumerate(rows[1:], start=1):
            for column, heading in enumerate(map(str, rows[0])):
                name = str(row[0]) if sheet == "Settings" else heading
                if row[column] is None or {heading, name} & FREE.get(sheet, set()):
                    continue
                yield from _slips_of(book, sheet, at, column, name)
            if sheet != "Settings":
                yield _with(book, sheet, at, "repeated", [*rows[: at + 1], row, *rows[at + 1 :]])


def _slips_of(book: Sheets, sheet: str, at: int, column: int, name: str) -> Iterator[Slip]:
    cell, rows = book[sheet][at][column], book[sheet]
    wrong = misspelt(cell, {str(row[column]) for row in rows})
    slip = _put(book, sheet, at, f"{name} misspelt as {wrong!r}", {column: wrong})
    yield replace(slip, typed=wrong)
    if name == "Units per pack" and isinstance(cell, str) and re.search(r"\d (ml|g)$", cell):
        large = re.sub("ml$", "l", cell) if cell.endswith("ml") else re.sub("g$", "kg", cell)
        yield _put(book, sheet, at, f"{name} as {large}", {column: large})
    if not _may_be_blank(book, sheet, at, name):
        slip = _put(book, sheet, at, f"{name} blank", {column: None})
        yield replace(slip, was=cell if isinstance(cell, str) else "")
        if column + 1 < len(rows[0]):
            yield _put(book, sheet, at, f"{name} moved", {column: None, column + 1: cell})
    if column == 0 and at + 1 < len(rows):
        below = [[*row] for row in rows]
        below[at][0], below[at + 1][0] = Merged(cell, 2), None
        yield _with(book, sheet, at, f"{name} merged over two rows", below, at + 1)


def _may_be_blank(book: Sheets, sheet: str, at: int, name: str) -> bool:
    """Whether a blank cell has a meaning that was told, in that row of that workbook."""
    if name in BLANK_MEANS.get(sheet, set()):
        return True
    row = dict(zip(map(str, book[sheet][0]), book[sheet][at], strict=True))
    if sheet == "Settings":  # a rate of tax is needed where prices have it in
        return name == "Sales tax %" and ["Prices include sales tax", "yes"] not in book[sheet]
    if sheet == "Outlets":
        asked = {"commission": "Commission %", "stall": "Hours per day"}
        return name in asked.values() and name != asked.get(str(row["Kind"] or "stall"))
    if sheet == "Purchases" and name == "Supplier":  # whose discount it is may be anybody's then
        that_day = [each for each in book[sheet][1:] if each[:2] == book[sheet][at][:2]]
        return any(each[5] is None for each in that_day)
    return False


def misspelt(cell: object, others: set[str]) -> str:
    """A name with a letter too few; a figure, a date or a unit with something beside it."""
    if isinstance(cell, date):
        return f"{cell.isoformat()}0"
    if not isinstance(cell, str):
        return f"{cell}o"
    if len(cell) < 4:
        return f"{cell}x"
    for gone in (len(cell) - 2, 1, 2):
        wrong = cell[:gone] + cell[gone + 1 :]
        if wrong not in others:
            return wrong
    return f"{cell}x"


def _put(book: Sheets, sheet: str, at: int, what: str, cells: Mapping[int, object]) -> Slip:
    rows = [[*row] for row in book[sheet]]
    for column, cell in cells.items():
        rows[at][column] = cell
    return _with(book, sheet, at, what, rows)


def _with(
    book: Sheets, sheet: str, at: int, what: str, rows: list[list[object]], *more: int
) -> Slip:
    other = {**copy.copy(book), sheet: rows}
    # rows of the sheet count from 1; a repeated row stands in the next one
    named = (at + 1, at + 2) if what == "repeated" else (at + 1, *(each + 1 for each in more))
    return Slip(f"{sheet}!{at + 1}: {what}", sheet, named, other)


def silent(slip: Slip, before: Mapping[str, Any], after: Mapping[str, Any]) -> list[str]:
    """Figures that the slip changed without a problem that leads to it."""
    said = {tuple(problem.values()) for problem in after["problems"]}
    new = said - {tuple(problem.values()) for problem in before["problems"]}
    return [] if named(slip, new) else differences(_by_order(after), _by_order(before))


def named(slip: Slip, problems: Iterable[tuple[Any, ...]]) -> bool:
    """Whether a problem names one of the slip's rows, or the name that it made or took away.

    It asks whether what was typed there is meant, or says that nothing comes from what stood there.
    """
    return any(
        (sheet == slip.sheet and _row(cell) in slip.rows)
        or (slip.typed and f'Did you mean "{slip.typed}"?' in remedy)
        or (slip.was and f"no purchase from {slip.was};" in what)
        for _, sheet, cell, what, remedy in problems
    )


def _row(cell: str) -> int:
    digits = "".join(filter(str.isdigit, cell))
    return int(digits) if digits else 0


def _by_order(answer: Mapping[str, Any]) -> Figures:
    """Products by their order, so that one that was renamed is still the same; recipes not."""
    rows = [{**row, "product": str(at)} for at, row in enumerate(answer["products"])]
    return figures({"products": rows, "recipes": [], "items": []})
