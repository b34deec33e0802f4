"""A recipe's name that stands only on the first line of its block: the lines below it are its.

A row without a name, directly under a row that has one (or is read as having one), bears that
name. After an empty row, a total or a note, nobody knows whose a row is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Final

from costbook.definitions.fields import Field, InputSheet
from costbook.problems import Severity
from costbook.reading.answers import as_text
from costbook.reading.rows import RowKind, TableRow
from costbook.reading.texts import quoted

__all__ = ["name_above_read", "with_names_above"]

_IN_BLOCKS: Final = ("Recipes", "Stages", "Packaging")
"""Sheets on which several rows bear one name, so that people type it once."""


def with_names_above(sheet: InputSheet, rows: Iterable[TableRow]) -> Iterator[TableRow]:
    """The rows, each without a name bearing that of the row it stands under."""
    if sheet.title not in _IN_BLOCKS:
        yield from rows
        return
    name, above = sheet.naming_field.name, None
    for row in rows:
        here = row
        if above and row.kind is RowKind.LINE and row.number == above.number + 1:
            here = _under(row, above, name)
        yield here
        named = here.kind is RowKind.LINE and isinstance(here.raw.get(name), str)
        above = here if named else None


def _under(row: TableRow, above: TableRow, name: str) -> TableRow:
    """A row as it stands under another: with that one's name, where it has none of its own."""
    if name in row.raw or set(row.raw) <= {"note"}:
        return row
    there = above.named_in or above.repeats.get(name, above.number)
    return replace(row, raw={**row.raw, name: above.raw[name]}, named_in=there)


def name_above_read(
    line: TableRow,
    cells: Mapping[str, str],
    naming: Field,
    say: Callable[[Severity, str, str, str], None],
) -> dict[str, str]:
    """The cell above in which a line's name stands, if it does; and that is said."""
    if not line.named_in:
        return {}
    own, above = cells[naming.name], quoted(as_text(line.raw[naming.name]))
    what = f"the row has no {naming.title}, so it was read as a row of {above}, above it."
    say(Severity.DOUBTFUL, own, what, "Fill in its own, if it belongs to another.")
    return {naming.name: own.removesuffix(str(line.number)) + str(line.named_in)}
