"""Checks of the styles part: every number in it must lead somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from costbook.package.orders import STYLES
from costbook.package.validity.holding import repeated
from costbook.package.validity.subject import Subject, number
from costbook.package.validity.workbook import order_faults
from costbook.package.xml import Element, children

__all__ = ["counted", "style_faults"]

_FIRST_OWN_FORMAT: Final = 164
_MOST_FORMATS: Final = 65_490  # Excel's own limit on cell formats, from its published limits


def counted(root: Element | None, name: str) -> int:
    """How many entries a group of the part has."""
    return 0 if root is None else len(_entries(root, name))


def _entries(root: Element, name: str) -> list[Element]:
    group = next(children(root, name), None)
    return [] if group is None else list(children(group))


def style_faults(subject: Subject) -> Iterator[str]:
    """Faults in the styles part."""
    part, root = subject.book.related("styles"), subject.root("styles")
    if root is None:
        return
    yield from order_faults(part, root, STYLES)
    for group in children(root):
        said, held = number(group.get("count"), -2), len(list(children(group)))
        if said not in (-2, held):
            yield f"{part}: a count says {said}, and there are {held}."
    yield from _number_formats(part, root)
    yield from _cell_formats(part, root)
    yield from _named_styles(part, root)


def _number_formats(part: str, root: Element) -> Iterator[str]:
    ids = [each.get("numFmtId", "") for each in _entries(root, "numFmts")]
    for name in repeated(ids):
        yield f"{part}: two number formats have the number {name}."


def _cell_formats(part: str, root: Element) -> Iterator[str]:
    if not counted(root, "cellXfs"):
        yield f"{part}: there is no cell format."
    if counted(root, "cellXfs") > _MOST_FORMATS:
        yield f"{part}: there are more cell formats than {_MOST_FORMATS}."
    groups = {"fontId": "fonts", "fillId": "fills", "borderId": "borders"}
    limits = {attribute: counted(root, group) for attribute, group in groups.items()}
    known = {each.get("numFmtId", "") for each in _entries(root, "numFmts")}
    for group in ("cellStyleXfs", "cellXfs"):
        parents = counted(root, "cellStyleXfs") if group == "cellXfs" else 0
        for index, each in enumerate(_entries(root, group)):
            yield from _cell_format(f"{part}: {group} {index}", each, {**limits, "xfId": parents})
            used = each.get("numFmtId", "0")
            if number(used) >= _FIRST_OWN_FORMAT and used not in known:
                yield f"{part}: {group} {index} uses a number format that isn't there."


def _cell_format(what: str, element: Element, limits: dict[str, int]) -> Iterator[str]:
    for attribute, limit in limits.items():
        used = element.get(attribute)
        if used is not None and limit and not 0 <= number(used) < limit:
            yield f"{what} uses {attribute} {used}, and there are {limit}."


def _named_styles(part: str, root: Element) -> Iterator[str]:
    styles = _entries(root, "cellStyles")
    for name in repeated([each.get("name", "").casefold() for each in styles]):
        yield f"{part}: two named styles are called {name}."
    formats = counted(root, "cellStyleXfs")  # once: old bloated files have tens of thousands
    for each in styles:
        if not 0 <= number(each.get("xfId")) < formats:
            yield f"{part}: the named style {each.get('name')} leads nowhere."
