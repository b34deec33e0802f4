"""The parts of a workbook's file, read as XML without risk.

Whatever reads cells goes through here first: a part that holds more than a cook's can, or that
declares a document type (the door to entity attacks), is refused before any parser sees it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element, ParseError, XMLPullParser

from costbook.package.members import Package, read
from costbook.problems import Refused

__all__ = ["MOST_ELEMENTS", "MOST_STYLE_ELEMENTS", "Parts", "Unreadable", "local", "open_parts"]

MOST_ELEMENTS: Final = 4_000_000
"""XML elements that one part may have: a sheet of a million filled cells."""
MOST_STYLE_ELEMENTS: Final = 250_000
"""XML elements that the list of styles may have; spreadsheet programs stop at 65,490 formats."""

_CHUNK: Final = 1024 * 1024
_DOCTYPE: Final = tuple(
    "<!DOCTYPE".encode(encoding)
    for encoding in ("ascii", "utf-16-le", "utf-16-be", "utf-32-le", "utf-32-be")
)


class Unreadable(Exception):
    """A part that is missing, broken or no XML: the cells can't be read this way."""


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts of one file, by name."""

    package: Package

    def __contains__(self, name: str) -> bool:
        return bool(name) and name in self.package

    def data(self, name: str) -> bytes:
        """A part's bytes. Raises Unreadable."""
        if name not in self:
            raise Unreadable(name)
        return self.package.data(name)

    def elements(self, name: str, *wanted: str) -> Iterator[Element]:
        """Each element of some local names as it ends, then emptied. Raises Unreadable."""
        parser: XMLPullParser[Element] = XMLPullParser(("end",))
        data = self.data(name)
        try:
            for start in range(0, len(data), _CHUNK):
                parser.feed(data[start : start + _CHUNK])
                yield from _ended(parser, wanted)
            parser.close()
            yield from _ended(parser, wanted)
        except (ParseError, LookupError, ValueError) as error:  # the last two: its encoding
            raise Unreadable(name) from error


def _ended(parser: XMLPullParser[Element], wanted: tuple[str, ...]) -> Iterator[Element]:
    for _, element in parser.read_events():  # type: ignore[misc]  # "end" events alone: pairs
        if isinstance(element, Element) and local(element.tag) in wanted:
            yield element
            element.clear()


def local(tag: str) -> str:
    """A name without its namespace: strict and ordinary workbooks differ in nothing else."""
    return tag.rpartition("}")[2]


def open_parts(content: bytes) -> Parts:
    """The parts of a file. Raises Refused for what is no sound package, or no cook's workbook."""
    package = read(content)
    for member in package.members:
        if member.name.lower().endswith((".xml", ".rels")):
            _refuse_unfit(member.data)
    return Parts(package)


def _refuse_unfit(data: bytes) -> None:
    """Raise Refused for a part that declares a document type, or is too large to read."""
    if any(mark in data for mark in _DOCTYPE):
        raise Refused(
            "The file can't be trusted: a part of it declares a document type, "
            "which no workbook does.",
            "Ask whoever sent it for a clean copy.",
        )
    elements = data.count(b"<") // 2  # most have one of these marks at each end
    if elements > MOST_ELEMENTS:
        raise Refused(
            "One sheet of the workbook has more than a million filled or formatted cells.",
            "Delete what is no longer needed, or start a new workbook for the new year.",
        )
    if elements > MOST_STYLE_ELEMENTS and b"styleSheet" in data[:4096]:
        raise Refused(
            "The workbook has more cell formats than any spreadsheet program allows.",
            "Copy what you typed into a new workbook, as values, and use that.",
        )
