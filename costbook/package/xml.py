"""XML read and written without surprises; the only module that knows lxml.

The standard library renames namespace prefixes, and a workbook names prefixes in attribute
values (`mc:Ignorable="x14ac"`), so a part it rewrote would no longer open. lxml keeps them.
Nothing is fetched, no entity is followed, and a document type declaration is refused, since
the format forbids it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, TypeAlias

from lxml import etree

from costbook.package.damage import REPAIR
from costbook.problems import Refused

__all__ = [
    "Element",
    "Malformed",
    "added",
    "children",
    "copied",
    "local",
    "parse",
    "placed",
    "serialise",
    "whole",
]

Element: TypeAlias = etree._Element  # noqa: SLF001 - lxml gives its elements no public name

_PROLOGUE: Final = re.compile(rb"\A(?:\xef\xbb\xbf)?<\?xml[^>]*?\?>\s*")
_PLAIN_PROLOGUE: Final = b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


class Malformed(Refused):
    """Bytes that are no well-formed XML, or XML that the package format forbids."""

    def __init__(self, why: str) -> None:
        super().__init__("The workbook is damaged: a part of it can't be read.", REPAIR)
        self.why = why


def parse(data: bytes) -> Element:
    """The root element. Raises Malformed."""
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False, strip_cdata=False
    )
    try:
        root = etree.fromstring(data, parser)
    except etree.XMLSyntaxError as error:
        raise Malformed(str(error)) from error
    if root.getroottree().docinfo.internalDTD is not None:
        raise Malformed("it declares a document type, which a workbook may not")
    return root


def serialise(root: Element, original: bytes = b"") -> bytes:
    """The document as bytes, under the first line the original had (if that says UTF-8)."""
    found = _PROLOGUE.match(original)
    says = found.group().lower() if found else b""
    kept = says and (b"encoding=" not in says or b"utf-8" in says)
    prologue = found.group() if found and kept else _PLAIN_PROLOGUE
    body = etree.tostring(root.getroottree(), encoding="UTF-8", xml_declaration=False)
    return prologue + body


def local(element: Element) -> str:
    """The element's name without its namespace; empty for a comment."""
    tag: object = element.tag  # of a comment it is a function
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


def whole(text: str | None) -> int:
    """The whole number in an attribute; 0 when it is missing or none."""
    return int(text) if text and text.isdecimal() else 0


def children(element: Element, name: str = "") -> Iterator[Element]:
    """The child elements, without comments; those of one local name if one is given."""
    for child in element:
        found = local(child)
        if found and name in ("", found):
            yield child


def added(
    parent: Element,
    name: str,
    attributes: Mapping[str, str] | None = None,
    prefixes: Mapping[str, str] | None = None,
) -> Element:
    """A new last child in the parent's own namespace, written with the parent's own prefix."""
    namespace = str(parent.tag).rpartition("}")[0]
    tag = f"{namespace}}}{name}" if namespace else name
    new = etree.SubElement(parent, tag, nsmap=dict(prefixes or {}))
    for key, value in (attributes or {}).items():
        new.set(key, value)
    return new


def copied(parent: Element, source: Element) -> None:
    """A copy of the source as the parent's last child, in the parent's way of writing."""
    new = added(parent, local(source), {str(name): str(text) for name, text in source.items()})
    new.text = source.text
    for child in children(source):
        copied(new, child)


def placed(
    root: Element, name: str, order: Sequence[str], attributes: Mapping[str, str] | None = None
) -> Element:
    """The root's child of that name, made where the format's order puts it if it is missing."""
    found = next(children(root, name), None)
    if found is not None:
        return found
    new = added(root, name, attributes)
    later = order[order.index(name) + 1 :]
    behind = next((each for each in children(root) if local(each) in later), None)
    if behind is not None:
        behind.addprevious(new)
    return new
