"""Earlier costings: what each run found, so that the next can say what moved."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Final

from costbook.costing.engine import Costing
from costbook.definitions.columns import Show
from costbook.ours.kept import PASTS, Past
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.pages.in_step import step_row
from costbook.writing.pages.page import Context, Page

__all__ = ["earlier_costings_page", "this_costing", "with_costing"]

_EACH_FOR: Final = 28
"""Days for which every costing is remembered."""
_WEEKLY_FOR: Final = 366
"""Days for which the last costing of each week is; of earlier ones, the last of each month."""


def this_costing(costing: Costing) -> list[Past]:
    """What this run found, to be remembered."""
    day = costing.structure.costed_on
    return [
        Past(
            day,
            str(f["product"]),
            str(f["outlet"] or ""),
            _known(f["total"]),
            _known(f["price_on_step"]),
        )
        for f in costing.figures["prices"]
    ]


def _known(value: object) -> Decimal | None:
    return value if isinstance(value, Decimal) else None


def earlier_costings_page(context: Context) -> SheetDescription:
    """Describe the sheet Earlier costings; its rows are values, as they were found."""
    page = Page(context, PASTS.sheet)
    sheet = page.sheet
    sheet.landscape, sheet.hidden = False, True
    sheet.widths = {0: 14, 1: 34, 2: 24, 3: 13, 4: 13}
    sheet.line(PASTS.sheet, Role.TITLE)
    sheet.line(
        "What each run found, as it was then. costbook compares with these rows; please leave "
        "them as they are.",
        Role.NOTE,
        across=5,
    )
    sheet.line(
        "Each costing of the last four weeks is kept; of a year, the last of each week; before "
        "that, the last of each month. A day on which nothing had changed is left out.",
        Role.NOTE,
        across=5,
    )
    step_row(context, sheet, 5)
    shows = (Show.DATE, Show.TEXT, Show.TEXT, Show.MONEY, Show.MONEY)
    heading = page.headings(PASTS.headings, shows=shows)
    sheet.frozen = (heading + 1, 0)
    sheet.repeated_rows = (heading, heading)
    book = context.costing.structure.book
    for past in with_costing(context.remembered.pasts, this_costing(context.costing)):
        at = sheet.next_row
        sheet.put(at, 0, book.day_number(past.day), Look(Role.COMPUTED, Show.DATE))
        sheet.put(at, 1, past.product, Look(Role.LABEL))
        sheet.put(at, 2, past.outlet, Look(Role.LABEL))
        sheet.put(at, 3, past.total, Look(Role.COMPUTED, Show.MONEY))
        sheet.put(at, 4, past.price, Look(Role.COMPUTED, Show.MONEY))
        sheet.next_row += 1
    page.caution(5)
    return sheet


def with_costing(pasts: Iterable[Past], new: Iterable[Past]) -> tuple[Past, ...]:
    """The costings with a new one: in place of one of the same day, oldest first.

    A costing that says the same as the last one before it is not added. Older ones are thinned:
    a year of weeks, then one a month.
    """
    fresh = tuple(new)
    if not fresh:
        return tuple(pasts)
    day = fresh[0].day
    by_day = {
        each: tuple(group)
        for each, group in groupby(sorted(pasts, key=lambda past: past.day), lambda p: p.day)
    }
    last = max((each for each in by_day if each < day), default=None)
    by_day.pop(day, None)
    if last is None or _said(by_day[last]) != _said(fresh):
        by_day[day] = fresh
    return tuple(past for each in _kept_days(sorted(by_day)) for past in by_day[each])


def _kept_days(days: list[date]) -> list[date]:
    """The days, oldest first, without those that a later one of their week or month stands for."""
    last_of = {_shelf(day, days[-1]): day for day in days}
    return sorted(last_of.values())


def _shelf(day: date, last: date) -> tuple[str, int, int]:
    """What a day stands for, as seen from the last one: itself, its week, or its month."""
    age = (last - day).days
    if age < _EACH_FOR:
        return "day", day.year, day.timetuple().tm_yday
    if age <= _WEEKLY_FOR:
        week = day.isocalendar()
        return "week", week.year, week.week
    return "month", day.year, day.month


def _said(pasts: Iterable[Past]) -> list[tuple[str, str, str, str]]:
    """What a costing says, to the precision that a cell keeps."""
    return [(p.product, p.outlet, _kept(p.total), _kept(p.price)) for p in pasts]


def _kept(figure: Decimal | None) -> str:
    return "" if figure is None else f"{float(figure):.12g}"
