"""Long tables in parts that fit a page each, so that every part can have headings of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

from costbook.costing.structure import Row
from costbook.writing.description import Look, Role
from costbook.writing.pages.page import Page
from costbook.writing.paper import text_height

__all__ = ["parted", "product_of", "row_height"]

_NAME, _MARKED = Look(Role.LABEL, wrap=True, indent=1), Look(Role.FLAG, wrap=True, indent=1)
"""Names are plain; what else is said may be marked, which takes more room."""
NAMES = 2
"""Columns of names, at the left."""


def product_of(row: Row) -> str:
    """The name of a row's product."""
    return str(row.fixed["product"])


def parted(
    rows: Iterable[Row], high: Callable[[Row], float], room: float, first_room: float | None = None
) -> Iterator[Sequence[Row]]:
    """The rows in parts no higher than the room, of a product together if they can be.

    ``high`` says how high a row is; the first part may have less room. Heights are in points.
    Without rows there is one empty part.
    """
    left = room if first_room is None else first_room
    part: list[Row] = []
    for _, group in groupby(rows, product_of):
        its = list(group)
        together = sum(high(row) for row in its)
        if part and together > left and together <= room:
            yield part
            part, left = [], room
        for row in its:
            if part and high(row) > left:
                yield part
                part, left = [], room
            part.append(row)
            left -= high(row)
    yield part


def row_height(page: Page, texts: dict[int, str]) -> float:
    """How high a row is for its texts, given by their columns [points]."""
    widths = page.sheet.widths
    return max(
        text_height(text, 7 * widths[at], _NAME if at < NAMES else _MARKED)
        for at, text in texts.items()
    )
