"""The parts of a workbook's file, each unfolded within limits, and read as XML without risk.

Whatever reads cells goes through here first: a part that is too large to be a cook's, or that
declares a document type (the door to entity attacks), is refused before any parser sees it.
"""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import Final, TypeAlias
from xml.etree.ElementTree import Element, ParseError, XMLPullParser

from costbook.problems import Refused

__all__ = [
    "MOST_ELEMENTS",
    "MOST_PARTS",
    "MOST_STYLE_ELEMENTS",
    "MOST_UNFOLDED",
    "Parts",
    "Unreadable",
    "local",
    "open_parts",
]

MOST_UNFOLDED: Final = 150 * 1024 * 1024
"""Bytes that a workbook may unfold to."""
MOST_PARTS: Final = 10_000
"""Parts that a workbook may have; one with a hundred sheets and pictures has some five hundred."""
MOST_ELEMENTS: Final = 4_000_000
"""XML elements that one part may have: a sheet of a million filled cells."""
MOST_STYLE_ELEMENTS: Final = 250_000
"""XML elements that the list of styles may have; spreadsheet programs stop at 65,490 formats."""

_CHUNK: Final = 1024 * 1024
_DOCTYPE: Final = tuple(
    "<!DOCTYPE".encode(encoding)
    for encoding in ("ascii", "utf-16-le", "utf-16-be", "utf-32-le", "utf-32-be")
)
_CLEAN_COPY: Final = "Ask whoever sent it for a clean copy."
_SMALLER: Final = "Delete what is no longer needed, or start a new workbook for the new year."

Attributes: TypeAlias = Mapping[str, str]


class Unreadable(Exception):
    """A part that is missing, broken or no XML: the cells can't be read this way."""


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts of one file, by name."""

    archive: zipfile.ZipFile
    names: frozenset[str]

    def data(self, name: str) -> bytes:
        """A part's bytes. Raises Unreadable."""
        try:
            return self.archive.read(name)
        except (KeyError, zipfile.BadZipFile, zlib.error, OSError, NotImplementedError) as error:
            raise Unreadable(name) from error

    def elements(self, name: str, *wanted: str) -> Iterator[Element]:
        """Each element of some local names as it ends, then emptied. Raises Unreadable."""
        parser = XMLPullParser(("end",))  # noqa: S314 - document types were refused on opening
        try:
            with self.archive.open(name) as part:
                while chunk := part.read(_CHUNK):
                    parser.feed(chunk)
                    yield from _ended(parser, wanted)
            parser.close()
            yield from _ended(parser, wanted)
        except (KeyError, zipfile.BadZipFile, zlib.error, OSError, ParseError) as error:
            raise Unreadable(name) from error


def _ended(parser: XMLPullParser, wanted: tuple[str, ...]) -> Iterator[Element]:
    for _, element in parser.read_events():
        if isinstance(element, Element) and local(element.tag) in wanted:
            yield element
            element.clear()


def local(tag: str) -> str:
    """A name without its namespace: strict and ordinary workbooks differ in nothing else."""
    return tag.rpartition("}")[2]


def open_parts(content: bytes) -> Parts:
    """The parts of a file. Raises Unreadable for what is no zip, Refused for what is no workbook.

    The refusals: a bomb, a document type, more cells or styles than anybody has.
    """
    try:
        archive = zipfile.ZipFile(BytesIO(content))
    except (zipfile.BadZipFile, OSError, ValueError, IndexError) as error:
        raise Unreadable("zip") from error
    listed = archive.infolist()
    if len(listed) > MOST_PARTS or sum(each.file_size for each in listed) > MOST_UNFOLDED:
        raise Refused(
            f"The file can't be trusted: it unfolds to more than {MOST_UNFOLDED // 1024**2} MB, "
            f"or to more than {MOST_PARTS:,} parts.",
            _SMALLER,
        )
    parts = Parts(archive, frozenset(each.filename for each in listed))
    for name in parts.names:
        if name.lower().endswith((".xml", ".rels")):
            _refuse_unfit(parts, name)
    return parts


def _refuse_unfit(parts: Parts, name: str) -> None:
    """Raise Refused for a part that declares a document type, or is too large to read."""
    elements, most, tail = 0, 0, b""
    for chunk in _chunks(parts, name):
        most = most or (MOST_STYLE_ELEMENTS if b"styleSheet" in chunk[:4096] else MOST_ELEMENTS)
        elements += chunk.count(b"<")
        text = tail + chunk
        if any(mark in text for mark in _DOCTYPE):
            raise Refused(
                "The file can't be trusted: a part of it declares a document type, "
                "which no workbook does.",
                _CLEAN_COPY,
            )
        tail = chunk[-64:]
        if elements > 2 * most:  # each element has one or two of these marks
            raise _too_large(styles=most == MOST_STYLE_ELEMENTS)


def _too_large(*, styles: bool) -> Refused:
    if styles:
        return Refused(
            "The workbook has more cell formats than any spreadsheet program allows.",
            "Copy what you typed into a new workbook, as values, and use that.",
        )
    return Refused(
        "One sheet of the workbook has more than a million filled or formatted cells.", _SMALLER
    )


def _chunks(parts: Parts, name: str) -> Iterator[bytes]:
    try:
        with parts.archive.open(name) as part:
            while chunk := part.read(_CHUNK):
                yield chunk
    except (zipfile.BadZipFile, zlib.error, OSError, NotImplementedError, RuntimeError) as error:
        raise Unreadable(name) from error
