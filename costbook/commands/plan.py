"""`plan`: what to make for what is wanted, how long it takes and what it costs."""

from __future__ import annotations

import argparse

from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.week import week
from costbook.printing import Output
from costbook.problems import Refused
from costbook.round_trip import read_and_cost
from costbook.started import command as as_typed

__all__ = ["plan"]


def plan(options: argparse.Namespace, output: Output) -> int:
    """Say what the plan asks for: batches, minutes, the kitchen, the cost."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    found = week(costed.costing)
    if found is None:
        raise Refused(
            "There is no sheet Plan.",
            f"Add one, and fill it in: {as_typed('new', '--add', 'Plan', costed.path)}",
        )
    output.problems(options.file.name, costed.problems)
    output.answer(
        {
            "book": options.file.name,
            **found.as_data(),
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in costed.problems],
        }
    )
    for line in (*found.in_words(costed.places), "", CAUTION):
        output.text(line)
    return costed.status
