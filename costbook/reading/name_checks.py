"""Names: every one must lead somewhere, and to one thing only."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from costbook.book import Book, Record, as_key
from costbook.definitions.sheets import EVERY_PRODUCT, INPUT_SHEETS
from costbook.near_names import NearNames, did_you_mean
from costbook.problems import Problem
from costbook.reading.owners import is_every_product, products_by_recipe
from costbook.reading.saying import doubt, wrong
from costbook.reading.texts import quoted

__all__ = [
    "names_that_lead_nowhere",
    "other_names_shared",
    "rows_twice",
    "rows_without_name",
]


_COUNTED_UNNAMED = ("Overheads", "Outlets")
"""Sheets whose rows count whatever they are called."""
_OWNED = ("Items", "Recipes", "Stages", "Packaging", "Plan")
"""Sheets whose rows say something of an item, a recipe or a product."""


def _names(book: Book, sheet: str, name: str) -> dict[str, str]:
    """Key → name, of every name in a column."""
    found: dict[str, str] = {}
    for record in book.records(sheet):
        if record.text(name):
            found.setdefault(as_key(record.text(name)), record.text(name))
    return found


def _other_names(record: Record) -> list[str]:
    return [other.strip() for other in record.text("also_called").split(";") if other.strip()]


def _items(book: Book) -> dict[str, str]:
    others = {
        as_key(other): other for record in book.records("Items") for other in _other_names(record)
    }
    return others | _names(book, "Items", "item") | _names(book, "Purchases", "item")


def rows_without_name(book: Book) -> Iterator[Problem]:
    """A row that has figures but no name belongs to nothing."""
    for title, sheet in book.sheets.items():
        if INPUT_SHEETS[title].upright:
            continue
        first = INPUT_SHEETS[title].naming_field
        before = ""
        for record in sheet.records:
            if first.name in record.values or set(record.values) <= {"note"}:
                before = record.text(first.name)
                continue
            named = f"the row has no {first.title}"
            remedy = f"Fill it in ({quoted(before)}?), or clear the row."
            if title in _COUNTED_UNNAMED:
                what, remedy = f"{named}, and it counts all the same.", "Fill it in."
                yield doubt(book, record, first.name, what, remedy)
                continue
            lost = "so nobody knows whose it is" if title in _OWNED else "so it was left out"
            if not before:
                remedy = "Fill it in, or clear the row."
            yield wrong(book, record, first.name, f"{named}, {lost}.", remedy)


def names_that_lead_nowhere(book: Book) -> Iterator[Problem]:
    """Every name must be bought, made or sold somewhere."""
    items, recipes = _items(book), _names(book, "Recipes", "recipe")
    batches, products = _names(book, "Batches", "recipe"), _names(book, "Products", "product")
    buy, lines = "Add a purchase of it.", "Add its lines to Recipes."
    yield from _unknown(book, "Recipes", "uses", items | recipes, "item", buy)
    yield from _unknown(book, "Packaging", "uses", items, "item", buy)
    yield from _unknown(book, "Batches", "recipe", recipes, "recipe", lines)
    yield from _unknown(book, "Products", "recipe", recipes, "recipe", lines)
    yield from _unknown(book, "Stages", "recipe", recipes | products, "recipe or product", lines)
    yield from _unknown(book, "Plan", "product", products, "product", "Add it to Products.")
    yield from _unknown(book, "Sales", "product", products, "product", "Add it to Products.")
    outlets = _names(book, "Outlets", "outlet")
    for sheet in ("Market days", "Sales"):
        yield from _unknown(book, sheet, "outlet", outlets, "outlet", "Add it to Outlets.")
    yield from _wrapped_by_nobody(book, products)
    yield from _sold_nowhere(book)
    yield from _without_batch(book, recipes, batches)


def _unknown(
    book: Book, sheet: str, name: str, known: Mapping[str, str], kind: str, remedy: str
) -> Iterator[Problem]:
    near = NearNames(known.values())
    for record in book.records(sheet):
        text = record.text(name)
        if text and as_key(text) not in known and not _costs_nothing(record):
            what = f"no {kind} is called {quoted(text)}."
            yield wrong(book, record, name, what, did_you_mean(text, near, remedy))


def _wrapped_by_nobody(book: Book, products: Mapping[str, str]) -> Iterator[Problem]:
    """Packaging for a product that nobody knows, for a recipe, or for all in other words."""
    near, sold = NearNames([*products.values(), EVERY_PRODUCT]), products_by_recipe(book)
    for record in book.records("Packaging"):
        text = record.text("product")
        key = as_key(text)
        if not text or key in products or key == as_key(EVERY_PRODUCT):
            continue
        if is_every_product(text):
            what = f'{quoted(text)} was read as "{EVERY_PRODUCT}": every product.'
            yield doubt(book, record, "product", what, "Nothing, if that is right.")
        elif key in sold:
            those = " and ".join(quoted(name) for name in sold[key])
            what = f"{quoted(text)} is a recipe, and packaging is for a product."
            remedy = f"Type {those}, a row for each that is packed so."
            yield wrong(book, record, "product", what, remedy)
        else:
            what = f"no product is called {quoted(text)}."
            remedy = did_you_mean(text, near, "Add it to Products.")
            yield wrong(book, record, "product", what, remedy)


def _sold_nowhere(book: Book) -> Iterator[Problem]:
    """An outlet that nobody knows, where a product is to be sold; and one that has no product."""
    outlets, products = _names(book, "Outlets", "outlet"), book.records("Products")
    near = NearNames(outlets.values())
    sold: set[str] = set()
    for record in products:
        at, strange = book.sold_at(record)
        sold |= at
        for name in strange:
            what = f"no outlet is called {quoted(name)}, so it is shown at all of them."
            remedy = did_you_mean(name, near, "Add it to Outlets, or leave the cell empty.")
            yield wrong(book, record, "sold_at", what, remedy)
    for record in book.records("Outlets"):
        name = record.text("outlet")
        if products and name and as_key(name) not in sold:
            what = f"no product is sold at {quoted(name)}, so nothing is shown of it."
            yield doubt(book, record, "outlet", what, "Name it in Sold at on Products, if one is.")


def _costs_nothing(record: Record) -> bool:
    """A pinch of something, or packaging with none of it, need not have been bought."""
    said = "amount" in record.texts or record.sheet == "Packaging"
    return said and record.number("amount") == 0


def _without_batch(
    book: Book, recipes: Mapping[str, str], batches: Mapping[str, str]
) -> Iterator[Problem]:
    """A recipe that is sold or used, and nothing says what one batch of it makes."""
    near = NearNames(batches.values())
    told: set[str] = set()
    for sheet, name in (("Recipes", "recipe"), ("Recipes", "uses"), ("Products", "recipe")):
        for record in book.records(sheet):
            text = record.text(name)
            key = as_key(text)
            again = name == "recipe" and sheet == "Recipes" and key in told
            if not text or key not in recipes or key in batches or again:
                continue
            told.add(key)
            remedy = did_you_mean(text, near, "Add a row with what one batch makes.")
            yield wrong(book, record, name, f"{quoted(text)} has no row on Batches.", remedy)


def other_names_shared(book: Book) -> Iterator[Problem]:
    """Another name that two items go by, or that is an item of its own."""
    own = _names(book, "Items", "item")
    first: dict[str, str] = {}
    for record in book.records("Items"):
        for other in _other_names(record):
            key, item = as_key(other), record.text("item")
            owner = own.get(key) or first.setdefault(key, item)
            if as_key(owner) != as_key(item):
                yield doubt(
                    book,
                    record,
                    "also_called",
                    f"{quoted(other)} stands for {quoted(owner)} already, and so it does not "
                    f"stand for {quoted(item)}.",
                    "Take it out of one of the two rows.",
                )


def rows_twice(book: Book) -> Iterator[Problem]:
    """Two rows for one name, where a name may have one only."""
    for sheet, name in (
        ("Items", "item"),
        ("Batches", "recipe"),
        ("Products", "product"),
        ("Outlets", "outlet"),
    ):
        rows: dict[str, list[Record]] = defaultdict(list)
        for record in book.records(sheet):
            if record.text(name):
                rows[as_key(record.text(name))].append(record)
        for alike in rows.values():
            for record in alike[1:]:
                yield _twice(book, record, alike[0], name)


def _twice(book: Book, record: Record, first: Record, name: str) -> Problem:
    what = f"{quoted(record.text(name))} stands here again, after row {first.row};"
    if record.sheet == "Outlets":
        return doubt(
            book,
            record,
            name,
            f"{what} each row is an outlet of its own.",
            "Give one of them another name.",
        )
    if record.sheet == "Batches" and _figures(record) != _figures(first):
        return wrong(
            book,
            record,
            name,
            f"{what} the two differ, so neither counts.",
            "Delete the row that is wrong, or give its recipe another name.",
        )
    return wrong(
        book,
        record,
        name,
        f"{what} the first row counts.",
        "Delete one of the rows, or give it another name.",
    )


def _figures(record: Record) -> dict[str, str]:
    """What a row says, apart from its name and note."""
    return {n: str(v) for n, v in record.values.items() if n not in ("recipe", "note")}
