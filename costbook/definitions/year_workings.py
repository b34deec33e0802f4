"""The tables of the year: what its market days, receipts and counts come to, up to a day.

They stand in a workbook that keeps market days. Which year it is is as of the run.
"""

from __future__ import annotations

from typing import Final

from costbook.definitions import rules, stock_rules, year_rules
from costbook.definitions.columns import (
    Column,
    Compared,
    Computed,
    Criterion,
    Fixed,
    Fold,
    Gathered,
    Given,
    Key,
    LookedUp,
    Over,
    Same,
    Show,
    Table,
    Worth,
)
from costbook.definitions.over import rank_of_the_next_day
from costbook.definitions.row_sources import EachOf, EachPair, OneRow

__all__ = ["OF_THE_DAYS", "YEAR_TABLES"]

_WITH: Final = ("Market days",)
_HELD: Final = (
    Compared("day_rank", ">", "eve", rank_of_the_next_day),
    Compared("day_rank", "<", "days_until", rank_of_the_next_day),
)
"""Market days, each in the first of its rows, behind the eve of a time and up to a day."""
_SINCE_EVE: Final = (Compared("day", ">", "eve"), Compared("day", "<=", "until"))
_BOUGHT: Final = (Compared("day", ">", "eve"), Compared("day", "<=", "bought_until"))


def _of_days(fold: Fold, column: str, *more: Criterion) -> Over:
    return Over("market_days", fold, column, (*_HELD, *more))


_UNTIL: Final = Column("until", Computed(year_rules.year_until), Show.DATE)

OF_THE_DAYS: Final = (
    ("year_takings", "takings", Show.MONEY),
    ("year_net", "takings_before_tax", Show.MONEY),
    ("year_pitches", "day_fee", Show.MONEY),
    ("year_card_fees", "day_card_fee", Show.MONEY),
    ("year_commission", "day_commission", Show.MONEY),
    ("year_travel", "day_travel", Show.MONEY),
    ("year_miles", "day_miles", Show.NUMBER),
    ("year_other", "day_other", Show.MONEY),
    ("year_market_overheads", "market_day_overheads", Show.MONEY),
    ("year_own_hours", "own_hours", Show.NUMBER),
)
"""What of every market day is added up, by column of the year."""

YEAR_SPAN = Table(
    "year_span",
    "The year: how much of it has passed, and which rows may be of any day",
    (
        Column("eve", Fixed(), Show.DATE, "The day before it"),
        Column("last_day", Fixed(), Show.DATE),
        _UNTIL,
        Column("rows_astray", Gathered("market_rows", "row_astray"), Show.WHOLE),
        Column("sales_nowhere", Over("sales", "total", "of_no_day", _SINCE_EVE), Show.WHOLE),
        Column("sales_undated", Gathered("sales", "sale_undated"), Show.WHOLE),
        Column("days_until", Computed(year_rules.days_until), Show.DATE),
        Column("receipts_undated", Gathered("year_receipts", "receipt_undated"), Show.WHOLE),
        Column("bought_until", Computed(year_rules.bought_until), Show.DATE),
        Column("year_lacks", Computed(year_rules.year_lacks), Show.TEXT),
    ),
    OneRow(),
    only_with=_WITH,
)


def _span(name: str, own: str = "") -> Column:
    return Column(own or name, LookedUp("year_span", name), Show.DATE)


THIS_YEAR = Table(
    "this_year",
    "The year, up to the costing date",
    (
        *map(_span, ("eve", "last_day", "until", "days_until", "bought_until")),
        Column("days_there", _of_days("count", "day_rank"), Show.WHOLE),
        Column("days_known", _of_days("count", "takings"), Show.WHOLE),
        Column("days_not_known", Computed(year_rules.days_not_known), Show.WHOLE),
        *(Column(name, _of_days("every", of), show) for name, of, show in OF_THE_DAYS),
        Column("year_sales_tax", Computed(year_rules.year_sales_tax), Show.MONEY),
        Column("yearly_sales_cap", Given("Settings", "yearly_sales_cap"), Show.MONEY),
        Column("cap_left", Computed(year_rules.cap_left), Show.MONEY),
        Column("first_market_day", _of_days("least", "day"), Show.DATE),
        Column("cap_reached_on", Computed(year_rules.cap_reached_on), Show.DATE),
        Column("bought", Over("year_receipts", "every", "paid", _BOUGHT), Show.MONEY),
        Column("bought_by_kind", Gathered("year_kinds", "bought"), Show.MONEY),
        Column("bought_otherwise", Computed(year_rules.bought_otherwise), Show.MONEY),
        Column("one", Fixed(), Show.WHOLE),
        Column(
            "own_use",
            Over("year_kinds", "every", "bought", (Compared("is_own_use", "=", "one"),)),
            Show.MONEY,
        ),
        Column("bought_for_sale", Computed(year_rules.bought_for_sale), Show.MONEY),
        Column("packs_in_stock", Gathered("year_packs", "packs_at_cost"), Show.MONEY),
        Column("items_in_stock", Gathered("year_items", "item_at_cost"), Show.MONEY),
        Column("products_listed", Gathered("year_packs", "listed"), Show.WHOLE),
        Column("items_listed", Gathered("year_items", "listed"), Show.WHOLE),
        Column("counts_astray", Gathered("year_counts", "count_astray"), Show.WHOLE),
        Column("stock_at_cost", Computed(year_rules.stock_at_cost), Show.MONEY),
        Column("yearly", LookedUp("year", "yearly"), Show.MONEY),
        Column("year_overheads", Computed(year_rules.year_overheads), Show.MONEY),
        Column("year_fees", Computed(year_rules.year_fees), Show.MONEY),
        Column("year_expenses", Computed(year_rules.year_expenses), Show.MONEY),
        Column("year_own_pay", Computed(year_rules.year_own_pay), Show.MONEY),
    ),
    OneRow(),
    only_with=_WITH,
)

YEAR_MONTHS = Table(
    "year_months",
    "The year's months",
    (
        Column("month", Fixed(), Show.TEXT),
        Column("eve", Fixed(), Show.DATE, "The day before it"),
        Column("last_day", Fixed(), Show.DATE),
        _UNTIL,
        _span("days_until", "all_until"),
        Column("days_until", Computed(year_rules.month_until), Show.DATE),
        Column("days_there", _of_days("count", "day_rank"), Show.WHOLE),
        Column("month_takings", _of_days("every", "takings"), Show.MONEY),
    ),
    only_with=_WITH,
)

MONTHS_THERE = Table(
    "months_there",
    "The year's months at each outlet",
    (
        Column("month", Fixed(), Show.TEXT),
        Column("outlet", Fixed(), Show.TEXT),
        Column("outlet_key", LookedUp("sold_at", "outlet_key"), Show.TEXT),
        Column("eve", LookedUp("year_months", "eve"), Show.DATE),
        Column("days_until", LookedUp("year_months", "days_until"), Show.DATE),
        Column(
            "days_there",
            _of_days("count", "day_rank", Same("outlet_key", "outlet_key", named=True)),
            Show.WHOLE,
        ),
        Column(
            "takings_there",
            _of_days("all", "takings", Same("outlet_key", "outlet_key", named=True)),
            Show.MONEY,
        ),
        Column("no_day", Computed(year_rules.no_day), Show.WHOLE),
    ),
    EachPair("year_months", "sold_at"),
    only_with=_WITH,
)

YEAR_KINDS = Table(
    "year_kinds",
    "The year's purchases by Kind",
    (
        Column("kind", Fixed(), Show.TEXT),
        Column("kind_key", Fixed(), Show.TEXT),
        Column("is_own_use", Fixed(), Show.WHOLE),
        Column(
            "bought",
            Over("year_items", "every", "item_bought", (Same("kind_key", "kind_key"),)),
            Show.MONEY,
        ),
    ),
    only_with=_WITH,
)

_LAST_COUNT: Final = (Compared("count_rank", "=", "counted_rank"),)

YEAR_ITEMS = Table(
    "year_items",
    "Items: what was bought in the year, and what was counted last",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        Column("items_row", LookedUp("prices_now", "items_row"), Show.WHOLE),
        Column("kind_key", Key("Items", "item_kind"), Show.TEXT),
        *map(_span, ("eve", "bought_until")),
        Column(
            "item_bought",
            Over("year_receipts", "every", "paid", (Same("item_key", "item_key"), *_BOUGHT)),
            Show.MONEY,
        ),
        Column(
            "counted_rank",
            Over("counts", "largest", "count_rank", (Same("what_key", "item_key"),)),
            Show.WHOLE,
        ),
        Column("last_count", Computed(stock_rules.day_of_count), Show.DATE),
        Column("counted_on", Computed(stock_rules.counted_on), Show.DATE),
        Column("amount_counted", Over("counts", "only", "amount", _LAST_COUNT)),
        Column("count_factor", Over("counts", "only", "unit_factor", _LAST_COUNT)),
        Column("measure", Over("counts", "only", "measure", _LAST_COUNT), Show.WHOLE),
        Column("price_measure", LookedUp("prices_now", "measure"), Show.WHOLE),
        Column("worth", Worth("items", "measure")),
        Column("price_worth", Worth("items", "price_measure")),
        Column("count_bridge", Computed(rules.bridge)),
        Column("counted_in_base", Computed(year_rules.counted_in_base)),
        Column("price_per_base_unit", LookedUp("prices_now", "price_per_base_unit"), Show.MONEY),
        Column("item_at_cost", Computed(year_rules.item_at_cost), Show.MONEY),
        Column("listed", Computed(year_rules.item_is_listed), Show.WHOLE),
    ),
    EachOf("prices_now"),
    only_with=_WITH,
)

YEAR_PACKS = Table(
    "year_packs",
    "Products in stock, at cost",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("packs_left", LookedUp("freezer", "packs_left")),
        Column("counted_on", LookedUp("freezer", "counted_on"), Show.DATE),
        Column("made_since", LookedUp("freezer", "made_since")),
        Column("cost_of_a_pack", LookedUp("packs_gone", "cost_of_a_pack"), Show.MONEY),
        Column("packs_at_cost", Computed(year_rules.packs_at_cost, "packs_left"), Show.MONEY),
        Column("listed", Computed(year_rules.packs_are_listed), Show.WHOLE),
    ),
    EachOf("freezer"),
    only_with=_WITH,
)

YEAR_COUNTS = Table(
    "year_counts",
    "Counts: whether it is known what was counted, and when",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("what_key", LookedUp("counts", "what_key"), Show.TEXT),
        Column("day", LookedUp("counts", "day"), Show.DATE),
        Column(
            "products_counted",
            Over(
                "freezer",
                "count",
                "counted_rank",
                (Same("product_key", "what_key", named=True),),
            ),
            Show.WHOLE,
        ),
        Column(
            "items_counted",
            Over("year_items", "count", "eve", (Same("item_key", "what_key", named=True),)),
            Show.WHOLE,
        ),
        Column("count_astray", Computed(year_rules.count_astray), Show.WHOLE),
    ),
    EachOf("counts"),
    only_with=_WITH,
)

YEAR_RECEIPTS = Table(
    "year_receipts",
    "Purchases: what each line cost",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("day", LookedUp("purchases", "day"), Show.DATE),
        Column("item_key", LookedUp("purchases", "item_key"), Show.TEXT),
        Column("line_total", LookedUp("purchases", "line_total"), Show.MONEY),
        Column("other_cost", LookedUp("purchases", "other_cost"), Show.MONEY),
        Column("price_typed", Given("Purchases", "price_per_pack"), Show.MONEY),
        Column("paid", Computed(year_rules.paid), Show.MONEY),
        Column("receipt_undated", Computed(year_rules.receipt_undated), Show.WHOLE),
    ),
    EachOf("purchases"),
    only_with=_WITH,
)

YEAR_TABLES: Final = (
    *(THIS_YEAR, MONTHS_THERE, YEAR_MONTHS, YEAR_KINDS, YEAR_ITEMS, YEAR_PACKS, YEAR_SPAN),
    *(YEAR_COUNTS, YEAR_RECEIPTS),
)
"""From the year down to what it is added up from."""
