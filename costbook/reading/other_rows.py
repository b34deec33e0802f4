"""Rows on a tab that was not read: which of them could change a figure, or are needed for one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.book import Book, Record, as_key
from costbook.definitions.sheets import EVERY_PRODUCT, EVERY_PRODUCT_TOO
from costbook.reading.purchase_checks import own_keys

__all__ = ["Weighed", "rows_not_there", "weigh"]

_Column = tuple[str, str]
_SOLD: Final[_Column] = ("Products", "product")
_MADE: Final[_Column] = ("Recipes", "recipe")
_USED: Final[tuple[_Column, ...]] = (("Recipes", "uses"), ("Packaging", "uses"))
_EVERYTHING: Final = frozenset(as_key(word) for word in (EVERY_PRODUCT, *EVERY_PRODUCT_TOO, ""))

_RESTS_ON: Final[Mapping[str, tuple[str, tuple[_Column, ...], tuple[_Column, ...]]]] = (
    MappingProxyType(
        {
            "Items": ("item", (("Items", "item"), ("Purchases", "item"), *_USED), ()),
            "Recipes": (
                "recipe",
                (_MADE,),
                (("Batches", "recipe"), ("Products", "recipe"), *_USED),
            ),
            "Batches": ("recipe", (("Batches", "recipe"),), (_MADE, ("Products", "recipe"))),
            "Stages": ("recipe", (("Stages", "recipe"), _MADE, _SOLD), ()),
            "Packaging": ("product", (_SOLD,), ()),
            "Products": ("product", (_SOLD,), ()),
        }
    )
)
"""Whose a row is; the names whose figures a further row of theirs changes, and those that need it.

Every row of Overheads and Outlets changes figures, and none of Offers and Suppliers does.
"""
_CHANGE_NOTHING: Final = ("Offers", "Suppliers")


@dataclass(frozen=True, slots=True)
class Weighed:
    """Whether rows could change a figure; and the names that stand only there, and are needed."""

    changes: bool
    only_there: tuple[str, ...] = ()


def rows_not_there(read: Iterable[Record], others: Iterable[Record]) -> list[Record]:
    """The rows of another tab that don't stand on the one that was read."""
    known = {_all_said(record) for record in read}
    return [record for record in others if _all_said(record) not in known]


def _all_said(record: Record) -> tuple[tuple[str, str], ...]:
    fields = {**record.values, **record.texts}
    fields.pop("note", None)
    return tuple(sorted((name, as_key(str(value))) for name, value in fields.items()))


def weigh(book: Book, title: str, rows: Iterable[Record]) -> Weighed:
    """What rows of a sheet that weren't read could mean for the figures."""
    if title == "Purchases":
        return _receipts(book, rows)
    if title not in _RESTS_ON:
        return Weighed(title not in _CHANGE_NOTHING and any(True for _ in rows))
    name, own, others = _RESTS_ON[title]
    theirs, needed = _names(book, own) | _EVERYTHING, _names(book, others)
    owners = {as_key(record.text(name)): record.text(name) for record in rows}
    return Weighed(
        not theirs.isdisjoint(owners),
        tuple(text for key, text in owners.items() if key in needed and key not in theirs),
    )


def _names(book: Book, columns: Iterable[_Column]) -> set[str]:
    return {as_key(each.text(name)) for sheet, name in columns for each in book.records(sheet)}


def _receipts(book: Book, rows: Iterable[Record]) -> Weighed:
    """Receipts change nothing where a later one, of those that were read, counts before each."""
    own = own_keys(book)

    def key_of(text: str) -> str:
        return own.get(as_key(text), as_key(text))

    used = {key_of(each.text(name)) for sheet, name in _USED for each in book.records(sheet)}
    bought = {key_of(each.text("item")) for each in book.records("Purchases")}
    known, needed = [], {}
    for each in rows:
        key = key_of(each.text("item"))
        if key in bought:
            known.append(each)
        elif key in used:
            needed[key] = each.text("item")
    outdated = _outdated(book, key_of)
    return Weighed(not all(map(outdated, known)), tuple(needed.values()))


def _outdated(book: Book, key_of: Callable[[str], str]) -> Callable[[Record], bool]:
    """A test whether a receipt is older than the one that counts for its item."""
    items = book.records("Items")
    usual = {key_of(each.text("item")) for each in items if each.text("usual_supplier")}
    latest: dict[tuple[str, ...], Decimal] = {}
    for each in book.records("Purchases"):
        item, day = key_of(each.text("item")), each.number("day")
        for key in ((item,), (item, as_key(each.text("supplier")))):
            if day is not None and each.number("price_per_pack"):
                latest[key] = max(day, latest.get(key, day))

    def outdated(receipt: Record) -> bool:
        item, day = key_of(receipt.text("item")), receipt.number("day")
        from_same = (item, as_key(receipt.text("supplier")))
        later = latest.get(from_same if item in usual else (item,))
        return day is not None and later is not None and day < later

    return outdated
