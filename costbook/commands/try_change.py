"""`try`: every product before and after a change."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import Any

from costbook.commands.said import signed
from costbook.costing.engine import Costing
from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.margin_path import MarginPath
from costbook.deciding.per_unit import per_unit
from costbook.deciding.price_path import margins, price_path
from costbook.deciding.sensitivity import in_words, most_moving
from costbook.deciding.trial import named_item, nothing_to_try, read_trial
from costbook.deciding.tried_out import TriedOut, try_out
from costbook.definitions.rounding import in_money, in_percent
from costbook.printing import Output, columns
from costbook.problems import Refused
from costbook.round_trip import Costed, read_and_cost

__all__ = ["try_change"]


def try_change(options: argparse.Namespace, output: Output) -> int:
    """Show every product before and after a change."""
    costed = read_and_cost(options.file, options.on)
    costing = costed.costing
    if not (options.price or options.set or options.sensitivity or options.series):
        raise nothing_to_try(costing, costed.path)
    trial = read_trial(costing, options.price, options.set)
    moving = most_moving(costing) if options.sensitivity else None
    path = _path(costing, options) if options.series else None
    found = try_out(costing, trial, moving, path)
    written = _write_trial(costed, options, found, output)
    output.problems(options.file.name, costed.problems)
    more = {"cautions": [CAUTION], "problems": [problem_data(each) for each in costed.problems]}
    output.answer({"book": options.file.name, **found.as_data(), **more})
    lines = columns(_trial_rows(costed, found))
    lines += ["", *(each.in_words(costed.places) for each in found.prices)] if found.prices else []
    lines += _extra_lines(costed, found)
    if written:
        lines += ["", f"Written: {written}, with your trial on the sheet Try a change."]
    for line in (*lines, "", CAUTION):
        output.text(line)
    return costed.status


def _path(costing: Costing, options: argparse.Namespace) -> MarginPath:
    """Each product's margin over the months of a series. Raises Refused for a missing item."""
    if not options.item:
        raise Refused("--series needs the item whose prices it holds.", 'Add --item "Eggs, large".')
    per = per_unit(options.per, "--per dozen, or --per 1 lb") if options.per else None
    named_item(costing, options.item)  # a name that isn't there is said before the file is read
    return margins(costing, options.item, price_path(options.series), per)


def _write_trial(
    costed: Costed, options: argparse.Namespace, found: TriedOut, output: Output
) -> Path | None:
    """Write the workbook with the trial typed into its boxes, if a file was named for it."""
    if options.output is None:
        return None
    from costbook.write_back import write
    from costbook.writing.pages.what_if import MATTERS, PATH, price_path_page, what_matters_page

    # this trial alone, so that the sheet shows what the command says
    trial = found.trial
    typed = replace(costed.remembered, trial_prices=trial.prices, trial_settings=trial.settings)
    more: dict[str, Any] = {}
    if found.moving is not None:
        more[MATTERS] = what_matters_page(found.moving)
    if found.path is not None:
        more[PATH] = price_path_page(found.path)
    costed = replace(costed, remembered=typed)
    return write(costed, options.output, more, wrote=output.wrote).path


def _extra_lines(costed: Costed, found: TriedOut) -> list[str]:
    lines: list[str] = []
    if found.moving is not None and not found.moving:
        lines += ["", f"{in_words(found.moving)}."]
    if found.moving:
        heading = ("What moves profit most", "a tenth less", "a tenth more")
        moved = found.moving
        rows = [(m.name, *(signed(by, costed.places) for by in (m.down, m.up))) for m in moved]
        lines += ["", found.profit_of, *columns([heading, *rows])]
    for product in found.path.products if found.path else ():
        where = f" at {product.outlet}" if product.outlet else ""
        lines += ["", f"{product.product}{where}:"]
        rows = [
            (m.month, in_money(m.price, costed.places), in_percent(m.margin))
            for m in product.months
        ]
        lines += columns([("Month", "Price", "Margin"), *rows])
    return lines


def _trial_rows(costed: Costed, found: TriedOut) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = [
        ("Product", "Outlet", "Cost", "after", _charge(costed), "after", "Margin now", "after")
    ]
    for b, a in found.products:
        money = [
            in_money(side[group][name], costed.places)
            for group, name in (("cost", "total"), ("price", "on_step"))
            for side in (b, a)
        ]
        shares = [in_percent(side["at_current"]["margin"]) for side in (b, a)]
        rows.append((b["product"], b["outlet"] or "—", *money, *shares))
    return rows


def _charge(costed: Costed) -> str:
    """What the price on the step is called: at least that, while a part is not counted."""
    return "At least" if costed.costing.one("settings")["uncounted"] else "Charge"
