"""A workbook drawn as text, so that a test's figures and its expectation share one screen.

    Purchases
    Date       | Item  | Pack size | Unit | Price per pack
    2026-11-01 | Flour | 1000      | g    | 2.00

A blank line ends a sheet. Cells become dates, numbers or text; an empty one stays empty.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

__all__ = ["Sheets", "close", "row_of", "sheets"]

Sheets = dict[str, list[list[object]]]


def sheets(*texts: str) -> Sheets:
    """The sheets of each text in turn; a sheet named again replaces the one before."""
    found: Sheets = {}
    for text in texts:
        for block in text.strip().split("\n\n"):
            name, *rows = block.strip().splitlines()
            found[name.strip()] = [[_cell(part.strip()) for part in row.split("|")] for row in rows]
    return found


def _cell(text: str) -> object:
    """A date, a whole number, a number, or the text itself; nothing for an empty cell."""
    for read in (date.fromisoformat, int, float):
        try:
            return read(text)
        except ValueError:
            continue
    return text or None


def close(found: object, expected: float | Fraction | str) -> None:
    """Assert that a figure of `cost --json` is the expected one to 1e-9, relative above 1."""
    assert isinstance(found, int | float), f"{found!r} is no figure; expected {expected}"
    wanted = Fraction(expected)
    apart = abs(Fraction(str(found)) - wanted)
    assert apart <= Fraction(1, 10**9) * max(Fraction(1), abs(wanted)), (
        f"{found} is not {float(wanted)}, by {float(apart):.3g}"
    )


def row_of(answer: dict[str, Any], sheet: str, name: str) -> dict[str, Any]:
    """The one recipe or item of `cost --json` with this name."""
    found: list[dict[str, Any]] = [row for row in answer[f"{sheet}s"] if row[sheet] == name]
    assert len(found) == 1, f"{len(found)} {sheet}s called {name}"
    return found[0]
