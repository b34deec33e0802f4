"""Rows that are nobody's, and parts that no row speaks of: whatever they may cost is unknown.

Each recipe or product that a row may belong to is given it, with its cost left open, so that
engine and sheets find a gap there and no smaller sum.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from costbook.book import Book, Record, Value
from costbook.costing.names import grouped
from costbook.costing.needs import Add
from costbook.costing.rows import Row

__all__ = ["NO_PACKAGING", "NO_WORK", "Strays", "add_stages", "left_open"]

MOST_ROWS: Final = 2_000
"""Rows that one stray name may be given to all of its possible owners; a hundred rows of nobody's
leave nothing more unknown than the first."""

NO_WORK: Final[Mapping[str, Value]] = MappingProxyType(
    {"stage": "Work", "lacks": "labour (no row on Stages)"}
)
NO_PACKAGING: Final[Mapping[str, Value]] = MappingProxyType(
    {"uses": "Packaging", "item_key": "", "lacks": "packaging (no row on Packaging)"}
)
"""What stands in the row of a product that others' sheets say nothing of."""

_OPEN: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "lines": ("amount_as_bought", "line_cost"),
        "packaging": ("amount_as_bought", "line_cost"),
        "uses": ("share_of_batch",),
        "stages": ("work_minutes", "person_minutes"),
        "product_stages": ("work_minutes", "person_minutes"),
    }
)
"""The figures of each table that a row of nobody's leaves open; all others rest on them."""


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

        stages = (stage for stage in book.records("Stages") if stage not in self)
        self.own_stages = grouped(stages, "recipe")

    def __contains__(self, record: Record) -> bool:
        return (record.sheet, record.row) in self.rows

    def of(self, sheet: str, owner: str) -> list[Record]:
        """The rows of a sheet that may belong to a recipe or a product."""
        return self.by_owner.get((sheet, owner), [])

    def stages(self, owner: str) -> Stages:
        """The steps of work of a recipe or a product, and those that may be its."""
        return self.own_stages.get(owner, []), self.of("Stages", owner)


Stages = tuple[Sequence[Record], Sequence[Record]]
"""Steps of work that are somebody's, and steps that may be."""


def add_stages(
    add: Add, table: str, name: Value, stages: Stages, links: Mapping[str, Row | None]
) -> None:
    """The rows of the steps of work of a recipe, or on a product's packs."""
    sure, perhaps = stages
    for record in sure:
        fixed: dict[str, Value] = {"recipe": name, "stage": record.text("stage")}
        add(table, fixed, {"Stages": record}, links)
    for record in perhaps:
        fixed = {"recipe": name, "stage": record.text("stage")}
        add(table, fixed | left_open(table, record.text("stage")), {"Stages": record}, links)


def left_open(table: str, what: str) -> dict[str, Value]:
    """The cells of a row of nobody's: its cost unknown, and what it lacks in words."""
    whose = "work" if table.endswith("stages") else "packaging" if table == "packaging" else "line"
    lacks = f"{what or whose.capitalize()} (whose {whose}?)"
    cells: dict[str, Value] = dict.fromkeys(_OPEN[table])
    return cells | dict.fromkeys(
        ("lacks", "labour_lacks") if table == "uses" else ("lacks",), lacks
    )
