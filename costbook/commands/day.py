"""`day`: what a market day brought, an hour of one's own work above all."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from costbook.costing.result import CAUTION, currency_of, problem_data
from costbook.deciding.market_days import MarketDay, market_days
from costbook.deciding.season import season
from costbook.printing import Output
from costbook.problems import Refused
from costbook.round_trip import Costed, read_and_cost
from costbook.started import command

__all__ = ["day"]


def day(options: argparse.Namespace, output: Output) -> int:
    """Say what the last market day brought, or that of a date."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    if costed.costing.structure.book.records("Market days"):
        output.problems(options.file.name, costed.problems)
    days = _asked_for(costed, options)
    book, found = costed.costing.structure.book, season(market_days(costed.costing))
    output.answer(
        {
            "book": options.file.name,
            "costed_on": costed.costing.structure.costed_on.isoformat(),
            "currency": currency_of(costed.costing),
            "days": [each.as_data(book) for each in days],
            "season": found.as_data(),
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    for each in days if options.date else days[-1:]:
        for line in (each.title(book), *each.in_words(costed.places), ""):
            output.text(line)
    for line in () if options.date else (*found.in_words(costed.places), ""):
        output.text(line)
    output.text(CAUTION)
    return costed.status


def _asked_for(costed: Costed, options: argparse.Namespace) -> Sequence[MarketDay]:
    """The days of a date, or all. Raises Refused where there is none."""
    days, book = market_days(costed.costing), costed.costing.structure.book
    if not days:
        add = command("new", "--add", "Market days", "--add", "Sales", options.file.name)
        raise Refused(
            f"{options.file.name} has no market day that can be read.",
            "Fill in Market days and Sales, a row a day and one for each product on it."
            if "Market days" in book.sheets
            else f"Put the sheets into it, and fill them in: {add}",
        )
    wanted = options.date
    if wanted is None:
        return days
    found = [each for each in days if book.day(each.day) == wanted]
    if not found:
        last = book.written(days[-1].day)
        raise Refused(
            f"Market days has no day on {book.written(wanted)}.",
            f"Give another; the last is {last}.",
        )
    return found
