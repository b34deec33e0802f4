"""`check`: what in the workbook is wrong or doubtful."""

from __future__ import annotations

import argparse

from costbook.commands.said import not_read, summary
from costbook.costing.result import CAUTION, problem_data
from costbook.printing import Output
from costbook.round_trip import read_and_cost

__all__ = ["check"]


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
    output.text(summary(costed.problems))
    for line in not_read(costed):
        output.text(line)
    output.text()
    output.text(CAUTION)
    return costed.status
