"""The package as the checks see it: every part well-formed, the small ones as trees."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from xml.parsers import expat

from costbook.package.members import Member, Package, key
from costbook.package.relations import (
    CONTENT_TYPES,
    ROOT,
    Relation,
    Types,
    relations,
    rels_name,
    types,
)
from costbook.package.tabs import Opened
from costbook.package.workbook_file import WorkbookFile
from costbook.package.xml import Element, Malformed, parse

__all__ = ["Sheet", "Subject", "TooBroken", "number", "subject"]

_GRID_OPENS: Final = re.compile(rb"<(?:\w+:)?sheetData(?:\s[^>]*)?>")
_GRID_CLOSES: Final = re.compile(rb"</(?:\w+:)?sheetData\s*>")
_SHEET: Final = "worksheet"


class TooBroken(Exception):
    """A package too broken for the further checks to make sense."""

    def __init__(self, *sentences: str) -> None:
        super().__init__(*sentences)
        self.sentences = sentences


@dataclass(frozen=True, slots=True)
class Sheet:
    """A worksheet: its tree with an empty grid, and the text of the grid."""

    name: str
    part: str
    root: Element
    grid: bytes


@dataclass(frozen=True, slots=True)
class Subject:
    """The opened package; `roots` and `relations` by the key of the part."""

    book: Opened
    roots: dict[str, Element]
    relations: dict[str, tuple[Relation, ...]]
    sheets: tuple[Sheet, ...]

    @property
    def package(self) -> Package:
        """The members."""
        return self.book.package

    @property
    def types(self) -> Types:
        """The declared content types."""
        return self.book.types

    def root(self, kind: str) -> Element | None:
        """The root of the part that the workbook's relation of that kind leads to."""
        return self.roots.get(key(self.book.related(kind)))

    def of(self, part: str, kind: str) -> Iterator[tuple[str, Element]]:
        """The parts of one kind that a part's relations lead to, with their roots."""
        for each in self.relations.get(key(part), ()):
            root = self.roots.get(key(each.target))
            if each.kind == kind and not each.outside and root is not None:
                yield each.target, root


def number(text: str | None, missing: int = 0) -> int:
    """A whole number in an attribute; -1 when it is none, which no count and no index is."""
    if text is None:
        return missing
    return int(text) if text.isdecimal() else -1


def subject(file: WorkbookFile) -> Subject:
    """The package opened for the checks. Raises Unreadable, and Refused where it is none."""
    package = file.package
    if CONTENT_TYPES not in package:
        raise TooBroken(f"{CONTENT_TYPES} is missing.")
    declared = types(_root(package.by_key[key(CONTENT_TYPES)]))
    sheets = {
        key(each.name): each
        for each in package.members
        if declared.of(each.name).endswith("spreadsheetml.worksheet+xml")
    }
    roots: dict[str, Element] = {}
    broken: list[str] = []
    for each in package.members:
        if _is_xml(each.name, declared):
            try:
                roots[key(each.name)] = _shell(each) if key(each.name) in sheets else _root(each)
            except TooBroken as unreadable:
                broken += unreadable.sentences
    if broken:
        raise TooBroken(*broken)
    linked = {
        key(each.name): relations(package, each.name)
        for each in package.members
        if rels_name(each.name) in package
    }
    linked[ROOT] = relations(package, ROOT)
    if not any(each.kind == "officeDocument" and each.target in package for each in linked[ROOT]):
        raise TooBroken("_rels/.rels: no relation leads to a workbook.")
    return Subject(file.book, roots, linked, tuple(_sheets(file.book, sheets, roots)))


def _is_xml(name: str, declared: Types) -> bool:
    """Whether a part must be well-formed XML; old drawings (.vml) often aren't in real files."""
    kind = declared.of(name)
    return kind.endswith("xml") or name.endswith((".rels", ".xml"))


def _root(member: Member) -> Element:
    try:
        return parse(member.data)
    except Malformed as error:
        raise TooBroken(f"{member.name}: it is no well-formed XML ({error.why}).") from error


def _shell(member: Member) -> Element:
    """The sheet's tree without its cells, once the whole of it has proved well-formed."""
    reader = expat.ParserCreate()
    try:
        reader.Parse(member.data, True)
    except expat.ExpatError as error:
        raise TooBroken(f"{member.name}: it is no well-formed XML ({error}).") from error
    start, end = _grid(member.data)
    return _root(Member(member.name, b"", member.data[:start] + member.data[end:]))


def _grid(data: bytes) -> tuple[int, int]:
    """Where the text between the sheetData tags begins and ends."""
    opens = _GRID_OPENS.search(data)
    if opens is None or opens.group().endswith(b"/>"):
        return 0, 0
    closes = _GRID_CLOSES.search(data, opens.end())
    return (opens.end(), closes.start()) if closes else (0, 0)


def _sheets(book: Opened, members: dict[str, Member], roots: dict[str, Element]) -> Iterator[Sheet]:
    for tab in book.tabs:
        member = members.get(key(tab.part))
        if member is not None and tab.kind == _SHEET:
            start, end = _grid(member.data)
            yield Sheet(tab.name, member.name, roots[key(tab.part)], member.data[start:end])
