"""Ditto marks: cells that repeat the cell above, as people write them by hand.

The formulas know them too: see ``lookups.row_of_name`` for Purchases; elsewhere a formula reads
the cell that is repeated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Final

from costbook.book import Record, Value
from costbook.definitions.fields import InputSheet, Kind
from costbook.definitions.marks import is_ditto
from costbook.problems import Severity
from costbook.reading.rows import RowKind, TableRow

__all__ = ["marks_read", "with_dittos_repeated"]

_REPEATED: Final = (Kind.NAME, Kind.DATE, Kind.CHOICE)
"""Kinds of cell that a mark may stand in: a number is typed anew, and beside it " is an inch."""


def with_dittos_repeated(
    sheet: InputSheet, rows: Iterable[TableRow], heading_row: int
) -> Iterator[TableRow]:
    """The rows, each mark replaced by what it repeats; one that repeats nothing is taken out."""
    above: TableRow | None = None
    for row in rows:
        repeated = row
        if row.kind is not RowKind.ELSEWHERE:
            if above is not None and above.number != row.number - 1:
                above = None
            repeated = _repeated(sheet, row, above, heading_row)
        yield repeated
        above = repeated


def _repeated(
    sheet: InputSheet, row: TableRow, above: TableRow | None, heading_row: int
) -> TableRow:
    marked = [
        each for each in sheet.fields if each.kind in _REPEATED and is_ditto(row.raw.get(each.name))
    ]
    if not marked:
        return row
    raw, repeats = dict(row.raw), dict(row.repeats)
    for each in marked:
        name = each.name
        there = above.raw.get(name) if above else None
        if each.kind is Kind.CHOICE and (there is None or is_ditto(there)):
            continue  # asked as a word that is no choice
        up = row.number - 1
        repeats[name] = (above.repeats.get(name, up) if above else up) if up > heading_row else 0
        raw.pop(name)
        if there is not None:
            raw[name] = there
    return replace(row, raw=raw, repeats=repeats)


def marks_read(
    line: TableRow, record: Record, say: Callable[[Severity, str, str, str], None]
) -> Record:
    """A line's record, with what its ditto marks repeat; each mark is said."""
    if not line.repeats:
        return record
    nothing: dict[str, Value] = {}
    for name in line.repeats:
        if name in line.raw:
            what = "this was read as a ditto mark: it repeats the cell above."
            say(Severity.DOUBTFUL, record.cells[name], what, "Nothing, if that is right.")
        else:
            nothing[name] = None
            what = "this was read as a ditto mark, and there is nothing above that it repeats."
            say(Severity.WRONG, record.cells[name], what, "Type what is meant.")
    return replace(record, values={**record.values, **nothing}, repeats=line.repeats)
