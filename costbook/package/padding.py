"""The person's tables of formats, made as long as their own cells already take them to be.

A damaged or carelessly made workbook has cells that name format 40 where 12 are listed, and every
program shows them plain. Ours are added behind the last, so without this one of ours would become
the 40th, and those cells would take our look.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from costbook.package.members import Member
from costbook.package.orders import STYLES
from costbook.package.xml import Element, added, children, copied, placed, whole

__all__ = ["NOTHING_USED", "Used", "pad", "used_in"]

MOST: Final = 65_000
"""Formats that a table is padded to; programs allow few more, so what is beyond stays beyond."""

_ANY_CELL: Final = re.compile(rb"""\s(?:s|style)=["']([0-9]{1,6})["']""")
_CELL: Final = re.compile(
    rb"""<(?:\w+:)?(?:(?:c|row)\s(?:[^>]*?\s)?s|col\s(?:[^>]*?\s)?style)=["']([0-9]{1,6})["']"""
)
_CONDITIONAL: Final = re.compile(rb"""\s(?:d|\w+D)xfId=["']([0-9]{1,6})["']""")
_PIECES: Final = (("fontId", "fonts"), ("fillId", "fills"), ("borderId", "borders"))


@dataclass(frozen=True, slots=True)
class Used:
    """How many formats of cells, and conditional ones, the person's parts take to be there."""

    cells: int = 0
    conditional: int = 0


NOTHING_USED: Final = Used()


def used_in(sheets: Iterable[Member], parts: Iterable[Member], listed: int) -> Used:
    """What the person's sheets and other parts use; `listed`: formats of cells there are.

    Cells are looked at closely only where some text in a sheet looks like a number beyond those.
    """
    cells = 0
    for each in sheets:
        if _highest(_ANY_CELL, each.data) > listed:
            cells = max(cells, _highest(_CELL, each.data))
    texts = (each.kept or b"" for each in parts)  # what is not kept is a picture or the like
    return Used(cells, max((_highest(_CONDITIONAL, text) for text in texts), default=0))


def _highest(which: re.Pattern[bytes], data: bytes) -> int:
    """One more than the highest number found that a table can be padded to."""
    counts = (int(found) + 1 for found in set(which.findall(data)))
    return max((each for each in counts if each <= MOST), default=0)


def pad(root: Element, used: Used, plain: Element) -> None:
    """Fill the tables up with what programs show for a number that isn't there.

    `plain`: a styles part that holds the plain font, fill, border and cell format.
    """
    _filled(root, "cellXfs", used.cells, plain)
    _filled(root, "dxfs", used.conditional, plain)
    formats = [each for name in ("cellStyleXfs", "cellXfs") for each in _entries(root, name)]
    for attribute, group in _PIECES:
        counts = (whole(text) + 1 for each in formats if (text := each.get(attribute)))
        _filled(root, group, max((each for each in counts if each <= MOST), default=0), plain)


def _entries(root: Element, name: str) -> list[Element]:
    return [each for group in children(root, name) for each in children(group)]


def _filled(root: Element, name: str, length: int, plain: Element) -> None:
    there = _entries(root, name)
    if len(there) >= length:
        return
    group = placed(root, name, STYLES, {"count": "0"})
    for _ in range(length - len(there)):
        match name:
            case "cellXfs":
                copied(group, _entries(plain, name)[0])
            case "dxfs":
                added(group, "dxf")
            case _:
                copied(group, (there or _entries(plain, name))[0])
    group.set("count", str(length))
