"""Make the sample workbooks from their CSVs: `python -m tests.samples.build`.

The same input gives the same workbook: creation dates are fixed. The looks are a person's own: bold
headings, some widths, a frozen row, money formats, a few notes, a diary with a chart.
"""

from __future__ import annotations

import sys
from datetime import date, datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from tests.helpers import Formula, Shown
from tests.samples.slips import HIDDEN, hints_to_json, is_hint
from tests.samples.typed import cell_of, sheet_rows

__all__ = ["SHEETS", "build"]

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
MADE_ON = datetime(2026, 11, 20, 19, 30)

SHEETS = {
    "market_stall": (
        *("Settings", "Purchases", "Items", "Recipes", "Batches", "Stages", "Packaging"),
        *("Products", "Overheads", "Outlets", "Diary"),
    ),
    "starter": (
        *("Settings", "Purchases", "Recipes", "Batches", "Stages", "Packaging"),
        "Products",
    ),
    "market_season": (
        *("Settings", "Purchases", "Items", "Recipes", "Batches", "Stages", "Packaging"),
        *("Products", "Overheads", "Outlets", "Plan", "Market days", "Sales"),
        *("Made", "Counts", "Tests"),
    ),
    "everything_wrong": (
        *("Settings", "Purchases", "Items", "Recipes", "Batches", "Stages", "Packaging"),
        *("Products", "Outlets"),
    ),
}

# A title a person put above the table, two rows above the headings.
TITLES = {
    ("everything_wrong", "Purchases"): "Receipts 2026",
    ("everything_wrong", "Recipes"): "What goes into a batch",
}

# Notes a person left on a cell.
NOTES = {
    ("market_stall", "Purchases"): {"H1": "what the receipt says for ONE pack, with tax if any"},
    ("market_stall", "Recipes"): {"C4": "level spoons"},
    ("market_stall", "Outlets"): {"H2": "average of the summer; winter is nearer 100"},
}

MONEY = {"USD": "$#,##0.00", "GBP": "£#,##0.00"}
MONEY_HEADINGS = (
    *("Price per pack", "Other cost", "Current price", "Wholesale price now", "Pay per hour"),
    *("Fee per day", "Other per day", "Cost per mile", "Card fixed fee"),
    *("Float", "Cash counted", "Cash paid out", "Card takings", "Card payout", "Fee paid"),
    *("Other paid", "Price"),
)


class Looks:
    """The few formats of one workbook, each made once."""

    def __init__(self, book: Any, currency: str) -> None:
        self.book = book
        self.money = MONEY[currency]
        self.made: dict[tuple[str, bool], Any] = {}

    def __call__(self, number_format: str = "General", bold: bool = False) -> Any:
        """The format object for a number format, headings bold on a pale ground."""
        key = (number_format, bold)
        if key not in self.made:
            form = {"num_format": number_format, "valign": "top"}
            heading = {"bold": True, "bg_color": "#E8E2D4", "bottom": 1, "text_wrap": True}
            self.made[key] = self.book.add_format(form | (heading if bold else {}))
        return self.made[key]


def put(sheet: Any, looks: Looks, row: int, column: int, value: object, code: str) -> None:
    """Write one cell; money headings give their column's numbers a currency format."""
    match value:
        case None:
            pass
        case Shown():
            put(sheet, looks, row, column, value.value, value.number_format)
        case Formula():
            stored = "" if value.value is None else value.value
            sheet.write_formula(row, column, value.text, looks(code), stored)
        case date():
            sheet.write_datetime(row, column, value, looks("yyyy-mm-dd"))
        case float():
            sheet.write_number(row, column, value, looks(code))
        case _:
            sheet.write_string(row, column, str(value), looks())


def put_table(sheet: Any, looks: Looks, rows: list[list[str]], first: int) -> None:
    """Write headings and rows, the hints for the tests left out."""
    shown = [at for at, heading in enumerate(rows[0]) if not is_hint(heading)]
    named = [at for at in shown if rows[0][at]]
    for at in named:
        sheet.write_string(first, at, rows[0][at], looks(bold=True))
    for down, fields in enumerate(rows[1:], first + 1):
        for at in [at for at in shown if at < len(fields)]:
            code = looks.money if rows[0][at] in MONEY_HEADINGS else "General"
            put(sheet, looks, down, at, cell_of(fields[at]), code)
    for at in shown:
        widest = max(len(fields[at]) for fields in rows[1:] if at < len(fields))
        sheet.set_column(at, at, min(34, max(9, widest + 2, len(rows[0][at]) // 2 + 2)))


def put_title(sheet: Any, book: Any, title: str) -> None:
    """A title over merged cells above the table."""
    sheet.merge_range(0, 0, 0, 4, title, book.add_format({"bold": True, "font_size": 14}))


def put_diary(sheet: Any, book: Any, rows: int) -> None:
    """The person's own chart of what a market day brought in."""
    chart = book.add_chart({"type": "column"})
    chart.add_series(
        {
            "name": "Taken",
            "categories": ["Diary", 1, 0, rows - 1, 0],
            "values": ["Diary", 1, 2, rows - 1, 2],
            "fill": {"color": "#8A6D3B"},
        }
    )
    chart.set_title({"name": "What the Saturdays brought in"})
    chart.set_x_axis({"text_axis": True, "num_format": "d mmm"})
    chart.set_legend({"none": True})
    sheet.insert_chart("H2", chart)


def put_sheet(book: Any, looks: Looks, name: str, sheet_name: str) -> None:
    """One sheet of one sample."""
    sheet = book.add_worksheet(sheet_name)
    rows = sheet_rows(name, sheet_name)
    title = TITLES.get((name, sheet_name))
    first = 2 if title else 0
    put_table(sheet, looks, rows, first)
    if title:
        put_title(sheet, book, title)
    if sheet_name == "Diary":
        put_diary(sheet, book, len(rows) - 1)
    for cell, text in NOTES.get((name, sheet_name), {}).items():
        sheet.write_comment(cell, text, {"author": "Jo"})
    for row in HIDDEN.get((name, sheet_name), ()):
        sheet.set_row(row - 1, None, None, {"hidden": True})
    if len(rows) > 12:
        sheet.freeze_panes(first + 1, 1)


def build(name: str, folder: Path) -> Path:
    """Write one sample workbook into the folder."""
    path = folder / f"{name}.xlsx"
    book = xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"author": "Jo", "created": MADE_ON})
    looks = Looks(book, "GBP" if name == "starter" else "USD")
    for sheet_name in SHEETS[name]:
        put_sheet(book, looks, name, sheet_name)
    book.close()
    return path


def main() -> int:
    """Write every sample workbook, and what everything_wrong must be told."""
    for name in SHEETS:
        sys.stdout.write(f"wrote {build(name, SAMPLES).name}\n")
    told = SAMPLES / "everything_wrong.expected.json"
    told.write_text(hints_to_json(), encoding="utf-8")
    sys.stdout.write(f"wrote {told.name}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
