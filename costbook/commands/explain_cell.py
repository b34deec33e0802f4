"""`explain --cell`: what a figure on a sheet of ours rests on, or what a typed one goes into."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from costbook.costing.explained import Explained, explained
from costbook.costing.line import Line
from costbook.costing.result import CAUTION, problem_data
from costbook.costing.trail import At
from costbook.costing.typed_cell import typed_cell
from costbook.near_names import offer
from costbook.printing import Output
from costbook.problems import Problem, Refused
from costbook.round_trip import Costed, read_and_cost
from costbook.write_back import sheets_for
from costbook.writing.behind import behind
from costbook.writing.layout import column_number, lay_out_tables

__all__ = ["explain_cell"]

_CELL: Final = re.compile(r"'?(.+?)'?!\$?([A-Za-z]{1,3})\$?([0-9]{1,7})")
_MOST_FIGURES: Final = 12
"""Figures that a formula names one by one."""


@dataclass(frozen=True, slots=True)
class _Said:
    """A cell explained: what it is, its formula if it is ours, and the figures it leads to."""

    about: str
    formula: str
    found: Sequence[Explained]

    @property
    def lines(self) -> Sequence[Line]:
        """All lines of the only figure; of several the first line of each."""
        if len(self.found) == 1:
            return self.found[0].lines
        firsts = ((each.about, each.lines[0]) for each in self.found)
        return [replace(line, words=f"{about}: {line.words}") for about, line in firsts]

    @property
    def touching(self) -> list[Problem]:
        """What is wrong or doubtful in what the figures rest on, each once."""
        return list(dict.fromkeys(each for one in self.found for each in one.touching))


def explain_cell(options: argparse.Namespace, output: Output) -> int:
    """Print what stands in a cell, of ours or of the person's."""
    costed = read_and_cost(options.file, options.on, step=output.step)
    tab, letters, row = _named(options.cell, costed)
    cell = f"{tab}!{letters}{row}"
    if tab in {each.name for each in costed.file.ours.values()}:
        said = _ours(costed, cell, (tab, int(row) - 1, column_number(letters)))
    else:
        said = _theirs(costed, cell, tab, f"{letters}{row}")
    output.problems(options.file.name, said.touching, len(costed.problems) - len(said.touching))
    output.answer(
        {
            "book": options.file.name,
            "cell": cell,
            "about": said.about,
            "formula": said.formula,
            "lines": [line.as_data() for line in said.lines],
            "problems": [problem_data(each) for each in said.touching],
            "cautions": [CAUTION],
        }
    )
    output.text(said.about)
    for line in said.lines:
        for words in line.in_words():
            output.text(words)
    output.text()
    output.text(CAUTION)
    return costed.status


def _named(text: str, costed: Costed) -> tuple[str, str, str]:
    """The tab, the letters and the row of a cell that was named."""
    found = _CELL.fullmatch(text.strip())
    if found is None or int(found[3]) < 1:
        raise Refused(f'"{text}" names no cell.', "Name it with its sheet, as Prices!E12.")
    book = costed.costing.structure.book
    ours = (tab.name for tab in costed.file.ours.values())
    tabs = list(
        dict.fromkeys([*(each.tab for each in book.sheets.values()), *book.other_tabs, *ours])
    )
    tab = next((each for each in tabs if each.casefold() == found[1].casefold()), None)
    if tab is None:
        raise Refused(f'No sheet of this workbook is called "{found[1]}".', offer(found[1], tabs))
    return tab, found[2].upper(), found[3]


def _ours(costed: Costed, cell: str, spot: tuple[str, int, int]) -> _Said:
    """A cell of our sheets as they would be written now."""
    tabs, sheets = sheets_for(costed, costed.file)
    layout = lay_out_tables(costed.costing.structure, tabs["Workings"])
    known = spot[0] in tabs.values()
    found = behind(sheets, layout, costed.costing, spot) if known else None
    if found is None or not found.figures:
        raise Refused(
            f"No figure of the costing stands in {cell}.",
            "Choose a figure on that sheet, or a name that stands left of one.",
        )
    told = [_told(costed, at) for at in found.figures[:_MOST_FIGURES]]
    only = told[0]
    about = f"{only.about or cell}:" if len(told) == 1 else f"{cell} is made of these figures:"
    return _Said(about, found.formula, told)


def _theirs(costed: Costed, cell: str, tab: str, address: str) -> _Said:
    """A cell of the person's, and what it goes into."""
    found = typed_cell(costed.costing, tab, address)
    if found is None:
        raise Refused(
            f"costbook reads nothing in {cell}.",
            "Choose a cell of a row that you filled in, or a figure on a sheet of costbook's.",
        )
    told = [_told(costed, found.figure)] if found.figure else []
    what = f"{found.field}: {found.typed or 'left blank'}" if found.field else "a row of yours"
    about = f"{cell}, typed by you: {what}.{' It goes into this:' if told else ''}"
    return _Said(about, "", told)


def _told(costed: Costed, at: At) -> Explained:
    return explained(costed.costing, *at, costed.problems, costed.places)
