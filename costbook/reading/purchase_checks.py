"""Receipt lines: what is left out, what stands twice, what can't be compared."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from costbook.book import Book, Record, as_key
from costbook.definitions.units import Measure, find_unit
from costbook.problems import Problem
from costbook.reading.saying import doubt, wrong
from costbook.reading.texts import quoted

__all__ = [
    "bought_in_two_kinds",
    "discounts_of_nothing",
    "own_keys",
    "purchases_left_out",
    "purchases_twice",
]


def purchases_left_out(book: Book) -> Iterator[Problem]:
    """A receipt line that can't set a price, and why."""
    for record in book.records("Purchases"):
        if "item" not in record.values:
            continue
        if "day" not in record.values:
            yield wrong(
                book,
                record,
                "day",
                "the date is missing, so this purchase was left out.",
                "Type the day on the receipt.",
            )
        if _packs(record) < 0:
            yield _returned(book, record, "packs")
        elif not record.values.keys() & {"pack_size", "price_per_pack", "other_cost"}:
            yield _with_nothing(book, record)
        elif not _is_discount(record):
            yield from _priceless(book, record)


def _with_nothing(book: Book, record: Record) -> Problem:
    return doubt(
        book,
        record,
        "price_per_pack",
        "the row has neither a size nor a price, so it was left out.",
        "Fill them in; or the price alone, below zero, if it is a discount.",
    )


def _priceless(book: Book, record: Record) -> Iterator[Problem]:
    """A line without a size or a price above zero; what couldn't be read was asked already."""
    price, size = record.number("price_per_pack"), record.number("pack_size")
    if "pack_size" not in record.values and _line(record) > 0:
        yield wrong(
            book,
            record,
            "pack_size",
            "there is a price but no size, so this purchase was left out.",
            "Type what one pack holds.",
        )
    if "price_per_pack" not in record.values and size is not None:
        yield wrong(
            book,
            record,
            "price_per_pack",
            "the price is missing, so this purchase was left out.",
            "Type what one pack cost.",
        )
    elif price is not None and price < 0 and size is not None:
        yield _returned(book, record, "price_per_pack")
    elif price == 0 and size is not None:
        yield doubt(
            book,
            record,
            "price_per_pack",
            "the price is zero, so this purchase sets no price.",
            "Type the price, if it wasn't free.",
        )
    elif record.number("packs") == 0:
        yield doubt(
            book,
            record,
            "packs",
            "no packs were bought, so this purchase sets no price.",
            "Type how many, or leave the cell empty for one.",
        )


def _returned(book: Book, record: Record, name: str) -> Problem:
    return doubt(
        book,
        record,
        name,
        "this was taken for a return, which sets no price.",
        "Take the minus away, if it was a purchase.",
    )


def _packs(record: Record) -> Decimal:
    packs = record.number("packs")
    return Decimal(1) if packs is None else packs


def _line(record: Record) -> Decimal:
    """What the whole line comes to."""
    price = record.number("price_per_pack") or Decimal(0)
    return _packs(record) * price + (record.number("other_cost") or Decimal(0))


def _is_discount(record: Record) -> bool:
    """A row without a size that takes something off; with packs below zero it is a return."""
    return "pack_size" not in record.values and _packs(record) >= 0 and _line(record) < 0


def _sets_price(record: Record) -> bool:
    figures = (record.number("pack_size"), record.number("price_per_pack"), _packs(record))
    return record.number("day") is not None and all(figure and figure > 0 for figure in figures)


def own_keys(book: Book) -> dict[str, str]:
    """The key of each other name → the key of the item."""
    found: dict[str, str] = {}
    for record in book.records("Items"):
        for other in record.text("also_called").split(";"):
            if other.strip():
                found.setdefault(as_key(other), as_key(record.text("item")))
    for record in book.records("Items"):
        found.pop(as_key(record.text("item")), None)
    return found


def discounts_of_nothing(book: Book) -> Iterator[Problem]:
    """A discount that no purchase of its item, supplier and day takes."""
    own = own_keys(book)

    def belongs_to(record: Record) -> tuple[str, str, Decimal | None]:
        key = as_key(record.text("item"))
        return own.get(key, key), as_key(record.text("supplier")), record.number("day")

    records = book.records("Purchases")
    discounts = [record for record in records if record.text("item") and _is_discount(record)]
    priced = {belongs_to(record) for record in records if _sets_price(record)} if discounts else ()
    for record in discounts:
        if belongs_to(record) not in priced:
            yield doubt(
                book,
                record,
                "item",
                "this discount was not counted: there is no purchase of the same item, from the "
                "same supplier, on the same day.",
                "Make the three the same as on the purchase, or use its Other cost.",
            )


def purchases_twice(book: Book) -> Iterator[Problem]:
    """Two receipt lines that are the same in every cell."""
    seen: dict[tuple[tuple[str, str], ...], Record] = {}
    for record in book.records("Purchases"):
        key = tuple(sorted((n, str(v)) for n, v in record.values.items() if n != "note"))
        if key in seen and "item" in record.values:
            yield doubt(
                book,
                record,
                "item",
                f"this row is the same as row {seen[key].row}.",
                "Delete one, if it was typed twice.",
            )
        seen.setdefault(key, record)


_BRIDGES = {
    Measure.VOLUME: ("grams_per_ml", "Grams per ml"),
    Measure.PIECE: ("grams_per_piece", "Grams per piece"),
    Measure.LENGTH: ("roll_width", "Roll width"),
    Measure.AREA: ("roll_width", "Roll width"),
}


def bought_in_two_kinds(book: Book) -> Iterator[Problem]:
    """An item bought by the piece and by the kilo: without its bridge the two can't be compared."""
    own = own_keys(book)
    items = {as_key(record.text("item")): record for record in book.records("Items")}
    latest: dict[str, tuple[Record, Measure]] = {}
    lines = [record for record in book.records("Purchases") if _sets_price(record)]
    told: dict[str, Problem] = {}
    for record in sorted(lines, key=lambda line: (line.number("day") or 0, line.row)):
        unit = find_unit(record.text("unit") or record.units_in_text.get("pack_size", ""))
        key = as_key(record.text("item"))
        key = own.get(key, key)
        if unit is None or not record.text("item"):
            continue
        before = latest.get(key)
        missing = before and _missing_bridge(items.get(key), {before[1], unit.measure})
        if before and missing:
            told[key] = _two_kinds(book, record, before[0], missing)
        latest[key] = record, unit.measure
    yield from told.values()


def _missing_bridge(item: Record | None, measures: set[Measure]) -> str:
    """The figure that would join two kinds of unit; empty where none is needed or all are there."""
    if len(measures) == 1:
        return ""
    for measure in sorted(measures):
        name, title = _BRIDGES.get(measure, ("", ""))
        if name and (item is None or item.number(name) is None):
            return title
    return ""


def _two_kinds(book: Book, record: Record, before: Record, missing: str) -> Problem:
    return doubt(
        book,
        record,
        "unit",
        f"{quoted(record.text('item'))} is bought in another kind of unit here than in row "
        f"{before.row}, and its {missing} is not known, so the two prices can't be compared.",
        f"Fill in {missing} on Items.",
    )
