"""Every part of a file looked through, a piece at a time, before any parser keeps what it holds.

A parser that builds something of a part can be made to take minutes and gigabytes by a file of a
few kilobytes. So the bytes are counted first: elements, attributes, namespaces, and how long one
tag or text is. Nothing is kept but what may be the beginning of a tag.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable, Iterator
from html import unescape
from typing import Final
from xml.parsers import expat
from zipfile import ZipInfo

from costbook.package import limits
from costbook.package.damage import (
    refuse_long_text,
    too_many_formats,
    too_many_sheets,
    untrusted,
)
from costbook.package.members import unfolding
from costbook.problems import Refused

__all__ = [
    "elements_in",
    "look_through",
    "outermost",
]

_ROOT: Final = re.compile(rb"<(?:[A-Za-z_][\w.-]*:)?([A-Za-z_][\w.-]*)")
_PROLOGUE: Final = re.compile(rb"\s*<\?xml\s(.*?)\?>", re.DOTALL)
_ENCODING: Final = re.compile(rb"encoding\s*=\s*[\"']([^\"']*)[\"']")
_USUAL: Final = re.compile(
    rb"utf-?(8|16|16le|16be)|(us-)?ascii|(iso-?8859|windows|cp)[-_]?[0-9]+|latin-?1", re.IGNORECASE
)
"""Encodings in which the marks of XML are the bytes they are in ASCII, and UTF-16."""
_STRANGE: Final = (b"\x4c\x6f\xa7\x94", b"\0\0\0<", b"<\0\0\0", b"\0\0\xfe\xff", b"\xff\xfe\0\0")
"""How parts begin in encodings that no workbook is in."""
_WIDE: Final = ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_WIDE_UNMARKED: Final = ((b"<\0", "utf-16-le"), (b"\0<", "utf-16-be"))

_OPENS: Final = re.compile(rb"<(?:\w+:)?sheetData(?:\s[^>]*)?>")
_CLOSES: Final = re.compile(rb"</(?:\w+:)?sheetData\s*>")
_SHEET: Final = re.compile(rb"<(?:[\w.-]+:)?sheet[\s/>]")
_GROUP: Final = 2  # how deep a group of styles stands
_BLOCK: Final = 16 * 1024
_SMALL_BLOCK: Final = 1024  # where cells are read by a function that calls itself
_STRETCH: Final = 32 * 1024
"""Bytes between two tags from which on they are looked at more closely."""
_HOLD_CELLS: Final = (b"worksheet", b"document-content")
_HOLD_TEXTS: Final = (*_HOLD_CELLS, b"sst")


def look_through(content: bytes, listed: Iterable[ZipInfo]) -> None:
    """Raise Refused for a file that holds more than a workbook does, whatever is in it."""
    for each in listed:
        part = _Part(each.filename)
        for piece in _in_bytes(each.filename, unfolding(content, each)):
            part.feed(piece)
        part.end()


def elements_in(data: bytes) -> int:
    """How many XML elements there are, or a few more: comments count, too."""
    return data.count(b"<") - data.count(b"</")


def outermost(data: bytes) -> bytes:
    """The name of a part's outermost element, without its prefix; empty where it has none."""
    found = _ROOT.search(data[: limits.LONGEST_PIECE])
    return found[1] if found else b""


def _in_bytes(name: str, pieces: Iterator[bytes]) -> Iterator[bytes]:
    """An XML part in an encoding that agrees with ASCII; nothing of a part that is no XML."""
    first = next(pieces, b"")
    if first.startswith(_STRANGE):
        raise untrusted(f"its part {name} is written in an encoding that no workbook is in")
    marks = _WIDE if first[:2] in (b"\xff\xfe", b"\xfe\xff") else _WIDE_UNMARKED
    wide = next((encoding for mark, encoding in marks if first.startswith(mark)), "")
    if wide:
        decoder = codecs.getincrementaldecoder(wide)("replace")
        yield decoder.decode(first).encode("utf-8", "replace")
        yield from (decoder.decode(piece).encode("utf-8", "replace") for piece in pieces)
    elif first.removeprefix(codecs.BOM_UTF8).lstrip()[:1] in (b"<", b""):
        _refuse_encoding(name, first.removeprefix(codecs.BOM_UTF8))
        yield first
        yield from pieces


def _refuse_encoding(name: str, first: bytes) -> None:
    prologue = _PROLOGUE.match(first)
    said = _ENCODING.search(prologue[1]) if prologue else None
    if said and not _USUAL.fullmatch(said[1].strip()):
        raise untrusted(f"its part {name} is written in an encoding that no workbook is in")


class _Part:
    """One part, as far as it was fed."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.root = b""
        self.begun = b""
        """What was fed last, from the last tag on: it may go on in the next piece."""
        self.bytes = self.elements = self.attributes = self.namespaces = self.sheets = (
            self.around
        ) = 0
        self.depth = 0
        self.in_cells = False
        self.past_cells = False
        self.groups = _Groups()
        self.foreign = name.lower().startswith("customxml/")
        self.longest = (10 if self.foreign else 1) * limits.LONGEST_PIECE

    def feed(self, piece: bytes) -> None:
        """Count a piece. Raises Refused where it is too much."""
        data = self.begun + piece
        self.root = self.root or outermost(data)
        if b"<!DOCTYPE" in data:
            raise untrusted("a part of it declares a document type, which no workbook does")
        self.begun = data[self._last_tag(data) :]
        self._count(data[: len(data) - len(self.begun)])

    def end(self) -> None:
        """Count what is left."""
        self._count(self.begun)

    def _last_tag(self, data: bytes) -> int:
        """Where the last tag begins. Raises Refused for one that is too long, or its text is."""
        at = 0
        while len(data) - at > _STRETCH:
            following = data.rfind(b"<", at + 1, at + _STRETCH)
            if following < 0:
                following = data.find(b"<", at + _STRETCH)
                self._refuse_long(data[at : following if following >= 0 else len(data)])
            if following < 0:
                return at
            at = following
        return max(data.rfind(b"<", at), at)

    def _refuse_long(self, stretch: bytes) -> None:
        """Raise Refused for a tag and its text that no program writes."""
        tag, _, text = stretch.partition(b">")
        if len(stretch) > self.longest:
            raise untrusted(
                f"its part {self.name} holds a single mark or text of more than"
                f" {self.longest // 1024**2} MB"
            )
        if tag.count(b'="') + tag.count(b"='") > limits.MOST_IN_A_TAG:
            raise _many(self.name, limits.MOST_IN_A_TAG, "attributes on one element")
        if self.root in _HOLD_TEXTS and len(text) > limits.LONGEST_TEXT:
            refuse_long_text(unescape(text.decode("utf-8", "replace")))

    def _count(self, data: bytes) -> None:
        elements = self._elements(data)
        self.bytes += len(data)
        self.elements += elements
        self.attributes += data.count(b"=")  # those in formulas, too: they are few beside
        self.namespaces += data.count(b"xmlns")
        if self.root == b"worksheet":
            self.around += self._around(data, elements)
        elif self.root == b"workbook":
            self.sheets += len(_SHEET.findall(data))
        elif self.root == b"styleSheet":
            self.groups.feed(data)
        self._refuse_many()

    def _elements(self, data: bytes) -> int:
        """How many elements there are. Raises Refused where they stand in each other without end.

        Looked at a short block at a time; what is deep and shut again within one is no harm.
        """
        size = _SMALL_BLOCK if self.root == b"document-content" else _BLOCK
        found = at = 0
        while at < len(data):
            following = data.find(b"<", at + size)
            following = len(data) if following < 0 else following
            block, at = data[at:following], following
            shut = block.count(b"</")
            opened = block.count(b"<") - shut
            found += opened
            self.depth = max(0, self.depth + opened - shut - block.count(b"/>") - _asides(block))
            if self.depth > limits.DEEPEST and not self.foreign:  # in which texts may hold tags
                raise _many(self.name, limits.DEEPEST, "elements within each other")
        return found

    def _around(self, data: bytes, elements: int) -> int:
        """How many of the elements stand before or after a sheet's cells."""
        if b"sheetData" not in data:
            return 0 if self.in_cells else elements
        before = after = b""
        if not self.in_cells and not self.past_cells:
            opens = _OPENS.search(data)
            before = data[: opens.end()] if opens else data
            self.in_cells = opens is not None and not opens[0].endswith(b"/>")
            self.past_cells = opens is not None and not self.in_cells
            data = data[len(before) :]
        closes = _CLOSES.search(data) if self.in_cells else None
        if closes or self.past_cells:
            self.in_cells, self.past_cells = False, True
            after = data[closes.start() :] if closes else data
        return elements_in(before) + elements_in(after)

    def _refuse_many(self) -> None:
        most = limits.MOST_IN_PARTS.get(self.root.decode("ascii", "replace"), limits.OTHERWISE)
        if self.sheets > limits.MOST_SHEETS:
            raise too_many_sheets()
        if self.root == b"styleSheet" and self.elements > most:
            raise too_many_formats()
        if self.groups.largest > limits.MOST_FORMATS:
            raise too_many_formats()
        if self.elements > most:
            raise _many(self.name, most, "elements")
        if self.root in _HOLD_CELLS and self.bytes > max(
            limits.HOLLOW, limits.MOST_FOR_AN_ELEMENT * self.elements
        ):
            raise untrusted(
                f"its part {self.name} holds more than {limits.HOLLOW // limits.MEGABYTE} MB in"
                " hardly any cells"
            )
        if self.around > limits.AROUND_CELLS:
            raise Refused(
                f"A sheet of the workbook has more than {limits.AROUND_CELLS:,} merged cells, "
                "rules and links.",
                "Copy what you typed into a new workbook, as values, and use that.",
            )
        if self.attributes > limits.MOST_ATTRIBUTES + 4 * self.elements:
            raise _many(self.name, limits.MOST_ATTRIBUTES, "attributes")
        if self.namespaces > limits.MOST_NAMESPACES:
            raise _many(self.name, limits.MOST_NAMESPACES, "namespaces")


class _Groups:
    """Of the list of styles, how many entries its largest group has: formats, fonts, borders."""

    def __init__(self) -> None:
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self._opens
        self.parser.EndElementHandler = self._closes
        self.depth = self.entries = self.largest = 0
        self.broken = False

    def feed(self, data: bytes) -> None:
        """Count what comes; a part that is no XML is said to be damaged by whoever reads it."""
        try:
            if not self.broken:
                self.parser.Parse(data, False)
        except expat.ExpatError:
            self.broken = True

    def _opens(self, _name: str, _attributes: object) -> None:
        self.depth += 1
        if self.depth == _GROUP:
            self.entries = 0
        elif self.depth == _GROUP + 1:
            self.entries += 1
            self.largest = max(self.largest, self.entries)

    def _closes(self, _name: str) -> None:
        self.depth -= 1


def _asides(block: bytes) -> int:
    """Comments and the like, which begin as elements do; a single letter is found much faster."""
    comments = block.count(b"<!") if b"!" in block else 0
    return comments + (block.count(b"<?") if b"?" in block else 0)


def _many(name: str, most: int, what: str) -> Refused:
    return untrusted(f"its part {name} holds more than {most:,} {what}")
