"""`explain`: how a figure of a product came about."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from costbook.book import as_key
from costbook.commands.said import left_out
from costbook.costing.explain import FIGURES, figure_named
from costbook.costing.explained import Explained, explained
from costbook.costing.result import CAUTION, currency_of
from costbook.costing.rows import Row
from costbook.near_names import offer
from costbook.printing import Output
from costbook.problems import Refused
from costbook.round_trip import Costed, read_and_cost
from costbook.started import command as as_typed

__all__ = ["explain"]


def explain(options: argparse.Namespace, output: Output) -> int:
    """Print how a figure of a product came about, or what stands in a cell."""
    if options.cell:
        from costbook.commands.explain_cell import (
            explain_cell,
        )  # it knows our sheets, and takes longer

        return explain_cell(options, output)
    costed = read_and_cost(options.file, options.on, step=output.step)
    row = _price_row(costed, options.product, options.outlet)
    figure = figure_named(options.figure)
    if figure is None:
        names = ", ".join(heading for heading in FIGURES.values())
        raise Refused(f'No figure is called "{options.figure}".', f"Name one of: {names}.")
    found = explained(costed.costing, row, figure, costed.problems, costed.places)
    told_in_lines = not (options.all or output.json)
    said = found.problems if told_in_lines else found.touching
    output.problems(options.file.name, said, found.others)
    data = found.as_data(every_step=options.all)
    output.answer({"book": options.file.name, **data, "cautions": [CAUTION]})
    for line in _explained_lines(costed, found, every_step=options.all):
        output.text(line)
    output.text()
    output.text(CAUTION)
    return costed.status


def _explained_lines(costed: Costed, found: Explained, *, every_step: bool) -> list[str]:
    """The lines or every step, what isn't counted, and where there is more to read."""
    without = left_out(costed)
    if every_step:
        return [*found.every_step(), *(["", *without] if without else [])]
    currency = currency_of(costed.costing) or "your currency"
    lines = [f"{found.about}, a pack sold, in {currency}:", "", *found.in_words(), ""]
    asked = as_typed("explain", costed.path, found.product)
    more = [f"One part of it: {asked} ingredients", f"Every step: {asked} --all"]
    return [*lines, *without, *more]


def _price_row(costed: Costed, product: str, outlet: str | None) -> Row:
    rows = costed.costing.structure.rows["prices"]
    found = [row for row in rows if as_key(str(row.fixed["product"])) == as_key(product)]
    if not found:
        raise Refused(f'No product is called "{product}".', _near(product, rows))
    if outlet is None:
        return found[0]
    for row in found:
        if as_key(str(row.fixed["outlet"] or "")) == as_key(outlet):
            return row
    names = ", ".join(str(row.fixed["outlet"]) for row in found)
    if any(as_key(str(row.fixed["outlet"])) == as_key(outlet) for row in rows):
        raise Refused(f'"{found[0].fixed["product"]}" is not sold at "{outlet}".', f"At: {names}.")
    raise Refused(f'No outlet is called "{outlet}".', f"There are: {names}.")


def _near(product: str, rows: Sequence[Row]) -> str:
    """The product that was meant, or all there are."""
    names = {name: None for row in rows if (name := str(row.fixed["product"]))}
    return offer(product, names) if names else "Products has no rows."
