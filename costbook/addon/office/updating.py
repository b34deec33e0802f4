"""Our sheets drawn into the open document, as one step of Undo."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from costbook.addon.office.cells import differing, fill, put, said_cells
from costbook.addon.office.dressing import annotate, dress
from costbook.addon.office.furnishing import furnish, show_as
from costbook.addon.office.undoing import as_one_step, on_redo
from costbook.addon.office.uno_values import area_of, place_of

if TYPE_CHECKING:
    from costbook.addon.office.kinds import Change, Later, Progress

__all__ = ["STEP", "VERSION", "add", "update"]

VERSION = 1
"""Of the description of sheets that can be drawn here."""
STEP = "Update costs"


class _Planned(NamedTuple):
    """What is to be done to a document: which sheets are new, and which cells of others change."""

    drawn: Mapping[str, Any]
    fresh: list[str]
    changes: dict[str, list[Change]]


def update(
    document: Any, drawn: Mapping[str, Any], tell: Progress, later: Later, step: str = STEP
) -> int:
    """Draw the sheets that are described, and give how many cells changed or are new.

    A sheet of ours that stands there keeps its place, and only cells that differ are set. Raises
    whatever LibreOffice raises, with the document as it was. ``later`` takes what is to be done
    once LibreOffice is done with a Redo; ``step`` is what Undo calls it.
    """
    tell("Comparing with the sheets that are there")
    planned = _plan(document, drawn)
    fresh = (sheet for sheet in drawn["sheets"] if sheet["tab"] in planned.fresh)
    new = sum(len(row) for sheet in fresh for _, row in sheet["rows"])
    changed = sum(map(len, planned.changes.values()))
    if new or changed or drawn["leaving"]:
        with as_one_step(document, step):
            _apply(document, planned, tell)
            if planned.fresh:
                on_redo(document, step, partial(later, partial(_furnish_again, document, planned)))
        # a formula that was set before those it looks at isn't computed again by `calculate`
        (document.calculateAll if planned.fresh else document.calculate)()
        _show_fresh(document, planned)
    return new + changed


def add(
    document: Any, drawn: Mapping[str, Any], tab: str, tell: Progress, later: Later, step: str
) -> None:
    """Draw one of the sheets that are described, and no other."""
    tabs = {*document.Sheets.ElementNames, tab}
    alone = {
        "sheets": [sheet for sheet in drawn["sheets"] if sheet["tab"] == tab],
        "order": [each for each in drawn["order"] if each in tabs],
    }
    update(document, {**drawn, **alone}, tell, later, step)


def _plan(document: Any, drawn: Mapping[str, Any]) -> _Planned:
    there = set(document.Sheets.ElementNames)
    fresh = [sheet["tab"] for sheet in drawn["sheets"] if sheet["tab"] not in there]
    changes = {
        sheet["tab"]: differing(
            *_all_of(document.Sheets.getByName(sheet["tab"])), said_cells(sheet)
        )
        for sheet in drawn["sheets"]
        if sheet["tab"] in there
    }
    return _Planned(drawn, fresh, changes)


def _all_of(sheet: Any) -> tuple[Any, Any]:
    """The formulas and the values of a sheet, from A1 to the last cell that holds something."""
    cursor = sheet.createCursor()
    cursor.gotoEndOfUsedArea(False)
    end = cursor.RangeAddress
    used = area_of(sheet, (0, 0, end.EndRow, end.EndColumn))
    return used.getFormulaArray(), used.getDataArray()


def _apply(document: Any, planned: _Planned, tell: Progress) -> None:
    sheets, drawn = document.Sheets, planned.drawn
    for tab in drawn["leaving"]:
        sheets.removeByName(tab)
    for tab, changes in planned.changes.items():
        for place, cell in changes:
            put(document, sheets.getByName(tab), place, cell)
    for at, tab in enumerate(drawn["order"]):
        if tab in planned.fresh:
            sheets.insertNewByName(tab, at)
    if planned.fresh:
        _draw_fresh(document, planned, tell)


def _draw_fresh(document: Any, planned: _Planned, tell: Progress) -> None:
    """Fill the sheets that are new; all must be there, as their formulas look at others."""
    for said in planned.drawn["sheets"]:
        if said["tab"] not in planned.fresh:
            continue
        tell(f"Drawing {said['tab']}")
        sheet, cells = document.Sheets.getByName(said["tab"]), said_cells(said)
        if mark := planned.drawn["tab_marks"].get(said["tab"]):
            _mark(sheet, mark)
        # looks first: a formula without a format takes on one of its own when it is computed
        dress(document, sheet, said, planned.drawn, cells)
        fill(document, sheet, cells)
        annotate(sheet, said)
        furnish(document, sheet, said)
        if said["hidden"]:
            sheet.IsVisible = False


def _furnish_again(document: Any, planned: _Planned) -> None:
    """What Redo doesn't bring back; nothing if Undo has taken the sheets away since."""
    for said in planned.drawn["sheets"]:
        if said["tab"] in planned.fresh and document.Sheets.hasByName(said["tab"]):
            furnish(document, document.Sheets.getByName(said["tab"]), said)
    document.calculateAll()
    _show_fresh(document, planned)


def _show_fresh(document: Any, planned: _Planned) -> None:
    """How the window shows the sheets that are new."""
    controller = document.CurrentController
    active = controller.ActiveSheet
    for said in planned.drawn["sheets"]:
        tab = said["tab"]
        if tab in planned.fresh and not said["hidden"] and document.Sheets.hasByName(tab):
            show_as(controller, document.Sheets.getByName(tab), said)
    controller.setActiveSheet(active)


def _mark(sheet: Any, mark: str) -> None:
    """The name by which costbook knows the sheet again, also when its tab is renamed."""
    tab = sheet.Name.replace("'", "''")
    if not sheet.NamedRanges.hasByName(mark):
        sheet.NamedRanges.addNewByName(mark, f"$'{tab}'.$A$1", place_of(sheet, 0, 0), 0)
