"""A stall with a plan, worked by hand: a filling inside rolls that are sold singly and in sixes."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Final

from costbook.round_trip import Costed, read_and_cost
from tests.helpers import Book, Row, make_book

__all__ = ["BOOK", "DAY", "costed", "planned", "with_rows"]

DAY: Final = date(2026, 11, 26)

BOOK: Final[Book] = {
    "Settings": [
        ("Setting", "Value"),
        ("Currency", "USD"),
        ("Pay per hour", 15),
        ("Pay on-costs %", 10),
        ("Target margin %", 35),
        ("Small-ingredient allowance %", 10),
        ("Kitchen hire per hour", 20),
        ("Kitchen booking block minutes", 60),
        ("Batches per year", 52),
        ("No selling costs", "yes"),
        ("Minutes I have", 200),
        ("Freezer holds packs", 45),
    ],
    "Purchases": [
        ("Date", "Item", "Pack size", "Unit", "Price per pack"),
        (date(2026, 11, 20), "Leek", 1, "kg", 2),
        (date(2026, 11, 20), "Flour", 1, "kg", 1),
        (date(2026, 11, 20), "Bag", 100, "ea", 5),
    ],
    "Recipes": [
        ("Recipe", "Uses", "Amount", "Unit"),
        ("Leek filling", "Leek", 2.5, "kg"),
        ("Leek roll", "Leek filling", 1.2, "kg"),
        ("Leek roll", "Flour", 900, "g"),
    ],
    "Batches": [
        ("Recipe", "Makes", "Unit", "Rejects", "Smallest part", "Own batches"),
        ("Leek filling", 3, "kg", None, None, None),
        ("Leek roll", 24, "ea", 2, 0.5, None),
    ],
    "Stages": [
        ("Recipe", "Stage", "People", "Minutes per batch", "Minutes per unit", "Waiting minutes",
         "Pay per hour", "Once a session"),
        ("Leek filling", "Cook", None, 30, None, 15, None, None),
        ("Leek roll", "Set up", None, 20, None, None, None, "yes"),
        ("Leek roll", "Roll", 2, None, 1, None, None, None),
        ("Leek roll, six", "Box", None, None, 2, None, 12, None),
    ],
    "Packaging": [("Product", "Uses", "Amount", "Unit", "Per"), ("all", "Bag", 1, "ea", "pack")],
    "Products": [
        ("Product", "Recipe", "Units per pack"),
        ("Leek roll, single", "Leek roll", 1),
        ("Leek roll, six", "Leek roll", 6),
    ],
    "Overheads": [("Cost", "Amount", "Per"), ("Insurance", 520, "year")],
    "Plan": [
        ("Product", "Wanted", "For", "Batches", "Note"),
        ("Leek roll, single", 30, "Saturday", None, None),
        ("Leek roll, six", 5, "Saturday", None, None),
        ("leek roll single", 10, "the café", None, None),
    ],
}  # fmt: skip
"""30 + 10 singles and 5 sixes are 70 rolls. A batch starts 24, of which 22 are good: 3.18 batches,
3.5 in halves: 77 good rolls, 7 to spare. Singles have 40 of the 70, so 44 of the 77; sixes 33: five
whole packs, and three rolls left over, which are bagged and boxed as half a pack. 1.2 of 3 kg of
filling in each: 1.4 batches of it.

Bought: 0.90 × 1.1 = 0.99 for a batch of rolls, 5.00 × 1.1 = 5.50 for one of filling: 3.465 + 7.70.
Bags: 44 + 5.5 = 49.5 at 0.05: 2.475. Minutes: 20 once, 24 × 3.5 = 84 by two: 168, 1.4 × 30 = 42,
5.5 × 2 = 11 by a helper: 241, 230 of them own. By the clock 20 + 84 + 1.4 × 45 + 11 = 178: three
hours at 20.00. Pay: 230 ÷ 60 × 15 × 1.1 = 63.25, 11 ÷ 60 × 12 × 1.1 = 2.42. Overheads: 3.5 × 10.00.
In all 11.165 + 2.475 + 65.67 + 60 + 35 = 174.31.
"""


def with_rows(sheet: str, *rows: Row) -> Book:
    """The stall with other rows below the headings of a sheet."""
    return {**BOOK, sheet: [next(iter(BOOK[sheet])), *rows]}


def planned(*rows: Row) -> Book:
    """The stall with another plan."""
    return with_rows("Plan", *rows)


def costed(folder: Path, book: Book = BOOK) -> Costed:
    """The stall, costed."""
    return read_and_cost(make_book(folder / "stall.xlsx", book), DAY)
