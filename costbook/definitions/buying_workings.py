"""The tables of the buy list: what is to be there of each item, what is, and what is to be bought.

They stand in a workbook that plans what to make, or has a par, and nowhere else.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import buying_rules, rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Compared,
    Computed,
    Fixed,
    Gathered,
    Given,
    LookedUp,
    Over,
    Same,
    Show,
    Table,
    UnitFact,
    UnitRow,
    Worth,
)
from costbook.definitions.row_sources import EachOf

__all__ = ["BUYING_TABLES"]

_0: Final = Decimal(0)
_WITH: Final = ("Plan", "Items")
"""Of Items, one on which there is a par."""


def _in_base_units(field: str, unit: str) -> tuple[Column, ...]:
    """An amount of an item as typed, and what leads to the base unit of its price now."""
    return (
        stands_as("prices_now", "Items"),
        Column(field, Given("Items", field, _0)),
        Column("unit_row", UnitRow("Items", unit, field), Show.WHOLE),
        Column(f"{field}_factor", UnitFact("factor")),
        Column("measure", UnitFact("measure"), Show.WHOLE),
        Column("price_measure", LookedUp("prices_now", "measure"), Show.WHOLE),
        Column("worth", Worth("items", "measure")),
        Column("price_worth", Worth("items", "price_measure")),
        Column(f"{field}_bridge", Computed(rules.bridge)),
    )


_LAST = (Compared("count_rank", "=", "counted_rank"),)
_OF_IT = (Same("what_key", "item_key", named=True),)

COUNTED = Table(
    "counted_on_hand",
    "Buy list: what was counted last",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        Column("counted_rank", Over("counts", "largest", "count_rank", _OF_IT), Show.WHOLE),
        Column("counts_undated", Over("counts", "total", "undated", _OF_IT), Show.WHOLE),
        Column("counted_amount", Over("counts", "only", "amount_counted", _LAST)),
        Column("measure", Over("counts", "only", "measure", _LAST), Show.WHOLE),
        Column("price_measure", LookedUp("prices_now", "measure"), Show.WHOLE),
        Column("worth", Worth("items", "measure")),
        Column("price_worth", Worth("items", "price_measure")),
        Column("bridge", Computed(rules.bridge)),
        Column("counted_held", Computed(buying_rules.counted_held)),
    ),
    EachOf("to_buy"),
    only_with=("Counts",),
)

ON_HAND = Table(
    "on_hand",
    "Buy list: what is on hand",
    (
        Column("item", Fixed(), Show.TEXT),
        *_in_base_units("on_hand", "on_hand_unit"),
        Column("typed_held", Computed(buying_rules.typed_held, "on_hand")),
        Column("on_hand_cell", Given("Items", "on_hand"), title="On hand, if typed"),
    ),
    EachOf("to_buy"),
    only_with=_WITH,
)

PARS = Table(
    "pars",
    "Buy list: what is to be there by its par",
    (
        Column("item", Fixed(), Show.TEXT),
        *_in_base_units("par", "par_unit"),
        Column("par_held", Computed(buying_rules.par_held, "par")),
        Column("order_every_days", Given("Items", "order_every_days", _0)),
        Column("comes_after_days", Given("Items", "comes_after_days", _0)),
        Column("par_level", Computed(buying_rules.par_level, "par_held")),
    ),
    EachOf("to_buy"),
    only_with=_WITH,
)

TO_BUY = Table(
    "to_buy",
    "Buy list: what is to be bought of each item",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        Column("lines_take", Gathered("planned_lines", "take", key="item_key")),
        Column("packaging_take", Gathered("planned_packaging", "take", key="item_key")),
        Column("planned_need", Computed(buying_rules.planned_need)),
        Column("par_level", LookedUp("pars", "par_level")),
        Column("to_be_there", Computed(buying_rules.to_be_there)),
        Column("on_hand_cell", LookedUp("on_hand", "on_hand_cell")),
        Column("typed_held", LookedUp("on_hand", "typed_held")),
        Column("counted_held", LookedUp("counted_on_hand", "counted_held", without=_0)),
        Column("held_on_hand", Computed(buying_rules.held_on_hand)),
        Column("to_buy", Computed(buying_rules.to_buy, "to_be_there")),
    ),
    only_with=_WITH,
)


def _planned(name: str, title: str, line: str, made: str, batches: str) -> Table:
    """What the plan takes by each line of a table: none where no batch is made."""
    return Table(
        name,
        title,
        (
            Column("uses", Fixed(), Show.TEXT),
            Column("item_key", Fixed(), Show.TEXT),
            Column("amount_as_bought", LookedUp(line, "amount_as_bought")),
            Column("batches", LookedUp(made, batches)),
            Column("take", Computed(buying_rules.planned_take, "batches")),
        ),
        only_with=("Plan",),
    )


PLANNED_LINES = _planned(
    "planned_lines", "Buy list: what the plan's recipes take", "lines", "plan_recipes", "batches"
)
PLANNED_PACKAGING = _planned(
    "planned_packaging",
    "Buy list: what the plan's packs take",
    "packaging",
    "plan_products",
    "product_batches",
)

BUYING_TABLES: Final = (TO_BUY, PARS, ON_HAND, COUNTED, PLANNED_PACKAGING, PLANNED_LINES)
"""From the answer down to what was typed."""
