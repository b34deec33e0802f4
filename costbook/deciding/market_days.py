"""What each market day brought, and each product on it: in data and in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.book import Book, Record, Value, as_key
from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.definitions.rounding import in_money, in_percent, rounded

__all__ = ["MarketDay", "SoldThatDay", "market_days", "sold_by_day"]

_HOURS: Final = 1
"""Decimal places that hours are said to."""


@dataclass(frozen=True, slots=True)
class SoldThatDay:
    """One product on one day, in packs; a day may have several rows of it."""

    product: str
    outlet: str
    figures: Figures

    def number(self, name: str) -> Decimal | None:
        """A figure of its row; None where it isn't known."""
        return _number(self.figures[name])

    @property
    def sold_out(self) -> bool:
        """Whether nothing of it came home."""
        return self.figures["sold_out"] == 1

    def as_data(self) -> dict[str, Any]:
        """Its row of `day --json`."""
        shown = ("taken", "sold", "sampled", "spoiled", "price")
        return {
            "product": self.product,
            **{name: self.figures[name] for name in shown},
            "home": self.figures["came_home"],
            "sell_through": self.figures["sell_through"],
            "sold_out": self.sold_out,
            "takings": self.figures["row_takings"],
            "cost": self.figures["row_cost"],
        }


@dataclass(frozen=True, slots=True)
class MarketDay:
    """One day at an outlet: what its rows say, and what follows."""

    row: Row
    day: Decimal
    outlet: str
    weather: str
    figures: Figures
    products: tuple[SoldThatDay, ...]

    def number(self, name: str) -> Decimal | None:
        """A figure of the day; None where it isn't known."""
        return _number(self.figures[name])

    @property
    def lacks(self) -> str:
        """The first thing that its pay an hour lacks; empty where it has it."""
        return str(self.figures["day_lacks"])

    def as_data(self, book: Book) -> dict[str, Any]:
        """Its row of `day --json`."""
        figures = self.figures
        return {
            "date": book.day(self.day).isoformat(),
            "outlet": self.outlet,
            "weather": self.weather or None,
            "takings": {"count": figures["takings_by_count"], "till": figures["takings_by_till"]},
            "over_short": figures["over_short"],
            "sell_through": figures["day_sell_through"],
            "cost_of_what_is_gone": figures["cost_of_gone"],
            "costs_of_the_day": figures["costs_of_the_day"],
            "left_for_own_work": figures["left_for_own_work"],
            "own_hours": figures["own_hours"],
            "pay_per_hour": figures["pay_an_hour"],
            "pay_wished": figures["pay_wished"],
            "margin": figures["margin_of_the_day"],
            "lacks": self.lacks or None,
            "products": [each.as_data() for each in self.products],
        }

    def title(self, book: Book) -> str:
        """The day, the outlet and the weather."""
        return ", ".join(filter(None, (book.written(self.day), self.outlet, self.weather)))

    def in_words(self, places: int) -> Iterator[str]:
        """What the day brought, in short sentences."""
        yield f"{self._taken(places)}."
        if self.products:
            yield f"{self._went()}."
        yield f"{self._left(places)}."
        yield f"{self.verdict(places)}."

    def _taken(self, places: int) -> str:
        count, till = (in_money(self.figures[f"takings_by_{by}"], places) for by in _TAKEN_BY)
        if not self.products:
            return f"Takings {till} by the till; there are no rows on Sales to compare them with"
        over = self.number("over_short")
        if over is None:
            return f"Takings {count} by count, {till} by the till"
        said = "the two agree"
        if over:
            said = f"the till is {in_money(abs(over), places)} {'over' if over > 0 else 'short'}"
        return f"Takings {count} by count, {till} by the till: {said}"

    def _went(self) -> str:
        sold, taken, share = (
            self.figures[name]
            for name in ("packs_sold_that_day", "packs_taken", "day_sell_through")
        )
        said = f"Sold {_plain(sold)} of {_plain(taken)} packs taken, {in_percent(share)}"
        out = [each.product for each in self.products if each.sold_out]
        return f"{said}; sold out: {'; '.join(out)}" if out else said

    def _left(self, places: int) -> str:
        net, gone, costs, left = (
            in_money(self.figures[name], places)
            for name in (
                *("takings_before_tax", "cost_of_gone", "costs_of_the_day"),
                "left_for_own_work",
            )
        )
        return (
            f"Without sales tax {net}, less {gone} for what is gone and {costs} for the day: "
            f"{left} left for your own work"
        )

    def verdict(self, places: int) -> str:
        """What an hour brought, against what it is to bring; or what that lacks."""
        pay, wished, hours = (self.number(n) for n in ("pay_an_hour", "pay_wished", "own_hours"))
        if pay is None or hours is None:
            return f"What an hour brought isn't known, for lack of {self.lacks}"
        said = f"{rounded(hours, _HOURS)} hours of yours: {in_money(pay, places)} an hour"
        return f"{said}, and {in_money(wished, places)} is wished" if wished is not None else said


_TAKEN_BY: Final = ("count", "till")


def market_days(costing: Costing) -> list[MarketDay]:
    """Every day at an outlet, the first one first."""
    figures = costing.figures["market_days"]
    rows = [
        row for row in costing.structure.rows["market_days"] if figures[row.index]["leads"] == 1
    ]
    rows.sort(key=lambda row: _number(figures[row.index]["day_rank"]) or 0)
    outlets, sold, weather = _outlets(costing), sold_by_day(costing), _weather(costing)
    return [_day(row, figures[row.index], outlets, sold, weather) for row in rows]


_Key = tuple[Value, Value]
"""A day, and the key of an outlet."""


def _day(
    row: Row,
    figures: Figures,
    outlets: Mapping[Value, str],
    sold: Mapping[_Key, Sequence[SoldThatDay]],
    weather: Mapping[_Key, str],
) -> MarketDay:
    day, key = figures["day"], figures["outlet_key"]
    assert isinstance(day, Decimal)  # else the row would lead no day
    typed = row.sources["Market days"].text("outlet")
    its = tuple(sold.get((day, key), ()))
    return MarketDay(row, day, outlets.get(key, typed), weather.get((day, key), ""), figures, its)


def sold_by_day(costing: Costing) -> dict[_Key, list[SoldThatDay]]:
    """What was sold, by the day and the key of the outlet, as Sales has them in its rows."""
    names = _names(costing, "packs_gone", "product_key", "product")
    outlets = _outlets(costing)
    found: dict[_Key, list[SoldThatDay]] = {}
    for row, figures in _typed(costing, "sales", "Sales"):
        key = figures["day"], figures["outlet_key"]
        name = names.get(figures["product_key"], row.text("product"))
        outlet = outlets.get(figures["outlet_key"], row.text("outlet"))
        found.setdefault(key, []).append(SoldThatDay(name, outlet, figures))
    return found


def _weather(costing: Costing) -> dict[_Key, str]:
    """The first words on the weather, by the day and the outlet."""
    found: dict[_Key, str] = {}
    for row, figures in _typed(costing, "market_rows", "Market days"):
        if row.text("weather"):
            found.setdefault((figures["day"], figures["outlet_key"]), row.text("weather"))
    return found


def _typed(costing: Costing, table: str, sheet: str) -> Iterator[tuple[Record, Figures]]:
    """The rows of a log in which the person typed something, with their figures."""
    for row in costing.structure.rows[table]:
        if sheet in row.sources:
            yield row.sources[sheet], costing.of(row)


def _outlets(costing: Costing) -> dict[Value, str]:
    """By key, the names of the outlets."""
    return _names(costing, "sold_at", "outlet_key", "outlet")


def _names(costing: Costing, table: str, key: str, name: str) -> dict[Value, str]:
    """By key, the names as the sheet that lists them has them."""
    rows = costing.structure.rows[table]
    return {costing.of(row)[key] or as_key(""): str(row.fixed[name]) for row in reversed(rows)}


def _number(value: Value) -> Decimal | None:
    return value if isinstance(value, Decimal) else None


def _plain(value: Value) -> str:
    return f"{float(value):g}" if isinstance(value, Decimal) else "?"
