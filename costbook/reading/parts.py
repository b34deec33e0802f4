"""The parts of a workbook's file, read as XML without risk.

Whatever reads cells goes through here first: a file in which a part holds more than a cook's can,
or declares a document type (the door to entity attacks), is refused before any parser sees it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal
from xml.etree.ElementTree import Element, ParseError, XMLPullParser

from costbook.package.bulk import elements_in
from costbook.package.limits import MEGABYTE, MOST_READ, MOST_READ_BYTES
from costbook.package.members import Package
from costbook.reading.grid import too_much

__all__ = ["Parts", "Unreadable", "local", "own", "times"]

_CHUNK: Final = 1024 * 1024


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

    def refuse_more(self, sheets: Mapping[str, str]) -> None:
        """Raise Refused where the sheets to be read, tab -> part, hold more than can be meant."""
        held = {tab: elements_in(self.data(part)) for tab, part in sheets.items()}
        if sum(held.values()) > MOST_READ:
            raise too_much(max(held, key=lambda tab: held[tab]))
        sizes = {tab: len(self.data(part)) for tab, part in sheets.items()}
        if sum(sizes.values()) > MOST_READ_BYTES:
            most = f"{MOST_READ_BYTES // MEGABYTE} MB"
            raise too_much(max(sizes, key=lambda tab: sizes[tab]), most)

    def elements(self, name: str, *wanted: str, until: str = "") -> Iterator[Element]:
        """Each element of some local names as it ends, then emptied. Raises Unreadable.

        ``until``: the local name of an element behind which nothing is looked at.
        """
        for what, element in self.events(name, wanted, until):
            if what == "end":
                yield element

    def events(
        self, name: str, wanted: Collection[str], until: str = "", *, opening: bool = False
    ) -> Iterator[tuple[str, Element]]:
        """The same with the word "end", and with ``opening`` the word "start" where it begins."""
        order: Sequence[Literal["start", "end"]] = ("start", "end") if opening else ("end",)
        try:
            for what, element in _events(self.data(name), order):
                if local(element.tag) in wanted:
                    yield what, element
                    if what == "end":
                        element.clear()
                elif until and what == "end" and local(element.tag) == until:
                    return
        except (ParseError, LookupError, ValueError) as error:  # the last two: its encoding
            raise Unreadable(name) from error


def _events(data: bytes, order: Sequence[Literal["start", "end"]]) -> Iterator[tuple[str, Element]]:
    parser: XMLPullParser[Element] = XMLPullParser(order)
    for start in range(0, len(data), _CHUNK):
        parser.feed(data[start : start + _CHUNK])
        yield from parser.read_events()  # type: ignore[misc]  # of elements alone: pairs
    parser.close()
    yield from parser.read_events()  # type: ignore[misc]


def local(tag: str) -> str:
    """A name without its namespace: strict and ordinary workbooks differ in nothing else."""
    return tag.rpartition("}")[2]


def own(element: Element, name: str) -> str:
    """An attribute by its local name; the same one stands under two namespaces in some files."""
    return next((value for key, value in element.items() if local(key) == name), "")


def times(element: Element, name: str) -> int:
    """How often an element stands there, by an attribute that may be missing or nonsense."""
    text = own(element, name)
    return int(text[:12]) if text.isdecimal() and int(text[:12]) else 1
