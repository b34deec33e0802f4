"""The rows of whole tables, filed by what they are looked for by: columns that look through all."""

from __future__ import annotations

import operator
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import assert_never

from costbook.book import NOBODY, Value
from costbook.costing.rows import Compute, Figures, Row
from costbook.definitions.algebra import UNKNOWN
from costbook.definitions.columns import Compared, Fold, Over, Same, Sign

__all__ = ["Filed"]

Filing = Mapping[tuple[Value, ...], Sequence[Figures]]
"""The rows of a table by their figures in some of its columns."""


class Filed:
    """Finds the rows of a table that pass; each table is whole before anybody asks for its rows.

    Rows are filed by the columns in which they must equal the row that asks, so that only those
    few are looked through.
    """

    def __init__(self, figures: Mapping[str, Sequence[Figures]]) -> None:
        self.figures = figures
        self.filings: dict[tuple[str, ...], Filing] = {}

    def over(self, how: Over) -> Compute:
        """How a row gets its figure from all rows of a table."""
        fold, passing = _folding(how.fold), self._passing(how)
        without: Value = None if how.without is UNKNOWN else how.without

        def over(_row: Row, figures: Figures) -> Value:
            for name in how.numbers:
                if not isinstance(figures[name], Decimal):
                    return without
            for name in how.named:
                if figures[name] == NOBODY:
                    return fold(())
            return fold(passing(figures))

        return over

    def _passing(self, how: Over) -> Callable[[Figures], list[Value]]:
        """How a row finds the figures of the rows that pass for it."""
        equal = [each for each in how.criteria if isinstance(each, Same) or each.sign == "="]
        keys = [(each.own, each.bound if isinstance(each, Compared) else None) for each in equal]
        compared = [
            (each.column, _comparing(each.sign), each.own, each.bound)
            for each in how.criteria
            if isinstance(each, Compared) and each.sign != "="
        ]
        table, column, columns = how.table, how.column, tuple(each.column for each in equal)

        def passing(figures: Figures) -> list[Value]:
            key = tuple([bound(figures[own]) if bound else figures[own] for own, bound in keys])
            rows = self._filed(table, columns).get(key, ())
            for name, holds, own, bound in compared:
                limit = bound(figures[own])
                rows = [
                    row
                    for row in rows
                    if isinstance(number := row[name], Decimal) and holds(number, limit)
                ]
            return [row[column] for row in rows]

        return passing

    def _filed(self, table: str, columns: tuple[str, ...]) -> Filing:
        """The rows of a table by some of its columns, filed once."""
        at = (table, *columns)
        if at not in self.filings:
            filing: dict[tuple[Value, ...], list[Figures]] = defaultdict(list)
            for figures in self.figures[table]:
                filing[tuple([figures[name] for name in columns])].append(figures)
            self.filings[at] = filing
        return self.filings[at]


def _folding(fold: Fold) -> Callable[[Sequence[Value]], Value]:
    zero = Decimal(0)
    match fold:
        case "largest":
            return lambda found: max(_known(found), default=zero)
        case "least":
            return lambda found: min(_known(found), default=zero)
        case "total":
            return lambda found: sum(_known(found), zero)
        case "count":
            return lambda found: Decimal(sum(1 for _ in _known(found)))
        case "all":
            return _of_all
        case "every":
            return lambda found: _of_all(found) if found else zero
        case "only":
            return lambda found: _of_all(found) if len(found) == 1 else None
        case _:
            assert_never(fold)


def _known(found: Iterable[Value]) -> Iterator[Decimal]:
    return (value for value in found if isinstance(value, Decimal))


def _of_all(found: Sequence[Value]) -> Value:
    known = list(_known(found))
    return sum(known, Decimal(0)) if known and len(known) == len(found) else None


def _comparing(sign: Sign) -> Callable[[Decimal, Decimal], bool]:
    match sign:
        case "<":
            return operator.lt
        case "<=":
            return operator.le
        case ">":
            return operator.gt
        case "=":
            return operator.eq
        case _:
            assert_never(sign)
