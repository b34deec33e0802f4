"""A small workbook that costs in a moment, and the same put into workbooks of other programs."""

from __future__ import annotations

import re
import tempfile
from datetime import date, timedelta
from functools import cache
from pathlib import Path

from tests.helpers import make_book
from tests.package.making import counts_from_1904, edited, file_of, graft, parts, tab_names

__all__ = ["COSTS", "ON", "SHEETS", "small", "with_small"]

ON = ("--on", "2026-11-20")
SHEETS: dict[str, list[list[object]]] = {
    "Settings": [
        ["Setting", "Value"],
        ["Currency", "EUR"],
        ["Pay per hour", 15],
        ["Target margin %", 30],
    ],
    "Purchases": [
        ["Date", "Item", "Pack size", "Unit", "Price per pack"],
        [date(2026, 11, 2), "Flour", 5, "kg", 4],
        [date(2026, 11, 3), "Sorrel", 500, "g", 2.5],
    ],
    "Recipes": [
        ["Recipe", "Uses", "Amount", "Unit"],
        ["Leek roll", "Flour", 500, "g"],
        ["Leek roll", "Sorrel", 200, "g"],
    ],
    "Batches": [["Recipe", "Makes", "Unit"], ["Leek roll", 4, "ea"]],
    "Products": [["Product", "Recipe", "Units per pack"], ["Leek roll", "Leek roll", 1]],
}
COSTS = 0.35
"""Of one roll: 500 g of flour at 4 for 5 kg are 0.40, 200 g of leeks at 2.50 for 500 g are 1.00;
1.40 by 4."""

FROM_1900_TO_1904 = 1462
"""Days by which the two ways of counting days differ (ECMA-376, 18.17.4.1, from memory)."""


def small(path: Path) -> Path:
    """The small workbook as a file."""
    return make_book(path, SHEETS)


@cache
def _content(days_earlier: int = 0) -> bytes:
    earlier = timedelta(days=days_earlier)
    sheets = {
        name: [[cell - earlier if isinstance(cell, date) else cell for cell in row] for row in rows]
        for name, rows in SHEETS.items()
    }
    with tempfile.TemporaryDirectory() as folder:
        return make_book(Path(folder) / "small.xlsx", sheets).read_bytes()


def with_small(theirs: bytes) -> bytes:
    """Another program's workbook with the small one's sheets in it, as if they were its own."""
    names = tab_names(theirs, tuple(SHEETS))
    assert list(names) == list(names.values()), "a sheet there has one of the names"
    content = _content(FROM_1900_TO_1904 if counts_from_1904(theirs) else 0)
    merged = graft(theirs, content, {name: name for name in names})
    part = file_of(merged).book.part
    listed = parts(merged)[part].decode()
    marks = r"<(\w+:)?definedName [^>]*costbook_sheet_[^>]*>[^<]*</(\w+:)?definedName>"
    bare = re.sub(marks, "", listed)
    bare = re.sub(r"<(\w+:)?definedNames>\s*</(\w+:)?definedNames>", "", bare)
    assert "costbook" not in bare
    return edited(merged, {part: bare.encode()})
