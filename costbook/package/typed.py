"""What stands on our sheets in a workbook that came back: the cells that hold no formula.

Our sheets are replaced at every run; what a person typed on them must be found first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import unescape
from typing import Final

from costbook.package.marks import ours_in
from costbook.package.members import Package, read
from costbook.package.tabs import Opened, opened

__all__ = ["Constant", "OnOurs", "constants_on_ours"]

_CELL: Final = re.compile(rb"<c\b([^>]*?)(?:/>|>(.*?)</c>)", re.DOTALL)
_AT: Final = re.compile(rb'\br="([A-Z]+[0-9]+)"')
_STYLE: Final = re.compile(rb'\bs="([0-9]+)"')
_TYPE: Final = re.compile(rb'\bt="([A-Za-z]+)"')
_FORMULA: Final = re.compile(rb"<f[ >/]")
_VALUE: Final = re.compile(rb"<v>(.*?)</v>", re.DOTALL)
_TEXT: Final = re.compile(rb"<t\b[^>]*>(.*?)</t>", re.DOTALL)
_SHARED: Final = re.compile(rb"<si>(.*?)</si>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Constant:
    """A cell without a formula: its address, what it holds as text, and whether it has a look."""

    cell: str
    text: str
    styled: bool


@dataclass(frozen=True, slots=True)
class OnOurs:
    """One sheet of ours: its tab, how many formulas it has, and its constants."""

    tab: str
    formulas: int
    constants: tuple[Constant, ...]


def constants_on_ours(theirs: bytes) -> Mapping[str, OnOurs]:
    """By our title: what stands on each of our sheets beside its formulas.

    A text is as typed, a number as the file has it. Cells of a file whose XML carries prefixes
    are not seen; no program in use writes such sheets.
    """
    ours = ours_in(theirs)
    if not ours:
        return {}
    package = read(theirs)
    book = opened(package)
    shared = _shared_texts(book, package)
    return {
        ours[tab.name]: _on(tab.name, package.data(tab.part), shared)
        for tab in book.tabs
        if tab.name in ours and tab.part
    }


def _shared_texts(book: Opened, package: Package) -> list[str]:
    part = book.related("sharedStrings")
    return [_joined(found) for found in _SHARED.findall(package.data(part))] if part else []


def _joined(rich: bytes) -> str:
    return unescape(b"".join(_TEXT.findall(rich)).decode("utf-8"))


def _on(tab: str, sheet: bytes, shared: list[str]) -> OnOurs:
    return OnOurs(tab, len(_FORMULA.findall(sheet)), tuple(_constants(sheet, shared)))


def _constants(sheet: bytes, shared: list[str]) -> Iterator[Constant]:
    for attributes, inside in _CELL.findall(sheet):
        if not inside or _FORMULA.search(inside):
            continue
        at, kind, style = (each.search(attributes) for each in (_AT, _TYPE, _STYLE))
        text = _text(inside, kind[1] if kind else b"n", shared)
        if at and text:
            yield Constant(at[1].decode(), text, bool(style and style[1] != b"0"))


def _text(inside: bytes, kind: bytes, shared: list[str]) -> str:
    if kind == b"inlineStr":
        return _joined(inside)
    found = _VALUE.search(inside)
    value = unescape(found[1].decode("utf-8")) if found else ""
    if kind == b"s" and value.isdigit() and int(value) < len(shared):
        return shared[int(value)]
    return value
