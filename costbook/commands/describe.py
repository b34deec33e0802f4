"""The sheets of `cost` as data, for a program that has the workbook open and draws them itself."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from typing import Any

from costbook.adding import addable
from costbook.costing.result import CAUTION, problem_data
from costbook.deciding.in_short import at_one_look
from costbook.printing import Output
from costbook.round_trip import read_and_cost
from costbook.write_back import described

__all__ = ["describe"]


def describe(options: argparse.Namespace, output: Output) -> int:
    """Print the sheets, what the front sheet says, and the problems; nothing is written."""
    if options.blank:
        return _describe_blank(options, output)
    costed = read_and_cost(options.file, None, step=output.step)
    output.step("Describing the sheets")
    drawn, more = described(costed)
    problems = (*costed.problems, *more)
    output.answer(
        {
            "book": options.file.name,
            "drawn": drawn,
            "in_short": [
                {"about": told.about, "words": told.words, "sheet": told.sheet}
                for told in at_one_look(costed.costing, costed.problems, costed.places)
            ],
            "cautions": [CAUTION],
            "problems": [problem_data(each) for each in problems],
        }
    )
    output.text(_counted(drawn))
    return costed.status


def _describe_blank(options: argparse.Namespace, output: Output) -> int:
    """Print the sheets to fill in that the workbook lacks, each blank, and what a row of it is."""
    lacking, drawn = addable(options.file)
    output.answer(
        {
            "book": options.file.name,
            "lacking": [{"title": each.title, "row_is": each.row_is} for each in lacking],
            "drawn": drawn,
            "cautions": [CAUTION],
        }
    )
    output.text(_counted(drawn))
    return 0


def _counted(drawn: Mapping[str, Any]) -> str:
    sheets = drawn["sheets"]
    cells = sum(len(row) for sheet in sheets for _, row in sheet["rows"])
    return f"{len(sheets)} sheets, {cells} cells. --json prints them, and writes nothing."
