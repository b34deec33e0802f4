"""The row on each of our sheets that says by itself when it is out of step with the person's rows.

It counts, live, the rows that only a new run takes in. On Prices it says so too while there are
none; elsewhere it is empty then.
"""

from __future__ import annotations

from typing import Final

from costbook.writing.description import Look, Mark, Role, SheetDescription
from costbook.writing.layout import column_letters
from costbook.writing.pages.page import Context

__all__ = ["COST_AGAIN", "ONE_ROW", "SHEET_GONE", "STILL_TRUE", "step_row"]

STILL_TRUE: Final = "The rows of your sheets are those that were costed."
_SINCE: Final = (
    "added, taken away, renamed or can't be read here since this was costed: run costbook again."
)
ONE_ROW: Final = f"1 row of your sheets was {_SINCE}"
COST_AGAIN: Final = f" rows of your sheets were {_SINCE}"
SHEET_GONE: Final = (
    "A sheet of yours is no longer there, so nothing here can be trusted: put it back, or run "
    "costbook again."
)


def step_row(context: Context, sheet: SheetDescription, across: int, in_step: str = "") -> None:
    """Put the row, as wide as so many columns; it stands out while it asks for a new run."""
    since = context.layout.absolute(context.costing.structure.one("since"), "to_cost_again")
    more = f'IF({since}=1,"{ONE_ROW}",{since}&"{COST_AGAIN}")'
    counted = f'IF({since}=0,"{in_step}",{more})'
    # the count is unknown only where a sheet that it counts is gone
    formula = f'=IF(ISNUMBER({since}),{counted},"{SHEET_GONE}")'
    at = sheet.next_row
    sheet.put(at, 0, in_step, Look(Role.NOTE, wrap=True), formula=formula)
    sheet.merged.append((at, 0, at, across - 1))
    cell = f"{column_letters(0)}{at + 1}"
    sheet.marks.append(Mark((at, 0, at, 0), f'{cell}<>"{in_step}"', Role.FLAG))
    sheet.next_row += 1
