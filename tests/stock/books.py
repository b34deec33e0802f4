"""A small stall with a freezer, for the tests beside: what was made, sold, counted and measured."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

__all__ = ["ON", "Sheets", "stall"]

Sheets = dict[str, list[tuple[Any, ...]]]
ON = "2026-11-25"


def day(of: int, month: int = 11) -> date:
    """A day of 2026."""
    return date(2026, month, of)


def stall(changes: Mapping[str, list[tuple[Any, ...]]] | None = None) -> Sheets:
    """The stall; ``changes`` replaces the rows below a sheet's headings, or adds a sheet."""
    sheets: Sheets = {
        "Settings": [
            ("Setting", "Value"),
            ("Currency", "USD"),
            ("Pay per hour", 15),
            ("Target margin %", 0.3),
        ],
        "Purchases": [
            ("Date", "Item", "Pack size", "Unit", "Price per pack"),
            (day(1), "Rye", 1, "kg", 2),
            (day(1), "Leeks", 1, "kg", 3),
        ],
        "Recipes": [
            ("Recipe", "Uses", "Amount", "Unit"),
            ("Bun", "Rye", 1, "kg"),
            ("Bun", "Leeks", 500, "g"),
        ],
        "Batches": [("Recipe", "Makes", "Unit", "Rejects"), ("Bun", 24, "ea", 1)],
        "Items": [("Item", "Usable %", "Also called"), ("Leeks", 0.5, "Porree")],
        "Stages": [
            ("Recipe", "Stage", "Minutes per batch", "Minutes per unit"),
            ("Bun", "Shape", 0, 2),
            ("Bun", "Bake", 40, None),
            ("Bun, six", "Bag", None, 0.5),
        ],
        "Products": [
            ("Product", "Recipe", "Units per pack", "Current price"),
            ("Bun, single", "Bun", 1, 2),
            ("Bun, six", "Bun", 6, 11),
        ],
        "Made": [
            ("Date", "Product", "Packs", "Rejects", "Minutes", "Batch code", "Use by"),
            (day(2), "Bun, single", 20, 2, 80, "A1", day(20)),
            (day(9), "Bun, single", 22, 1, 90, "A2", day(28)),
            (day(10), "Bun, single", 10, 0, 50, "A3", day(20, 12)),
            (day(16), "Bun, six", 3, 0, None, "B1", None),
        ],
        "Sales": [
            ("Date", "Product", "Sold", "Sampled", "Spoiled"),
            (day(7), "Bun, single", 5, 1, None),
            (day(14), "Bun, single", 15, 1, 2),
            (day(21), "Bun, six", 1, None, None),
        ],
        "Counts": [
            ("Date", "What", "Amount", "Unit"),
            (day(8), "Bun, single", 18, None),
            (day(8), "Porree", 2, "kg"),
        ],
        "Tests": [
            ("Date", "What", "Kind", "In", "Out", "Unit", "Minutes", "Units"),
            (day(2), "Leeks", "yield", 1000, 440, "g", None, None),
            (day(3), "Porree", "yield", 2, 1, "kg", None, None),
            (day(3), "Shape", "time", None, None, None, 50, 20),
            (day(9), "Shape", "time", None, None, None, 30, 20),
            (day(9), "Bake", "time", None, None, None, 36, 24),
        ],
    }
    for title, rows in (changes or {}).items():
        sheets[title] = [*sheets[title][:1], *rows]
    return sheets
