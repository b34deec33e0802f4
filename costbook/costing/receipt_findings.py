"""Costing → what is to be said of receipts: too late, too old, another supplier, read as what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Final

from costbook.book import Record, as_key
from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.definitions import rules
from costbook.definitions.likeness import alike
from costbook.definitions.rules import ROWS_IN_RANK
from costbook.near_names import NearNames, did_you_mean
from costbook.problems import Place, Problem, Severity

__all__ = [
    "MOST_LATER",
    "newer_set_aside",
    "nothing_paid",
    "prices_old",
    "purchases_later",
    "readings",
    "supplier_not_used",
]

MOST_LATER: Final = 20
"""Purchases after the costing date that are said one by one; more are counted."""


def _doubt(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.DOUBTFUL, place_of(costing, record, name), what, remedy)


def nothing_paid(costing: Costing) -> Iterator[Problem]:
    """The purchase that counts, of which discounts leave nothing to pay."""
    for row in costing.structure.rows["prices_now"]:
        figures = costing.of(row)
        number, size = figures["purchase_row"], figures["size_in_base_units"]
        names = ("packs", "pack_count", "price_per_pack", "other_cost", "discounts")
        parts = [figures[name] for name in names]
        readable = isinstance(number, Decimal) and size and None not in parts
        if readable and figures["price_per_base_unit"] is None:
            yield Problem(
                Severity.WRONG,
                place_of(costing, costing.structure.purchases[int(str(number))], "other_cost"),
                "what is taken off leaves nothing to pay, so this purchase sets no price.",
                "Correct the discount, or the price.",
            )


def purchases_later(costing: Costing) -> Iterator[Problem]:
    """Receipts dated after the costing date: they don't count yet."""
    book, costed_on = costing.structure.book, costing.structure.costed_on
    limit = book.day_number(costed_on)
    later = [
        record
        for record in book.records("Purchases")
        if record.text("item") and (record.number("day") or Decimal(0)) > limit
    ]
    if len(later) > MOST_LATER:
        yield _doubt(
            costing,
            later[0],
            "day",
            f"this purchase and {len(later) - 1} others are dated after the costing date, "
            f"{book.written(costed_on)}, so they don't count yet.",
            "Check the years, or cost on a later date.",
        )
        return
    for record in later:
        day = book.day(record.number("day") or Decimal(0))
        yield _doubt(
            costing,
            record,
            "day",
            f"the date, {book.written(day)}, is after the costing date, {book.written(costed_on)}, "
            "so this purchase doesn't count yet.",
            "Check the year, or cost on a later date.",
        )


def prices_old(costing: Costing) -> Iterator[Problem]:
    """Prices older than the person allows."""
    limit = costing.one("settings")["stale_after_days"]
    for row in costing.structure.rows["item_prices"]:
        figures = costing.of(row)
        number = costing.of(row.links["prices_now"])["purchase_row"]
        if figures["freshness"] != rules.OLD or not isinstance(number, Decimal):
            continue
        record = costing.structure.purchases[int(number)]
        doubt = _doubt(
            costing,
            record,
            "day",
            f"the price of {figures['item']} is {figures['age_days']} days old.",
            "Type a newer receipt when you have one.",
        )
        yield replace(doubt, of_many=f"this price is more than {limit} days old.")


def supplier_not_used(costing: Costing) -> Iterator[Problem]:
    """A usual supplier from whom the item was never bought: another's price counts."""
    for row in costing.structure.rows["prices_now"]:
        figures = costing.of(row)
        usual = figures["usual_supplier"]
        if usual == as_key("") or figures["day"] is None or figures["supplier_key"] == usual:
            continue
        record = row.sources["Items"]
        named = record.text("usual_supplier")
        yield _doubt(
            costing,
            record,
            "usual_supplier",
            f"{figures['item']} has no purchase from {named}; "
            f"the price from {figures['supplier'] or 'an unnamed supplier'} counts.",
            _near_supplier(costing, named) or "Correct the name, if it was bought there.",
        )


def newer_set_aside(costing: Costing) -> Iterator[Problem]:
    """A newer receipt than the one that counts, not from the usual supplier: the newest of each."""
    for row in costing.structure.rows["prices_now"]:
        figures = costing.of(row)
        counting, newest = figures["rank"], figures["rank_of_any"]
        if not isinstance(counting, Decimal) or not isinstance(newest, Decimal):
            continue
        if newest // ROWS_IN_RANK > counting // ROWS_IN_RANK:
            counts, newer = (
                costing.structure.purchases[int(rank % ROWS_IN_RANK)] for rank in (counting, newest)
            )
            usual = counts.text("supplier")
            what = (
                f"this receipt of {figures['item']} ({_in_short(costing, newer)}) is newer than "
                f"the one that counts ({_in_short(costing, counts)}, row {counts.row}): "
                f"{usual} is the usual supplier."
            )
            yield _doubt(costing, newer, "supplier", what, _set_aside(newer, usual))


def _in_short(costing: Costing, record: Record) -> str:
    """A receipt's day, and what one of its packs cost."""
    day, price = record.number("day") or Decimal(0), record.number("price_per_pack") or Decimal(0)
    count, size = record.number("pack_count"), record.number("pack_size") or Decimal(0)
    count = count or record.counts_in_text.get("pack_size") or Decimal(1)
    unit = record.text("unit") or record.units_in_text.get("pack_size", "")
    pack = f"{f'{count:g} × ' if count != 1 else ''}{size:g} {unit}".strip()
    return f"{costing.structure.book.written(day)}, {pack} at {price:g}"


def _set_aside(newer: Record, usual: str) -> str:
    """What to do about a receipt that isn't from the usual supplier."""
    supplier = newer.text("supplier")
    if not supplier:
        return "Fill in its supplier; or clear Usual supplier on Items, for the latest to count."
    if alike(supplier, usual):
        return f'If "{supplier}" is {usual}, give both one name.'
    return "If this price is to count, clear or change Usual supplier on Items."


def _near_supplier(costing: Costing, named: str) -> str:
    records = costing.structure.book.records("Purchases")
    return did_you_mean(named, NearNames(record.text("supplier") for record in records), "")


def readings(costing: Costing) -> Iterator[Problem]:
    """Texts that were understood, and as what."""
    for reading in costing.structure.book.readings:
        as_asked_for = reading.field in _IN_WORDS and _tidied(reading.typed) == reading.shown
        if reading.shown and reading.shown != "in the allowance" and not as_asked_for:
            tab = costing.structure.book.sheets[reading.sheet].tab
            yield Problem(
                Severity.DOUBTFUL,
                Place(tab, reading.cell),
                f'"{reading.typed.strip()}" was read as {reading.shown}.',
                "Nothing, if that is right.",
                as_read=True,
            )


_IN_WORDS: Final = ("day", "units_per_pack")
"""Fields in which a text is no slip: 2026-03-14, and 6 x 150 g."""


def _tidied(typed: str) -> str:
    return typed.strip().replace(" x ", " × ")
