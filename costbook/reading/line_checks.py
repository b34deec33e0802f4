"""Lines of recipes and packaging that say something which may not be meant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from costbook.book import Book, Record, as_key
from costbook.definitions.units import Measure, find_unit
from costbook.problems import Problem
from costbook.reading.number_style import NumberStyle
from costbook.reading.quantities import Allowance, read_amount
from costbook.reading.saying import doubt
from costbook.reading.texts import quoted

__all__ = [
    "lines_of_nothing",
    "lines_twice",
    "names_of_two_things",
    "usable_shares_of_nothing",
    "usable_shares_of_recipes",
]


def lines_of_nothing(book: Book) -> Iterator[Problem]:
    """An amount of 0 that was typed; "to taste" is said by itself.

    A product's only line of packaging says so that it has none.
    """
    packed = Counter(as_key(record.text("product")) for record in book.records("Packaging"))
    for sheet in ("Recipes", "Packaging"):
        for record in book.records(sheet):
            if sheet == "Packaging" and packed[as_key(record.text("product"))] == 1:
                continue
            if record.number("amount") == 0 and not _is_little(record):
                yield doubt(
                    book,
                    record,
                    "amount",
                    "the amount is 0, so this line costs nothing.",
                    "Type the amount, or take the line away.",
                )


def _is_little(record: Record) -> bool:
    typed = record.texts.get("amount", "")
    return isinstance(read_amount(typed, NumberStyle.UNKNOWN), Allowance)


_LINES = (
    ("Recipes", "uses"),
    ("Packaging", "uses"),
    ("Stages", "stage"),
    ("Overheads", "cost"),
    ("Plan", "product"),
    ("Made", "product"),
    ("Counts", "what"),
    ("Tests", "what"),
)
"""Sheets on which two rows may say the same, and what names a row there."""


def lines_twice(book: Book) -> Iterator[Problem]:
    """A line that says all that another one says; both count."""
    for sheet, name in _LINES:
        seen: dict[tuple[tuple[str, str], ...], Record] = {}
        for record in book.records(sheet):
            if not record.text(name):
                continue
            first = seen.setdefault(_all_said(record), record)
            if first is not record:
                yield doubt(
                    book,
                    record,
                    name,
                    f"this line says the same as row {first.row}, and both count.",
                    "Take one away, if it was typed twice.",
                )


def _all_said(record: Record) -> tuple[tuple[str, str], ...]:
    fields = {**record.values, **record.texts}
    fields.pop("note", None)
    return tuple(sorted((name, as_key(str(value))) for name, value in fields.items()))


def names_of_two_things(book: Book) -> Iterator[Problem]:
    """A recipe that bears the name of something bought: a line that uses it takes the recipe."""
    made = {as_key(record.text("recipe")) for record in book.records("Batches")}
    told: set[str] = set()
    for record in book.records("Purchases"):
        key = as_key(record.text("item"))
        if key in made and key not in told:
            told.add(key)
            yield doubt(
                book,
                record,
                "item",
                f"{quoted(record.text('item'))} is bought, and a recipe has the same name; where "
                "it is used, the recipe counts.",
                "Give one of them another name, if the bought one is meant.",
            )


def usable_shares_of_nothing(book: Book) -> Iterator[Problem]:
    """A usable share on a line measured as bought, or in pieces, which it doesn't change."""
    made = {as_key(record.text("recipe")) for record in book.records("Batches")}
    for record in book.records("Recipes"):
        share = record.number("usable_share")
        if share in (None, 1) or as_key(record.text("uses")) in made:
            continue
        if record.text("measured") == "as bought" or _in_pieces(record):
            yield doubt(
                book,
                record,
                "usable_share",
                "the amount counts as bought, so Usable % changes nothing here.",
                'If it was measured after trimming, type "ready to use" under Measured.',
            )


def _in_pieces(record: Record) -> bool:
    """Whether a blank Measured means as bought: 3 eggs are 3 eggs."""
    unit = find_unit(record.text("unit") or record.units_in_text.get("amount", ""))
    pieces = unit is not None and unit.measure is Measure.PIECE
    return pieces and "measured" not in record.values


def usable_shares_of_recipes(book: Book) -> Iterator[Problem]:
    """A usable share on a line that uses a recipe, whose rejects say that already."""
    made = {as_key(record.text("recipe")) for record in book.records("Batches")}
    for record in book.records("Recipes"):
        if "usable_share" in record.values and as_key(record.text("uses")) in made:
            yield doubt(
                book,
                record,
                "usable_share",
                f"{quoted(record.text('uses'))} is a recipe, so Usable % doesn't count here.",
                "Type what is lost of it under Rejects on Batches.",
            )
