"""Sheets as plain data → a workbook in memory: the only module that knows XlsxWriter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from functools import cache
from io import BytesIO
from typing import Any, Final

from costbook.writing.charts import kind_of, setting_of
from costbook.writing.description import SheetDescription
from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.plain import plain

__all__ = ["draw", "drawn_from"]

UNCOSTED_DATE: Final = datetime(2026, 1, 1, tzinfo=UTC)
"""A fixed creation date, so that the same figures give the same file."""

A4: Final = 9
"""XlsxWriter's number of the paper."""

_WORDS: Final = {
    "font": "font_name",
    "size": "font_size",
    "ink": "font_color",
    "fill": "bg_color",
    "across": "align",
    "wraps": "text_wrap",
    "underlined": "underline",
    "figures": "num_format",
    "above": "top",
    "below": "bottom",
}
"""XlsxWriter's words for properties of a look that it calls otherwise."""
_LINES: Final = {"thin": 1, "medium": 2, "dotted": 4, "hair": 7}
_UPRIGHT: Final = {"top": "top", "middle": "vcenter", "bottom": "bottom"}


class _Empty(str):
    """An empty text that XlsxWriter stores as a text: it takes a plain one for no value."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        return False

    __hash__ = str.__hash__


_EMPTY: Final = _Empty()


def draw(
    sheets: Sequence[SheetDescription], places: int, day_code: str = "", *, from_1904: bool = False
) -> bytes:
    """Draw the sheets into a workbook of their own; money has this many decimal places.

    Dates are described as the numbers of their days, shown in the format ``day_code``;
    ``from_1904`` says from when they count.
    """
    return drawn_from(plain(sheets, places, day_code, from_1904=from_1904))


def drawn_from(said: Mapping[str, Any]) -> bytes:
    """A workbook of the sheets that ``plain`` gave, perhaps by way of JSON."""
    import xlsxwriter  # needed only by the commands that write

    content = BytesIO()
    told = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(content, told | {"date_1904": said["days_from_1904"]})
    book.set_properties({"created": UNCOSTED_DATE})
    book.set_calc_mode("auto")
    formats = [book.add_format(_properties(look)) for look in said["looks"]]
    marks = [book.add_format(_properties(look)) for look in said["marks"]]
    for sheet in said["sheets"]:
        _draw_sheet(book, sheet, formats, marks)
    book.close()
    return content.getvalue()


def _properties(look: Mapping[str, Any]) -> dict[str, Any]:
    """What XlsxWriter is told about an appearance."""
    found: dict[str, Any] = {}
    for name, value in look.items():
        word = _WORDS.get(name, name)
        if name in ("above", "below", "left", "right"):
            kind, colour = value
            found[word] = _LINES[kind]
            if colour:
                found[f"{word}_color"] = colour
        elif name == "upright":
            found["valign"] = _UPRIGHT[value]
        else:
            found[word] = value
    return found


@cache
def _kind_of_sheet() -> type:
    """A sheet that writes formulas as they are.

    XlsxWriter searches each formula for thirty newer functions to put a prefix before, and for
    those that give several cells, which takes longer than all else it does; ours bear their prefix
    already, and give one. It also looks at each attribute of each cell for what would have to be
    escaped in it.
    """
    from xlsxwriter.worksheet import CellFormulaTuple, Worksheet

    class AsTheyAre(Worksheet):  # type: ignore[misc]  # XlsxWriter carries no types
        def _write_formula(
            self, row: int, col: int, formula: str, cell_format: Any = None, value: object = 0
        ) -> int:
            said: int = self._check_dimensions(row, col)
            self.table[row][col] = CellFormulaTuple(formula.removeprefix("="), cell_format, value)
            return said

        def _write_cell(self, row: int, col: int, cell: Any) -> None:
            if not isinstance(cell, CellFormulaTuple) or cell.format is None:
                super()._write_cell(row, col, cell)
                return
            look = cell.format._get_xf_index()  # noqa: SLF001  # as its own sheets ask for it
            kind, value = "", cell.value
            if isinstance(value, str):
                kind, value = ' t="str"', _escaped(value)
            said = f"<f>{_escaped(cell.formula)}</f><v>{value}</v>"
            self.fh.write(f'<c r="{column_letters(col)}{row + 1}" s="{look}"{kind}>{said}</c>')

    return AsTheyAre


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _draw_sheet(
    book: Any, sheet: Mapping[str, Any], formats: Sequence[Any], marks: Sequence[Any]
) -> None:
    drawn = book.add_worksheet(sheet["tab"], _kind_of_sheet())
    _set_up_page(drawn, sheet)
    if sheet["hidden"]:
        drawn.hide()
    for column, width, look in sheet["widths"]:
        drawn.set_column(column, column, width, None if look is None else formats[look])
    _add_helps(drawn, sheet)
    for row, height in sheet["heights"]:
        drawn.set_row(row, height)
    _merge(drawn, sheet, formats)
    for row, cells in sheet["rows"]:
        for cell in cells:
            _draw_cell(drawn, row, cell, formats)
    for *area, when, mark in sheet["marks"]:
        said = {"type": "formula", "criteria": f"={when}", "format": marks[mark]}
        drawn.conditional_format(*area, said)
    for chart in sheet["charts"]:
        _draw_chart(book, drawn, sheet["tab"], chart)


def _merge(drawn: Any, sheet: Mapping[str, Any], formats: Sequence[Any]) -> None:
    """Join the cells of areas; the first one's look is that of all."""
    if not sheet["merged"]:
        return
    rows = dict(sheet["rows"])
    for area in sheet["merged"]:
        first = (look for column, look, *_ in rows.get(area[0], ()) if column == area[1])
        look = next(first, None)
        drawn.merge_range(*area, "", None if look is None else formats[look])


def _add_helps(drawn: Any, sheet: Mapping[str, Any]) -> None:
    """Notes over cells, and drop-downs."""
    for row, column, note in sheet["notes"]:
        drawn.write_comment(row, column, note, {"x_scale": 1.6, "author": ""})
    for first, last, column, source in sheet["choices"]:
        listed = {"validate": "list", "source": source, "ignore_blank": True}
        # no error is shown: what isn't in the list is read, or asked about, by the next run
        drawn.data_validation(first, column, last, column, listed | {"show_error": False})


def _draw_cell(drawn: Any, row: int, cell: Sequence[Any], formats: Sequence[Any]) -> None:
    column, look, value, formula, link = [*cell, *_NOTHING[len(cell) :]]
    shape = formats[look]
    if link:
        drawn.write_url(row, column, f"internal:{link}", shape, "")
    if formula:
        # an unknown is stored as an empty text
        drawn.write_formula(row, column, formula, shape, value if value or value == 0 else _EMPTY)
    elif isinstance(value, str):
        drawn.write_string(row, column, value, shape)
    elif value is None:
        drawn.write_blank(row, column, None, shape)
    else:
        drawn.write_number(row, column, value, shape)


_NOTHING: Final[Sequence[Any]] = (0, 0, None, "", "")
"""What a cell's parts are where they are left out."""


def _set_up_page(drawn: Any, sheet: Mapping[str, Any]) -> None:
    page = sheet["page"]
    drawn.hide_gridlines(2)
    drawn.set_paper(A4)
    drawn.fit_to_pages(page["wide"], 0)
    drawn.set_margins(**page["margins"])
    title = sheet["title"]
    drawn.set_footer(f"&L{title}&CSums from your own figures, not advice&R&P of &N")
    if page["landscape"]:
        drawn.set_landscape()
    if any(sheet["frozen"]):
        drawn.freeze_panes(*sheet["frozen"])
    if page["repeated_rows"]:
        drawn.repeat_rows(*page["repeated_rows"])
    if page["repeated_columns"]:
        drawn.repeat_columns(*page["repeated_columns"])
    drawn.set_h_pagebreaks(page["begins_at"])


def _draw_chart(book: Any, drawn: Any, tab: str, chart: Mapping[str, Any]) -> None:
    made = book.add_chart(kind_of(chart))
    told = setting_of(chart, tab)
    for series in told["series"]:
        made.add_series(series)
    for name in ("x_axis", "y_axis", "title", "legend", "size", "chartarea", "plotarea"):
        getattr(made, f"set_{name}")(told[name])
    shown = {"description": f"{chart['title']} ({sheet_name(tab)})", "object_position": 1}
    row, column = chart["at"]
    drawn.insert_chart(row, column, made, shown)
