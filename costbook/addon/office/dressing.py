"""Looks, sizes, joined cells, drop-downs, notes and marks of one of our sheets.

All of this is taken back by LibreOffice's own Undo.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from costbook.addon.office.formulas import in_calc
from costbook.addon.office.looks import Formats, dressed, mark_style, rectangles, together
from costbook.addon.office.uno_values import address, area_of, enum, place_of, properties

if TYPE_CHECKING:
    from costbook.addon.office.cells import CellSaid
    from costbook.addon.office.kinds import Spot

__all__ = ["annotate", "dress"]

PIXEL = 2540 / 96
"""A pixel [hundredths of a millimetre]."""
_LAST_ROW = 1_048_575
_PLAIN_HEIGHT = 15
"""Of a row of which nothing is said [points]."""


def dress(
    document: Any,
    sheet: Any,
    said: Mapping[str, Any],
    all_said: Mapping[str, Any],
    cells: dict[Spot, CellSaid],
) -> None:
    """Give the cells of a sheet their looks, and whatever is said of it beside its values."""
    formats = Formats(document)
    looks = all_said["looks"]
    _sizes(sheet, said)
    for column, _, look in said["widths"]:
        if look is not None:
            _wear(area_of(sheet, (0, column, _LAST_ROW, column)), dressed(looks[look], formats))
    for look, places in sorted(_by_look(said, cells).items()):
        _wear(together(document, sheet, rectangles(places)), dressed(looks[look], formats))
    for area in said["merged"]:
        area_of(sheet, area).merge(True)
    _choices(sheet, said["choices"])
    _marks(document, sheet, said["marks"], all_said["marks"])
    _pages(sheet, said["page"])


def annotate(sheet: Any, said: Mapping[str, Any]) -> None:
    """The notes of a sheet that is filled: what fills many cells at once takes theirs away."""
    for row, column, note in said["notes"]:
        sheet.Annotations.insertNew(place_of(sheet, row, column), note)


def _wear(cells: Any, wanted: Mapping[str, Any]) -> None:
    names = tuple(sorted(wanted))
    cells.setPropertyValues(names, tuple(wanted[name] for name in names))


def _sizes(sheet: Any, said: Mapping[str, Any]) -> None:
    last = max([row for row, _ in said["rows"]] + [row for row, _ in said["heights"]] + [0])
    area_of(sheet, (0, 0, last, 0)).Rows.Height = high(_PLAIN_HEIGHT)
    for column, width, _ in said["widths"]:
        sheet.Columns.getByIndex(column).Width = wide(width)
    for row, height in said["heights"]:
        sheet.Rows.getByIndex(row).Height = high(height)


def wide(letters: float) -> int:
    """The width of a column of so many letters [hundredths of a millimetre].

    Seven pixels a letter and five between columns, as ISO/IEC 29500 reckons them for the plain
    font of a new file.
    """
    pixels = int(letters * 7 + 0.5) + 5 if letters >= 1 else int(letters * 12 + 0.5)
    return round(pixels * PIXEL)


def high(points: float) -> int:
    """The height of a row, in whole pixels [hundredths of a millimetre]."""
    return round(int(points * 4 / 3 + 0.5) * PIXEL)


def _by_look(said: Mapping[str, Any], cells: Mapping[Spot, CellSaid]) -> dict[int, list[Spot]]:
    """The cells of each look; those of a joined area look like its first."""
    joined = {
        (row, column): cells[top, left].look
        for top, left, bottom, right in said["merged"]
        if (top, left) in cells
        for row in range(top, bottom + 1)
        for column in range(left, right + 1)
    }
    found: dict[int, list[Spot]] = {}
    for place, look in {**{place: cell.look for place, cell in cells.items()}, **joined}.items():
        found.setdefault(look, []).append(place)
    return found


def _choices(sheet: Any, choices: Sequence[Sequence[Any]]) -> None:
    for first, last, column, source in choices:
        cells = area_of(sheet, (first, column, last, column))
        box = cells.Validation
        box.Type = enum("sheet.ValidationType", "LIST")
        listed = ";".join('"' + each.replace('"', '""') + '"' for each in source)
        box.setFormula1(in_calc(source)[1:] if isinstance(source, str) else listed)
        box.ShowErrorMessage = False
        box.IgnoreBlankCells = True
        cells.Validation = box


def _marks(document: Any, sheet: Any, marks: Sequence[Sequence[Any]], looks: Sequence[Any]) -> None:
    """Marks that overlap stand on their common cells together, in their order."""
    over: dict[Spot, list[int]] = {}
    for number, (top, left, bottom, right, _, _) in enumerate(marks):
        for row in range(top, bottom + 1):
            for column in range(left, right + 1):
                over.setdefault((row, column), []).append(number)
    groups: dict[tuple[int, ...], list[Spot]] = {}
    for place, numbers in over.items():
        groups.setdefault(tuple(numbers), []).append(place)
    for together_on, places in groups.items():
        cells = together(document, sheet, rectangles(places))
        entries = cells.ConditionalFormat
        entries.clear()
        for number in together_on:
            top, left, _, _, when, look = marks[number]
            entries.addNew(
                properties(
                    Operator=enum("sheet.ConditionOperator", "FORMULA"),
                    Formula1=in_calc(when),
                    SourcePosition=place_of(sheet, top, left),
                    StyleName=mark_style(document, looks[look]),
                )
            )
        cells.ConditionalFormat = entries


def _pages(sheet: Any, page: Mapping[str, Any]) -> None:
    """Where pages begin, and what each repeats."""
    for row in page["begins_at"]:
        sheet.Rows.getByIndex(row).IsStartOfNewPage = True
    if page["repeated_rows"]:
        first, last = page["repeated_rows"]
        sheet.setTitleRows(address(sheet, (first, 0, last, 0)))
        sheet.setPrintTitleRows(True)
    if page["repeated_columns"]:
        first, last = page["repeated_columns"]
        sheet.setTitleColumns(address(sheet, (0, first, 0, last)))
        sheet.setPrintTitleColumns(True)
