"""The samples' sheets as they are kept: one CSV a sheet, each field a cell as a person types it.

An empty field is an empty cell; digits are a number; `6%` is 0.06 shown as a percentage; a date in
the ISO form is a date; `=A1*2 -> 6` is a formula with the value it last showed (nothing after the
arrow: never worked out); a leading ' makes a text of what follows. Anything else is text as it is.
"""

from __future__ import annotations

import csv
import re
from datetime import date
from pathlib import Path

from tests.helpers import Formula, Shown

__all__ = ["cell_of", "sheet_rows"]

HERE = Path(__file__).parent
_NUMBER = re.compile(r"-?\d+(\.\d+)?")


def number(text: str) -> float | None:
    """The number a field of digits holds, else None."""
    return float(text) if _NUMBER.fullmatch(text) else None


def _formula(field: str) -> Formula:
    """A formula and its stored value, from `=... -> value`."""
    text, _, shown = field.partition(" -> ")
    stored = number(shown.strip())
    return Formula(text, (shown.strip() or None) if stored is None else stored)


def cell_of(field: str) -> object:
    """What stands in the cell, from the field of the CSV."""
    if field.startswith("'"):
        return field[1:]
    if field.startswith("="):
        return _formula(field)
    if re.fullmatch(r"\d{4}-\d\d-\d\d", field):
        return date.fromisoformat(field)
    if (share := number(field.removesuffix("%"))) is not None and field.endswith("%"):
        return Shown(round(share / 100, 12), "0.##%" if "." in field else "0%")
    plain = number(field)
    return (field or None) if plain is None else plain


def sheet_rows(book: str, sheet: str) -> list[list[str]]:
    """The fields of one sheet of one sample, headings first; a blank line is an empty row."""
    with (HERE / book / f"{sheet}.csv").open(newline="", encoding="utf-8") as lines:
        return list(csv.reader(lines))
