"""The rows of Workings as data: what each knows, and how they hang together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date

from costbook.book import Book, Record, Value

__all__ = ["Compute", "FigureKey", "Figures", "Row", "Structure"]

Figures = dict[str, Value]
"""One row's figures by column."""

FigureKey = tuple[str, int, str]
"""A figure, as a set can hold it: its table, the number of its row, and its column."""


@dataclass(slots=True)
class Row:
    """One row of a table of Workings.

    ``fixed`` has the cells that the run writes; ``sources`` the person's records by sheet;
    ``links`` a row of another table, by its name; ``children`` which rows of a table belong here.
    """

    table: str
    index: int
    fixed: dict[str, Value] = field(default_factory=dict)
    sources: dict[str, Record] = field(default_factory=dict)
    links: dict[str, Row] = field(default_factory=dict)
    children: dict[str, range] = field(default_factory=dict)


Compute = Callable[[Row, Figures], Value]
"""How one column of a row is computed, from the columns left of it."""


@dataclass(slots=True)
class Structure:
    """All rows, by table; ``order`` is an order in which they can be computed."""

    book: Book
    costed_on: date
    on_given: bool
    rows: dict[str, list[Row]]
    order: list[Row]
    loops: list[tuple[str, ...]]
    logs: Mapping[str, Mapping[int, Record]]
    """By sheet that is a log, its records by the rows they stand in."""

    @property
    def day_in_words(self) -> str:
        """The day that it is costed on, as the workbook writes its own."""
        return self.book.written(self.costed_on)

    @property
    def purchases(self) -> Mapping[int, Record]:
        """The receipts by the rows they stand in."""
        return self.logs["Purchases"]

    def at_first_outlet(self) -> list[Row]:
        """Each product's prices at the first outlet where it is sold."""
        first: dict[int, Row] = {}
        for row in self.rows["prices"]:
            first.setdefault(row.links["products"].index, row)
        return list(first.values())

    def one(self, table: str) -> Row:
        """The only row of a table that has one."""
        return self.rows[table][0]
