"""Each command as one call: read, cost, write, and hand the answer to be printed."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from costbook.book import as_key
from costbook.costing.charged import HEADINGS, charged, usual_days
from costbook.costing.explain import FIGURES, figure_named
from costbook.costing.explained import Explained, explained
from costbook.costing.lacking import uncounted
from costbook.costing.result import CAUTION, answer, currency_of, problem_data
from costbook.costing.rows import Row
from costbook.near_names import offer
from costbook.printing import Output, columns
from costbook.problems import Problem, Refused, Severity, to_check
from costbook.round_trip import Costed, read_and_cost
from costbook.started import command as as_typed

__all__ = ["check", "cost", "explain", "new"]


def new(options: argparse.Namespace, output: Output) -> int:
    """Make a blank workbook."""
    if options.add:
        return _add(options, output)
    from costbook.files import with_ending
    from costbook.keeping.replacing import create
    from costbook.writing.blank import blank_workbook

    file = with_ending(options.file, ".xlsx")
    create(file, blank_workbook(full=options.full), output.wrote)
    output.answer({"book": str(file), "cautions": [CAUTION]})
    output.text(
        f"Made {file}. Fill in Purchases, Recipes, Batches, Stages, Packaging and "
        "Products; then run"
    )
    output.text(f"  {as_typed('cost', file)}")
    output.text()
    output.text(CAUTION)
    return 0


def _add(options: argparse.Namespace, output: Output) -> int:
    """Put blank sheets into a workbook that is there."""
    from costbook.adding import add_sheets

    if options.full:
        raise Refused("--full makes a new workbook, and --add fills up one.", "Give one of them.")
    added = add_sheets(options.file, options.add, output.wrote)
    titles = ", ".join(added.titles)
    output.answer({"book": str(options.file), "added": added.titles, "cautions": [CAUTION]})
    output.text(f"Added to {options.file}: {titles}. Fill in, save, and run")
    output.text(f"  {as_typed('cost', options.file)}")
    if added.backup:
        output.text(f"Your workbook as it was: {added.backup}")
    output.text()
    output.text(CAUTION)
    return 0


def check(options: argparse.Namespace, output: Output) -> int:
    """Say what is wrong or doubtful."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    output.every_problem(options.file.name, costed.problems)
    output.answer(
        {
            "book": options.file.name,
            "not_read": list(costed.costing.structure.book.not_read),
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    output.text(_summary(costed.problems))
    for line in _not_read(costed):
        output.text(line)
    output.text()
    output.text(CAUTION)
    return costed.status


def _summary(problems: Sequence[Problem]) -> str:
    wrong = sum(each.severity is Severity.WRONG for each in problems)
    doubts = to_check(problems)
    read = len(problems) - wrong - doubts
    texts = (
        "1 text was read as what it seems to mean."
        if read == 1
        else f"{read} texts were read as what they seem to mean."
    )
    said = f"{wrong} wrong, {doubts} to check." if wrong or doubts else _NOTHING
    return f"{said} {texts}" if read else said


_NOTHING = "Nothing is wrong, and nothing is doubtful."


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
    output.text(f"Written: {written.path}, sheets Prices, Cost cards, Latest prices and more.")
    if written.backup:
        whose = "Your workbook" if written.path == options.file else written.path.name
        output.text(f"{whose} as it was: {written.backup}")
    output.text(_summary(problems))
    for line in _not_read(costed):
        output.text(line)
    output.text()
    output.text(CAUTION)
    return costed.status


def _day_lines(costed: Costed) -> list[str]:
    """What pays for a day at each outlet, in the usual mix, where that is known."""
    lines = [words for day in usual_days(costed.costing) if (words := day.in_words())]
    return [*lines, ""] if lines else []


def _not_read(costed: Costed) -> list[str]:
    """The tabs that have nothing to do with costing, named once."""
    tabs = costed.costing.structure.book.not_read
    return [f"Not read: {', '.join(tabs)}."] if tabs else []


def _price_lines(costed: Costed) -> list[str]:
    """The prices as a table of text."""
    costing, left_out = costed.costing, _left_out(costed)
    rows = [HEADINGS, *(each.in_words(costed.places) for each in charged(costing))]
    currency = currency_of(costing) or "your currency"
    day = costing.structure.book.written(costing.structure.costed_on)
    first = f"Costed on {day}, in {currency}, a pack sold:"
    return [first, "", *columns(rows), *(["", *left_out] if left_out else [])]


def _left_out(costed: Costed) -> list[str]:
    """What no price counts, so that none is a price to charge; nothing where all is counted."""
    parts = list(uncounted(costed.costing))
    if not parts:
        return []
    named, why = ", ".join(each.words for each in parts), "; ".join(p.uncounted for p in parts)
    there = costed.costing.structure.book.sheets
    missing = [each.sheet for each in parts if each.sheet and each.sheet not in there]
    adding = as_typed("new", *(word for each in missing for word in ("--add", each)), costed.path)
    return [
        f"No price to charge yet: at least, without: {named} ({why}).",
        *([f"To add what is missing: {adding}"] if missing else []),
    ]


def explain(options: argparse.Namespace, output: Output) -> int:
    """Print how a figure of a product came about."""
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
    left_out = _left_out(costed)
    if every_step:
        return [*found.every_step(), *(["", *left_out] if left_out else [])]
    currency = currency_of(costed.costing) or "your currency"
    lines = [f"{found.about}, a pack sold, in {currency}:", "", *found.in_words(), ""]
    asked = as_typed("explain", costed.path, found.product)
    more = [f"One part of it: {asked} ingredients", f"Every step: {asked} --all"]
    return [*lines, *left_out, *more]


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
