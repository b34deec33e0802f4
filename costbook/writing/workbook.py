"""Descriptions of sheets → a workbook in memory: the only module that knows XlsxWriter."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from io import BytesIO
from typing import Any, Final

from costbook.book import Value
from costbook.definitions.columns import Show
from costbook.writing.description import BarChart, CellContent, Look, Role, SheetDescription
from costbook.writing.layout import sheet_name

__all__ = ["draw"]

INK, PAPER, BAND, RULE, ALERT = "#26353B", "#FFFFFF", "#EDEBE3", "#9AA5A0", "#7A2E12"
"""One quiet scheme: dark ink on white, oat-coloured bands, grey rules, rust for what to look at."""

FONT: Final = "Calibri"
UNCOSTED_DATE: Final = datetime(2026, 1, 1)
"""A fixed creation date, so that the same figures give the same file."""

_ROLES: Final[dict[Role, dict[str, Any]]] = {
    Role.TITLE: {"bold": True, "font_size": 16},
    Role.LEAD: {"font_size": 11},
    Role.SECTION: {"bold": True, "font_size": 12, "bottom": 2, "bottom_color": INK},
    Role.HEADING: {
        "bold": True,
        "bg_color": BAND,
        "text_wrap": True,
        "valign": "bottom",
        "bottom": 1,
    },
    Role.LABEL: {},
    Role.GIVEN: {"italic": True, "left": 4, "left_color": RULE},
    Role.COMPUTED: {},
    Role.ANSWER: {"bold": True, "bg_color": BAND},
    Role.TOTAL: {"bold": True, "top": 1},
    Role.TYPE_HERE: {"italic": True, "border": 4, "border_color": RULE},
    Role.EXAMPLE: {"italic": True, "font_color": "#6A746F"},
    Role.FLAG: {"bold": True, "font_color": ALERT},
    Role.NOTE: {"italic": True, "font_size": 9},
}
"""Given cells are italic behind a dashed rule, answers bold on a band: not by colour alone."""

_PATTERNS: Final = (
    ("solid", "#3F5A52"),
    ("wide_upward_diagonal", "#8C6D3F"),
    ("solid", "#B9B39C"),
    ("small_grid", "#5B6B8C"),
    ("dotted_diamond", "#7B5B70"),
    ("horizontal_brick", "#6E7F5B"),
    ("light_vertical", "#8A5A44"),
    ("percent_10", "#26353B"),
)
"""Fills that differ in black and white too."""


class _Empty(str):
    """An empty text that XlsxWriter stores as a text: it takes a plain one for no value."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        return False

    __hash__ = str.__hash__


_EMPTY: Final = _Empty()


def draw(sheets: Sequence[SheetDescription], places: int) -> bytes:
    """Draw the sheets into a workbook of their own; money has this many decimal places."""
    import xlsxwriter  # needed only by the commands that write

    content = BytesIO()
    book = xlsxwriter.Workbook(
        content, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    )
    book.set_properties({"created": UNCOSTED_DATE})
    book.set_calc_mode("auto")
    formats = _Formats(book, places)
    for sheet in sheets:
        _draw_sheet(book, sheet, formats)
    book.close()
    return content.getvalue()


class _Formats:
    """XlsxWriter's formats, one for each look."""

    def __init__(self, book: Any, places: int) -> None:
        self.book = book
        self.made: dict[Look, Any] = {}
        cents = "." + "0" * places if places else ""
        self.codes = {
            Show.TEXT: "General",
            Show.MONEY: f"#,##0{cents};-#,##0{cents}",
            Show.FINE_MONEY: "#,##0.0000##;-#,##0.0000##",
            Show.NUMBER: "#,##0.###",
            Show.WHOLE: "0",
            Show.SHARE: "0.0%",
            Show.MINUTES: '#,##0.0" min"',
            Show.DATE: "d mmm yyyy",
        }

    def of(self, look: Look) -> Any:
        """The format of a look."""
        if look not in self.made:
            properties: dict[str, Any] = {"font_name": FONT, "font_color": INK, "valign": "top"}
            properties |= _ROLES[look.role] | {"num_format": self.codes[look.show]}
            if look.show is Show.TEXT:
                properties |= {"text_wrap": look.wrap or look.role is Role.HEADING}
            else:
                properties |= {"align": "right"}
            self.made[look] = self.book.add_format(properties)
        return self.made[look]


def _draw_sheet(book: Any, sheet: SheetDescription, formats: _Formats) -> None:
    drawn = book.add_worksheet(sheet.tab)
    _set_up_page(drawn, sheet)
    for column, width in sheet.widths.items():
        show = sheet.column_shows.get(column)
        look = formats.of(Look(Role.LABEL, show)) if show else None
        drawn.set_column(column, column, width, look)
    for (row, column), note in sheet.notes.items():
        drawn.write_comment(row, column, note, {"x_scale": 1.6, "author": ""})
    for choices in sheet.choices:
        listed = {"validate": "list", "source": list(choices.options), "ignore_blank": True}
        # a warning only: what isn't in the list is read, or asked about, by the next run
        listed |= {"error_type": "information", "show_error": False}
        drawn.data_validation(
            choices.first_row, choices.column, choices.last_row, choices.column, listed
        )
    for row, height in sheet.heights.items():
        drawn.set_row(row, height)
    for area in sheet.merged:
        drawn.merge_range(*area, "")
    for cells in sheet.rows.values():
        for cell in cells:
            _draw_cell(drawn, cell, formats)
    for chart in sheet.charts:
        _draw_chart(book, drawn, sheet, chart)


def _draw_cell(drawn: Any, cell: CellContent, formats: _Formats) -> None:
    look, row, column = formats.of(cell.look), cell.row, cell.column
    if cell.link:
        drawn.write_url(row, column, f"internal:{cell.link}", look, "")
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
    drawn.set_paper(9)
    drawn.fit_to_pages(1, 0)
    drawn.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    drawn.set_footer(f"&L{sheet.title}&CSums from your own figures, not advice&R&P of &N")
    if sheet.landscape:
        drawn.set_landscape()
    if sheet.frozen != (0, 0):
        drawn.freeze_panes(*sheet.frozen)
    if sheet.repeated_rows:
        drawn.repeat_rows(*sheet.repeated_rows)
    if sheet.page_breaks:
        drawn.set_h_pagebreaks(sheet.page_breaks)


def _draw_chart(book: Any, drawn: Any, sheet: SheetDescription, chart: BarChart) -> None:
    made = book.add_chart({"type": "bar", "subtype": "stacked"})
    tab = sheet.tab
    for number, column in enumerate(chart.series):
        pattern, colour = _PATTERNS[number % len(_PATTERNS)]
        fill: dict[str, Any] = {"fill": {"color": colour}}
        if pattern != "solid":
            fill = {"pattern": {"pattern": pattern, "fg_color": colour, "bg_color": PAPER}}
        made.add_series(
            {
                "name": [tab, chart.heading_row, column],
                "categories": [
                    tab,
                    chart.first_row,
                    chart.labels[0],
                    chart.last_row,
                    chart.labels[1],
                ],
                "values": [tab, chart.first_row, column, chart.last_row, column],
                "border": {"color": INK, "width": 0.5},
                "gap": 40,
            }
            | fill
        )
    made.set_title({"name": chart.title, "name_font": {"size": 12, "color": INK}})
    made.set_legend({"position": "bottom"})
    made.set_x_axis(
        {"name": chart.unit, "major_gridlines": {"visible": True, "line": {"color": RULE}}}
    )
    made.set_y_axis({"reverse": True})
    bars = chart.last_row - chart.first_row + 1
    made.set_size({"width": 900, "height": 140 + 34 * bars})
    made.set_chartarea({"border": {"none": True}})
    drawn.insert_chart(
        chart.at_row, chart.at_column, made, {"description": f"{chart.title} ({sheet_name(tab)})"}
    )
