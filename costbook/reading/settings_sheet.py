"""Settings → its one record: a name and a value a row, wherever on the sheet they stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from costbook.book import Label, SheetAsRead
from costbook.definitions.fields import InputSheet
from costbook.definitions.marks import is_blank
from costbook.definitions.wordings import heading_words
from costbook.near_names import NearNames, did_you_mean
from costbook.problems import Severity
from costbook.reading.grid import Cell, Grid, column_letter
from costbook.reading.records import SheetReader
from costbook.reading.tables import heading_key
from costbook.reading.texts import quoted

__all__ = ["read_settings"]

_HEADINGS: Final = frozenset(
    {"setting", "settings", "value", "note", "notes", "einstellung", "wert", "reglage", "valeur"}
    | {"ajuste", "valor", "impostazione", "valore"}
)

_SAID_SINGLY: Final = 3
"""Rows that name no setting are said one by one up to so many."""

_VALUE_HEADINGS: Final = frozenset({"value", "wert", "valeur", "valor", "valore"})


def read_settings(reader: SheetReader) -> SheetAsRead:
    """The settings as one record. A row that names no setting is said, if it has a value."""
    known = _names(reader.sheet)
    column = _value_column(reader.grid)
    cells: dict[str, str] = {}
    labels: dict[str, Label] = {}
    raw: dict[str, Cell] = {}
    first = 0
    unknown: list[tuple[str, str]] = []
    for number, row in sorted(reader.grid.rows.items()):
        at, name = _named(row, known)
        if not name:
            unknown += _unknown(number, row)
        elif name in cells:
            _say_again(reader, f"{column_letter(at)}{number}", str(row[at]), cells[name])
        else:
            _say_near(reader, f"{column_letter(at)}{number}", str(row[at]), name)
            beside = column or _beside(row, at)
            cells[name] = f"{column_letter(beside)}{number}"
            labels[name] = Label(str(row[at]), column_letter(at), column_letter(beside))
            first = first or at
            if beside in row and not is_blank(reader.sheet.field(name), row[beside]):
                raw[name] = row[beside]
    _say_unknown(reader, unknown, any_known=bool(cells))
    currency = str(raw.get("currency", "")).strip().upper()
    reader.house = replace(reader.house, currency=currency)
    reader.learn(iter([raw]))
    record = reader.record(1, raw, cells)
    return SheetAsRead(
        reader.sheet.title,
        reader.grid.tab,
        (record,),
        named_in=column_letter(first),
        rows_named=reader.grid.filled_in(first),
        labels=labels,
    )


def _names(sheet: InputSheet) -> Mapping[str, str]:
    """Key → field's name, of every wording of every setting; the own titles win."""
    words = heading_words(sheet)
    near = {heading_key(word): each.name for each in sheet.fields for word in words[each.name]}
    return near | {heading_key(each.title): each.name for each in sheet.fields}


def _named(row: Mapping[int, Cell], known: Mapping[str, str]) -> tuple[int, str]:
    """The column and name of the setting that a row names; empty where it names none."""
    for at, cell in sorted(row.items()):
        if isinstance(cell, str) and heading_key(cell) in known:
            return at, known[heading_key(cell)]
    return 0, ""


def _value_column(grid: Grid) -> int:
    """The column that is headed as the values'; 0 where none is."""
    return next(
        (
            at
            for row in grid.rows.values()
            for at, cell in sorted(row.items())
            if isinstance(cell, str) and heading_key(cell) in _VALUE_HEADINGS
        ),
        0,
    )


def _beside(row: Mapping[int, Cell], at: int) -> int:
    """Without headings: the next column, or the one after it for a figure that stands there.

    A text further on is a note, never a value.
    """
    further = at + 1 not in row and at + 2 in row and not isinstance(row[at + 2], str)
    return at + 2 if further else at + 1


def _say_near(reader: SheetReader, cell: str, typed: str, name: str) -> None:
    title = reader.sheet.field(name).title
    if heading_key(typed) != heading_key(title):
        reader.say(
            Severity.DOUBTFUL,
            cell,
            f'{quoted(typed)} was read as the setting "{title}".',
            "Rename it if that is not what it is.",
        )


def _say_again(reader: SheetReader, cell: str, typed: str, first: str) -> None:
    reader.say(
        Severity.DOUBTFUL,
        cell,
        f"{quoted(typed)} stands here a second time; {first} counts.",
        "Delete one of the two.",
    )


def _unknown(number: int, row: Mapping[int, Cell]) -> list[tuple[str, str]]:
    """The cell and the text of a row that names something, with something beside it."""
    texts = [(at, cell) for at, cell in sorted(row.items()) if isinstance(cell, str)]
    if len(row) < 2 or not texts or heading_key(texts[0][1]) in (_HEADINGS | {""}):
        return []
    at, first = texts[0]
    return [(f"{column_letter(at)}{number}", first)]


def _say_unknown(reader: SheetReader, rows: Sequence[tuple[str, str]], *, any_known: bool) -> None:
    """Say each row that names no setting; many, as on a sheet that is for something else, once."""
    names = NearNames(each.title for each in reader.sheet.fields)
    strange = [each for each in rows if not (any_known and names.nearest(each[1]))]
    at_once = strange if len(strange) > _SAID_SINGLY else []
    for cell, text in rows:
        if (cell, text) not in at_once:
            reader.say(
                Severity.DOUBTFUL,
                cell,
                f"no setting is called {quoted(text)}, so this row was not read.",
                did_you_mean(text, names, "Remove the row, or put a note beside a setting."),
            )
    if at_once:
        some = ", ".join(quoted(text) for _, text in at_once[:_SAID_SINGLY])
        reader.say(
            Severity.DOUBTFUL,
            at_once[0][0],
            f"from here on {len(at_once)} rows name no setting ({some} …), so they were not read.",
            "Move them to a sheet of your own."
            if any_known
            else "If this sheet is for something else, give its tab another name.",
        )
