"""What is written on our sheets, apart from who writes it.

A sheet is described here as cells, looks, charts and page set-up; ``plain.py`` turns it into
plain data, and ``workbook.py`` draws that with XlsxWriter. Anything else that draws cells can take
the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from costbook.book import Value
from costbook.definitions.columns import Show
from costbook.writing.layout import column_letters

__all__ = [
    "ROW_IN_PIXELS",
    "Area",
    "BarChart",
    "CellContent",
    "Choices",
    "ColumnChart",
    "LineChart",
    "Look",
    "Mark",
    "Role",
    "Series",
    "SheetDescription",
    "places_by_anchor",
]

Area = tuple[int, int, int, int]
"""First row, first column, last row, last column, all from 0."""


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
    SUM = "sum"
    """One of a column of sums; a sum below the figures it adds up is a TOTAL."""
    TOTAL = "total"
    FLAG = "flag"
    TYPE_HERE = "type here"
    """A cell of ours that waits for the person to type."""
    EXAMPLE = "example"
    LARGE = "large"
    NOTE = "note"
    CAUTION = "caution"
    BAR = "bar"
    TICK = "tick"
    """An empty box to be ticked with a pen."""
    UNKNOWN = "unknown"
    """What a figure that is not known takes on."""
    UNSEEN = "unseen"
    """A figure that only a chart needs."""


@dataclass(frozen=True, slots=True)
class Look:
    """How a cell looks: its role, and the kind of figure it shows.

    ``ruled`` draws a fine line above it, ``signed`` shows a plus before what is above zero,
    ``indent`` keeps a text away from figures on its left, ``cut`` says where scissors go along.
    """

    role: Role = Role.COMPUTED
    show: Show = Show.TEXT
    wrap: bool = False
    indent: int = 0
    ruled: bool = False
    signed: bool = False
    cut: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CellContent:
    """One cell: a text, a number, or a formula with its stored value; perhaps a link.

    A link is the address of a cell, or "#" and the name of an anchor on one of our sheets.
    """

    row: int
    column: int
    look: Look
    value: Value = None
    formula: str = ""
    link: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """Cells that take on another role while a formula about the first of them holds."""

    area: Area
    when: str
    role: Role = Role.FLAG


@dataclass(frozen=True, slots=True)
class Series:
    """One series of a chart: its name (or the cell that holds it), and its figures.

    ``labels`` stand at its points, one each: None shows the figure, an empty text nothing.
    """

    name: str | tuple[int, int]
    values: Area
    labels: tuple[str | None, ...] = ()
    unseen: bool = False
    """Holds up what is stacked on it, and isn't drawn."""


@dataclass(frozen=True, slots=True)
class _Plotted:
    """A chart with its figures up and its categories along. Sizes are in pixels."""

    title: str
    unit: str
    categories: Area
    series: tuple[Series, ...]
    at_row: int
    at_column: int = 0
    category_title: str = ""
    show: Show = Show.MONEY
    width: int = 760
    height: int = 220


class ColumnChart(_Plotted):
    """A column for each category, the series side by side."""


class LineChart(_Plotted):
    """A line for each series, over categories that have an order, such as dates."""


@dataclass(frozen=True, slots=True)
class BarChart:
    """A stacked bar for each row of a table: what each is made of.

    Rows and columns count from 0; ``series`` are columns whose heading names them. ``whole`` draws
    all bars equally long; ``in_bars`` are texts in the parts, for each series one a bar. ``steps``
    doesn't draw the first series, so that the others hang where it ends; ``begins`` cuts bars off.
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
    whole: bool = False
    steps: bool = False
    in_bars: tuple[tuple[str | None, ...], ...] = ()
    begins: Decimal = Decimal(0)
    show: Show = Show.MONEY
    width: int = 1200

    @property
    def height(self) -> int:
        """The chart's height in pixels."""
        return max(240, 70 + 24 * (self.last_row - self.first_row + 1))

    @property
    def categories(self) -> Area:
        """The cells that name the bars."""
        first, last = self.labels
        return (self.first_row, first, self.last_row, last)

    @property
    def parts(self) -> tuple[Series, ...]:
        """The parts of the bars, from left to right."""
        labels = self.in_bars or ((),) * len(self.series)
        return tuple(
            Series(
                (self.heading_row, at),
                (self.first_row, at, self.last_row, at),
                each,
                unseen=self.steps and number == 0,
            )
            for number, (at, each) in enumerate(zip(self.series, labels, strict=True))
        )


Chart = BarChart | ColumnChart | LineChart


@dataclass(frozen=True, slots=True)
class Choices:
    """A drop-down over part of a column; other words stay allowed, as a helper would allow them."""

    column: int
    first_row: int
    last_row: int
    options: tuple[str, ...] = ()
    source: str = ""
    """Cells that hold the options, where they aren't listed: a formula."""


@dataclass(slots=True)
class SheetDescription:
    """One sheet of ours: its cells by row, and how it is set up on screen and paper.

    ``blocks`` are the rows at which a new page may begin: what stands between two of them is
    kept on one page if it fits. A page begins at each of ``page_breaks`` in any case.
    """

    title: str
    tab: str
    rows: dict[int, dict[int, CellContent]] = field(default_factory=dict)
    widths: dict[int, float] = field(default_factory=dict)
    heights: dict[int, float] = field(default_factory=dict)
    merged: list[Area] = field(default_factory=list)
    charts: list[Chart] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    anchors: dict[str, tuple[int, int]] = field(default_factory=dict)
    blocks: list[int] = field(default_factory=list)
    page_breaks: list[int] = field(default_factory=list)
    frozen: tuple[int, int] = (0, 0)
    repeated_rows: tuple[int, int] | None = None
    repeated_columns: tuple[int, int] | None = None
    pages_wide: int = 1
    landscape: bool = True
    hidden: bool = False
    notes: dict[tuple[int, int], str] = field(default_factory=dict)
    """Notes that open over a cell."""
    choices: list[Choices] = field(default_factory=list)
    column_shows: dict[int, Show] = field(default_factory=dict)
    """How what is typed into a column is shown."""
    next_row: int = 0

    def put(
        self, row: int, column: int, value: Value, look: Look, *, formula: str = "", link: str = ""
    ) -> None:
        """Describe one cell; rows and columns count from 0. Raises ValueError as ``add`` does."""
        self.add(CellContent(row, column, look, value, formula, link))

    def add(self, cell: CellContent) -> None:
        """Add a cell. Raises ValueError where one stands in its place already."""
        row = self.rows.setdefault(cell.row, {})
        if row.setdefault(cell.column, cell) is not cell:
            place = f"{self.tab}!{column_letters(cell.column)}{cell.row + 1}"
            raise ValueError(f"{place} is described twice")

    def cells(self) -> Iterator[CellContent]:
        """All cells."""
        for cells in self.rows.values():
            yield from cells.values()

    def line(self, text: str, role: Role, *, across: int = 0, height: float = 0) -> int:
        """Put a text into the next row, over some columns, and give the row's number.

        The row is as high as the text needs, and at least ``height`` points.
        """
        row = self.next_row
        self.put(row, 0, text, Look(role, wrap=bool(across)))
        if across > 1:
            self.merged.append((row, 0, row, across - 1))
        if height:
            self.heights[row] = height
        self.next_row += 1
        return row

    def begin_block(self) -> None:
        """A new page may begin at the next row."""
        self.blocks.append(self.next_row)

    def put_chart(self, chart: Chart) -> None:
        """Put a chart where it says, and go on below it."""
        self.charts.append(chart)
        self.next_row = chart.at_row + -(-chart.height // ROW_IN_PIXELS) + 1


ROW_IN_PIXELS = 20
"""A plain row is 15 points high, which are 20 pixels."""


def places_by_anchor(
    sheets: Iterable[SheetDescription],
) -> Mapping[str, tuple[SheetDescription, int, int]]:
    """Where each anchor stands: its sheet, row and column. Of two of one name the first counts."""
    found: dict[str, tuple[SheetDescription, int, int]] = {}
    for sheet in sheets:
        for name, (row, column) in sheet.anchors.items():
            found.setdefault(name, (sheet, row, column))
    return found
