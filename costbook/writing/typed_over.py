"""Which cells of our sheets a person typed into since the last run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from costbook.writing.description import Role, SheetDescription
from costbook.writing.layout import column_letters

__all__ = ["Stands", "TypedOver", "typed_over"]


@dataclass(frozen=True, slots=True)
class Stands:
    """One of our sheets as it came back: its formulas counted, and each cell without one.

    A cell is its address, its text, and whether it has a look, as all of ours have.
    """

    tab: str
    formulas: int
    cells: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True, slots=True)
class TypedOver:
    """A cell that somebody typed into, and what."""

    tab: str
    cell: str
    text: str


def typed_over(
    stood: Mapping[str, Stands], sheets: Sequence[SheetDescription]
) -> Iterator[TypedOver]:
    """What the person typed on our sheets, by title, seen beside what is written now.

    A cell without a look was empty when we wrote it. A cell with one was typed over if a formula
    of ours belongs there and the sheet still has the shape that is written now.
    """
    for sheet in sheets:
        found = stood.get(sheet.title)
        if found is None:
            continue
        formulas = {_address(cell.row, cell.column) for cell in sheet.cells() if cell.formula}
        boxes = {
            _address(cell.row, cell.column)
            for cell in sheet.cells()
            if cell.look.role is Role.TYPE_HERE
        }
        written = {_text(cell.value) for cell in sheet.cells()}
        covered = sum(1 for cell, _, styled in found.cells if styled and cell in formulas)
        same_shape = found.formulas + covered == len(formulas)
        for cell, text, styled in found.cells:
            in_place_of_ours = same_shape and cell in formulas and text not in written
            if cell not in boxes and (in_place_of_ours or not styled):
                yield TypedOver(found.tab, cell, text)


def _address(row: int, column: int) -> str:
    return f"{column_letters(column)}{row + 1}"


def _text(value: object) -> str:
    return f"{float(value):.15g}" if isinstance(value, Decimal) else str(value)
