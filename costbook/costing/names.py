"""What names and words lead to: items by all their names, records by their name, read texts."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from decimal import Decimal

from costbook.book import Book, Record, Value, as_key, key_in_formulas
from costbook.definitions.columns import Given, Table
from costbook.definitions.fields import Kind
from costbook.definitions.sheets import SHEETS
from costbook.definitions.units import PARTS, SPELLINGS, unit_key

__all__ = [
    "OF_ITEMS",
    "SUPPLIER",
    "differing",
    "first_of",
    "grouped",
    "item_keys",
    "item_names",
    "respelled",
    "text_rows",
]


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


def item_names(book: Book, aliases: Mapping[str, str], recipes: Container[str]) -> dict[str, str]:
    """Every item's key and name, in the order of the money: listed, bought, used."""
    names: dict[str, str] = {}
    for sheet, field in _NAMED:
        for record in book.records(sheet):
            name = record.text(field)
            key = as_key(name)
            # a bought or wrapped thing is an item, whatever recipes are called
            is_item = sheet not in ("Items", "Recipes") or key not in recipes
            # packaging of which there is none needs no name
            is_item = is_item and (sheet != "Packaging" or record.number("amount") != 0)
            if name and is_item:
                names.setdefault(aliases.get(key, key), name)
    return names


_NAMED = (
    ("Items", "item"),
    ("Purchases", "item"),
    ("Offers", "item"),
    ("Recipes", "uses"),
    ("Packaging", "uses"),
)

SUPPLIER = "supplier|"
"""What stands before a supplier's key, or a product's, where it could be taken for an item's."""

OF_ITEMS = ("item", "what")
"""Fields whose names may be an item's, and so one of its other names."""

_OTHERS = (("Purchases", "supplier"), ("Items", "usual_supplier"), ("Plan", "product"))
_IN_LOGS = tuple(
    (sheet.title, field.name)
    for sheet in SHEETS
    if sheet.spare_rows and sheet.title != "Purchases"
    for field in sheet.fields
    if field.kind is Kind.NAME
)
_NAMED_IN_LOGS = (("Products", "product"), ("Stages", "stage"), ("Outlets", "outlet"))
"""What rows of other logs than Purchases are about, beside items."""


def text_rows(
    book: Book, aliases: Mapping[str, str], tables: Iterable[Table]
) -> Iterator[tuple[str, dict[str, Value]]]:
    """The rows of the tables of texts: units, readings, choices that tables read, other names."""
    for spelling, unit in SPELLINGS.items():
        facts: dict[str, Value] = {"spelling": spelling, "unit": unit.name}
        facts |= {"measure": Decimal(int(unit.measure)), "factor": unit.factor}
        part = Decimal(unit.piece_word in PARTS)
        large = SPELLINGS[unit_key(unit.read_in[0])]
        facts |= {"large_unit": unit.read_in[0], "large_unit_size": large.factor}
        yield "units", facts | {"piece_word": unit.piece_word, "part": part}
    for reading in book.readings:
        read: dict[str, Value] = {"key": reading.key, "value": reading.value}
        yield "readings", read | {"count": reading.count, "unit": reading.unit}
    for key in book.asked:
        yield "readings", {"key": key, "value": None, "count": None, "unit": ""}
    asked = {
        (column.how.sheet, column.how.field)
        for table in tables
        for column in table.columns
        if isinstance(column.how, Given)
    }
    for key, meaning in _choice_words(asked):
        yield "choices", {"key": key, "meaning": meaning}
    for other, own in {**aliases, **respelled(book, aliases)}.items():
        if other != own:
            yield "aliases", {"other_key": other, "item_key": own}


def respelled(book: Book, aliases: Mapping[str, str]) -> dict[str, str]:
    """What formulas alone make of names typed with unusual spaces, signs or accents → the key.

    What is no item's has a word before it, so that it isn't taken for one.
    """
    found: dict[str, str] = {}
    logged = _IN_LOGS if any(title in book.sheets for title, _ in _IN_LOGS) else ()
    about = _NAMED_IN_LOGS if logged else ()
    for sheet, field in (("Purchases", "item"), *_OTHERS, *about, *logged):
        for record in book.records(sheet):
            name = record.text(field)
            seen, key = key_in_formulas(name), as_key(name)
            if seen != key:
                of_item = field in OF_ITEMS
                before, own = ("", aliases.get(key, key)) if of_item else (SUPPLIER, key)
                found[before + seen] = own
    return found


def _choice_words(read: Container[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """Every word for the choices of some fields, by the sheet and field, and its meaning."""
    for sheet in SHEETS:
        for field_ in sheet.fields:
            for choice in field_.choices if (sheet.title, field_.name) in read else ():
                for word in (choice.value, *choice.also):
                    yield f"{sheet.title}.{field_.name}|{word}", choice.value


def differing(records: Iterable[Record], name: str) -> set[str]:
    """The keys of names that stand in several rows which don't say the same, notes aside."""
    said: dict[str, dict[str, str]] = {}
    found: set[str] = set()
    for record in records:
        key = as_key(record.text(name))
        figures = {n: str(v) for n, v in record.values.items() if n not in (name, "note")}
        if record.text(name) and said.setdefault(key, figures) != figures:
            found.add(key)
    return found


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
