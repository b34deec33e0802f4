"""What is written on our sheets, apart from who writes it.

A sheet is described here as cells, looks and page set-up; ``workbook.py`` draws the description
with XlsxWriter. Anything else that can draw cells can take the same description.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from costbook.book import Value
from costbook.definitions.columns import Show

__all__ = ["BarChart", "CellContent", "Choices", "Look", "Role", "SheetDescription"]


class Role(StrEnum):
    """What a cell is for; each role looks different also without colour."""

    TITLE = "title"
    LEAD = "lead"
    SECTION = "section"
    HEADING = "heading"
    LABEL = "label"
    GIVEN = "given"
    COMPUTED = "computed"
    ANSWER = "answer"
    TOTAL = "total"
    FLAG = "flag"
    TYPE_HERE = "type here"
    EXAMPLE = "example"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Look:
    """How a cell looks: its role, and the kind of figure it shows."""

    role: Role = Role.COMPUTED
    show: Show = Show.TEXT
    wrap: bool = False


@dataclass(frozen=True, slots=True)
class CellContent:
    """One cell: a text, a number, or a formula with its stored value; perhaps a link."""

    row: int
    column: int
    look: Look
    value: Value = None
    formula: str = ""
    link: str = ""


@dataclass(frozen=True, slots=True)
class BarChart:
    """A stacked bar for each row of a table: what each is made of.

    Rows and columns count from 0; ``series`` are columns whose heading names them.
    """

    title: str
    unit: str
    heading_row: int
    first_row: int
    last_row: int
    labels: tuple[int, int]
    series: tuple[int, ...]
    at_row: int
    at_column: int = 0


@dataclass(frozen=True, slots=True)
class Choices:
    """A drop-down over part of a column; other words stay allowed, as a helper would allow them."""

    column: int
    first_row: int
    last_row: int
    options: tuple[str, ...]


@dataclass(slots=True)
class SheetDescription:
    """One sheet of ours: its cells by row, and how it is set up on screen and paper."""

    title: str
    tab: str
    rows: dict[int, list[CellContent]] = field(default_factory=dict)
    widths: dict[int, float] = field(default_factory=dict)
    heights: dict[int, float] = field(default_factory=dict)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    charts: list[BarChart] = field(default_factory=list)
    page_breaks: list[int] = field(default_factory=list)
    frozen: tuple[int, int] = (0, 0)
    repeated_rows: tuple[int, int] | None = None
    landscape: bool = True
    notes: dict[tuple[int, int], str] = field(default_factory=dict)
    """Notes that open over a cell."""
    choices: list[Choices] = field(default_factory=list)
    column_shows: dict[int, Show] = field(default_factory=dict)
    """How what is typed into a column is shown."""
    next_row: int = 0

    def put(
        self,
        row: int,
        column: int,
        value: Value,
        look: Look,
        *,
        formula: str = "",
        link: str = "",
    ) -> None:
        """Describe one cell; rows and columns count from 0."""
        content = CellContent(row, column, look, value, formula, link)
        self.rows.setdefault(row, []).append(content)

    def cells(self) -> Iterator[CellContent]:
        """All cells."""
        for cells in self.rows.values():
            yield from cells

    def line(self, text: str, role: Role, *, across: int = 0, height: float = 0) -> int:
        """Put a text into the next row, over some columns, and give the row's number."""
        row = self.next_row
        self.put(row, 0, text, Look(role, wrap=bool(across)))
        if across:
            self.merged.append((row, 0, row, across - 1))
        if height:
            self.heights[row] = height
        self.next_row += 1
        return row

    def number_of(self, value: Value) -> float | None:
        """A figure as a float, for whoever draws it."""
        return float(value) if isinstance(value, Decimal) else None
