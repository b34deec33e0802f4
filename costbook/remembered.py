"""What our sheets remember between runs: earlier costings, and what was typed into boxes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Final

__all__ = [
    "COSTINGS",
    "ITEM",
    "NOTHING_REMEMBERED",
    "PICKS",
    "SETTING",
    "TRY",
    "Past",
    "Remembered",
    "with_costing",
]

PICKS: Final = ("Pick a product", "Pick where it is sold")
"""The headings of the boxes that pick a price ladder: written there, and found again by them."""

COSTINGS: Final = ("Costed on", "Product", "Outlet", "Cost", "Charge")
"""The headings of earlier costings, likewise."""

SETTING, ITEM, TRY = "Setting", "Item", "Try"
"""The headings of the boxes of a trial: what is named, and what is typed beside it."""

_EACH_FOR: Final = 28
"""Days for which every costing is remembered."""
_WEEKLY_FOR: Final = 366
"""Days for which the last costing of each week is; of earlier ones, the last of each month."""


@dataclass(frozen=True, slots=True)
class Past:
    """What one product at one outlet cost, and was to be charged, on a costing date."""

    day: date
    product: str
    outlet: str
    total: Decimal | None
    price: Decimal | None


@dataclass(frozen=True, slots=True)
class Remembered:
    """What was found on our sheets of an earlier run.

    Trial prices are by item key, trial settings by column of Settings, both as typed: what is no
    number changes nothing, but stays where it was typed.
    """

    pasts: tuple[Past, ...] = ()
    trial_prices: Mapping[str, Decimal | str] = field(default_factory=dict)
    trial_settings: Mapping[str, Decimal | str] = field(default_factory=dict)
    picked: tuple[str, str] = ("", "")
    """The product and the outlet whose price ladder is shown."""

    def last_before(self, day: date) -> date | None:
        """The latest costing date before a day."""
        return max((past.day for past in self.pasts if past.day < day), default=None)

    def on(self, day: date) -> dict[tuple[str, str], Past]:
        """What was costed on a day, by product and outlet."""
        return {(past.product, past.outlet): past for past in self.pasts if past.day == day}


NOTHING_REMEMBERED: Final = Remembered()


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
