"""What is in the freezer: of each product the packs, and the batches that they are of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from costbook.book import Book, Value
from costbook.costing.engine import Costing
from costbook.costing.rows import Row
from costbook.definitions.rounding import in_amount

__all__ = ["BEFORE_MADE", "PAST", "Batch", "InFreezer", "in_freezer", "past_their_date"]

SOON: Final = Decimal(7)
"""Days before its use-by date on which a batch is pointed out."""
PAST, NEAR = "past its date", "within a week"
"""What is said of a batch whose use-by date is past, or so near."""
BEFORE_MADE: Final = "before Made"
"""When that was made which no row of Made brought."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What is left of one row of Made [packs]; without a day, of what none of them brought."""

    code: str
    made: Decimal | None
    use_by: Decimal | None
    packs: Decimal

    def days_left(self, today: Decimal) -> Decimal | None:
        """Days until its use-by date, below zero past it; None where none is typed."""
        return None if self.use_by is None else self.use_by - today

    def said(self, today: Decimal) -> str:
        """What is to be said of its date: that it is past, or near; or nothing."""
        left = self.days_left(today)
        if left is None or left > SOON:
            return ""
        return PAST if left < 0 else NEAR

    def as_data(self, book: Book) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "batch_code": self.code or None,
            "made": _iso(book, self.made),
            "use_by": _iso(book, self.use_by),
            "packs": self.packs,
        }


@dataclass(frozen=True, slots=True)
class InFreezer:
    """A product: its packs, None where they aren't known, and its batches, the oldest first.

    ``found`` is what the last count found more than the rows said, or less, below zero.
    """

    row: Row
    product: str
    packs: Decimal | None
    found: Decimal | None
    lacks: str
    batches: tuple[Batch, ...]

    @property
    def said(self) -> str:
        """Why its packs aren't known, or what the last count found; or nothing."""
        if self.lacks:
            return self.lacks
        if not self.found:
            return ""
        more = "more" if self.found > 0 else "fewer"
        return f"the last count found {in_amount(abs(self.found))} {more} than the rows said"

    @property
    def oldest(self) -> Decimal | None:
        """The day on which the oldest of it was made; None where there is none, or nobody knows."""
        return self.batches[0].made if self.batches else None

    def as_data(self, book: Book) -> dict[str, Any]:
        """As JSON has it."""
        return {
            "product": self.product,
            "packs": self.packs,
            "lacks": self.lacks or None,
            "oldest": _iso(book, self.oldest),
            "count_found_more": self.found,
            "batches": [each.as_data(book) for each in self.batches],
        }


def in_freezer(costing: Costing) -> list[InFreezer]:
    """What is in the freezer of each product, in the order of Products."""
    return [_of_product(costing, row) for row in costing.structure.rows["freezer"]]


def past_their_date(costing: Costing) -> list[tuple[InFreezer, Batch]]:
    """The batches past their use-by date, the longest past first."""
    today = costing.structure.book.day_number(costing.structure.costed_on)
    found = [
        (left, product, batch)
        for product in in_freezer(costing)
        for batch in product.batches
        if (left := batch.days_left(today)) is not None and left < 0
    ]
    return [(product, batch) for _, product, batch in sorted(found, key=lambda each: each[0])]


def _of_product(costing: Costing, row: Row) -> InFreezer:
    figures = costing.of(row)
    packs, found = _number(figures["packs_left"]), _number(figures["found_at_count"])
    batches = _first_out(_made(costing, figures["product_key"]), packs or Decimal(0))
    lacks = str(figures["lacks"])
    return InFreezer(row, str(figures["product"]), packs, found, lacks, batches)


def _first_out(made: Sequence[Batch], packs: Decimal) -> tuple[Batch, ...]:
    """What is left of each batch, the oldest first: first made, first gone.

    So the packs that are there are those made last.
    """
    left: list[Batch] = []
    for batch in reversed(made):
        there = min(packs, batch.packs)
        if there > 0:
            left.append(Batch(batch.code, batch.made, batch.use_by, there))
        packs -= there
    if packs > 0:
        left.append(Batch("", None, None, packs))
    return tuple(reversed(left))


def _made(costing: Costing, key: Value) -> list[Batch]:
    """What was made of a product up to the costing date, in the order in which it was made."""
    rows = (row for row in costing.structure.rows["made_log"] if row.sources)
    found = [
        (day, row.index, packs, row)
        for row in rows
        if costing.of(row)["product_key"] == key
        if (day := _number(costing.of(row)["day_so_far"])) is not None
        if (packs := _number(costing.of(row)["packs"])) is not None
    ]
    return [_batch(row, day, packs) for day, _, packs, row in sorted(found, key=lambda x: x[:2])]


def _batch(row: Row, day: Decimal, packs: Decimal) -> Batch:
    record = row.sources["Made"]
    return Batch(record.text("batch_code"), day, record.number("use_by"), packs)


def _iso(book: Book, day: Decimal | None) -> str | None:
    return None if day is None else book.day(day).isoformat()


def _number(value: Value) -> Decimal | None:
    return value if isinstance(value, Decimal) else None
