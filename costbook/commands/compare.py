"""`compare`: the packs of each item side by side."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from decimal import Decimal

from costbook.costing.findings import TO_CHARGE
from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.about_item import about_item
from costbook.deciding.packs import SOURCES, ComparedItem, Pack, compared
from costbook.deciding.trial import named_item
from costbook.definitions.rounding import in_money, in_percent, in_unit_price
from costbook.printing import Output, columns
from costbook.problems import Problem, Refused
from costbook.round_trip import Costed, read_and_cost

__all__ = ["compare"]


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
