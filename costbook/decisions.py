"""The commands of the everyday decisions: which pack, what moved, try a change."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from costbook.book import Book
from costbook.costing.engine import Costing
from costbook.costing.findings import TO_CHARGE
from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.about_item import about_item
from costbook.deciding.margin_path import MarginPath
from costbook.deciding.moved import Moves, moves
from costbook.deciding.packs import SOURCES, ComparedItem, Pack, compared
from costbook.deciding.per_unit import per_unit
from costbook.deciding.price_path import margins, price_path
from costbook.deciding.sensitivity import in_words, most_moving
from costbook.deciding.trial import named_item, nothing_to_try, read_trial
from costbook.deciding.tried_out import TriedOut, try_out
from costbook.definitions.rounding import in_money, in_percent, in_unit_price
from costbook.printing import Output, columns
from costbook.problems import Problem, Refused
from costbook.round_trip import Costed, read_and_cost

__all__ = ["compare", "moved", "try_change"]


def moved(options: argparse.Namespace, output: Output) -> int:
    """Say which products moved, by how much, because of which item."""
    costed = read_and_cost(options.file, options.on, options.since, output.step)
    found = moves(costed.costing)
    _refuse_yet_to_come(found, costed.costing.structure.book)
    output.problems(options.file.name, costed.problems)
    output.answer(
        {
            "book": options.file.name,
            **found.as_data(),
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    since = costed.costing.structure.book.written(found.since)
    lines = [
        f"Since {since}, a pack sold, in the order of the rise in per cent:",
        "",
        *columns(_moved_rows(costed, found)),
        "",
        *found.in_words(costed.places),
    ]
    for line in (*lines, "", CAUTION):
        output.text(line)
    return costed.status


def _refuse_yet_to_come(found: Moves, book: Book) -> None:
    """Raise Refused where the day that changes are shown since is yet to come."""
    if found.since > found.costed_on:
        raise Refused(
            f"--since {book.written(found.since)} is after the costing date, "
            f"{book.written(found.costed_on)}.",
            "Give an earlier day.",
        )


def _moved_rows(costed: Costed, found: Moves) -> list[tuple[str, ...]]:
    heading = ("Product", "Outlet", "Cost then", "Now", "Change", "%", "Most by", "Margin now")
    rows: list[tuple[str, ...]] = [
        (
            each.product,
            each.outlet or "—",
            in_money(each.before, costed.places),
            in_money(each.after, costed.places),
            in_money(each.change, costed.places),
            in_percent(each.change_share),
            " ".join((item, _signed(part, costed.places))) if each.parts else "—",
            in_percent(each.margin_now),
            in_money(each.restoring_price, costed.places),
        )
        for each in found.ranked
        for item, part in (each.parts[:1] or (("", Decimal(0)),))
    ]
    return [(*heading, "Restored at"), *rows]


def _charge(costed: Costed) -> str:
    """What the price on the step is called: at least that, while a part is not counted."""
    return "At least" if costed.costing.one("settings")["uncounted"] else "Charge"


def _signed(amount: Decimal, places: int) -> str:
    """Money with its sign, also where it is a rise."""
    shown = in_money(amount, places)
    return shown if shown.startswith("-") else f"+{shown}"


def compare(options: argparse.Namespace, output: Output) -> int:
    """Put the packs of every item, or of one, side by side."""
    costed = read_and_cost(options.file, options.on, step=output.step, leave_out=TO_CHARGE)
    items = compared(costed.costing, options.weeks)
    touching: Sequence[Problem] = costed.problems
    if options.item is not None:
        items = [_the_item(costed, options.item, items)]
        touching = about_item(costed.costing, items[0].key, costed.problems)
    output.problems(options.file.name, touching, len(costed.problems) - len(touching))
    output.answer(
        {
            "book": options.file.name,
            "items": [item.as_data(costed.costing.structure.book) for item in items],
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    for item in items:
        for line in _item_lines(costed, item):
            output.text(line)
    output.text(CAUTION)
    return costed.status


def _the_item(costed: Costed, name: str, items: list[ComparedItem]) -> ComparedItem:
    """The item of that name. Raises Refused where no pack of it is known."""
    key = named_item(costed.costing, name)
    for item in items:
        if item.key == key:
            return item
    raise Refused(
        f"No pack of {name} is known on or before the costing date.",
        "Add a purchase of it, or a row on Offers.",
    )


def _item_lines(costed: Costed, item: ComparedItem) -> list[str]:
    per = f"a {item.large_unit or 'unit'}"
    rows: list[tuple[str, ...]] = [
        ("Pack", "Supplier", "From", "Of", "Price", per, "used", "May be lost")
    ]
    for pack in item.packs:
        figures = pack.figures
        rows.append(
            (
                pack.name,
                pack.supplier or "—",
                SOURCES[pack.row.table],
                _day(costed, pack.day),
                in_money(figures["price_per_pack"], costed.places),
                *(
                    in_unit_price(item.a_large_unit(pack, name), costed.places)
                    for name in ("compared_price", "used_price")
                ),
                _may_be_lost(pack),
            )
        )
    plan = item.plan_in_words(costed.places)
    return [item.item, *columns(rows), item.in_words, *([plan] if plan else []), ""]


def _may_be_lost(pack: Pack) -> str:
    """The part of a pack that may be lost before the best smaller one wins, if its price stands."""
    if not pack.stands:
        return "overtaken"
    lost = pack.spoilage["break_even_spoilage"]
    return "—" if lost is None else in_percent(lost)


def _day(costed: Costed, day: Decimal | None) -> str:
    return "—" if day is None else costed.costing.structure.book.written(day)


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
        rows = [(m.name, *(_signed(by, costed.places) for by in (m.down, m.up))) for m in moved]
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
