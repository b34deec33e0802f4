"""One list of names that stand on two sheets, for a drop-down that offers both.

A drop-down takes its names from one range. So a sheet out of sight follows the two, by formulas: it
counts the different names of each from the top, and lists those of the first, then of the second.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from costbook.definitions.columns import Show
from costbook.definitions.offered import CHOSEN_FROM, NamesAt
from costbook.writing.description import Look, Role, SheetDescription
from costbook.writing.layout import column_letters, sheet_name

__all__ = ["NAMES_OFFERED", "names_to_choose", "source_of_names"]

NAMES_OFFERED: Final = 2000
"""Rows below the headings of which drop-downs offer the names."""
LISTED: Final = 500
"""Different names that the list holds."""
_ROWS: Final = (LISTED, NAMES_OFFERED)
"""Rows of each of the two that are looked at: recipes are few, receipts many."""
_HEADINGS: Final = ("Names to choose from", "Of the first sheet", "Of the second")


def names_to_choose(lists: Sequence[tuple[NamesAt, Sequence[str]]]) -> SheetDescription:
    """Describe the sheet; of both lists is given where their names stand, and which there are."""
    sheet = SheetDescription(CHOSEN_FROM, CHOSEN_FROM)
    sheet.hidden = True
    sheet.widths = {0: 34, 1: 18, 2: 18}
    for at, heading in enumerate(_HEADINGS):
        sheet.put(0, at, heading, Look(Role.HEADING))
    cells = [_cells(names, rows) for (names, _), rows in zip(lists, _ROWS, strict=True)]
    for column, (area, (_, now)) in enumerate(zip(cells, lists, strict=True), 1):
        for number, counted in enumerate(_counted(now, _ROWS[column - 1]), 1):
            formula = _count(area, column_letters(column), number)
            sheet.put(number, column, counted, Look(Role.LABEL, Show.WHOLE), formula=formula)
    all_now = [name for _, now in lists for name in dict.fromkeys(now)]
    for number in range(1, LISTED + 1):
        name = all_now[number - 1] if number <= len(all_now) else ""
        sheet.put(number, 0, name, Look(Role.LABEL), formula=_listed(cells, number))
    sheet.next_row = max(_ROWS) + 1
    return sheet


def source_of_names() -> str:
    """The list from its first name to its last, as a drop-down asks for it."""
    tab = sheet_name(CHOSEN_FROM)
    first, second = _ROWS
    listed, counts = f"$A$2:$A${LISTED + 1}", f"{tab}!$B${first + 1}+{tab}!$C${second + 1}"
    return f"={tab}!$A$2:INDEX({tab}!{listed},MAX(1,MIN({LISTED},{counts})))"


def _cells(names: NamesAt, rows: int) -> str:
    letter = column_letters(names.column)
    first, last = names.row + 1, names.row + rows
    return f"{sheet_name(names.tab)}!${letter}${first}:${letter}${last}"


def _counted(now: Sequence[str], rows: int) -> Iterator[Decimal]:
    """How many different names there are down to each row; examples stand from the first on."""
    for number in range(1, rows + 1):
        yield Decimal(len(set(now[:number])))


def _count(area: str, letter: str, number: int) -> str:
    """One more than in the row above where a name stands for the first time."""
    above = f"{letter}{number}+" if number > 1 else ""
    name = f"INDEX({area},{number})"
    return f'={above}IFERROR(IF({name}="",0,IF(MATCH({name},{area},0)={number},1,0)),0)'


def _listed(cells: Sequence[str], number: int) -> str:
    first, second = cells
    ends = [rows + 1 for rows in _ROWS]
    before = f"$B${ends[0]}"
    in_first = f"INDEX({first},MATCH({number},$B$2:$B${ends[0]},0))"
    in_second = f"INDEX({second},MATCH({number}-{before},$C$2:$C${ends[1]},0))"
    return f'=IFERROR(IF({number}<={before},{in_first},{in_second}),"")'
