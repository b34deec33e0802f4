"""Names on the sheets of stock that are nobody's, and whose they may be."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final

from costbook.book import Book, as_key
from costbook.costing.names import item_keys
from costbook.near_names import NearNames

__all__ = ["slips_of"]

_NAMING: Final = (
    ("slip_on_made", "Made", "product"),
    ("slip_on_sales", "Sales", "product"),
    ("slip_on_counts", "Counts", "what"),
)
"""By column of the freezer, the field of a log in which a product's name may be mistyped."""


def slips_of(book: Book) -> Mapping[str, Mapping[str, str]]:
    """By column and product's key: the key of the first name that is nobody's and near its own."""
    products = {as_key(name): name for each in book.records("Products")
                if (name := each.text("product"))}  # fmt: skip
    near, items = NearNames(products.values()), _items(book)
    return {
        column: _meant(book, (sheet, field), products.keys() | items, near)
        for column, sheet, field in _NAMING
    }


def _items(book: Book) -> set[str]:
    bought = {as_key(each.text("item")) for each in book.records("Purchases")}
    return bought | item_keys(book).keys()


def _meant(
    book: Book, field: tuple[str, str], known: Collection[str], near: NearNames
) -> dict[str, str]:
    found: dict[str, str] = {}
    for record in book.records(field[0]):
        text = record.text(field[1])
        if text and as_key(text) not in known and (meant := near.nearest(text)):
            found.setdefault(as_key(meant), as_key(text))
    return found
