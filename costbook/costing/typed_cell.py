"""A cell that the person typed: which record and field it is, and which figure it goes into."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.book import Book, Record, as_key
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.costing.trail import At
from costbook.definitions.fields import Kind
from costbook.definitions.rounding import in_percent
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.workings import TABLES

__all__ = ["TypedCell", "typed_cell"]

_GOES_INTO: Final[Mapping[str, tuple[tuple[str, str], ...]]] = {
    "Purchases": (("prices_now", "price_per_base_unit"),),
    "Items": (("item_prices", "large_unit_price_ready"),),
    "Recipes": (("lines", "line_cost"), ("uses", "used_cost")),
    "Batches": (("recipes", "batch_cost"),),
    "Stages": (("stages", "stage_labour"), ("product_stages", "stage_labour")),
    "Packaging": (("packaging", "line_cost"),),
    "Products": (("prices", "price_on_step"),),
    "Overheads": (("overheads", "cost_a_year"),),
    "Outlets": (("outlets", "day_costs"),),
    "Offers": (("packs_seen", "compared_ready"),),
    "Plan": (("plan", "wanted"),),
    "Market days": (("market_days", "pay_an_hour"),),
}
"""By input sheet, the figures of Workings that a row of it is for: the first that it has."""
_OF_ITS_OWN: Final[Mapping[tuple[str, str], tuple[tuple[str, str], ...]]] = {
    ("Products", "current_price"): (("prices", "now_margin"),),
}
"""By field, where it goes into another."""


@dataclass(frozen=True, slots=True)
class TypedCell:
    """A cell of an input sheet: its field's title, what is typed there, and what it goes into."""

    field: str
    typed: str
    figure: At | None


def typed_cell(costing: Costing, tab: str, address: str) -> TypedCell | None:
    """What a cell of the person's is; None where costbook reads nothing there."""
    book = costing.structure.book
    found = next(_records_at(book, tab, address), None)
    if found is None:
        return None
    record, name = found
    title = INPUT_SHEETS[record.sheet].field(name).title if name else ""
    return TypedCell(title, _shown(book, record, name), _goes_into(costing, record, name))


def _shown(book: Book, record: Record, name: str) -> str:
    """What is typed there, as people write it."""
    value = record.values.get(name)
    if name in record.texts or not isinstance(value, Decimal):
        return record.texts.get(name) or record.text(name)
    match INPUT_SHEETS[record.sheet].field(name).kind:
        case Kind.SHARE:
            return in_percent(value)
        case Kind.DATE:
            return book.written(value)
        case _:
            return record.text(name)


def _records_at(book: Book, tab: str, address: str) -> Iterator[tuple[Record, str]]:
    """The record that has a cell, with the field; else the one whose row it stands in."""
    records = [each for sheet in book.sheets.values() if sheet.tab == tab for each in sheet.records]
    for record in records:
        yield from ((record, name) for name, cell in record.cells.items() if cell == address)
    row = int(re.sub("[A-Z]+", "", address))
    yield from ((each, "") for each in records if each.row == row and not _is_upright(each))


def _is_upright(record: Record) -> bool:
    return INPUT_SHEETS[record.sheet].upright


def _goes_into(costing: Costing, record: Record, name: str) -> At | None:
    if _is_upright(record):
        has = name in TABLES["settings"].index
        return (costing.structure.one("settings"), name) if has else None
    wanted = _OF_ITS_OWN.get((record.sheet, name)) or _GOES_INTO.get(record.sheet, ())
    for table, column in wanted:
        for row in costing.structure.rows[table]:
            if _is_for(row, record):
                return row, column
    return None


def _is_for(row: Row, record: Record) -> bool:
    """Whether a row is made of a record, or of the batches that it is, or of the item it bought."""
    if record.sheet == "Purchases":
        return row.fixed["item_key"] == as_key(record.text("item"))
    linked = row.links.get("batches") if record.sheet == "Batches" else row
    return linked is not None and linked.sources.get(record.sheet) is record
