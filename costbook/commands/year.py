"""`year`: what a tax preparer asks for, in the order in which it is asked."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from costbook.costing.engine import Costing, cost
from costbook.costing.result import CAUTION, currency_of, problem_data
from costbook.costing.structure import lay_out
from costbook.costing.year_rows import year_of
from costbook.deciding.year import FOR_YOUR_PREPARER, Year, added_up
from costbook.deciding.year_sums import the_year
from costbook.definitions.rounding import in_money
from costbook.printing import Output, columns
from costbook.problems import Refused
from costbook.round_trip import Costed, read_and_cost
from costbook.started import command

__all__ = ["year"]


def year(options: argparse.Namespace, output: Output) -> int:
    """Say what the year, or another one, brought, for whoever prepares the taxes."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    if "Market days" not in costed.costing.structure.book.sheets:
        add = command("new", "--add", "Market days", "--add", "Sales", options.file)
        raise Refused(f"{options.file.name} has no sheet Market days.", f"Add it: {add}")
    costed = replace(costed, costing=_as_at_its_end(costed.costing, options.year))
    found = the_year(costed.costing)
    output.problems(options.file.name, costed.problems)
    output.answer(
        {
            "book": options.file.name,
            "currency": currency_of(costed.costing),
            **found.as_data(),
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    for line in (*_in_words(costed, found), FOR_YOUR_PREPARER, CAUTION):
        output.text(line)
    return costed.status


def _as_at_its_end(costing: Costing, number: int | None) -> Costing:
    """The book as on the last day of a year that is over; else as it was costed."""
    if number is None:
        return costing
    book, costed_on = costing.structure.book, costing.structure.costed_on
    first, last = year_of(book, number)
    if first > costed_on:
        raise Refused(
            f"The year {number} begins after the costing date, {book.written(costed_on)}.",
            "Give an earlier year, or cost on a later date with --on.",
        )
    return costing if last >= costed_on else cost(lay_out(book, costed_on, last))


def _in_words(costed: Costed, found: Year) -> Iterator[str]:
    """The lines in their order, the takings of each month, and the cap."""
    book, places = costed.costing.structure.book, costed.places
    yield f"The year {found.name}, {book.written(found.first)} to {book.written(found.until)}:"
    for section, its in groupby(found.lines(), key=lambda each: each.section):
        yield ""
        yield from columns(
            [
                (section, "", ""),
                *((each.name, in_money(each.amount, places), each.note) for each in its),
            ]
        )
    yield ""
    yield from columns([*_months(found, places)])
    yield ""
    if found.cap:
        yield found.cap.in_words(book, places)
        yield ""


def _months(found: Year, places: int) -> Iterator[tuple[str, ...]]:
    outlets = found.outlets
    yield ("Takings", *outlets, "Together")
    for month, by in found.takings.items():
        each = [in_money(by[name], places) if name in by else "—" for name in outlets]
        yield (month, *each, in_money(added_up(by.values()), places))
