"""Which columns of Workings a change reaches, and which an answer rests on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Final

from costbook.definitions.columns import Table
from costbook.definitions.reads import ColumnAt, reads
from costbook.definitions.workings import TABLES

__all__ = ["TRIAL_ANSWERS", "TRIAL_CHANGES", "columns_between", "rests_on", "trial_columns"]

TRIAL_SETTINGS: Final = (
    "pay_per_hour",
    "on_costs",
    "target_margin",
    "price_step",
    "small_ingredient_allowance",
    "sales_tax",
    "kitchen_hire_per_hour",
    "booking_block_minutes",
    "batches_per_year",
)
TRIAL_CHANGES: Final[frozenset[ColumnAt]] = frozenset(
    {("prices_now", "price_per_pack"), *(("settings", name) for name in TRIAL_SETTINGS)}
)
"""What a trial may change: settings that weigh on a cost or a price, and pack prices."""

TRIAL_ANSWERS: Final[tuple[str, ...]] = (
    "total",
    "price_on_step",
    "price_now",
    "now_margin",
    "now_profit",
)
"""The figures of Prices that a trial is judged by."""


def rests_on(table: Table, column_name: str) -> Iterator[ColumnAt]:
    """The columns that a column reads directly."""
    read = reads(table.columns[table.index[column_name]].how)
    for name in read.beside:
        yield _beside(table, name)
    yield from read.elsewhere


def _beside(table: Table, name: str) -> ColumnAt:
    return (table.name, name) if name in table.index else ("settings", name)


def trial_columns() -> frozenset[ColumnAt]:
    """The columns that a trial both reaches and needs: those that are computed a second time."""
    return columns_between(TRIAL_CHANGES, TRIAL_ANSWERS)


@cache
def columns_between(changes: frozenset[ColumnAt], answers: tuple[str, ...]) -> frozenset[ColumnAt]:
    """The columns that changes reach and that answers, figures of Prices, rest on."""
    reads = {
        (table.name, column.name): frozenset(rests_on(table, column.name))
        for table in TABLES.values()
        for column in table.columns
    }
    needed = _closure(reads, (("prices", name) for name in answers))
    reached = set(changes)
    growing = True
    while growing:
        more = {at for at in needed - reached if reads[at] & reached}
        reached |= more
        growing = bool(more)
    return frozenset(reached & needed)


def _closure(reads: dict[ColumnAt, frozenset[ColumnAt]], of: Iterable[ColumnAt]) -> set[ColumnAt]:
    """The given columns and all that they rest on."""
    found: set[ColumnAt] = set()
    waiting = list(of)
    while waiting:
        at = waiting.pop()
        if at not in found:
            found.add(at)
            waiting.extend(reads[at])
    return found
