"""What was made, counted and measured: names that are nobody's, gaps, and what can't be so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final

from costbook.book import Book, Record, as_key
from costbook.definitions.months import month_number
from costbook.definitions.units import WRAPPERS, Measure, find_unit
from costbook.near_names import NearNames, did_you_mean
from costbook.problems import Problem
from costbook.reading.saying import doubt, wrong
from costbook.reading.texts import quoted

__all__ = [
    "counts_in_odd_units",
    "months_that_are_none",
    "stock_gaps",
    "stock_of_nobody",
    "stock_twice",
    "use_by_too_early",
]

_ADD: Final = "Add it to Products, or clear the row."
_GAPS: Final = (
    ("Made", "product", "day", "the day is missing, so how many are left is not known."),
    ("Made", "product", "packs", "how many packs were made is missing."),
    ("Counts", "what", "day", "the day of the count is missing."),
    ("Counts", "what", "amount", "how much was counted is missing."),
    ("Tests", "what", "test_kind", "the kind of test is missing: yield or time."),
)
_OF_A_TEST: Final = {
    "yield": (
        ("weighed_in", "what was weighed before is missing."),
        ("weighed_out", "what was left is missing."),
        ("unit", "the unit of In and Out is missing."),
    ),
    "time": (
        ("minutes", "the minutes are missing."),
        ("units", "it is not said how many units were done."),
    ),
}


def _names(book: Book, *fields: tuple[str, str]) -> dict[str, str]:
    """Key → name, of every name in some columns, other names of items too."""
    found: dict[str, str] = {}
    for sheet, name in fields:
        for record in book.records(sheet):
            for text in (record.text(name), *record.text("also_called").split(";")):
                if text.strip():
                    found.setdefault(as_key(text), text)
    return found


_PRODUCT: Final = ("Products", "product")
_ITEM: Final = (("Items", "item"), ("Purchases", "item"))


_NO_STAGE: Final = "no stage is called {name}, so the test says nothing."
_NO_ITEM: Final = "no item is called {name}, so the test says nothing."


def stock_of_nobody(book: Book) -> Iterator[Problem]:
    """A name on Made, Counts or Tests that leads nowhere."""
    products, items = _names(book, _PRODUCT), _names(book, *_ITEM)
    stages = _names(book, ("Stages", "stage"))
    for record in book.records("Made"):
        lost = "so its packs are counted nowhere."
        yield from _nobody(
            book, record, "product", products, f"no product is called {{name}}, {lost}"
        )
    for record in book.records("Counts"):
        what = "no product or item is called {name}, so the count says nothing."
        yield from _nobody(book, record, "what", products | items, what)
    for record in book.records("Tests"):
        kind = record.text("test_kind")
        known, what = (stages, _NO_STAGE) if kind == "time" else (items, _NO_ITEM)
        if kind:
            yield from _nobody(book, record, "what", known, what, "Type it as it stands there.")


def _nobody(
    book: Book, record: Record, name: str, known: Mapping[str, str], what: str, remedy: str = _ADD
) -> Iterator[Problem]:
    text = record.text(name)
    if text and as_key(text) not in known:
        said = did_you_mean(text, NearNames(known.values()), remedy)
        yield wrong(book, record, name, what.format(name=quoted(text)), said)


def stock_gaps(book: Book) -> Iterator[Problem]:
    """A cell without which a row says nothing."""
    for sheet, having, name, what in _GAPS:
        for record in book.records(sheet):
            if record.text(having) and name not in record.values:
                yield wrong(book, record, name, what, "Fill in the cell.")
    for record in book.records("Tests"):
        for name, what in _OF_A_TEST.get(record.text("test_kind"), ()):
            if record.text("what") and name not in record.values:
                yield wrong(book, record, name, what, "Fill in the cell.")


def counts_in_odd_units(book: Book) -> Iterator[Problem]:
    """A product that is weighed, or an item counted, or tested, in nobody knows what."""
    products = _names(book, _PRODUCT)
    for record in book.records("Counts"):
        text = record.text("unit") or record.units_in_text.get("amount", "")
        unit, counted = find_unit(text) if text else None, record.text("what")
        if as_key(counted) in products:
            if unit is not None and unit.measure is not Measure.PIECE:
                what = f"a product is counted in packs, not in {quoted(text)}."
                yield wrong(book, record, "unit", what, "Count the packs, and leave Unit empty.")
        elif not text and record.number("amount"):
            yield wrong(book, record, "unit", "the unit is missing.", _TYPE_ONE)
        elif text and unit is None:
            yield _no_unit(book, record, text)
    for record in book.records("Tests"):
        text = record.text("unit")
        if record.text("test_kind") == "yield" and text and find_unit(text) is None:
            yield _no_unit(book, record, text)


def _no_unit(book: Book, record: Record, text: str) -> Problem:
    why = "says not how much is in one" if text.lower() in WRAPPERS else "is no unit"
    return wrong(book, record, "unit", f"{quoted(text)} {why}.", _TYPE_ONE)


_TYPE_ONE: Final = "Type one: g, oz, ml, cup, ct, in …"


def months_that_are_none(book: Book) -> Iterator[Problem]:
    """A year that begins in a month that nobody knows."""
    for record in book.records("Settings"):
        text = record.text("year_begins")
        if text and month_number(text) is None:
            what = f"no month is called {quoted(text)}, so the year begins in January."
            remedy = "Type the name of a month, or its number."
            yield doubt(book, record, "year_begins", what, remedy)


def use_by_too_early(book: Book) -> Iterator[Problem]:
    """A use-by date before the day on which the packs were made."""
    for record in book.records("Made"):
        made, use_by = record.number("day"), record.number("use_by")
        if made is not None and use_by is not None and use_by < made:
            what = "the use-by date is before the day they were made."
            yield doubt(book, record, "use_by", what, "Correct one of the two dates.")


def stock_twice(book: Book) -> Iterator[Problem]:
    """A name of which nobody can say what it stands for: two stages, or an item and a product."""
    stages = Counter(as_key(each.text("stage")) for each in book.records("Stages"))
    products, items = _names(book, _PRODUCT), _names(book, *_ITEM)
    told: set[str] = set()
    for record in book.records("Tests"):
        key = as_key(record.text("what"))
        if record.text("test_kind") == "time" and stages[key] > 1 and key not in told:
            told.add(key)
            what = f"{stages[key]} stages are called {quoted(record.text('what'))}, and the test "
            remedy = "Give them names of their own if they differ."
            yield doubt(book, record, "what", f"{what}counts for each of them.", remedy)
    for record in book.records("Counts"):
        key = as_key(record.text("what"))
        if key in products and key in items and key not in told:
            told.add(key)
            what = f"{quoted(record.text('what'))} is a product and an item, and the count is of "
            yield doubt(book, record, "what", f"{what}both.", "Give one of them another name.")
