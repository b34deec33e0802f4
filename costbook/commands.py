"""Each command as one call: read, cost, write, and hand the answer to be printed."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType
from typing import Any

from costbook.arranging import arranged
from costbook.book import as_key
from costbook.costing.engine import Costing
from costbook.costing.engine import cost as cost_structure
from costbook.costing.explain import FIGURES, Step, figure_named
from costbook.costing.explain import explain as explain_figure
from costbook.costing.findings import find
from costbook.costing.result import CAUTION, answer, currency_of, not_counted, problem_data
from costbook.costing.rows import Row
from costbook.costing.since_rows import costing_date
from costbook.costing.structure import lay_out
from costbook.definitions.columns import Show
from costbook.definitions.currencies import minor_unit
from costbook.package.lookover import look_over
from costbook.package.marks import ours_in
from costbook.printing import Output, Tell, columns, money_text, quietly, share_text
from costbook.problems import Problem, Refused, Severity
from costbook.reading.ours import remembered
from costbook.reading.workbook import read_book
from costbook.remembered import Remembered

__all__ = ["Costed", "check", "cost", "explain", "new", "read_and_cost", "write"]


@dataclass(frozen=True, slots=True)
class Costed:
    """A workbook's file, read and costed."""

    path: Path
    content: bytes
    costing: Costing
    problems: tuple[Problem, ...]
    remembered: Remembered

    @property
    def status(self) -> int:
        """0 where nothing is wrong, else 1."""
        return int(any(each.severity is Severity.WRONG for each in self.problems))

    @property
    def places(self) -> int:
        """Decimal places of money."""
        places = minor_unit(currency_of(self.costing))
        return 2 if places is None else places


def read_and_cost(
    path: Path, on: date | None, since: date | None = None, step: Tell = quietly
) -> Costed:
    """Read a workbook and cost it. Raises Refused where it can't be read or trusted."""
    step(f"Reading {path.name}")
    content = _content(path)
    warnings = look_over(content, path.name)
    book = read_book(content, path)
    memory = remembered(content, ours_in(content), path.name)
    today = date.today()
    since = since or memory.last_before(costing_date(book, today, on))
    step("Costing")
    costing = cost_structure(lay_out(book, today, on, since))
    tabs = [sheet.tab for sheet in book.sheets.values()]
    problems = arranged((*warnings, *book.problems, *find(costing)), tabs)
    return Costed(path, content, costing, problems, memory)


def _content(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise Refused(
            f"There is no file {path}.",
            f"Check its name, or make a blank workbook: costbook new {path.name}",
        ) from None
    except OSError as error:
        raise Refused(f"{path} can't be read ({error.strerror}).", "Check the file.") from error


def new(options: argparse.Namespace, output: Output) -> int:
    """Make a blank workbook."""
    from costbook.keeping.replacing import create
    from costbook.writing.blank import blank_workbook

    create(options.file, blank_workbook(full=options.full))
    output.answer({"book": str(options.file), "cautions": [CAUTION]})
    output.text(f"Made {options.file}. Fill in Purchases, Recipes, Batches and Products; then run")
    output.text(f"  costbook cost {options.file}")
    output.text()
    output.text(CAUTION)
    return 0


def check(options: argparse.Namespace, output: Output) -> int:
    """Say what is wrong or doubtful."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    output.problems(options.file.name, costed.problems)
    output.answer(
        {
            "book": options.file.name,
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    output.text(_summary(costed.problems))
    output.text()
    output.text(CAUTION)
    return costed.status


def _summary(problems: Sequence[Problem]) -> str:
    wrong = sum(each.severity is Severity.WRONG for each in problems)
    if not problems:
        return "Nothing is wrong, and nothing is doubtful."
    return f"{wrong} wrong, {len(problems) - wrong} to check."


def cost(options: argparse.Namespace, output: Output) -> int:
    """Cost every product and write the sheets."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    written, backup, said = write(costed, options.output, step=output.step)
    problems = (*costed.problems, *said)
    output.problems(options.file.name, problems)
    output.answer(answer(costed.costing, problems))
    for line in _price_lines(costed):
        output.text(line)
    output.text()
    output.text(f"Written: {written}, sheets Prices, Cost cards, Latest prices and more.")
    if backup:
        output.text(f"Your workbook as it was: {backup}")
    output.text(_summary(problems))
    output.text()
    output.text(CAUTION)
    return costed.status


def write(
    costed: Costed,
    other: Path | None,
    more: Mapping[str, Any] = MappingProxyType({}),
    step: Tell = quietly,
) -> tuple[Path, Path | None, list[Problem]]:
    """Write our sheets into the workbook, or into another file; and what is to be said of it.

    ``more`` describes further sheets by their titles. Raises Refused where nothing was written.
    """
    from costbook.keeping.replacing import create, fingerprint_of, replace_safely
    from costbook.package.graft import graft
    from costbook.package.marks import tab_names
    from costbook.package.validity import new_faults
    from costbook.writing.sheets import TITLES, our_workbook

    step("Writing the sheets")
    tabs = tab_names(costed.content, (*TITLES, *more))
    ours = our_workbook(
        costed.costing, costed.problems, tabs, costed.remembered, tuple(more.values())
    )
    new_content = graft(costed.content, ours, {tab: title for title, tab in tabs.items()})
    step("Checking what was written")
    # what was odd in the person's own sheets before is not ours to refuse
    wrong = new_faults(costed.content, new_content)
    if wrong:
        raise Refused(
            f"The new workbook would not be sound ({wrong[0]}), so nothing was written.",
            "Save your workbook once in your spreadsheet program and try again.",
        )
    if other is not None and other.resolve() != costed.path.resolve():
        create(other, new_content)
        return other, None, []
    backup = replace_safely(costed.path, new_content, fingerprint_of(costed.content), date.today())
    return costed.path, backup, []


def _price_lines(costed: Costed) -> list[str]:
    """The prices as a table of text."""
    costing = costed.costing
    heading = ("Product", "Outlet", "Cost", "Charge", "Margin", "Now", "Margin now", "To do")
    rows: list[tuple[str, ...]] = [heading]
    for row in costing.structure.rows["prices"]:
        figures = costing.of(row)
        money = [money_text(figures[name], costed.places) for name in ("total", "price_on_step")]
        rows.append(
            (
                str(figures["product"]),
                str(figures["outlet"] or "—"),
                *money,
                share_text(figures["step_margin"]),
                money_text(figures["price_now"], costed.places),
                share_text(figures["now_margin"]),
                str(figures["advice"])
                + (f" (lacks {figures['lacks']})" if figures["lacks"] else ""),
            )
        )
    currency = currency_of(costing) or "your currency"
    first = f"Costed on {costing.structure.costed_on.isoformat()}, in {currency}, a pack sold:"
    left_out = "; ".join(not_counted(costing))
    return [first, "", *columns(rows), *(["", f"Not counted: {left_out}."] if left_out else [])]


def explain(options: argparse.Namespace, output: Output) -> int:
    """Print how a figure of a product came about."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    row = _price_row(costed, options.product, options.outlet)
    figure = figure_named(options.figure)
    if figure is None:
        names = ", ".join(heading for heading in FIGURES.values())
        raise Refused(f'No figure is called "{options.figure}".', f"Name one of: {names}.")
    steps = list(explain_figure(costed.costing, row, figure))
    output.problems(options.file.name, [p for p in costed.problems if p.severity is Severity.WRONG])
    output.answer(
        {
            "book": options.file.name,
            "product": row.fixed["product"],
            "outlet": row.fixed["outlet"] or None,
            "figure": figure,
            "steps": [_step_data(costed, step) for step in steps],
            "cautions": [CAUTION],
        }
    )
    for step in steps:
        output.text(_step_line(costed, step))
    output.text()
    output.text(CAUTION)
    return costed.status


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
    names = [str(row.fixed["outlet"]) for row in found]
    raise Refused(f'No outlet is called "{outlet}".', f"There are: {', '.join(names)}.")


def _near(product: str, rows: Sequence[Row]) -> str:
    """The product that was meant, or all there are."""
    from difflib import get_close_matches  # needed only when something was mistyped

    names = {as_key(name): name for row in rows if (name := str(row.fixed["product"]))}
    close = get_close_matches(as_key(product), names, n=1, cutoff=0.5)
    if close:
        return f'Did you mean "{names[close[0]]}"?'
    return f"There are: {', '.join(names.values())}." if names else "Products has no rows."


def _step_line(costed: Costed, step: Step) -> str:
    subject = f" [{step.subject}]" if step.subject else ""
    cell = f"  ← {step.cell}" if step.cell else ""
    rule = f" = {step.rule}" if step.rule and not step.cell else ""
    return f"{'   ' * step.depth}{step.name}{subject}: {_shown(costed, step)}{rule}{cell}"


def _shown(costed: Costed, step: Step) -> str:
    value = step.value
    if not isinstance(value, Decimal):
        return value or "?"
    match step.show:
        case Show.MONEY:
            return money_text(value, costed.places + 2)
        case Show.SHARE:
            return share_text(value)
        case Show.DATE:
            return costed.costing.structure.book.day(value).isoformat()
        case _:
            return f"{float(value):.6g}"


def _step_data(costed: Costed, step: Step) -> dict[str, object]:
    value: object = step.value
    if step.show is Show.DATE and isinstance(value, Decimal):
        value = costed.costing.structure.book.day(value).isoformat()
    return {
        "depth": step.depth,
        "figure": step.name,
        "of": step.subject,
        "value": value,
        "rule": step.rule,
        "cell": step.cell,
    }
