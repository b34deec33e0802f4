"""The season: what the market days together say of each outlet, each product, and of rain.

With ``price_path`` the only module that knows pandas; it is loaded when a season is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.deciding.market_days import MarketDay
from costbook.definitions.market_days_workings import FEWEST_DAYS
from costbook.definitions.rounding import in_money
from costbook.definitions.weather import is_wet

__all__ = ["Season", "SeasonLine", "season"]

_OFTEN: Final = Decimal("0.5")
"""The part of its days on which a product sells out, from which more of it is to be taken."""
_WET_AND_DRY: Final = 2
_LITTLE: Final = Decimal("0.6")
"""The part of what was taken along that is sold at least, or less is to be taken."""


@dataclass(frozen=True, slots=True)
class SeasonLine:
    """What some days say of an outlet, a product or a weather.

    ``median``, ``best`` and ``worst`` are of pay an hour [money/h], of a product of packs sold on a
    day. ``pay`` is what all their hours brought on average; of a product what an hour of making it
    left before the day was paid [money/h]. None where no day tells.
    """

    name: str
    days: int
    judged: int
    median: Decimal | None
    best: Decimal | None
    worst: Decimal | None
    pay: Decimal | None
    sell_through: Decimal | None
    sold_out_days: int

    @property
    def speaks(self) -> bool:
        """Whether enough days could be judged."""
        return self.judged >= FEWEST_DAYS

    def as_data(self) -> dict[str, Any]:
        """Its row of `day --json`."""
        return {
            "name": self.name,
            "days": self.days,
            "judged": self.judged,
            "median": self.median,
            "best": self.best,
            "worst": self.worst,
            "pay_per_hour": self.pay,
            "sell_through": self.sell_through,
            "sold_out_days": self.sold_out_days,
        }


@dataclass(frozen=True, slots=True)
class Season:
    """All days together: by outlet, by product, and in rain against dry."""

    outlets: tuple[SeasonLine, ...]
    products: tuple[SeasonLine, ...]
    weather: tuple[SeasonLine, ...]
    wished: Decimal | None

    def as_data(self) -> dict[str, Any]:
        """What `day --json` says of the season."""
        return {
            "outlets": [each.as_data() for each in self.outlets],
            "products": [each.as_data() for each in self.products],
            "weather": [each.as_data() for each in self.weather],
            "pay_wished": self.wished,
        }

    def in_words(self, places: int) -> Iterator[str]:
        """Which outlet and product to drop or push, a sentence each; and what rain does."""
        yield from (self.of_outlet(each, places) for each in self.outlets if each.speaks)
        yield from (self.of_product(each, places) for each in self.products if each.speaks)
        yield from self.rain_in_words(places)

    def rain_in_words(self, places: int) -> Iterator[str]:
        """What rain does to a day, where enough days of both kinds speak."""
        if len(self.weather) == _WET_AND_DRY and all(each.speaks for each in self.weather):
            wet, dry = (
                f"{each.name} half of {each.judged} days paid {in_money(each.median, places)}"
                for each in self.weather
            )
            yield f"{wet} an hour or less; {dry[:1].lower()}{dry[1:]} or less."

    def of_outlet(self, each: SeasonLine, places: int) -> str:
        """What to do about an outlet."""
        half = f"half of its {each.judged} days paid {in_money(each.median, places)} an hour or"
        wished = f"and {in_money(self.wished, places)} is wished"
        if _below(each.median, self.wished):
            return f"Drop {each.name}, or raise what it brings: {half} less, {wished}."
        speaking = [other.median or 0 for other in self.outlets if other.speaks]
        if len(speaking) > 1 and each.median == max(speaking):
            return f"Push {each.name}: {half} more, the most of your outlets."
        return f"Keep {each.name}: {half} more, {wished}."

    def of_product(self, each: SeasonLine, places: int) -> str:
        """What to do about a product."""
        left = in_money(each.pay, places)
        hour = f"an hour of making it left {left} before the day was paid"
        if _below(each.pay, self.wished):
            wished = in_money(self.wished, places)
            return f"Drop {each.name}, or raise its price: {hour}, and {wished} is wished."
        if each.sold_out_days >= _OFTEN * each.judged:
            days = f"{each.sold_out_days} of {each.judged} days"
            return f"Push {each.name}: it sold out on {days}, so take more along."
        share = f"{_whole_percent(each.sell_through)} of what was taken along was sold"
        if _below(each.sell_through, _LITTLE):
            return f"Take less of {each.name}: {share}."
        return f"Keep {each.name}: {share}, and {hour}."


def season(days: Sequence[MarketDay]) -> Season:
    """What the days say together."""
    import pandas as pd  # a third of a second to load, so only here

    wished = days[0].number("pay_wished") if days else None
    frame = pd.DataFrame([_of_day(each) for each in days], columns=_OF_A_DAY)
    sold = pd.DataFrame([row for each in days for row in _of_products(each)], columns=_OF_A_PRODUCT)
    by_day = sold.groupby(["product", "day", "outlet"], sort=False, as_index=False)
    sold = by_day.agg(lambda column: column.sum(skipna=False))
    return Season(
        tuple(_spoken(frame, "outlet", "pay")),
        tuple(_spoken(sold, "product", "sold")),
        tuple(_by_weather(frame)),
        wished,
    )


_OF_A_DAY: Final = ["outlet", "weather", "pay", "left", "hours", "sold", "taken", "sold_out"]
_OF_A_PRODUCT: Final = [
    *("product", "day", "outlet", "sold", "taken", "left", "hours", "sold_out"),
]


def _of_day(day: MarketDay) -> list[Any]:
    names = ("pay_an_hour", "left_for_own_work", "own_hours", "packs_sold_that_day", "packs_taken")
    figures = (_float(day.number(name)) for name in names)
    return [day.outlet, day.weather, *figures, any(each.sold_out for each in day.products)]


def _of_products(day: MarketDay) -> Iterator[list[Any]]:
    for each in day.products:
        takings, cost = each.number("row_takings"), each.number("row_cost")
        tax, commission = day.number("tax_here"), day.number("commission")
        left = None
        if not (takings is None or cost is None or tax is None or commission is None):
            left = takings / (1 + tax) * (1 - commission) - cost
        minutes = each.number("row_minutes")
        hours = None if minutes is None else minutes / 60
        packs = (each.number("sold_counted"), each.number("taken"))
        figures = (_float(figure) for figure in (*packs, left, hours))
        yield [each.product, day.day, day.outlet, *figures, each.sold_out]


def _by_weather(frame: Any) -> Iterator[SeasonLine]:
    """Rain, then dry days, as far as there are some, each in the words that were typed for it."""
    told = frame[frame["weather"] != ""]
    wet = told["weather"].map(is_wet).astype(bool)
    for name, its in (("In the rain", told[wet]), ("In the dry", told[~wet])):
        words = dict.fromkeys(its["weather"])
        yield from _spoken(its.assign(weather=f"{name} ({', '.join(words)})"), "weather", "pay")


def _spoken(frame: Any, by: str, what: str) -> Iterator[SeasonLine]:
    """A line for each name in a column; nameless rows aren't counted."""
    for name, its in frame[frame[by] != ""].groupby(by, sort=False):
        judged = its.dropna(subset=[what])
        paid = its.dropna(subset=["left", "hours"])
        counted = its.dropna(subset=["sold", "taken"])
        yield SeasonLine(
            str(name),
            len(its),
            len(judged),
            *_middle_and_ends(judged[what]),
            _ratio(paid["left"].sum(), paid["hours"].sum()),
            _ratio(counted["sold"].sum(), counted["taken"].sum()),
            int((its["sold_out"] > 0).sum()),
        )


def _middle_and_ends(column: Any) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
    return _figure(column.median()), _figure(column.max()), _figure(column.min())


def _float(figure: Decimal | None) -> float:
    return float("nan") if figure is None else float(figure)


def _figure(number: Any) -> Decimal | None:
    return None if number != number else Decimal(repr(float(number)))


def _ratio(part: Any, whole: Any) -> Decimal | None:
    return _figure(part / whole) if whole else None


def _below(figure: Decimal | None, bound: Decimal | None) -> bool:
    return figure is not None and bound is not None and figure < bound


def _whole_percent(share: Decimal | None) -> str:
    return "?" if share is None else f"{share * 100:.0f} %"
