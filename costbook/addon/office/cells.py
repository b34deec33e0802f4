"""What stands in the cells of one of our sheets: only those that differ are set."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from costbook.addon.office.formulas import in_calc, same_formula
from costbook.addon.office.looks import rectangles
from costbook.addon.office.uno_values import area_of

__all__ = ["CellSaid", "differing", "fill", "put", "said_cells"]

if TYPE_CHECKING:
    from costbook.addon.office.kinds import Change, Held, Spot


class CellSaid(NamedTuple):
    """A cell as it is described: its look by number, its value or formula, where it leads."""

    look: int
    value: Held = None
    formula: str = ""
    link: str = ""

    @property
    def is_blank(self) -> bool:
        """Whether it has a look alone."""
        return not self.formula and self.value in (None, "")


def said_cells(sheet: dict[str, Any]) -> dict[Spot, CellSaid]:
    """The cells of a described sheet, by place; formulas as the document takes them."""
    found = {}
    for row, cells in sheet["rows"]:
        for column, *rest in cells:
            said = CellSaid(*rest)
            found[row, column] = (
                said._replace(formula=in_calc(said.formula)) if said.formula else said
            )
    return found


def differing(
    there: Sequence[Sequence[str]], data: Sequence[Sequence[Any]], said: dict[Spot, CellSaid]
) -> list[Change]:
    """The cells that don't hold what they should; None where one should be empty.

    ``there`` and ``data`` are all that stands on the sheet now, from A1: formulas, and values.
    """
    found: list[Change] = [
        (place, cell)
        for place, cell in said.items()
        if not _holds(_at(there, place), _at(data, place), cell)
    ]
    found += [(place, None) for place in _filled(there) if place not in said]
    return found


def _at(lines: Sequence[Sequence[Any]], place: Spot) -> Any:
    row, column = place
    return lines[row][column] if row < len(lines) and column < len(lines[row]) else ""


def _filled(lines: Sequence[Sequence[str]]) -> Iterator[Spot]:
    for row, line in enumerate(lines):
        for column, text in enumerate(line):
            if text:
                yield row, column


def _holds(formula: str, value: Any, cell: CellSaid) -> bool:
    if cell.formula:
        return same_formula(formula, cell.formula)
    if formula.startswith("=") and formula != value:
        return False
    return bool(value == ("" if cell.value is None else cell.value))


def fill(document: Any, sheet: Any, cells: Mapping[Spot, CellSaid]) -> None:
    """Fill a sheet that is new: formulas beside each other at once, values too, links one by one.

    A cell set by itself takes as long as a hundred of an area.
    """
    filled = {place: cell for place, cell in cells.items() if not cell.is_blank}
    formulas = [place for place, cell in filled.items() if cell.formula and not cell.link]
    values = [place for place, cell in filled.items() if not cell.formula and not cell.link]
    for area in rectangles(formulas):
        lines = [[filled[place].formula for place in row] for row in _places(area)]
        area_of(sheet, area).setFormulaArray(tuple(map(tuple, lines)))
    for area in rectangles(values):
        held = [[filled[place].value for place in row] for row in _places(area)]
        area_of(sheet, area).setDataArray(tuple(map(tuple, held)))
    for place, cell in filled.items():
        if cell.link:
            put(document, sheet, place, cell)


def _places(area: Sequence[int]) -> Iterator[list[Spot]]:
    """The places of an area, row by row."""
    top, left, bottom, right = area
    for row in range(top, bottom + 1):
        yield [(row, column) for column in range(left, right + 1)]


def put(document: Any, sheet: Any, place: Spot, cell: CellSaid | None) -> None:
    """Set one cell, so that Undo takes it back."""
    row, column = place
    target = sheet.getCellByPosition(column, row)
    if cell is None or cell.is_blank:
        target.setFormula("")
    elif cell.formula:
        target.setFormula(cell.formula)
    elif not isinstance(cell.value, str):
        target.setValue(cell.value)
    elif cell.link:
        _link(document, target, cell.value, leading_to(cell.link))
        return
    else:
        target.setString(cell.value)
    if cell and cell.link:
        target.Hyperlink = leading_to(cell.link)


def leading_to(link: str) -> str:
    """The address of a cell as a link names it here."""
    sheet, _, cell = link.rpartition("!")
    return f"#{sheet}.{cell}"


def _link(document: Any, target: Any, text: str, url: str) -> None:
    """A text that leads somewhere: a field, which stays one in an .ods too."""
    target.setString("")
    field = document.createInstance("com.sun.star.text.TextField.URL")
    field.Representation, field.URL = text, url
    target.insertTextContent(target.createTextCursor(), field, False)
