"""`buy`: what to buy, in whole packs, shop by shop."""

from __future__ import annotations

import argparse

from costbook.costing.findings import TO_CHARGE
from costbook.costing.result import CAUTION, currency_of, problem_data
from costbook.deciding.buy_list import buy_list
from costbook.printing import Output
from costbook.round_trip import read_and_cost

__all__ = ["buy"]

NOTHING_TO_BUY_FOR = (
    "No sheet Plan says what you want to make, and no item on Items has a Par: fill in one of them."
)


def buy(options: argparse.Namespace, output: Output) -> int:
    """Say what to buy for the plan and up to each par, shop by shop."""
    costed = read_and_cost(options.file, options.on, step=output.step, leave_out=TO_CHARGE)
    structure = costed.costing.structure
    found = buy_list(costed.costing, costed.places)
    output.problems(options.file.name, costed.problems)
    output.answer(
        {
            "book": options.file.name,
            "costed_on": structure.costed_on.isoformat(),
            "currency": currency_of(costed.costing) or None,
            **found.as_data(),
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    if not structure.book.has_buy_list:
        output.text(NOTHING_TO_BUY_FOR)
    for line in (*found.lines(), "", CAUTION):
        output.text(line)
    return costed.status
