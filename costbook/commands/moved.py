"""`moved`: which products moved, by how much, because of which item."""

from __future__ import annotations

import argparse
from decimal import Decimal

from costbook.book import Book
from costbook.commands.said import signed
from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.moved import Moves, moves
from costbook.definitions.rounding import in_money, in_percent
from costbook.printing import Output, columns
from costbook.problems import Refused
from costbook.round_trip import Costed, read_and_cost

__all__ = ["moved"]


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
            " ".join((item, signed(part, costed.places))) if each.parts else "—",
            in_percent(each.margin_now),
            in_money(each.restoring_price, costed.places),
        )
        for each in found.ranked
        for item, part in (each.parts[:1] or (("", Decimal(0)),))
    ]
    return [(*heading, "Restored at"), *rows]
