"""`cost`: every product costed, and the sheets written."""

from __future__ import annotations

import argparse

from costbook.commands.said import left_out, not_read, summary
from costbook.costing.charged import HEADINGS, charged, usual_days
from costbook.costing.result import CAUTION, answer, currency_of
from costbook.printing import Output, columns
from costbook.round_trip import Costed, read_and_cost

__all__ = ["cost"]


def cost(options: argparse.Namespace, output: Output) -> int:
    """Cost every product and write the sheets."""
    from costbook.deciding.in_short import at_one_look
    from costbook.write_back import write

    costed = read_and_cost(options.file, options.on, step=output.step, other=options.output)
    written = write(costed, options.output, step=output.step, wrote=output.wrote)
    problems = (*costed.problems, *written.problems)
    output.problems(options.file.name, problems)
    output.answer(answer(costed.costing, problems))
    for told in at_one_look(costed.costing, costed.problems, costed.places):
        output.text(f"{told.about}: {told.words}")
    output.text()
    for line in _price_lines(costed):
        output.text(line)
    output.text()
    for line in _day_lines(costed):
        output.text(line)
    output.text(f"Written: {written.path}. Begin with its sheet In short.")
    if written.backup:
        whose = "Your workbook" if written.path == options.file else written.path.name
        output.text(f"{whose} as it was: {written.backup}")
    output.text(summary(problems))
    for line in not_read(costed):
        output.text(line)
    output.text()
    output.text(CAUTION)
    return costed.status


def _day_lines(costed: Costed) -> list[str]:
    """What pays for a day at each outlet, in the usual mix, where that is known."""
    lines = [words for day in usual_days(costed.costing) if (words := day.in_words())]
    return [*lines, ""] if lines else []


def _price_lines(costed: Costed) -> list[str]:
    """The prices as a table of text."""
    costing, without = costed.costing, left_out(costed)
    rows = [HEADINGS, *(each.in_words(costed.places) for each in charged(costing))]
    currency = currency_of(costing) or "your currency"
    day = costing.structure.day_in_words
    first = f"Costed on {day}, in {currency}, a pack sold:"
    return [first, "", *columns(rows), *(["", *without] if without else [])]
