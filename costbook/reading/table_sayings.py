"""What is said of a table: its headings, the columns that weren't read, rows that are no lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from costbook.definitions.fields import InputSheet
from costbook.near_names import NearNames
from costbook.problems import Place, Problem, Severity
from costbook.reading.grid import Grid, column_letter
from costbook.reading.rows import RowKind, TableRow
from costbook.reading.saying import no_heading
from costbook.reading.tables import FoundTable
from costbook.reading.texts import quoted

__all__ = ["of_columns", "of_headings", "of_rows"]

_MOST_NAMED = 8
"""Columns that were not read and are called by their names."""


def of_headings(sheet: InputSheet, grid: Grid, table: FoundTable) -> Iterator[Problem]:
    """Headings that are missing, in other words, or there twice."""
    tab = grid.tab
    fields = {each.name: each for each in sheet.fields}
    unread = NearNames(text for text in table.unread.values() if text.strip())
    for missing in table.missing:
        near = unread.nearest(missing.title, close=0.7)
        block = _heads_a_block(grid, table) if missing.name == "recipe" and not near else ""
        if sheet.title == "Recipes" and block:
            remedy = (
                "One block a recipe is not read: put this heading before the lines, and "
                f"{quoted(block)} below it in each line."
            )
            yield no_heading(tab, table.heading_row, missing, remedy=remedy)
        else:
            yield no_heading(tab, table.heading_row, missing, near)
    for name, at in table.near.items():
        heading = quoted(table.headings[at].text)
        yield Problem(
            Severity.DOUBTFUL,
            _place(tab, table, at),
            f'the heading {heading} was read as "{fields[name].title}".',
            "Rename the heading if that is not what it is.",
        )
    for name, at in table.twice.items():
        yield Problem(
            Severity.DOUBTFUL,
            _place(tab, table, at),
            f'another column is headed "{fields[name].title}" or the like: '
            f"column {column_letter(table.columns[name])} was read, not this one.",
            "Rename one of them, if the wrong one was read.",
        )


def _heads_a_block(grid: Grid, table: FoundTable) -> str:
    """The text that stands alone in the row above a table, as a recipe's name above its lines."""
    first = min(heading.row for heading in table.headings.values())
    row = grid.rows.get(max((number for number in grid.rows if number < first), default=0), {})
    cells = list(row.values())
    return cells[0] if len(cells) == 1 and isinstance(cells[0], str) else ""


def of_columns(
    sheet: InputSheet, grid: Grid, table: FoundTable, lines: Sequence[TableRow]
) -> Iterator[Problem]:
    """Columns that weren't read: one whose heading is nearly one of ours, and all others once."""
    free = [
        each.title for each in sheet.fields if each.name not in table.columns and not each.needed
    ]
    names = NearNames(free)
    others: list[int] = []
    for at, text in table.unread.items():
        near = names.nearest(text.strip(), close=0.8)
        if near:
            yield Problem(
                Severity.DOUBTFUL,
                _place(grid.tab, table, at),
                f"the heading {quoted(text)} is not known, so its column was not read.",
                f'Did you mean "{near}"?',
            )
        elif any(at in grid.rows[line.number] for line in lines):
            others.append(at)
    if others:
        yield _not_read(grid.tab, table, sorted(others))


def _not_read(tab: str, table: FoundTable, columns: Sequence[int]) -> Problem:
    """The columns that mean nothing here, in one sentence."""
    named = ", ".join(quoted(table.unread[at]) for at in columns[:_MOST_NAMED])
    more = f" and {len(columns) - _MOST_NAMED} more" if len(columns) > _MOST_NAMED else ""
    what = "this column was" if len(columns) == 1 else "these columns were"
    return Problem(
        Severity.DOUBTFUL,
        _place(tab, table, columns[0]),
        f"{what} not read: {named}{more}.",
        "Nothing, if no cost stands there.",
    )


def of_rows(tab: str, rows: Sequence[TableRow]) -> Iterator[Problem]:
    """Rows that were taken for something else than lines of the table."""
    taken = {
        RowKind.TOTALS: "this row was taken for totals, and left out.",
        RowKind.NOTE: "this row was taken for a note, and left out.",
    }
    for row in rows:
        if row.kind in taken:
            yield Problem(
                Severity.DOUBTFUL,
                Place(tab, f"A{row.number}"),
                taken[row.kind],
                "If it is a line of the table, fill in its other cells.",
            )
    far = next((row for row in rows if row.kind is RowKind.ELSEWHERE), None)
    if far:
        yield Problem(
            Severity.DOUBTFUL,
            Place(tab, f"A{far.number}"),
            "from this row on, nothing was read as part of the table above.",
            "If it belongs to it, move it up against the table's last row.",
        )


def _place(tab: str, table: FoundTable, at: int) -> Place:
    """Where the heading of a column stands."""
    return Place(tab, f"{column_letter(at)}{table.headings[at].row}")
