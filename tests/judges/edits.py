"""Seeded random edits of a person's workbook, as they would type them, for the Live tests.

An edit is made in a judge's open document and, the same, in a copy that the engine costs anew.
Only what a person may change without a new run is changed: numbers stay numbers, and a cell that
holds a formula or a quantity typed as text is left alone. Names are never changed.
"""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import openpyxl

from tests.judges import Cell, Document, Setting
from tests.judges.inputs import InputSheet, Target, Typed, input_sheets

__all__ = ["Copies", "Edit", "apply", "random_changes", "undo"]

KINDS_OF_UNIT = (
    ("g", "kg", "oz", "lb"),
    ("ml", "l", "tsp", "Tbsp", "cup"),
    ("ea", "dozen"),
    ("cm", "m", "in", "ft"),
    ("sq ft", "sq m"),
)
FACTORS = (0.5, 0.8, 0.9, 1.05, 1.1, 1.25, 1.4, 2.0, 3.0)
GIVEN_SHARES = (0.0, 0.02, 0.05, 0.12, 0.25, 0.35, 0.5, 0.6, 0.9)


@dataclass(frozen=True, slots=True)
class Edit:
    """One cell typed into: what stood there, and what stands there now; None is an empty cell."""

    sheet: str
    cell: Cell
    old: Typed
    new: Typed


Change = tuple[Edit, ...]  # what is typed between two recalculations


def apply(document: Document, change: Iterable[Edit]) -> None:
    """Type a change into a judge's document, dates as serial numbers."""
    document.set_many([_setting(edit, edit.new) for edit in change])


def undo(document: Document, change: Iterable[Edit]) -> None:
    """Type back what stood there before."""
    document.set_many([_setting(edit, edit.old) for edit in change])


def _setting(edit: Edit, value: Typed) -> Setting:
    # Day 0 of a spreadsheet's calendar, for every date after February 1900.
    serial = (value - date(1899, 12, 30)).days if isinstance(value, date) else value
    return edit.sheet, edit.cell, serial


class Copies:
    """A workbook read once, from which a copy is written for each change.

    What the person's formulas show is kept, not the formulas, since only one of the two can be.
    """

    def __init__(self, path: Path) -> None:
        self._book = openpyxl.load_workbook(path, data_only=True)

    def write(self, change: Iterable[Edit], out: Path) -> None:
        """Write a copy with a change in it; the next copy starts from the workbook as it was."""
        kept = [(self._book[edit.sheet][edit.cell], edit) for edit in change]
        before = [(cell, cell.value, cell.number_format) for cell, _ in kept]
        for cell, edit in kept:
            cell.value = edit.new
        self._book.save(out)
        for cell, value, number_format in before:
            cell.value, cell.number_format = value, number_format


def random_changes(path: Path, seed: int, count: int) -> list[Change]:
    """Changes drawn by a seed from a workbook, each made to the workbook as it is.

    One in twelve is a purchase added below the last row; the others are one cell each, drawn so
    that every sheet and every column has its share, however many rows it has.
    """
    rng = random.Random(seed)
    sheets = input_sheets(path)
    by_column: dict[tuple[str, str], list[Target]] = {}
    for sheet in sheets:
        for one in sheet.targets():
            by_column.setdefault((one.sheet, one.heading), []).append(one)
    columns = sorted(by_column)
    purchases = next((sheet for sheet in sheets if sheet.name == "Purchases"), None)
    changes: list[Change] = []
    while len(changes) < count:
        if purchases and purchases.plain_rows() and rng.randrange(12) == 0:
            changes.append(_purchase_below(rng, purchases))
        else:
            target = rng.choice(by_column[rng.choice(columns)])
            changes += _changed(rng, target)
    return changes


def _purchase_below(rng: random.Random, purchases: InputSheet) -> Change:
    """One more receipt line below the last, like one whose quantities are numbers."""
    line = purchases.row(rng.choice(purchases.plain_rows()))
    price = line.get("priceperpack")
    if isinstance(price, int | float):
        line["priceperpack"] = round(price * rng.choice(FACTORS), 2)
    if "date" in line:  # mostly one that will count, sometimes one too old or yet to come
        latest = purchases.latest()
        line["date"] = rng.choice((latest, latest + timedelta(days=1), _day(rng, line["date"])))
    cells = {purchases.below(heading): value for heading, value in line.items()}
    return tuple(
        Edit(purchases.tab, cell, None, value) for cell, value in cells.items() if value is not None
    )


def _changed(rng: random.Random, target: Target) -> list[Change]:
    """A new content for a cell; none where the draw came out as what stood there."""
    if target.old is not None and rng.randrange(10) == 0:
        new: Typed = None
    elif target.kind == "number":
        new = _number(rng, target.old)
    elif target.kind == "share":
        new = _share(rng, target.heading)
    elif target.kind == "date":
        new = _day(rng, target.old)
    elif target.kind == "unit":
        new = _unit(rng, target.old)
    else:
        new = rng.choice(target.choices)
    if new == target.old:
        return []
    return [(Edit(target.sheet, target.cell, target.old, new),)]


def _number(rng: random.Random, old: Typed) -> float:
    if not isinstance(old, int | float) or old == 0:
        return rng.choice((0.5, 1, 2, 6, 12.5))
    if rng.randrange(12) == 0:
        return rng.choice((0, -old))
    scaled = round(old * rng.choice(FACTORS), 4)
    return int(scaled) if isinstance(old, int) and scaled >= 1 else scaled


def _share(rng: random.Random, heading: str) -> float:
    """A share (0.35) or the same as a percentage (35); Usable % may gain, and never be 0."""
    share = rng.choice(GIVEN_SHARES)
    if heading == "Usable %":
        share = rng.choice((0.5, 0.78, 0.92, 1.2))
    return round(share * 100, 6) if rng.random() < 0.5 and share * 100 > 5 else share


def _day(rng: random.Random, old: Typed) -> date:
    start = old if isinstance(old, date) else date(2026, 6, 1)
    return start + timedelta(days=rng.choice((-400, -31, -7, -1, 1, 7, 31, 400)))


def _unit(rng: random.Random, old: Typed) -> str:
    """Mostly a unit of the same kind, else any: a line that can't be bridged is a change too."""
    same = next((kind for kind in KINDS_OF_UNIT if old in kind), KINDS_OF_UNIT[0])
    kind = same if rng.randrange(4) else rng.choice(KINDS_OF_UNIT)
    return rng.choice(kind)
