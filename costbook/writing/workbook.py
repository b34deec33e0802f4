"""Descriptions of sheets → a workbook in memory: the only module that knows XlsxWriter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from decimal import Decimal
from functools import cache
from io import BytesIO
from typing import Any, Final

from costbook.book import Value
from costbook.definitions.columns import Show
from costbook.writing.charts import kind_of, setting_of
from costbook.writing.description import (
    CellContent,
    Chart,
    Look,
    Mark,
    Role,
    SheetDescription,
    places_by_anchor,
)
from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.looks import marked, number_format, properties
from costbook.writing.paper import MARGINS, page_breaks, row_heights

__all__ = ["draw"]

UNCOSTED_DATE: Final = datetime(2026, 1, 1, tzinfo=UTC)
"""A fixed creation date, so that the same figures give the same file."""

A4: Final = 9
"""XlsxWriter's number of the paper."""


class _Empty(str):
    """An empty text that XlsxWriter stores as a text: it takes a plain one for no value."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        return False

    __hash__ = str.__hash__


_EMPTY: Final = _Empty()
_PLAIN: Final = Look()


def draw(sheets: Sequence[SheetDescription], places: int, *, from_1904: bool = False) -> bytes:
    """Draw the sheets into a workbook of their own; money has this many decimal places.

    Dates are described as the numbers of their days; ``from_1904`` says from when these count.
    """
    import xlsxwriter  # needed only by the commands that write

    content = BytesIO()
    told = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(content, told | {"date_1904": from_1904})
    book.set_properties({"created": UNCOSTED_DATE})
    book.set_calc_mode("auto")
    formats = _Formats(book, places)
    anchors = {
        name: f"{sheet_name(sheet.tab)}!{column_letters(column)}{row + 1}"
        for name, (sheet, row, column) in places_by_anchor(sheets).items()
    }
    for sheet in sheets:
        _draw_sheet(book, sheet, formats, anchors)
    book.close()
    return content.getvalue()


@cache
def _kind_of_sheet() -> type:
    """A sheet that writes formulas as they are.

    XlsxWriter searches each formula for thirty newer functions to put a prefix before, which takes
    longer than all else it does; ours bear their prefix already.
    """
    from xlsxwriter.worksheet import Worksheet

    class AsTheyAre(Worksheet):  # type: ignore[misc]  # XlsxWriter carries no types
        def _prepare_formula(self, formula: str, *_: object, **__: object) -> str:
            return formula.removeprefix("=")

    return AsTheyAre


class _Formats:
    """XlsxWriter's formats, one for each look."""

    def __init__(self, book: Any, places: int) -> None:
        self.book = book
        self.places = places
        self.made: dict[tuple[Look, bool], Any] = {}
        self.marks: dict[Role, Any] = {}
        self.seen: dict[int, Any] = {}

    def of(self, look: Look, *, linked: bool = False) -> Any:
        """The format of a look; texts that lead somewhere are underlined."""
        if linked:
            return self._made(look, underlined=look.show is Show.TEXT)
        # a large sheet has few looks and many cells, and to hash a look takes long; the sheets
        # keep their looks alive, so that no other gets the same number
        found = self.seen.get(id(look))
        if found is None:
            found = self.seen[id(look)] = self._made(look, underlined=False)
        return found

    def _made(self, look: Look, *, underlined: bool) -> Any:
        key = (look, underlined)
        if key not in self.made:
            said = properties(look) | {"num_format": number_format(look, self.places)}
            if underlined:
                said["underline"] = 1
            self.made[key] = self.book.add_format(said)
        return self.made[key]

    def of_mark(self, role: Role) -> Any:
        """The format that a mark lays over a cell's own."""
        if role not in self.marks:
            self.marks[role] = self.book.add_format(marked(role))
        return self.marks[role]


def _draw_sheet(
    book: Any, sheet: SheetDescription, formats: _Formats, anchors: Mapping[str, str]
) -> None:
    drawn = book.add_worksheet(sheet.tab, _kind_of_sheet())
    heights = row_heights(sheet)
    _set_up_page(drawn, sheet)
    drawn.set_h_pagebreaks(page_breaks(sheet, heights))
    if sheet.hidden:
        drawn.hide()
    for column, width in sheet.widths.items():
        show = sheet.column_shows.get(column)
        look = formats.of(Look(Role.LABEL, show)) if show else None
        drawn.set_column(column, column, width, look)
    _add_helps(drawn, sheet)
    for row, height in heights.items():
        drawn.set_row(row, height)
    looks = {(cell.row, cell.column): cell.look for cell in sheet.cells()} if sheet.merged else {}
    for area in sheet.merged:
        drawn.merge_range(*area, "", formats.of(looks.get(area[:2], _PLAIN)))
    for cell in sheet.cells():
        _draw_cell(drawn, cell, formats, anchors)
    for mark in sheet.marks:
        _draw_mark(drawn, mark, formats)
    for chart in sheet.charts:
        _draw_chart(book, drawn, sheet, chart, formats.places)


def _add_helps(drawn: Any, sheet: SheetDescription) -> None:
    """Notes over cells, and drop-downs."""
    for (row, column), note in sheet.notes.items():
        drawn.write_comment(row, column, note, {"x_scale": 1.6, "author": ""})
    for choices in sheet.choices:
        source = choices.source or list(choices.options)
        listed = {"validate": "list", "source": source, "ignore_blank": True}
        # no error is shown: what isn't in the list is read, or asked about, by the next run
        drawn.data_validation(
            choices.first_row,
            choices.column,
            choices.last_row,
            choices.column,
            listed | {"show_error": False},
        )


def _draw_cell(
    drawn: Any, cell: CellContent, formats: _Formats, anchors: Mapping[str, str]
) -> None:
    row, column, link = cell.row, cell.column, cell.link
    if link.startswith("#"):
        link = anchors.get(link[1:], "")
    look = formats.of(cell.look, linked=bool(link))
    if link:
        drawn.write_url(row, column, f"internal:{link}", look, "")
    value = cell.value
    if cell.formula:
        drawn.write_formula(row, column, cell.formula, look, _stored(value))
    elif isinstance(value, str):
        drawn.write_string(row, column, value, look)
    elif value is None:
        drawn.write_blank(row, column, None, look)
    else:
        drawn.write_number(row, column, float(value), look)


def _stored(value: Value) -> float | str:
    """A figure as a formula's stored value: an unknown is an empty text."""
    if isinstance(value, Decimal):
        return float(value)
    return value or _EMPTY


def _set_up_page(drawn: Any, sheet: SheetDescription) -> None:
    drawn.hide_gridlines(2)
    drawn.set_paper(A4)
    drawn.fit_to_pages(sheet.pages_wide, 0)
    drawn.set_margins(**MARGINS)
    drawn.set_footer(f"&L{sheet.title}&CSums from your own figures, not advice&R&P of &N")
    if sheet.landscape:
        drawn.set_landscape()
    if sheet.frozen != (0, 0):
        drawn.freeze_panes(*sheet.frozen)
    if sheet.repeated_rows:
        drawn.repeat_rows(*sheet.repeated_rows)
    if sheet.repeated_columns:
        drawn.repeat_columns(*sheet.repeated_columns)


def _draw_mark(drawn: Any, mark: Mark, formats: _Formats) -> None:
    said = {"type": "formula", "criteria": f"={mark.when}", "format": formats.of_mark(mark.role)}
    drawn.conditional_format(*mark.area, said)


def _draw_chart(book: Any, drawn: Any, sheet: SheetDescription, chart: Chart, places: int) -> None:
    made = book.add_chart(kind_of(chart))
    told = setting_of(chart, sheet.tab, places)
    for series in told["series"]:
        made.add_series(series)
    for name in ("x_axis", "y_axis", "title", "legend", "size", "chartarea", "plotarea"):
        getattr(made, f"set_{name}")(told[name])
    drawn.insert_chart(
        chart.at_row,
        chart.at_column,
        made,
        {"description": f"{chart.title} ({sheet_name(sheet.tab)})", "object_position": 1},
    )
