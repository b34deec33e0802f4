"""How a figure came about: the chain from a price down to the receipts.

Each step has the rule in words, its numbers, and the cell on Workings or of the person's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, assert_never

from costbook.book import Record, Value
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.definitions.columns import (
    AsCosted,
    Computed,
    CountInText,
    FirstText,
    Fixed,
    Given,
    How,
    Key,
    LookedUp,
    Over,
    Renamed,
    RowOf,
    RowsNow,
    Show,
    StandsOn,
    Today,
    Totalled,
    TotalledWhere,
    UnitFact,
    UnitRow,
    Worth,
)
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.words import words
from costbook.definitions.workings import TABLES

__all__ = ["FIGURES", "Step", "explain", "figure_named"]

FIGURES = {
    column.name: column.heading
    for column in TABLES["prices"].columns
    if column.show is not Show.TEXT
}
"""The figures of a product that can be explained: name → heading."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of an explanation, some levels deep."""

    depth: int
    name: str
    value: Value
    show: Show
    rule: str = ""
    cell: str = ""
    subject: str = ""


def figure_named(text: str) -> str | None:
    """The figure a person means by a name such as "Price on step" or "selling"."""
    plain = text.strip().lower().replace("_", " ")
    for name, heading in FIGURES.items():
        if plain in (name.replace("_", " "), heading.lower()):
            return name
    return None


def explain(costing: Costing, price: Row, figure: str) -> Iterator[Step]:
    """The steps from a figure of a product at an outlet down to the person's cells."""
    explainer = _Explainer(costing)
    waiting: list[Asked] = [(price, figure, 0)]
    while waiting:  # a stack of our own: recipes may be nested deeper than Python calls may be
        step, below = explainer.step(*waiting.pop())
        yield step
        waiting.extend(reversed(below))


Asked = tuple[Row, str, int]
"""A figure to be told: its row, its column, and how many levels deep."""


Told = tuple[str, str, list[tuple[Row, str]]]
"""A figure's rule in words, the person's cell it is read from, and the figures it rests on."""


class _Explainer:
    """Tells a figure, and which it rests on; each figure is told once."""

    def __init__(self, costing: Costing) -> None:
        self.costing = costing
        self.told: set[tuple[str, int, str]] = set()

    def step(self, row: Row, name: str, depth: int) -> tuple[Step, list[Asked]]:
        """One figure, and what comes below it."""
        there = self._where_computed(row, name)
        if there is None:
            column = TABLES[row.table].columns[TABLES[row.table].index[name]]
            heading, show = column.heading, column.show
            return Step(depth, heading, None, show, "leads nowhere", "", _subject(row)), []
        row, name = there
        column = TABLES[row.table].columns[TABLES[row.table].index[name]]
        key = (row.table, row.index, name)
        rule, cell, below = "as above", "", list[Asked]()
        if key not in self.told:
            self.told.add(key)
            rule, cell, rests_on = self._told(row, column.how)
            rule = str(row.fixed["lacks"]) if _left_open(row, name) else rule
            below = [] if name in row.fixed else [(*at, depth + 1) for at in rests_on]
        value, subject = self.costing.of(row)[name], _subject(row)
        return Step(depth, column.heading, value, column.show, rule, cell, subject), below

    def _where_computed(self, row: Row, name: str) -> tuple[Row, str] | None:
        """Where a figure is not merely looked up; None where a look-up leads nowhere."""
        while True:
            if name not in TABLES[row.table].index:
                row = self.costing.structure.one("settings")
            table = TABLES[row.table]
            how = table.columns[table.index[name]].how
            if not isinstance(how, LookedUp) or name in row.fixed:
                return row, name
            only = TABLES[how.table].has_one_row
            link = self.costing.structure.one(how.table) if only else row.links.get(how.table)
            if link is None:
                return None
            row, name = link, how.column

    def _told(self, row: Row, how: How) -> Told:
        """How a figure comes about: in words, the person's cell, and the figures it rests on."""
        match how:
            case Computed():
                names = (name for name in how.arguments if self._is_worth_telling(row, name))
                return _in_words(how), "", [(row, name) for name in names]
            case Totalled():
                manner = "the sum of" if not how.known else "the sum of what is known of"
                rows = self.costing.structure.rows[how.table]
                own = row.children.get(how.table, ())
                return manner, "", [(rows[at], how.column) for at in own]
            case FirstText():
                return "the first of", "", []
            case Given():
                sheet = INPUT_SHEETS[how.sheet]
                manner = f"{sheet.title}, {sheet.field(how.field).title}"
                return manner, self._cell(row, how), []
            case UnitRow():
                return "", self._cell(row, how), []
            case Fixed() | Today() | AsCosted() | RowsNow() | StandsOn() | RowOf() | Renamed():
                return "", "", []
            case (
                CountInText() | Key() | LookedUp() | TotalledWhere() | UnitFact() | Worth() | Over()
            ):
                return "", "", []
            case _:
                assert_never(how)

    def _is_worth_telling(self, row: Row, name: str) -> bool:
        """Not texts, not the numbers of measures, and no bridge or share that changes nothing."""
        if name in _INNER or self._is_text(row, name):
            return False
        there = self._where_computed(row, name)
        if there is None:
            return True
        value = self.costing.of(there[0])[there[1]]
        if name in _PLAIN_AT_ONE and value == 1:
            return False
        table = TABLES[there[0].table]
        how = table.columns[table.index[there[1]]].how
        blank = isinstance(how, Given) and value is not None and not self._is_filled(there[0], how)
        return not blank

    def _is_filled(self, row: Row, how: Given) -> bool:
        """Did the person fill in the cell that a figure is read from?"""
        record = self._record(row, how)
        return record is not None and how.field in record.values

    def _is_text(self, row: Row, name: str) -> bool:
        table = TABLES[row.table]
        if name not in table.index:
            table = TABLES["settings"]
        return table.columns[table.index[name]].show is Show.TEXT

    def _cell(self, row: Row, how: Given | UnitRow) -> str:
        """The person's cell that a figure was read from."""
        record = self._record(row, how)
        if record is None or how.field not in record.cells:
            return ""
        tab = self.costing.structure.book.sheets[record.sheet].tab
        return f"{tab}!{record.cells[how.field]}"

    def _record(self, row: Row, how: Given | UnitRow) -> Record | None:
        if not how.at_row:
            return row.sources.get(how.sheet)
        number = self.costing.of(row)[how.at_row]
        purchases = self.costing.structure.purchases
        return purchases.get(int(number)) if isinstance(number, Decimal) else None


_INNER: Final = frozenset({"measure", "price_measure", "lines", "unit_row", "large_unit_size"})
_PLAIN_AT_ONE: Final = frozenset(
    {"bridge", "usable_bridge", "applied_usable_share", "unit_factor", "before_bridge"}
)


def _left_open(row: Row, name: str) -> bool:
    """Whether a figure is one that a row of nobody's, or of nothing said, leaves open."""
    return "lacks" in row.fixed and name in row.fixed and row.fixed[name] is None


def _in_words(how: Computed) -> str:
    """A rule in words; of one that weighs cases, what it is about."""
    if not how.meets_unknowns:
        return words(how.term())
    sentence = " ".join((how.rule.__doc__ or "").split()).partition(". ")[0]
    return sentence.partition(" [")[0].rstrip(".:")


_SUBJECTS = ("stage", "uses", "cost", "item", "recipe", "product", "outlet")


def _subject(row: Row) -> str:
    """What a row is about: the line, the item, the recipe."""
    for name in _SUBJECTS:
        if isinstance(row.fixed.get(name), str):
            return str(row.fixed[name])
    return ""
