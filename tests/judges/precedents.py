"""Which cells each formula looks at, by range, and whether any range comes round in a circle.

Excel reports a circle when a range holds a cell that depends on the formula, also where the
formula (an INDEX, a MAXIFS) would never look at that cell.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tests.judges import CannotJudge, Cell, address, position
from tests.judges.stored import formulas

__all__ = ["Area", "Circle", "circles", "precedents", "precedents_by_range"]

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384

TOKEN = re.compile(
    r"""
      (?P<text>"(?:[^"]|"")*")
    | (?P<sheet>'(?:[^']|'')+'!|[A-Za-z_][\w.]*!)?
      (?:
        (?P<first>\$?[A-Z]{1,3}\$?[0-9]+)(?::(?P<last>\$?[A-Z]{1,3}\$?[0-9]+))?(?![\w.(])
      | (?P<left>\$?[A-Z]{1,3}):(?P<right>\$?[A-Z]{1,3})(?![\w.(])
      | (?P<top>\$?[0-9]+):(?P<bottom>\$?[0-9]+)(?![\w.(])
      )
    | (?P<function>[A-Za-z_][\w.]*)\ *\(
    | (?P<number>[0-9]+\.?[0-9]*(?:[eE][+-]?[0-9]+)?|\.[0-9]+)
    | (?P<truth>TRUE|FALSE)(?![\w.])
    | (?P<error>\#(?:N/A|DIV/0!|REF!|VALUE!|NAME\?|NUM!|NULL!))
    | (?P<name>[A-Za-z_\\][\w.]*(?:\[[^\]]*\])*|\[[^\]]*\][\w.]*|:)
    """,
    re.VERBOSE,
)
# What these look at is known only while they compute.
UNFOLLOWED = frozenset({"INDIRECT", "OFFSET"})


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """A block of cells; rows and columns counted from 1, the last ones included."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int

    def __str__(self) -> str:
        first, last = address(self.top, self.left), address(self.bottom, self.right)
        return f"{self.sheet}!{first}" if first == last else f"{self.sheet}!{first}:{last}"


@dataclass(frozen=True, slots=True)
class Circle:
    """A formula, what it looks at, and a cell in there that depends on the formula."""

    formula: str
    looks_at: str
    dependent: str

    def __str__(self) -> str:
        return f"{self.formula} looks at {self.looks_at}, where {self.dependent} depends on it"


Place = tuple[str, int, int]
Precedents = Mapping[Place, tuple[Area, ...]]


def precedents_by_range(path: Path) -> dict[Place, tuple[Area, ...]]:
    """What every formula of a workbook looks at: {(sheet, row, column): areas}."""
    return {
        (sheet, *position(cell)): precedents(sheet, cell, text)
        for sheet, texts in formulas(path).items()
        for cell, text in texts.items()
    }


def precedents(sheet: str, cell: Cell, formula: str) -> tuple[Area, ...]:
    """The areas in one formula, whole columns too.

    Raises CannotJudge for what can't be followed: a defined name, a table, INDIRECT, OFFSET.
    """
    found: dict[Area, None] = {}
    for token in TOKEN.finditer(formula):
        unknown = token["name"] or (token["function"] in UNFOLLOWED and token["function"])
        if unknown:
            raise CannotJudge(f"{sheet}!{cell}: {unknown} can't be followed to cells")
        if area := _area(token, sheet):
            found[area] = None
    return tuple(found)


def _area(token: re.Match[str], own: str) -> Area | None:
    named = token["sheet"]
    sheet = named[:-1].strip("'").replace("''", "'") if named else own
    if token["first"]:
        (row, column), (other_row, other_column) = (
            position(token["first"]),
            position(token["last"] or token["first"]),
        )
    elif token["left"]:
        row, other_row = 1, LAST_ROW
        column, other_column = (position(f"{token[side]}1")[1] for side in ("left", "right"))
    elif token["top"]:
        column, other_column = 1, LAST_COLUMN
        row, other_row = (int(token[side].strip("$")) for side in ("top", "bottom"))
    else:
        return None
    rows, columns = sorted((row, other_row)), sorted((column, other_column))
    return Area(sheet, rows[0], columns[0], rows[1], columns[1])


def circles(book: Path | Precedents) -> list[Circle]:
    """Every formula that looks at a cell which depends on that formula, one for each area.

    30,000 formulas take a second or two: areas are nodes of the graph, tied to the formulas they
    hold through a tree of rows in each column, so no area is ever spread into its cells.
    """
    looks_at = precedents_by_range(book) if isinstance(book, Path) else book
    graph = _Graph(looks_at)
    component = _components(graph.edges)
    found: list[Circle] = []
    for place, areas in looks_at.items():
        here = component[graph.cells[place]]
        for area in areas:
            if component[graph.areas[area]] == here:
                inside = (p for p in graph.formulas_in(area) if component[graph.cells[p]] == here)
                found.append(Circle(_shown(place), str(area), _shown(next(inside))))
    return found


def _shown(place: Place) -> str:
    return f"{place[0]}!{address(*place[1:])}"


class _Graph:
    """Formulas, areas and trees of rows as numbered nodes; `edges[n]` is what n depends on."""

    def __init__(self, looks_at: Precedents) -> None:
        self.edges: list[list[int]] = []
        self.cells = {place: self._node() for place in looks_at}
        columns: defaultdict[tuple[str, int], list[int]] = defaultdict(list)
        for sheet, row, column in looks_at:
            columns[sheet, column].append(row)
        self._rows = {key: sorted(rows) for key, rows in columns.items()}
        self._columns: defaultdict[str, list[int]] = defaultdict(list)
        for sheet, column in sorted(columns):
            self._columns[sheet].append(column)
        self._roots = {key: self._tree(key) for key in self._rows}
        self.areas: dict[Area, int] = {}
        for place, areas in looks_at.items():
            for area in areas:
                if area not in self.areas:
                    self.areas[area] = self._area(area)
                self.edges[self.cells[place]].append(self.areas[area])

    def formulas_in(self, area: Area) -> Iterator[Place]:
        """The formulas that stand in an area."""
        for column, start, stop in self._spans(area):
            for row in self._rows[area.sheet, column][start:stop]:
                yield area.sheet, row, column

    def _node(self) -> int:
        self.edges.append([])
        return len(self.edges) - 1

    def _spans(self, area: Area) -> Iterator[tuple[int, int, int]]:
        columns = self._columns.get(area.sheet, [])
        for column in columns[bisect_left(columns, area.left) : bisect_right(columns, area.right)]:
            rows = self._rows[area.sheet, column]
            start, stop = bisect_left(rows, area.top), bisect_right(rows, area.bottom)
            if start < stop:
                yield column, start, stop

    def _tree(self, key: tuple[str, int]) -> list[int]:
        """A tree over a column's formulas as a heap: node i stands for 2i and 2i + 1."""
        sheet, column = key
        leaves = [self.cells[sheet, row, column] for row in self._rows[key]]
        heap = [0] * len(leaves) + leaves
        for i in range(len(leaves) - 1, 0, -1):
            heap[i] = self._node()
            self.edges[heap[i]] = [heap[2 * i], heap[2 * i + 1]]
        return heap

    def _area(self, area: Area) -> int:
        node = self._node()
        for column, start, stop in self._spans(area):
            heap = self._roots[area.sheet, column]
            low, high = start + len(heap) // 2, stop + len(heap) // 2
            while low < high:
                if low % 2:
                    self.edges[node].append(heap[low])
                    low += 1
                if high % 2:
                    high -= 1
                    self.edges[node].append(heap[high])
                low, high = low // 2, high // 2
        return node


def _components(edges: list[list[int]]) -> list[int]:
    """The number of each node's strongly connected component (Tarjan 1972), without recursion."""
    order, low, component = [0] * len(edges), [0] * len(edges), [-1] * len(edges)
    stack: list[int] = []
    seen = found = 0
    for root in range(len(edges)):
        if order[root]:
            continue
        work = [(root, 0)]
        while work:
            node, child = work.pop()
            if not order[node]:
                seen += 1
                order[node] = low[node] = seen
                stack.append(node)
            for i in range(child, len(edges[node])):
                other = edges[node][i]
                if not order[other]:
                    work += [(node, i), (other, 0)]
                    break
                if component[other] < 0:
                    low[node] = min(low[node], low[other])
            else:
                if low[node] == order[node]:
                    while component[node] < 0:
                        component[stack.pop()] = found
                    found += 1
    return component
