"""Input sheets added to a workbook that lacks them, as the blank workbook has them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from costbook.definitions.fields import InputSheet
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.keeping.replacing import Wrote, fingerprint_of, replace_safely
from costbook.near_names import offer
from costbook.package.graft import with_sheets
from costbook.package.lookover import look_over
from costbook.package.validity import new_faults
from costbook.problems import Refused
from costbook.reading.tables import heading_key
from costbook.reading.workbook import Sheets, sheets_there
from costbook.round_trip import file_at
from costbook.writing.blank import added_described, added_sheets
from costbook.writing.plain import plain

__all__ = ["Added", "add_sheets", "addable"]


@dataclass(frozen=True, slots=True)
class Added:
    """Which sheets a workbook gained, and where it lies as it was."""

    titles: tuple[str, ...]
    backup: Path | None


def add_sheets(path: Path, names: Sequence[str], wrote: Wrote) -> Added:
    """Put blank input sheets into a workbook; nothing else of it changes.

    Raises Refused for a sheet that nobody knows or that is there, and where nothing was written.
    """
    wanted = list({sheet.title: sheet for sheet in map(_named, names)}.values())
    file = file_at(path)
    look_over(file)
    there = sheets_there(file)
    for sheet in wanted:
        _refuse_there(sheet, there, path)
    new = with_sheets(file, added_sheets(wanted, there.day_zero, there.names))
    if faults := new_faults(file, new):
        raise Refused(
            f"The new workbook would not be sound ({faults[0]}), so nothing was written.",
            "Save your workbook once in your spreadsheet program and try again.",
        )
    backup = replace_safely(path, new.content, fingerprint_of(file.content), date.today(), wrote)
    return Added(tuple(sheet.title for sheet in wanted), backup)


def addable(path: Path) -> tuple[list[InputSheet], dict[str, Any]]:
    """The sheets to fill in that a workbook lacks, and as data how each is drawn into it, blank.

    As ``write_back.described`` has it; a sheet is left out where a tab bears its name for another
    use. Each stands for itself: its drop-downs name only what is there. Raises Refused where the
    workbook can't be read.
    """
    file = file_at(path)
    there, before = sheets_there(file), [tab.name for tab in file.book.tabs]
    taken = {name.casefold() for name in before}
    wanted = [
        sheet
        for title, sheet in INPUT_SHEETS.items()
        if title not in there.tabs and title.casefold() not in taken
    ]
    sheets = [added_described([each], there.day_zero, there.names)[0] for each in wanted]
    after = with_sheets(file, added_sheets(wanted, there.day_zero, there.names)) if wanted else file
    order = [tab.name for tab in after.book.tabs]
    return wanted, plain(sheets, places=2) | {"order": order, "leaving": [], "tab_marks": {}}


def _named(name: str) -> InputSheet:
    for title, sheet in INPUT_SHEETS.items():
        if heading_key(title) == heading_key(name):
            return sheet
    raise Refused(f'No sheet to fill in is called "{name}".', offer(name, list(INPUT_SHEETS)))


def _refuse_there(sheet: InputSheet, there: Sheets, path: Path) -> None:
    tab = there.tabs.get(sheet.title)
    if tab is not None:
        other = "" if tab == sheet.title else f", on its tab {tab}"
        raise Refused(f"{path.name} has a sheet {sheet.title} already{other}.", "Fill that in.")
