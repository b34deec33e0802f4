"""Sheets that only ``try`` makes: what matters most, and a price path month by month."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import Any

from costbook.deciding.margin_path import MarginPath, ProductPath
from costbook.deciding.sensitivity import Moved, in_words, profit_of
from costbook.definitions.columns import Show
from costbook.writing.description import (
    ROW_IN_PIXELS,
    BarChart,
    LineChart,
    Look,
    Role,
    Series,
    SheetDescription,
)
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page

__all__ = ["MATTERS", "PATH", "price_path_page", "what_matters_page"]

MATTERS, PATH = "What matters most", "Price path"
Make = Callable[[Context], SheetDescription]


def what_matters_page(moved: Sequence[Moved]) -> Make:
    """Describes the sheet What matters most; its figures are as of the run."""

    def make(context: Context) -> SheetDescription:
        page = Page(context, MATTERS)
        sheet = page.sheet
        sheet.landscape = False
        sheet.widths = {0: 46, 1: 22, 2: 22}
        title = in_words(moved)
        sheet.line(f"What matters most: {title}", Role.TITLE)
        sheet.line(
            f"{profit_of(context.costing)} By how much it moves when one input is a tenth less or "
            "a tenth more and all else stays; a usable share is all of it at most. As of this run.",
            Role.NOTE,
            across=3,
        )
        step_row(context, sheet, 3)
        shows = (Show.TEXT, Show.MONEY, Show.MONEY)
        heading = page.headings(("Input", "A tenth less", "A tenth more"), shows=shows)
        for each in moved:
            at = sheet.next_row
            sheet.put(at, 0, each.name, Look(Role.LABEL))
            for column, value in enumerate((each.down, each.up), 1):
                sheet.put(at, column, value, Look(Role.COMPUTED, Show.MONEY, signed=True))
            sheet.next_row += 1
        if moved:
            last = sheet.next_row - 1
            unit = f"change of profit, {context.sign}"
            rows = (heading, heading + 1, last)
            sheet.put_chart(BarChart(title, unit, *rows, (0, 0), (1, 2), last + 2, width=650))
        page.caution(3)
        return sheet

    return make


def price_path_page(path: MarginPath) -> Make:
    """Describes the sheet Price path: each product's margin over the months of a series.

    Products are shown at the first outlet; the command prints all of them.
    """

    def make(context: Context) -> SheetDescription:
        page = Page(context, PATH)
        sheet = page.sheet
        products = path.at_first_outlet
        names = [each.called for each in products]
        sheet.widths = {0: 12, 1: 12} | dict.fromkeys(range(2, 2 + len(names)), 16.0)
        sheet.line(path.message, Role.TITLE)
        sheet.line(
            "Margin at today's price, had the item cost what it cost in each month; a month "
            "without a price stays a gap. As of this run.",
            Role.NOTE,
            across=max(3, 2 + len(names)),
        )
        step_row(context, sheet, max(3, 2 + len(names)))
        _months(page, path.message, names, products)
        page.caution(max(3, 2 + len(names)))
        return sheet

    return make


def _months(page: Page, title: str, names: Sequence[str], products: Sequence[ProductPath]) -> None:
    """The lines of the margins, and a row a month below them."""
    sheet = page.sheet
    chart_row = sheet.next_row
    sheet.next_row += CHART_HEIGHT // ROW_IN_PIXELS + 1
    shows = (Show.TEXT, Show.MONEY, *(Show.SHARE for _ in names))
    heading = page.headings(("Month", "Price", *names), shows=shows)
    sheet.repeated_rows = (heading, heading)
    months = products[0].months if products else ()
    for number, month in enumerate(months):
        at = sheet.next_row
        sheet.put(at, 0, month.month, Look(Role.LABEL))
        _value(sheet, at, 1, month.price, Show.MONEY)
        for column, each in enumerate(products, 2):
            _value(sheet, at, column, each.months[number].margin, Show.SHARE)
        sheet.next_row += 1
    last = sheet.next_row - 1
    if months:
        series = tuple(
            Series((heading, column), (heading + 1, column, last, column), labels)
            for column, labels in enumerate(_labels(products), 2)
        )
        categories = (heading + 1, 0, last, 0)
        sheet.charts.append(
            LineChart(
                title,
                "margin",
                categories,
                series,
                chart_row,
                show=Show.SHARE,
                width=CHART_WIDTH,
                height=CHART_HEIGHT,
            )
        )


CHART_WIDTH, CHART_HEIGHT = 960, 440
"""In pixels."""


def _labels(products: Sequence[ProductPath]) -> Iterator[tuple[str, ...]]:
    """Each line's name at one of its points, each at another month so that all can be read."""
    for number, product in enumerate(products, 1):
        margins = [month.margin for month in product.months]
        known = [at for at, margin in enumerate(margins) if isinstance(margin, Decimal)]
        labelled = known[len(known) * number // (len(products) + 1)] if known else -1
        yield tuple(product.product if at == labelled else "" for at in range(len(margins)))


def _value(sheet: SheetDescription, row: int, column: int, value: Any, show: Show) -> None:
    """A figure, or an empty cell: a chart takes any text for a zero, and a gap for a gap."""
    known = isinstance(value, Decimal)
    sheet.put(row, column, value if known else None, Look(Role.COMPUTED, show))
