"""What names lead to: an item's other names, the words for a choice, records by their name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from costbook.book import Book, Record, as_key
from costbook.definitions.sheets import SHEETS

__all__ = ["choice_words", "first_of", "grouped", "item_keys"]


def item_keys(book: Book) -> dict[str, str]:
    """The key of every name an item goes by → the key of the item.

    An item's own name wins over another item's other name.
    """
    own = {
        as_key(record.text("item")): as_key(record.text("item")) for record in book.records("Items")
    }
    for record in book.records("Items"):
        for other in record.text("also_called").split(";"):
            if other.strip():
                own.setdefault(as_key(other), as_key(record.text("item")))
    return own


def choice_words() -> Iterator[tuple[str, str]]:
    """Every word for every choice, by the sheet and field it is typed in, and its meaning."""
    for sheet in SHEETS:
        for field_ in sheet.fields:
            for choice in field_.choices:
                for word in (choice.value, *choice.also):
                    yield f"{sheet.title}.{field_.name}|{word}", choice.value


def first_of(records: Iterable[Record], name: str) -> dict[str, Record]:
    """Records by the key of their name; of two with one name the first counts."""
    found: dict[str, Record] = {}
    for record in records:
        if record.text(name):
            found.setdefault(as_key(record.text(name)), record)
    return found


def grouped(records: Iterable[Record], name: str) -> dict[str, list[Record]]:
    """Records by the key of their name, in the order of the sheet."""
    found: dict[str, list[Record]] = {}
    for record in records:
        if record.text(name):
            found.setdefault(as_key(record.text(name)), []).append(record)
    return found
