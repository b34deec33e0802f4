"""Rows of the buy list: what the plan takes, line by line, and each item that may be bought."""

from __future__ import annotations

from collections.abc import Mapping

from costbook.book import Record
from costbook.costing.row_builder import RowBuilder
from costbook.costing.rows import Row

__all__ = ["add_buy_rows"]

_PLANNED = (("plan_recipes", "lines"), ("plan_products", "packaging"))
"""What the plan makes, and the lines that say what is taken for a batch of it."""


def add_buy_rows(
    builder: RowBuilder,
    items: Mapping[str, Row],
    use: Mapping[str, Row],
    records: Mapping[str, Record],
) -> None:
    """Add a row for each line that the plan's batches may take, and each item that may be bought.

    That is what any recipe or product takes, as the plan grows without a run; and what has a par.
    """
    may_be = {key for key, record in records.items() if "par" in record.values}
    for made, lines in _PLANNED:
        for row in builder.rows[made]:
            may_be |= {_planned(builder, row, lines, at) for at in row.children[lines]}
    named = (f"planned_{lines}" for _, lines in _PLANNED)
    children = {table: range(len(builder.rows[table])) for table in named}
    for key, item in items.items():
        if key not in may_be:
            continue
        links = {"items": item, "prices_now": item.links["prices_now"], "item_use": use[key]}
        fixed = {"item": item.fixed["item"], "item_key": key}
        row = builder.add("to_buy", fixed, {"Items": records.get(key)}, links)
        row.children = children
    builder.add_rows_of("to_buy")


def _planned(builder: RowBuilder, made: Row, lines: str, at: int) -> str:
    """Add the row of one line; gives the key of the item that it takes."""
    line = builder.rows[lines][at]
    fixed = {"uses": line.fixed["uses"], "item_key": line.fixed["item_key"]}
    builder.add(f"planned_{lines}", fixed, {}, {lines: line, made.table: made})
    return str(line.fixed["item_key"])
