"""What of the person's points at our sheets: formulas, names, charts and pivots."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final
from xml.sax.saxutils import escape

from costbook.package.members import Member
from costbook.package.tabs import Opened, names_in

__all__ = ["formulas_point", "mentioned", "names_point"]

_FORMULA_TAG: Final = re.compile(rb"<(?:[A-Za-z0-9]+:)?f[ >]")
_TO_THE_BANG: Final = rb"(?::[^<!:&\s]{1,64}?)?(?:'|&apos;)?!"


def _pointer(tabs: Iterable[str], tables: Iterable[str]) -> re.Pattern[bytes]:
    """Matches a reference to one of the tabs (`Prices!`, `'Prices'!`) or tables (`Costs[`)."""
    said = (escape(tab) for tab in tabs)
    forms = {form for tab in said for form in (tab, tab.replace("'", "''"))}
    forms |= {form.replace("'", "&apos;") for form in forms}
    sheets = [re.escape(form.encode()) + _TO_THE_BANG for form in sorted(forms)]
    return re.compile(b"|".join([*sheets, *(re.escape(f"{each}[".encode()) for each in tables)]))


def _stands_alone(data: bytes, start: int) -> bool:
    """Whether what begins there isn't the tail of a longer name (`MyPrices!`)."""
    before = data[max(start - 1, 0) : start]
    return not (before.isalnum() or before in (b"_", b".") or before >= b"\x80")


def formulas_point(
    members: Iterable[Member], tabs: Iterable[str], tables: Iterable[str] = ()
) -> bool:
    """Whether a cell formula in one of the sheets looks at one of the tabs or tables."""
    pointer = _pointer(tabs, tables)
    return any(
        _FORMULA_TAG.match(each.data, each.data.rfind(b"<", 0, found.start()))
        for each in members
        for found in pointer.finditer(each.data)
        if _stands_alone(each.data, found.start())
    )


def names_point(book: Opened, tabs: Iterable[str], ignored: Iterable[str]) -> bool:
    """Whether a defined name of the person's, not one of those ignored, looks at a tab."""
    pointer, passed = _pointer(tabs, ()), set(ignored)
    texts = (each.text or "" for each in names_in(book) if each.get("name", "") not in passed)
    return any(pointer.search(escape(text).encode()) for text in texts)


def mentioned(members: Iterable[Member], tab: str) -> bool:
    """Whether anything in the parts refers to the tab: a formula, a chart, a pivot's source."""
    pointer = _pointer([tab], ())
    source = b' sheet="' + escape(tab, {'"': "&quot;"}).encode() + b'"'
    return any(source in each.data or pointer.search(each.data) for each in members)
