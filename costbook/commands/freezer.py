"""`freezer`: what is left, of which batches, and what was measured."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from decimal import Decimal

from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.measured import Measurement, measured
from costbook.deciding.stock import Batch, InFreezer, in_freezer
from costbook.definitions.columns import Show
from costbook.definitions.rounding import in_amount, in_percent
from costbook.printing import Output, columns
from costbook.problems import Refused
from costbook.round_trip import Costed, read_and_cost
from costbook.started import command

__all__ = ["freezer"]


def freezer(options: argparse.Namespace, output: Output) -> int:
    """Say what is in the freezer, the oldest first, and what was measured beside what is typed."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    products, found = in_freezer(costed.costing), measured(costed.costing)
    if not costed.costing.structure.book.sheets.keys() & {"Made", "Counts", "Tests"}:
        raise Refused(
            f"{options.file.name} has no sheet Made, Counts or Tests.",
            f"Add one: {command('new', '--add', 'Made', options.file)}",
        )
    output.problems(options.file.name, costed.problems)
    book = costed.costing.structure.book
    output.answer(
        {
            "book": options.file.name,
            "costed_on": costed.costing.structure.costed_on.isoformat(),
            "products": [each.as_data(book) for each in products],
            "measured": [each.as_data() for each in found],
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    for line in (*_left(costed, products), *_found(costed, found), CAUTION):
        output.text(line)
    return costed.status


def _left(costed: Costed, products: Sequence[InFreezer]) -> Iterator[str]:
    """The packs of each product, each batch on a line of its own below them."""
    if not products:
        return
    written = costed.costing.structure.book.written(costed.costing.structure.costed_on)
    yield f"In the freezer on {written}, packs, first made, first out:"
    yield ""
    rows: list[tuple[str, ...]] = [("Product", "Packs", "Made on", "Use by", "Batch", "")]
    for each in products:
        packs = in_amount(each.packs)
        rows.append((each.product, packs, "", "", "", each.said))
        rows += (_batch(costed, batch) for batch in each.batches)
    yield from columns(rows)
    yield ""


def _batch(costed: Costed, batch: Batch) -> tuple[str, ...]:
    today = costed.costing.structure.book.day_number(costed.costing.structure.costed_on)
    made = "before Made" if batch.made is None else _day(costed, batch.made)
    return (
        "",
        in_amount(batch.packs),
        made,
        _day(costed, batch.use_by),
        batch.code or "—",
        batch.said(today),
    )


def _day(costed: Costed, day: Decimal | None) -> str:
    return "?" if day is None else costed.costing.structure.book.written(day)


def _found(costed: Costed, found: Sequence[Measurement]) -> Iterator[str]:
    """What was measured, beside what is typed."""
    if not found:
        return
    yield "Measured, all over all, beside what is typed:"
    yield ""
    heading = (
        "What",
        "Measured",
        "Found",
        "Lowest",
        "Highest",
        "Typed",
        "Copy",
        "into",
        "A pack",
    )
    rows = [heading, *(_measured(costed, each) for each in found)]
    yield from columns(rows)
    yield ""


def _measured(costed: Costed, each: Measurement) -> tuple[str, ...]:
    shown = (
        _figure(figure, each.show) for figure in (each.found, each.least, each.most, each.typed)
    )
    copied = _figure(each.to_copy, each.copied_as) if each.copy_into else "—"
    does = each.does_in_words(costed.places)
    return (each.what, in_amount(each.count), *shown, copied, each.copy_into or "—", does)


def _figure(figure: Decimal | None, show: Show) -> str:
    if figure is None:
        return "?"
    return in_percent(figure) if show is Show.SHARE else in_amount(figure)
