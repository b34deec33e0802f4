"""Rows that are nobody's, and parts that no row speaks of: whatever they may cost is unknown.

Each recipe or product that a row may belong to is given it, with its cost left open, so that
engine and sheets find a gap there and no smaller sum.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.book import Book, Record, Value
from costbook.definitions.row_sources import LinesOf
from costbook.definitions.workings import TABLES

__all__ = ["NO_PACKAGING", "NO_WORK", "Strays"]

MOST_ROWS: Final = 2_000
"""Rows that one stray name may be given to all of its possible owners; a hundred rows of nobody's
leave nothing more unknown than the first."""


def _open_in(table: str) -> dict[str, Value]:
    """The figures that a row of nobody's leaves open."""
    how = TABLES[table].rows
    return dict.fromkeys(how.left_open) if isinstance(how, LinesOf) else {}


NO_WORK: Final[Mapping[str, Value]] = MappingProxyType(
    {"stage": "Work", "lacks": "labour (no row on Stages)"} | _open_in("product_stages")
)
NO_PACKAGING: Final[Mapping[str, Value]] = MappingProxyType(
    {"uses": "Packaging", "item_key": "", "lacks": "packaging (no row on Packaging)"}
    | _open_in("packaging")
)
"""What stands in the row of a product of whose work, or packaging, no row speaks."""


class Strays:
    """The rows of nobody's, by the sheet they stand on and each of their possible owners."""

    def __init__(self, book: Book) -> None:
        self.rows = {(each.record.sheet, each.record.row) for each in book.strays}
        self.by_owner: dict[tuple[str, str], list[Record]] = {}
        for stray in book.strays:
            most = max(1, MOST_ROWS // max(1, len(stray.owners)))
            for owner in stray.owners:
                found = self.by_owner.setdefault((stray.record.sheet, owner), [])
                if len(found) < most:
                    found.append(stray.record)
        self.watched: set[tuple[str, int]] = set()
        """Rows of nobody's of which one owner's counts whether the person has renamed it."""

    def __contains__(self, record: Record) -> bool:
        return (record.sheet, record.row) in self.rows

    def of(self, sheet: str, owner: str) -> list[Record]:
        """The rows of a sheet that may belong to a recipe or a product."""
        return self.by_owner.get((sheet, owner), [])

    def left_open(self, table: str, record: Record) -> dict[str, Value]:
        """The cells of a row of nobody's: its cost unknown, and what it lacks in words."""
        whose = {"lines": "line", "uses": "line", "packaging": "packaging"}.get(table, "work")
        what = record.text("stage") or record.text("uses") or whose.capitalize()
        lacks = ("lacks", "labour_lacks") if table == "uses" else ("lacks",)
        cells: dict[str, Value] = _open_in(table)
        cells |= dict.fromkeys(lacks, f"{what} (whose {whose}?)")
        row = record.sheet, record.row
        if row in self.watched:
            cells["renamed"] = Decimal(0)
        self.watched.add(row)
        return cells
