"""What a person can move, beside prices and settings: each a tenth less and a tenth more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.costing.engine import Costing
from costbook.costing.rows import FigureKey, Row
from costbook.deciding.trial import TRIAL_SETTINGS

__all__ = ["TENTH", "Movable", "movable"]

TENTH: Final = Decimal("0.1")

MOVE_NO_PROFIT: Final = ("target_margin", "price_step")
"""Settings that say what to charge, and move nothing at today's prices."""


@dataclass(frozen=True, slots=True)
class Movable:
    """An input as a person knows it, and its figures: where each stands, what it is a tenth
    less, now, and a tenth more.
    """

    name: str
    cells: tuple[tuple[FigureKey, tuple[Decimal, Decimal, Decimal]], ...]


def movable(costing: Costing, outlets: Iterable[Row]) -> Iterator[Movable]:
    """Everything that moves profit at some outlets and that a person has a hand in, but for prices.

    What isn't known, or nothing, has no tenth.
    """
    for field in TRIAL_SETTINGS:
        if field.name not in MOVE_NO_PROFIT:
            yield from _of_row(costing, costing.structure.one("settings"), field.title, field.name)
    for outlet in outlets:
        where = f" at {outlet.fixed['outlet']}" if outlet.fixed["outlet"] else ""
        yield from _of_row(costing, outlet, f"Units sold a day{where}", "units_sold_per_day")
        yield from _of_row(costing, outlet, f"Hours a day{where}", "hours_per_day")
    for table in ("stages", "product_stages"):
        for row in costing.structure.rows[table]:
            name = f"Minutes: {row.fixed['stage']}, {row.fixed['recipe']}"
            yield from _of_row(costing, row, name, "minutes_per_batch", "minutes_per_unit")
    for row in costing.structure.rows["items"]:
        record = row.sources.get("Items")
        if record is not None and "usable_share" in record.values:
            name = f"Usable share: {row.fixed['item']}"
            yield from map(_up_to_all, _of_row(costing, row, name, "usable_share"))
    for row in costing.structure.rows["packs"]:
        yield from _of_row(costing, row, f"Not sold: {row.fixed['product']}", "not_sold")


def _of_row(costing: Costing, row: Row, name: str, *columns: str) -> Iterator[Movable]:
    """An input that stands in some columns of a row."""
    figures = costing.of(row)
    found = [
        ((row.table, row.index, column), _tenths(value))
        for column in columns
        if isinstance(value := figures[column], Decimal) and value
    ]
    if found:
        yield Movable(name, tuple(found))


def _up_to_all(share: Movable) -> Movable:
    """A usable share that is trimmed, all of it at most; cooking can gain more."""
    cells = tuple(
        (cell, (less, now, min(more, Decimal(1)) if now <= 1 else more))
        for cell, (less, now, more) in share.cells
    )
    return Movable(share.name, cells)


def _tenths(value: Decimal) -> tuple[Decimal, Decimal, Decimal]:
    return value * (1 - TENTH), value, value * (1 + TENTH)
