"""Names that are nearly another's: two names for one thing, of which one leads to nothing.

A name that is used as it stands is left alone, unless it differs in spaces, signs, order or the
plural alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from costbook.book import Book, Record, as_key
from costbook.definitions.likeness import Alike, nearly, same_words, words_of
from costbook.near_names import NearNames
from costbook.problems import Problem
from costbook.reading.saying import doubt, wrong
from costbook.reading.texts import quoted

__all__ = [
    "items_nearly_the_same",
    "rows_of_items_not_used",
    "shares_asked",
    "suppliers_nearly_the_same",
]

_ONE_NAME = "If they are one thing, give both one name, or fill in Also called on Items."


@dataclass(frozen=True)
class _Names:
    """The names of a book's items: which of them are used, under which key each counts."""

    book: Book
    own: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for record in self.book.records("Items"):
            for other in record.text("also_called").split(";"):
                if other.strip():
                    self.own.setdefault(as_key(other), as_key(record.text("item")))
        for record in self.book.records("Items"):
            self.own.pop(as_key(record.text("item")), None)

    def key(self, name: str) -> str:
        """The key of the item that a name leads to."""
        return self.own.get(as_key(name), as_key(name))

    @cached_property
    def used(self) -> dict[str, str]:
        """Key → name of what lines use, if it leads somewhere; what doesn't is asked by itself."""
        bought = {self.key(each.text("item")) for each in self.book.records("Purchases")}
        made = {as_key(each.text("recipe")) for each in self.book.records("Recipes")}
        somewhere = bought | made | self.listed
        found: dict[str, str] = {}
        for sheet in ("Recipes", "Packaging"):
            for record in self.book.records(sheet):
                key = self.key(record.text("uses"))
                if record.text("uses") and key in somewhere:
                    found.setdefault(key, record.text("uses"))
        return found

    @cached_property
    def listed(self) -> set[str]:
        """The keys of items that have a row on Items."""
        return {as_key(record.text("item")) for record in self.book.records("Items")}

    @cached_property
    def alike(self) -> Alike:
        return Alike(self.used.values())

    @cached_property
    def near(self) -> NearNames:
        return NearNames(self.used.values())

    def meant(self, name: str) -> str:
        """The used name that a name which leads to nothing may stand for; empty for none."""
        near = self.near.nearest(name)
        badly_typed = near if near and nearly(name, near) else ""
        return self.surely(name) or badly_typed or self._more_words(name)

    def surely(self, name: str) -> str:
        """The used name that a name has but for one slip; empty for none."""
        return next(self.alike.to(name), "")

    def _more_words(self, name: str) -> str:
        """The only used name that has all words of a name, and more: Eggs, and Eggs, large."""
        mine = set(words_of(name))
        found = [each for each in self.used.values() if mine and mine < set(words_of(each))]
        return found[0] if len(found) == 1 else ""


def items_nearly_the_same(book: Book) -> Iterator[Problem]:
    """An item that is bought or offered under nearly the name of a used one."""
    names = _Names(book)
    told: set[str] = set()
    for sheet in ("Purchases", "Offers"):
        for record in book.records(sheet):
            text = record.text("item")
            key = names.key(text)
            if not text or key in told:
                continue
            told.add(key)
            if key in names.used:
                twins = (each for each in names.alike.to(text) if same_words(text, each))
                likely = next((each for each in twins if names.key(each) != key), "")
                what = f"{quoted(text)} and {quoted(likely)} are read as two things."
            else:
                likely = names.meant(text)
                what = (
                    f"{quoted(text)} is used nowhere, and {quoted(likely)} is nearly the same name."
                )
            if likely:
                yield doubt(book, record, "item", what, _ONE_NAME)


def _not_used(book: Book) -> Iterator[tuple[Record, str, bool]]:
    """Rows of Items that no line uses, the used name without a row that each may be meant for,
    and whether only one slip lies between the two."""
    names = _Names(book)
    for record in book.records("Items"):
        text = record.text("item")
        if not text or as_key(text) in names.used:
            continue
        for likely in (names.surely(text), names.meant(text)):
            if likely and names.key(likely) not in names.listed:
                yield record, likely, likely == names.surely(text)
                break


def rows_of_items_not_used(book: Book) -> Iterator[Problem]:
    """A row of Items for a name that no line uses, and nearly the name of one that has no row.

    Or for one that is like no other, bought nowhere, where something used has no row.
    """
    told = set()
    for record, likely, surely in _not_used(book):
        told.add(record.row)
        asked = surely and "usable_share" in record.values
        what = (
            f"{quoted(record.text('item'))} is used nowhere, and {quoted(likely)}, nearly the same "
            f"name, has no row here"
        )
        say = wrong if asked else doubt
        more = ", so its Usable % is not known." if asked else ", so nothing of this row counts."
        remedy = f"If they are one thing, give both one name; if not, give {quoted(likely)} a row."
        yield say(book, record, "item", f"{what}{more}", remedy)
    for record in _of_nothing(book):
        if record.row not in told:
            what = f"{quoted(record.text('item'))} is neither bought nor used, so this row counts"
            remedy = "Correct the name, if it is of something that you use."
            yield doubt(book, record, "item", f"{what} for nothing.", remedy)


def _of_nothing(book: Book) -> Iterator[Record]:
    """Rows of Items that say something of a thing nobody knows, where something used has none."""
    names = _Names(book)
    elsewhere = {
        names.key(record.text(field))
        for sheet, field in (*_BOUGHT, ("Recipes", "recipe"), ("Batches", "recipe"))
        for record in book.records(sheet)
    }
    if names.used.keys() <= names.listed:
        return
    for record in book.records("Items"):
        key = as_key(record.text("item"))
        says = record.values.keys() & _COUNTING
        if record.text("item") and says and key not in names.used.keys() | elsewhere:
            yield record


_BOUGHT = (("Purchases", "item"), ("Offers", "item"))
_COUNTING = frozenset(
    ("usable_share", "grams_per_piece", "grams_per_ml", "roll_width", "usual_supplier")
)
"""What a row of Items says that figures rest on."""


def shares_asked(book: Book) -> frozenset[str]:
    """The keys of items whose usable share stands, perhaps, in the row of another name."""
    names = _Names(book)
    return frozenset(
        names.key(likely)
        for record, likely, surely in _not_used(book)
        if surely and "usable_share" in record.values
    )


def suppliers_nearly_the_same(book: Book) -> Iterator[Problem]:
    """A supplier whose name is nearly that of another with more receipts."""
    first: dict[str, tuple[Record, str]] = {}
    rows: dict[str, int] = {}
    for sheet in ("Purchases", "Offers", "Suppliers"):
        for record in book.records(sheet):
            if text := record.text("supplier"):
                first.setdefault(as_key(text), (record, text))
                rows[as_key(text)] = rows.get(as_key(text), 0) + (sheet == "Purchases")
    known = Alike(name for _, name in first.values())
    order = {key: at for at, key in enumerate(first)}
    for key, (record, text) in first.items():
        for other in known.to(text):
            there = as_key(other)
            lesser = (rows[key], -order[key]) < (rows[there], -order[there])
            if lesser and (rows[key] <= _FEW or same_words(text, other)):
                yield doubt(
                    book,
                    record,
                    "supplier",
                    f"{quoted(text)} is read as another supplier than {quoted(other)}.",
                    "If they are one, give both one name.",
                )
                break


_FEW = 2
"""Receipts up to which a supplier's name may be a slip of one that has more."""
