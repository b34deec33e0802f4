"""The tables of what was made and counted, and of what is left of it in the freezer.

Workbooks without these sheets have none of them.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import buying_rules, measured_rules
from costbook.definitions import stock_rules as rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Compared,
    Computed,
    Criterion,
    Fixed,
    Fold,
    Given,
    Key,
    Over,
    RowOf,
    Same,
    Show,
    Table,
    UnitFact,
    UnitRow,
)
from costbook.definitions.row_sources import EachOf, RowsOfSheet

__all__ = ["OF_A_PRODUCT", "OF_IT", "STOCK_TABLES", "made_of_it"]

_0: Final = Decimal(0)

MADE_LOG = Table(
    "made_log",
    "Made: packs put into the freezer",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("day_row", RowOf("Made", "day"), Show.WHOLE),
        Column("product_row", RowOf("Made", "product"), Show.WHOLE),
        Column("product_key", Key("Made", "product"), Show.TEXT),
        Column("day", Given("Made", "day"), Show.DATE),
        Column("packs", Given("Made", "packs")),
        Column("day_so_far", Computed(rules.day_so_far), Show.DATE),
        Column("day_at_latest", Computed(rules.day_at_latest), Show.DATE),
        Column("unread", Computed(rules.unread_packs), Show.WHOLE),
        Column("minutes", Given("Made", "minutes"), Show.MINUTES),
        Column("timed_minutes", Computed(measured_rules.made_minutes), Show.MINUTES),
        Column("timed_units", Computed(measured_rules.made_packs), title="Packs timed"),
        Column("minutes_each", Computed(measured_rules.minutes_each), Show.MINUTES),
        Column("is_timed", Computed(measured_rules.is_timed), Show.WHOLE),
        Column("rejects", Given("Made", "rejects")),
        Column("made_rejects", Computed(measured_rules.made_rejects), title="Rejects beside"),
        Column("packs_beside", Computed(measured_rules.packs_beside)),
        Column("rejects_each", Computed(measured_rules.rejects_each)),
        Column("is_watched", Computed(measured_rules.is_watched), Show.WHOLE),
    ),
    RowsOfSheet("Made", key="product_key"),
    only_with=("Made",),
)

GONE_LOG = Table(
    "gone_log",
    "Sales: packs that are gone",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("day_row", RowOf("Sales", "day"), Show.WHOLE),
        Column("outlet_row", RowOf("Sales", "outlet"), Show.WHOLE),
        Column("product_row", RowOf("Sales", "product"), Show.WHOLE),
        Column("product_key", Key("Sales", "product"), Show.TEXT),
        Column("outlet_key", Key("Sales", "outlet"), Show.TEXT),
        Column("day", Given("Sales", "day"), Show.DATE),
        Column("sold", Given("Sales", "sold")),
        Column("sampled", Given("Sales", "sampled", _0)),
        Column("spoiled", Given("Sales", "spoiled", _0)),
        Column("packs", Computed(rules.packs_gone), title="Packs gone"),
        Column("day_so_far", Computed(rules.day_so_far), Show.DATE),
        Column("day_at_latest", Computed(rules.day_at_latest), Show.DATE),
        Column("unread", Computed(rules.unread_packs), Show.WHOLE),
    ),
    RowsOfSheet("Sales", key="product_key"),
    only_with=("Sales",),
)

COUNTS = Table(
    "counts",
    "Counts: what was counted, and in what order",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("day_row", RowOf("Counts", "day"), Show.WHOLE),
        Column("what_row", RowOf("Counts", "what"), Show.WHOLE),
        Column("what_key", Key("Counts", "what"), Show.TEXT),
        Column("day", Given("Counts", "day"), Show.DATE),
        Column("amount", Given("Counts", "amount")),
        Column("unit_row", UnitRow("Counts", "unit", "amount"), Show.WHOLE),
        Column("unit_factor", UnitFact("factor")),
        Column("measure", UnitFact("measure"), Show.WHOLE),
        Column("amount_counted", Computed(buying_rules.amount_counted)),
        Column("packs_counted", Computed(rules.packs_counted)),
        Column("is_known", Computed(rules.is_known), Show.WHOLE),
        Column("undated", Computed(rules.undated), Show.WHOLE),
        Column("day_so_far", Computed(rules.day_so_far), Show.DATE),
        Column("count_rank", Computed(rules.count_rank), Show.WHOLE),
    ),
    RowsOfSheet("Counts", key="what_key"),
    only_with=("Counts",),
)

OF_IT: Final = Same("product_key", "product_key", named=True)
"""A row of a log that is of the product."""
_COUNTED = Same("what_key", "product_key", named=True)
_SINCE, _SINCE_AT_LATEST = (
    Compared(day, ">", "last_count") for day in ("day_so_far", "day_at_latest")
)
_AFTER, _AFTER_AT_LATEST = (
    Compared(day, ">", "last_count_before") for day in ("day_so_far", "day_at_latest")
)
_UNTIL, _UNTIL_AT_LATEST = (
    Compared(day, "<=", "last_count") for day in ("day_so_far", "day_at_latest")
)


def made_of_it(fold: Fold, column: str, *criteria: Criterion) -> Over:
    """What the rows on which a product was made come to."""
    return Over("made_log", fold, column, (OF_IT, *criteria))


def _gone(column: str, *criteria: Criterion) -> Over:
    """What the rows on which a product went come to."""
    return Over("gone_log", "total", column, (OF_IT, *criteria))


def _at(column: str, rank: str) -> Over:
    """What the count of a rank says."""
    return Over("counts", "total", column, (Compared("count_rank", "=", rank),))


def _meant(name: str, log: str, key: str, slip: str) -> Column:
    """The last row of a log that bears a name that may be meant for the product's; else 0."""
    rows = Over(log, "largest", "row_number", (Same(key, slip, named=True),))
    return Column(name, rows, Show.WHOLE)


_EARLIER = Compared("count_rank", "<", "counted_rank")
OF_A_PRODUCT: Final = (
    Column("product", Fixed(), Show.TEXT),
    stands_as("packs", "Products"),
    Column("product_key", Key("Products", "product"), Show.TEXT),
)

FREEZER = Table(
    "freezer",
    "The freezer: packs of each product",
    (
        *OF_A_PRODUCT,
        Column("slip_on_made", Fixed(), Show.TEXT, "Perhaps meant on Made"),
        Column("slip_on_sales", Fixed(), Show.TEXT, "Perhaps meant on Sales"),
        Column("slip_on_counts", Fixed(), Show.TEXT, "Perhaps meant on Counts"),
        Column("counted_rank", Over("counts", "largest", "count_rank", (_COUNTED,)), Show.WHOLE),
        Column("last_count", Computed(rules.day_of_count), Show.DATE),
        Column("counted_on", Computed(rules.counted_on), Show.DATE),
        Column("counted", _at("packs_counted", "counted_rank")),
        Column("counts_read", _at("is_known", "counted_rank"), Show.WHOLE),
        Column("packs_at_count", Computed(rules.packs_at_count)),
        Column("made_since", made_of_it("total", "packs", _SINCE)),
        Column("gone_since", _gone("packs", _SINCE)),
        Column("packs_by_rows", Computed(rules.packs_by_rows)),
        Column("packs_missing", Computed(rules.packs_missing)),
        Column("made_unread", made_of_it("total", "unread", _SINCE_AT_LATEST), Show.WHOLE),
        Column("gone_unread", _gone("unread", _SINCE_AT_LATEST), Show.WHOLE),
        Column("counts_undated", Over("counts", "total", "undated", (_COUNTED,)), Show.WHOLE),
        Column("rows_unread", Computed(rules.rows_unread), Show.WHOLE),
        _meant("made_meant", "made_log", "product_key", "slip_on_made"),
        _meant("gone_meant", "gone_log", "product_key", "slip_on_sales"),
        _meant("counts_meant", "counts", "what_key", "slip_on_counts"),
        Column("rows_meant", Computed(rules.rows_meant), Show.WHOLE),
        Column("packs_left", Computed(rules.packs_left)),
        Column(
            "before_rank",
            Over("counts", "largest", "count_rank", (_COUNTED, _EARLIER)),
            Show.WHOLE,
        ),
        Column("last_count_before", Computed(rules.day_of_count_before), Show.DATE),
        Column("counted_before", _at("packs_counted", "before_rank")),
        Column("counts_read_before", _at("is_known", "before_rank"), Show.WHOLE),
        Column("packs_at_count_before", Computed(rules.packs_at_count_before)),
        Column("made_between", made_of_it("total", "packs", _AFTER, _UNTIL)),
        Column("gone_between", _gone("packs", _AFTER, _UNTIL)),
        Column(
            "made_unread_between",
            made_of_it("total", "unread", _AFTER_AT_LATEST, _UNTIL_AT_LATEST),
            Show.WHOLE,
        ),
        Column(
            "gone_unread_between",
            _gone("unread", _AFTER_AT_LATEST, _UNTIL_AT_LATEST),
            Show.WHOLE,
        ),
        Column("expected_at_count", Computed(rules.expected_at_count)),
        Column("found_at_count", Computed(rules.found_at_count)),
        Column("lacks", Computed(rules.freezer_lacks), Show.TEXT),
    ),
    EachOf("products"),
    lacks="lacks",
    only_with=("Made", "Counts"),
)

STOCK_TABLES: Final = (FREEZER, MADE_LOG, GONE_LOG, COUNTS)
"""From what is in the freezer down to the rows that were typed."""
