"""The tables of labels: whether what Items says for them is still what the labels were made of."""

from __future__ import annotations

from costbook.definitions.column_makers import renamed, stands_as
from costbook.definitions.columns import Column, Fixed, Gathered, Show, Table
from costbook.definitions.row_sources import EachOf, OneRow

__all__ = ["LABEL_TABLES"]

_BEGUN = ("Items.label_name",)
"""What a workbook has in which labels were begun."""

LABEL_ITEMS = Table(
    "label_items",
    "Labels: whether each item's words and allergens are those that were put on them",
    (
        Column("item", Fixed(), Show.TEXT),
        stands_as("prices_now", "Items"),
        renamed("Items", "label_name", "allergens", column="changed"),
    ),
    EachOf("prices_now"),
    only_with=_BEGUN,
)

LABELS_SINCE = Table(
    "labels_since",
    "Labels: items changed since they were made",
    (Column("changed_since", Gathered("label_items", "changed", "total"), Show.WHOLE),),
    OneRow(),
    only_with=_BEGUN,
)

LABEL_TABLES = (LABELS_SINCE, LABEL_ITEMS)
