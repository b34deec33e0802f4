"""The tables of market days: what each brought, from its rows on Market days and Sales.

They have rows only in a workbook that keeps one of the two sheets.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from costbook.definitions import astray_rules
from costbook.definitions import market_days_rules as rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Compared,
    Computed,
    Fixed,
    Fold,
    Given,
    Key,
    LookedUp,
    Over,
    RowOf,
    Same,
    Show,
    Table,
)
from costbook.definitions.own_work_workings import MARKET_SHEETS, OWN_WORK_TABLES
from costbook.definitions.row_sources import EachOf, RowsOfSheet

__all__ = ["FEWEST_DAYS", "MARKET_DAY_TABLES"]

_0: Final = Decimal(0)


_OF_AN_OUTLET: Final = (
    ("fee_per_day", Show.MONEY),
    ("miles_per_day", Show.NUMBER),
    ("cost_per_mile", Show.MONEY),
    ("travel_per_day", Show.MONEY),
    ("other_per_day", Show.MONEY),
    ("market_day_overheads", Show.MONEY),
    ("card_fee", Show.SHARE),
    ("card_fixed_fee", Show.MONEY),
    ("card_share", Show.SHARE),
    ("units_per_sale", Show.NUMBER),
    ("commission", Show.SHARE),
    ("tax_here", Show.SHARE),
)
"""What a day at an outlet has from it."""

SOLD_AT = Table(
    "sold_at",
    "Outlets: what a day there has from them",
    (
        Column("outlet", Fixed(), Show.TEXT),
        stands_as("outlets", "Outlets"),
        Column("outlet_key", Key("Outlets", "outlet"), Show.TEXT),
        *(Column(name, LookedUp("outlets", name), show) for name, show in _OF_AN_OUTLET),
        Column("kind", LookedUp("outlets", "kind"), Show.TEXT),
        Column("pays_wholesale", Computed(rules.pays_wholesale), Show.WHOLE),
        Column("tax_in_price", LookedUp("outlets", "tax_in_price"), Show.SHARE),
        Column("charged_of_quoted", Computed(rules.charged_of_quoted)),
    ),
    EachOf("outlets"),
    only_with=MARKET_SHEETS,
)

_THERE = (Same("outlet_key", "outlet_key", named=True),)
FEWEST_DAYS: Final = 4
"""Days that must speak before anything is said of an outlet, a product or rain."""
_THAT_DAY = (Compared("day", "=", "day"), *_THERE)
"""Rows of the same day at the same outlet."""
_SOLD_THAT_DAY = (Compared("day", "=", "day_of_sales"), *_THERE)
"""Rows of Sales of a day, once it is known of each of them whose it is."""


def _of_outlet(name: str, show: Show) -> Column:
    return Column(name, Over("sold_at", "only", name, _THERE), show)


def _of_product(name: str, show: Show) -> Column:
    same = Same("product_key", "product_key", named=True)
    return Column(name, Over("packs_gone", "only", name, (same,)), show)


_LOGGED: Final = (
    ("product_key", Show.TEXT),
    ("outlet_key", Show.TEXT),
    ("day", Show.DATE),
    ("sold", Show.NUMBER),
    ("sampled", Show.NUMBER),
    ("spoiled", Show.NUMBER),
)
"""What the log of packs that are gone has read of a row of Sales."""

SALES = Table(
    "sales",
    "Sales: each product on a day",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        *(Column(name, LookedUp("gone_log", name), show) for name, show in _LOGGED),
        Column("taken", Given("Sales", "taken")),
        _of_product("current_price", Show.MONEY),
        _of_product("wholesale_price_now", Show.MONEY),
        _of_outlet("pays_wholesale", Show.WHOLE),
        Column("price_then", Computed(rules.price_then), Show.MONEY),
        Column("price", Given("Sales", "price", stands_in="price_then"), Show.MONEY),
        Column("gone", Computed(rules.gone)),
        Column("sold_counted", Computed(rules.sold_counted)),
        Column("came_home", Computed(rules.came_home)),
        Column("sell_through", Computed(rules.sell_through), Show.SHARE),
        Column("sold_out", Computed(rules.sold_out), Show.WHOLE),
        _of_outlet("charged_of_quoted", Show.NUMBER),
        Column("row_takings", Computed(rules.row_takings), Show.MONEY),
        _of_product("cost_of_a_pack", Show.MONEY),
        Column("row_cost", Computed(rules.row_cost), Show.MONEY),
        _of_product("own_minutes_of_a_pack", Show.MINUTES),
        Column("row_minutes", Computed(rules.row_minutes), Show.MINUTES),
        _of_product("units_per_pack", Show.NUMBER),
        Column("row_units", Computed(rules.row_units)),
        Column("days_rows", Over("market_rows", "count", "row_number", _THAT_DAY), Show.WHOLE),
        Column("of_no_day", Computed(astray_rules.of_no_day), Show.WHOLE),
        Column("sale_undated", Computed(astray_rules.sale_undated), Show.WHOLE),
    ),
    EachOf("gone_log"),
    only_with=MARKET_SHEETS,
)

_FIGURES: Final = (
    ("hours", Show.NUMBER),
    ("float_cash", Show.MONEY),
    ("cash_counted", Show.MONEY),
    ("cash_paid_out", Show.MONEY),
    ("card_takings", Show.MONEY),
    ("card_payout", Show.MONEY),
    ("fee_paid", Show.MONEY),
    ("miles", Show.NUMBER),
    ("other_paid", Show.MONEY),
)
"""What a row of Market days says of its day in figures."""
_NOTHING_IF_BLANK: Final = "cash_paid_out"
"""Of which a blank is nothing, whatever else is typed."""


def _as_typed() -> Iterator[Column]:
    """Each figure of a row as it was typed, and as nothing where it is blank."""
    for name, show in _FIGURES:
        yield Column(f"{name}_in_row", Given("Market days", name, _0), show)
        if name != _NOTHING_IF_BLANK:
            yield Column(f"{name}_typed_in_row", Given("Market days", name), show)


MARKET_ROWS = Table(
    "market_rows",
    "Market days: each row",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("day_row", RowOf("Market days", "day"), Show.WHOLE),
        Column("outlet_row", RowOf("Market days", "outlet"), Show.WHOLE),
        Column("outlet_key", Key("Market days", "outlet"), Show.TEXT),
        Column("day", Given("Market days", "day"), Show.DATE),
        *_as_typed(),
        Column("row_says", Computed(astray_rules.row_says), Show.WHOLE),
        Column("row_astray", Computed(astray_rules.row_astray), Show.WHOLE),
    ),
    RowsOfSheet("Market days", key="outlet_key"),
    only_with=MARKET_SHEETS,
)


def _of_its_rows() -> Iterator[Column]:
    """What all rows of a day say together, and in how many something was typed."""
    for name, show in _FIGURES:
        yield Column(name, Over("market_rows", "all", f"{name}_in_row", _THAT_DAY), show)
        if name != _NOTHING_IF_BLANK:
            typed = Over("market_rows", "count", f"{name}_typed_in_row", _THAT_DAY)
            yield Column(f"{name}_typed", typed, Show.WHOLE)


def _sold(fold: Fold, column: str) -> Over:
    return Over("sales", fold, column, _SOLD_THAT_DAY)


MARKET_DAYS = Table(
    "market_days",
    "Market days: what each brought, in the first of its rows",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("outlet_key", LookedUp("market_rows", "outlet_key"), Show.TEXT),
        Column("day", LookedUp("market_rows", "day"), Show.DATE),
        Column("first_row", Over("market_rows", "least", "row_number", _THAT_DAY), Show.WHOLE),
        Column("leads", Computed(rules.leads), Show.WHOLE),
        *_of_its_rows(),
        *(_of_outlet(name, show) for name, show in _OF_AN_OUTLET),
        Column(
            "sales_astray",
            Over("sales", "total", "of_no_day", (Compared("day", "=", "day"),)),
            Show.WHOLE,
        ),
        Column("sales_undated", Over("sales", "total", "sale_undated", _THERE), Show.WHOLE),
        Column("day_of_sales", Computed(astray_rules.day_of_sales), Show.DATE),
        Column("sales_rows", _sold("count", "row_number"), Show.WHOLE),
        Column("takings_by_count", _sold("all", "row_takings"), Show.MONEY),
        Column("cost_of_gone", _sold("all", "row_cost"), Show.MONEY),
        Column("minutes_of_sold", _sold("all", "row_minutes"), Show.MINUTES),
        Column("units_sold", _sold("all", "row_units")),
        Column("packs_sold_that_day", _sold("all", "sold_counted")),
        Column("packs_taken", _sold("all", "taken")),
        Column("day_sell_through", Computed(rules.day_sell_through), Show.SHARE),
        Column("takings_by_till", Computed(rules.takings_by_till), Show.MONEY),
        Column("over_short", Computed(rules.over_short), Show.MONEY),
        Column("takings", Computed(rules.takings), Show.MONEY),
        Column("takings_before_tax", Computed(rules.takings_before_tax), Show.MONEY),
        Column("day_fee", Computed(rules.day_fee), Show.MONEY),
        Column("day_miles", Computed(rules.day_miles)),
        Column("day_travel", Computed(rules.day_travel), Show.MONEY),
        Column("day_other", Computed(rules.day_other), Show.MONEY),
        Column("paid_by_card", Computed(rules.paid_by_card), Show.MONEY),
        Column("part_by_card", Computed(rules.part_by_card), Show.SHARE),
        Column("fixed_card_fees", Computed(rules.fixed_card_fees), Show.MONEY),
        Column("day_card_fee", Computed(rules.day_card_fee), Show.MONEY),
        Column("day_commission", Computed(rules.day_commission), Show.MONEY),
        Column("costs_of_the_day", Computed(rules.costs_of_the_day), Show.MONEY),
        Column("left_for_own_work", Computed(rules.left_for_own_work), Show.MONEY),
        Column("hours_there", Computed(rules.hours_there)),
        Column("own_hours", Computed(rules.own_hours)),
        Column("pay_an_hour", Computed(rules.pay_an_hour), Show.MONEY),
        Column("pay_wished", Computed(rules.pay_wished), Show.MONEY),
        Column("margin_of_the_day", Computed(rules.margin_of_the_day), Show.SHARE),
        Column("day_lacks", Computed(rules.day_lacks), Show.TEXT),
        Column("day_rank", Computed(rules.day_rank), Show.WHOLE),
    ),
    EachOf("market_rows"),
    only_with=MARKET_SHEETS,
)

MARKET_DAY_TABLES: Final = (
    *(MARKET_DAYS, MARKET_ROWS, SALES, SOLD_AT),
    *OWN_WORK_TABLES,
)
"""From the days down to the stages; on Workings they stand above what they rest on."""
