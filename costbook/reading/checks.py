"""Book → problems that no cell shows by itself: names that lead nowhere, rows that stand twice.

Each check looks at the whole book and yields what it finds; to add one, write the function and
name it in CHECKS.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from difflib import get_close_matches
from typing import Final

from costbook.book import Book, Record, as_key
from costbook.definitions.sheets import EVERY_PRODUCT, INPUT_SHEETS
from costbook.definitions.units import find_unit, near_units
from costbook.problems import Place, Problem, Severity

__all__ = ["CHECKS", "check"]

Check = Callable[[Book], Iterator[Problem]]


def check(book: Book) -> list[Problem]:
    """All that the checks find, in the order of the checks."""
    return [problem for each in CHECKS for problem in each(book)]


def _place(book: Book, record: Record, name: str) -> Place:
    cell = record.cells.get(name) or f"A{record.row}"
    return Place(book.sheets[record.sheet].tab, cell)


def _wrong(book: Book, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.WRONG, _place(book, record, name), what, remedy)


def _doubt(book: Book, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.DOUBTFUL, _place(book, record, name), what, remedy)


def _meant(name: str, names: Iterable[str], otherwise: str) -> str:
    """The nearest name as an offer, else what to do."""
    close = get_close_matches(name.lower(), {each.lower(): each for each in names}, n=1, cutoff=0.6)
    by_lower = {each.lower(): each for each in names}
    return f'Did you mean "{by_lower[close[0]]}"?' if close else otherwise


def _names(book: Book, sheet: str, name: str) -> dict[str, str]:
    """Key → name, of every name in a column."""
    found: dict[str, str] = {}
    for record in book.records(sheet):
        if record.text(name):
            found.setdefault(as_key(record.text(name)), record.text(name))
    return found


def _items(book: Book) -> dict[str, str]:
    others = {
        as_key(other): other.strip()
        for record in book.records("Items")
        for other in record.text("also_called").split(";")
        if other.strip()
    }
    return others | _names(book, "Items", "item") | _names(book, "Purchases", "item")


def rows_without_name(book: Book) -> Iterator[Problem]:
    """A row that has figures but no name belongs to nothing."""
    for title, sheet in book.sheets.items():
        if INPUT_SHEETS[title].upright:
            continue
        first = INPUT_SHEETS[title].naming_field
        for record in sheet.records:
            if first.name in record.values or set(record.values) <= {"note"}:
                continue
            yield _wrong(
                book,
                record,
                first.name,
                f"the row has no {first.title}, so it was left out.",
                "Fill it in, or clear the row.",
            )


def names_that_lead_nowhere(book: Book) -> Iterator[Problem]:
    """Every name must be bought, made or sold somewhere."""
    items, recipes = _items(book), _names(book, "Recipes", "recipe")
    batches, products = _names(book, "Batches", "recipe"), _names(book, "Products", "product")
    made = recipes | batches
    yield from _unknown(book, "Recipes", "uses", items | made, "item", "Add a purchase of it.")
    yield from _unknown(book, "Packaging", "uses", items, "item", "Add a purchase of it.")
    yield from _unknown(
        book, "Products", "recipe", made, "recipe", "Add it to Recipes and Batches."
    )
    yield from _unknown(
        book, "Stages", "recipe", made | products, "recipe or product", "Add it to Recipes."
    )
    everything = {as_key(EVERY_PRODUCT): EVERY_PRODUCT}
    yield from _unknown(
        book, "Packaging", "product", products | everything, "product", "Add it to Products."
    )
    yield from _unknown(book, "Batches", "recipe", recipes, "recipe", "Add its lines to Recipes.")
    yield from _unknown(
        book, "Recipes", "recipe", batches, "batch", "Add it to Batches.", once=True
    )


def _unknown(
    book: Book,
    sheet: str,
    name: str,
    known: Mapping[str, str],
    kind: str,
    remedy: str,
    *,
    once: bool = False,
) -> Iterator[Problem]:
    told: set[str] = set()
    for record in book.records(sheet):
        text = record.text(name)
        if not text or as_key(text) in known or (once and as_key(text) in told):
            continue
        told.add(as_key(text))
        what = f'no {kind} is called "{text}".'
        yield _wrong(book, record, name, what, _meant(text, known.values(), remedy))


def units_not_known(book: Book) -> Iterator[Problem]:
    """A unit that is blank where one is needed, or that nobody knows."""
    needs = (
        ("Purchases", "unit", "pack_size"),
        ("Recipes", "unit", "amount"),
        ("Packaging", "unit", "amount"),
        ("Items", "roll_width_unit", "roll_width"),
        ("Batches", "unit", "makes"),
    )
    for sheet, name, amount in needs:
        for record in book.records(sheet):
            yield from _unit_problem(book, record, name, amount)


def _unit_problem(book: Book, record: Record, name: str, amount: str) -> Iterator[Problem]:
    text = record.text(name)
    if not text:
        if record.values.get(amount) is not None and amount not in record.units_in_text:
            yield _wrong(
                book, record, name, "the unit is missing.", "Type one: g, oz, ml, cup, ct, in …"
            )
    elif find_unit(text) is None:
        near = near_units(text)
        offer = f'Did you mean "{near[0]}"?' if near else "Type one: g, oz, ml, cup, ct, in …"
        yield _wrong(book, record, name, f'no unit is called "{text}".', offer)


def gaps(book: Book) -> Iterator[Problem]:
    """A cell without which a row can't be counted."""
    needs = (
        ("Recipes", "uses", "amount", "the amount is missing."),
        ("Batches", "recipe", "makes", "how much a batch makes is missing."),
        ("Products", "product", "units_per_pack", "the units per pack are missing."),
        ("Packaging", "uses", "amount", "the amount is missing."),
        ("Packaging", "uses", "per", "it is not said per what: unit, pack or batch."),
        ("Overheads", "cost", "amount", "the amount is missing."),
        ("Overheads", "cost", "period", "it is not said per what: year, month, batch, market day."),
    )
    for sheet, having, name, what in needs:
        for record in book.records(sheet):
            if having in record.values and name not in record.values:
                yield _wrong(book, record, name, what, "Fill in the cell.")


def purchases_left_out(book: Book) -> Iterator[Problem]:
    """A receipt line that can't set a price, and why."""
    for record in book.records("Purchases"):
        price, size = record.number("price_per_pack"), record.number("pack_size")
        packs = record.values.get("packs", Decimal(1))
        returned = isinstance(packs, Decimal) and packs < 0
        if "item" not in record.values:
            continue
        if "day" not in record.values:
            yield _wrong(
                book,
                record,
                "day",
                "the date is missing, so this purchase was left out.",
                "Type the day on the receipt.",
            )
        if (price is not None and price < 0 and size is None) or returned:
            continue
        if "pack_size" not in record.values and _line(record) > 0:
            yield _wrong(
                book,
                record,
                "pack_size",
                "there is a price but no size, so this purchase was left out.",
                "Type what one pack holds.",
            )
        if "price_per_pack" not in record.values and size is not None:
            yield _wrong(
                book,
                record,
                "price_per_pack",
                "the price is missing, so this purchase was left out.",
                "Type what one pack cost.",
            )
        elif price is not None and price <= 0 and size is not None:
            yield _doubt(
                book,
                record,
                "price_per_pack",
                f"the price is {price}, so this purchase sets no price.",
                "Type the price, if it wasn't free.",
            )


def _line(record: Record) -> Decimal:
    price = record.number("price_per_pack") or Decimal(0)
    return price + (record.number("other_cost") or Decimal(0))


def rows_twice(book: Book) -> Iterator[Problem]:
    """Two receipt lines that are the same in every cell; two rows for one name."""
    seen: dict[tuple[object, ...], Record] = {}
    for record in book.records("Purchases"):
        key = tuple(sorted((n, str(v)) for n, v in record.values.items() if n != "note"))
        if key in seen and "item" in record.values:
            yield _doubt(
                book,
                record,
                "item",
                f"this row is the same as row {seen[key].row}; both were counted.",
                "Delete one if it was typed twice.",
            )
        seen.setdefault(key, record)
    for sheet, name in (("Items", "item"), ("Batches", "recipe"), ("Products", "product")):
        counts = Counter(as_key(r.text(name)) for r in book.records(sheet) if r.text(name))
        told: set[str] = set()
        for record in book.records(sheet):
            key_text = as_key(record.text(name))
            if counts[key_text] > 1 and key_text in told:
                yield _wrong(
                    book,
                    record,
                    name,
                    f'"{record.text(name)}" stands twice; the first row counts.',
                    "Delete one of the rows, or give it another name.",
                )
            told.add(key_text)


CHECKS: Final[tuple[Check, ...]] = (
    rows_without_name,
    names_that_lead_nowhere,
    units_not_known,
    gaps,
    purchases_left_out,
    rows_twice,
)
