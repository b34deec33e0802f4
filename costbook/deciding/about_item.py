"""Which problems touch the verdict on an item's packs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from costbook.book import as_key
from costbook.costing.engine import Costing
from costbook.costing.line import SourceCell
from costbook.costing.names import item_keys
from costbook.problems import Problem

__all__ = ["about_item"]

_OF_ALL: Final = ("Suppliers", "Settings")
"""Sheets that every item's verdict may rest on."""


def about_item(costing: Costing, key: str, problems: Sequence[Problem]) -> list[Problem]:
    """The problems in rows of an item, or on sheets that every item's packs are weighed by."""
    book = costing.structure.book
    aliases = item_keys(book)
    rows = set()
    for sheet in book.sheets.values():
        for record in sheet.records:
            used = as_key(record.text("item"))
            if sheet.title in _OF_ALL or (record.text("item") and aliases.get(used, used) == key):
                rows |= {SourceCell(sheet.tab, cell).row_of_tab for cell in record.cells.values()}
    return [each for each in problems if _row(each) in rows]


def _row(problem: Problem) -> tuple[str, str]:
    return SourceCell(problem.place.sheet, problem.place.cell).row_of_tab
