"""Descriptions of sheets → plain data that can travel as JSON, for anything that draws cells.

What needs looking at a sheet as a whole is worked out here: which looks there are, how high rows
are, where pages begin, and where links lead.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any, Final

from costbook.book import Value
from costbook.writing.description import (
    BarChart,
    CellContent,
    Chart,
    ColumnChart,
    Look,
    Role,
    Series,
    SheetDescription,
    places_by_anchor,
)
from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.looks import appearance, marked, number_format
from costbook.writing.paper import MARGINS, page_breaks, row_heights

__all__ = ["VERSION", "plain"]

VERSION: Final = 1
"""Of the shape below: whoever draws looks at it first."""


def plain(
    sheets: Sequence[SheetDescription], places: int, day_code: str = "", *, from_1904: bool = False
) -> dict[str, Any]:
    """The sheets as lists, texts and numbers; money has this many decimal places.

    ``day_code`` is the number format of days.

    ``looks`` and ``marks`` are tables of appearances (``looks.appearance`` says in which words) to
    which cells and conditions refer by number; rows and columns count from 0, an area is its first
    row and column and its last. A cell is its column, look, value, formula and link; what is empty
    at its end is left out; the value of a formula is null where it is unknown. A formula is as a
    file of ISO/IEC 29500 holds it, and a link is the address of a cell. Heights are points, widths
    letters, sizes of charts pixels.
    """
    looks = _Looks(places, day_code)
    anchors = {
        name: f"{sheet_name(sheet.tab)}!{column_letters(column)}{row + 1}"
        for name, (sheet, row, column) in places_by_anchor(sheets).items()
    }
    said = [_sheet(sheet, looks, anchors, places) for sheet in sheets]
    return {
        "version": VERSION,
        "days_from_1904": from_1904,
        "looks": looks.table,
        "marks": [marked(role) for role in looks.roles],
        "sheets": said,
    }


class _Looks:
    """The looks in use, each once, by number."""

    def __init__(self, places: int, day_code: str) -> None:
        self.places = places
        self.day_code = day_code
        self.table: list[dict[str, Any]] = []
        self.roles: dict[Role, int] = {}
        self.numbers: dict[tuple[Look, bool], int] = {}
        self.seen: dict[int, tuple[Look, int]] = {}

    def of(self, look: Look, *, leads_on: bool = False) -> int:
        """The number of a look; texts that lead somewhere have one of their own."""
        if leads_on:
            return self._numbered(look, leads_on=True)
        # a large sheet has few looks and many cells, and to hash a look takes long; a look that is
        # kept here lives on, so that no other gets the same id
        found = self.seen.get(id(look))
        if found is None:
            found = self.seen[id(look)] = look, self._numbered(look, leads_on=False)
        return found[1]

    def _numbered(self, look: Look, *, leads_on: bool) -> int:
        key = look, leads_on
        if key not in self.numbers:
            self.numbers[key] = len(self.table)
            self.table.append(appearance(look, self.places, self.day_code, leads_on=leads_on))
        return self.numbers[key]

    def of_mark(self, role: Role) -> int:
        """The number of what a mark lays over a cell's own look."""
        return self.roles.setdefault(role, len(self.roles))


def _sheet(
    sheet: SheetDescription, looks: _Looks, anchors: Mapping[str, str], places: int
) -> dict[str, Any]:
    heights = row_heights(sheet)
    return {
        "title": sheet.title,
        "tab": sheet.tab,
        "hidden": sheet.hidden,
        "rows": [
            [row, [_cell(cell, looks, anchors) for cell in cells.values()]]
            for row, cells in sheet.rows.items()
        ],
        "widths": [
            [column, width, looks.of(Look(Role.LABEL, show)) if show else None]
            for column, width in sheet.widths.items()
            for show in (sheet.column_shows.get(column),)
        ],
        "heights": list(map(list, heights.items())),
        "merged": list(map(list, sheet.merged)),
        "marks": [[*mark.area, mark.when, looks.of_mark(mark.role)] for mark in sheet.marks],
        "notes": [[*place, note] for place, note in sheet.notes.items()],
        "choices": [
            [each.first_row, each.last_row, each.column, each.source or list(each.options)]
            for each in sheet.choices
        ],
        "charts": [_chart(chart, places) for chart in sheet.charts],
        "frozen": list(sheet.frozen),
        "page": {
            "landscape": sheet.landscape,
            "wide": sheet.pages_wide,
            "begins_at": page_breaks(sheet, heights),
            "repeated_rows": _listed(sheet.repeated_rows),
            "repeated_columns": _listed(sheet.repeated_columns),
            "margins": MARGINS,
        },
    }


def _cell(cell: CellContent, looks: _Looks, anchors: Mapping[str, str]) -> list[Any]:
    link = cell.link
    if link.startswith("#"):
        link = anchors.get(link[1:], "")
    said: list[Any] = [cell.column, looks.of(cell.look, leads_on=bool(link))]
    if link:
        return [*said, _value(cell.value), cell.formula, link]
    if cell.formula:
        return [*said, _value(cell.value), cell.formula]
    return said if cell.value is None else [*said, _value(cell.value)]


def _value(value: Value) -> float | str | None:
    return float(value) if isinstance(value, Decimal) else value


def _listed(numbers: Iterable[int] | None) -> list[int] | None:
    return None if numbers is None else list(numbers)


def _chart(chart: Chart, places: int) -> dict[str, Any]:
    lying = isinstance(chart, BarChart)
    whole = isinstance(chart, BarChart) and chart.whole
    return {
        "kind": "bars" if lying else "columns" if isinstance(chart, ColumnChart) else "lines",
        "whole": whole,
        "title": chart.title,
        "unit": chart.unit,
        "along": "" if isinstance(chart, BarChart) else chart.category_title,
        "categories": list(chart.categories),
        "series": list(_series(chart.parts if isinstance(chart, BarChart) else chart.series)),
        "figures": "0%" if whole else number_format(Look(show=chart.show), places),
        "begins": float(chart.begins) if isinstance(chart, BarChart) else 0.0,
        "at": [chart.at_row, chart.at_column],
        "size": [chart.width, chart.height],
    }


def _series(series: Iterable[Series]) -> Iterator[dict[str, Any]]:
    for each in series:
        yield {
            "name": each.name if isinstance(each.name, str) else list(each.name),
            "values": list(each.values),
            "labels": list(each.labels),
            "unseen": each.unseen,
        }
