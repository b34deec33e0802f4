"""Checks of the workbook part: its sheets, views, names and calculation chain."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from costbook.package.orders import WORKBOOK
from costbook.package.tabs import names_in, sheet_named
from costbook.package.validity.holding import repeated
from costbook.package.validity.subject import Subject, number
from costbook.package.xml import Element, children, local

__all__ = ["order_faults", "workbook_faults"]

_NOT_IN_TAB: Final = re.compile(r"[\[\]:*?/\\]|\A'|'\Z")
_NAME: Final = re.compile(r"[^\W\d][\w.\\?]*\Z|\\[\w.\\?]*\Z")
_LIKE_A_CELL: Final = re.compile(r"(?:[A-Za-z]{1,3}\d{1,7}|[Rr]\d*[Cc]\d*|[RrCc])\Z")
_LONGEST_TAB: Final = 31
_LONGEST_NAME: Final = 255


def order_faults(part: str, root: Element, order: Sequence[str]) -> Iterator[str]:
    """Children out of the format's order, or there twice; unknown ones may stand anywhere."""
    places = [
        (order.index(name), name) for each in children(root) if (name := local(each)) in order
    ]
    for (before, _), (after, name) in pairwise(places):
        if after < before:
            yield f"{part}: <{name}> stands in the wrong place."


def workbook_faults(subject: Subject) -> Iterator[str]:
    """Faults in the workbook part."""
    part = subject.book.part
    yield from order_faults(part, subject.book.root, WORKBOOK)
    yield from _sheets(subject, part)
    yield from _views(subject, part)
    yield from _names(subject, part)
    yield from _chain(subject)


def _sheets(subject: Subject, part: str) -> Iterator[str]:
    tabs = subject.book.tabs
    if not any(tab.state == "visible" for tab in tabs):
        yield f"{part}: no sheet can be seen."
    for name in repeated([tab.name.casefold() for tab in tabs]):
        yield f"{part}: two sheets are called {name}."
    for name in repeated([str(tab.sheet_id) for tab in tabs]):
        yield f"{part}: two sheets have the number {name}."
    for name in repeated([tab.relation for tab in tabs]):
        yield f"{part}: two sheets have the relation {name}."
    for tab in tabs:
        if not 0 < len(tab.name) <= _LONGEST_TAB or _NOT_IN_TAB.search(tab.name):
            yield f"{part}: {tab.name!r} can't be the name of a sheet."
        if not tab.relation or not 0 < tab.sheet_id < 65535:
            yield f"{part}: the sheet {tab.name} lacks its relation or its number."


def _views(subject: Subject, part: str) -> Iterator[str]:
    views = subject.book.one("bookViews")
    for view in () if views is None else children(views, "workbookView"):
        shown = number(view.get("activeTab"))
        if not 0 <= shown < len(subject.book.tabs):
            yield f"{part}: the sheet to show is number {shown}, and there is none."


def _names(subject: Subject, part: str) -> Iterator[str]:
    names = names_in(subject.book)
    scoped = [f"{each.get('name', '').casefold()} {each.get('localSheetId', '')}" for each in names]
    for name in repeated(scoped):
        yield f"{part}: the name {name.split(' ')[0]} is defined twice."
    for each in names:
        name, scope = each.get("name", ""), each.get("localSheetId")
        if not _is_name(name):
            yield f"{part}: {name!r} can't be a defined name."
        if not (each.text or "").strip():
            yield f"{part}: the name {name} stands for nothing."
        if scope is not None and not 0 <= number(scope) < len(subject.book.tabs):
            yield f"{part}: the name {name} belongs to sheet {scope}, and there is none."
        elif scope is not None and name.startswith("_xlnm."):
            yield from _own_sheet(subject, part, each, int(scope))


def _is_name(name: str) -> bool:
    plain = name.removeprefix("_xlnm.")
    return bool(_NAME.match(plain)) and len(name) <= _LONGEST_NAME and not _LIKE_A_CELL.match(plain)


def _own_sheet(subject: Subject, part: str, element: Element, scope: int) -> Iterator[str]:
    """A sheet's print area, print titles and filter must lie on that sheet."""
    named, tab = sheet_named(element.text or ""), subject.book.tabs[scope].name
    if named and named.casefold() != tab.casefold() and "#REF" not in (element.text or ""):
        yield f"{part}: the name {element.get('name')} of {tab} lies on {named}."


def _chain(subject: Subject) -> Iterator[str]:
    root = subject.root("calcChain")
    known = {tab.sheet_id for tab in subject.book.tabs}
    cells = () if root is None else children(root)
    used = {number(text) for each in cells if (text := each.get("i"))}
    for missing in sorted(used - known):
        yield f"{subject.book.related('calcChain')}: it names sheet {missing}, and there is none."
