"""What a person typed, noted or drew on our sheets in a workbook that came back.

Our sheets are replaced at every run, so this must be found first. Each is compared with the
imprint that the run before left of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from hashlib import sha256
from html import unescape
from typing import Final

from costbook.ours.imprint import (
    BOX,
    FORMULA,
    NOTHING,
    TICK,
    Imprint,
    Left,
    bones,
    of_number,
    short,
    skin,
)
from costbook.package.members import Package
from costbook.package.relations import relations
from costbook.package.tabs import Opened, Tab
from costbook.package.workbook_file import WorkbookFile

__all__ = ["NOTE", "PICTURE", "TYPED", "Typed", "hash_of_theirs", "typed_on_ours"]

TYPED: Final = "typed"
NOTE: Final = "note"
PICTURE: Final = "picture"

_AT: Final = re.compile(rb'\br="([A-Z]{1,3})([0-9]{1,7})"')
_TYPE: Final = re.compile(rb'\bt="([A-Za-z]+)"')
_VALUE: Final = re.compile(rb"<v[^>]*>(.*?)</v>", re.DOTALL)
_TEXT: Final = re.compile(rb"<t\b[^>]*>(.*?)</t>", re.DOTALL)
_READING_AID: Final = re.compile(rb"<rPh\b.*?</rPh>", re.DOTALL)
_SHARED: Final = re.compile(rb"<si>(.*?)</si>|<si/>", re.DOTALL)
_COMMENT: Final = re.compile(
    rb'<comment\b[^>]*?\bref="([A-Z0-9]+)"[^>]*>(.*?)</comment>', re.DOTALL
)
_ANCHOR_END: Final = re.compile(rb"</(?:\w+:)?(?:twoCell|oneCell|absolute)Anchor>")
_A_FORMULA: Final = (b"<f>", b"<f ", b"<f/")
_LONGEST_TICK: Final = 4
"""Letters of what is a tick in a printed box, as x, ok, done; more are a note of somebody's."""


@dataclass(frozen=True, slots=True)
class Typed:
    """One thing that is somebody's: on which sheet of ours, in which cell, what, its text."""

    title: str
    tab: str
    cell: str
    what: str
    text: str


def typed_on_ours(
    theirs: WorkbookFile, left: Left, new: WorkbookFile, *, boxes: bool
) -> list[Typed]:
    """What stands on our sheets and isn't what the run before left there.

    `new`: the workbook that comes now; what is the same there isn't lost. `boxes`: also what was
    typed into a box. Figures don't count: they follow the person's cells. A cell that we left
    empty counts as typed into only while all that we left stands in its place: else rows or
    columns were put in, or sorted. Sheets without an imprint, and those of a file whose XML
    carries prefixes (no program in use writes such sheets), are passed over.
    """
    shared = _shared_texts(theirs.book) if theirs.ours else ()
    found: list[Typed] = []
    for title, tab in theirs.ours.items():
        if imprint := left.sheets.get(title):
            sheet = _Sheet(title, tab, theirs.package, shared, imprint)
            if not sheet.is_in(new.package):
                found += sheet.typed(boxes=boxes)
            found += sheet.hung()
    return found


def hash_of_theirs(theirs: WorkbookFile) -> str:
    """A hash of the person's own sheets: another one once any program has saved the file."""
    book = theirs.book
    ours = {tab.part for tab in theirs.ours.values()}
    parts = [tab.part for tab in book.tabs if tab.part in book.package and tab.part not in ours]
    found = sha256()
    for part in (*parts, book.related("sharedStrings")):
        found.update(book.package.data(part) if part else b"")
    return found.hexdigest()[:16]


def _shared_texts(book: Opened) -> tuple[str, ...]:
    part = book.related("sharedStrings")
    return tuple(map(_joined, _SHARED.findall(book.package.data(part)))) if part else ()


def _joined(rich: bytes) -> str:
    """The text of a cell that may have several fonts, without hints on how to read it."""
    plain = _READING_AID.sub(b"", rich) if b"<rPh" in rich else rich
    return unescape(b"".join(_TEXT.findall(plain)).decode("utf-8", "replace"))


@cache
def _column(letters: bytes) -> int:
    """A column's number from 0."""
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number - 1


@dataclass(slots=True)
class _Sheet:
    """One of our sheets as it came back, and what was left of it."""

    title: str
    tab: Tab
    package: Package
    shared: tuple[str, ...]
    left: Imprint
    known: set[bytes] = field(default_factory=set)
    """Skins, as the file has them, of formulas that have the bones of one of ours."""

    def _filled(self) -> Iterator[tuple[bytes, bytes, bytes, bytes]]:
        """The cells that hold something: letters, row, attributes, and contents to the next cell.

        A sheet may have a million cells, so they are cut apart at their beginnings.
        """
        for piece in self.package.data(self.tab.part).split(b"<c ")[1:]:
            attributes, _, inside = piece.partition(b">")
            at = None if attributes.endswith(b"/") else _AT.search(attributes)
            if at and not inside.startswith(b"</c>"):
                yield at[1], at[2], attributes, inside

    def _shown(self, attributes: bytes, inside: bytes) -> str:
        """What a person sees while the cell is edited."""
        if inside.startswith(_A_FORMULA):
            return f"={_formula(inside).decode('utf-8', 'replace')}"
        return self._text(attributes, inside)

    def _text(self, attributes: bytes, inside: bytes) -> str:
        """What a cell without a formula holds."""
        found = _TYPE.search(attributes)
        kind = found[1] if found else b"n"
        inside = inside.partition(b"</c>")[0]
        if kind == b"inlineStr":
            return _joined(inside)
        value = _VALUE.search(inside)
        text = unescape(value[1].decode("utf-8", "replace")) if value else ""
        if kind == b"s" and text.isdecimal() and int(text) < len(self.shared):
            return self.shared[int(text)]
        return _number(text) if kind == b"n" else text

    def is_in(self, package: Package) -> bool:
        """Whether the sheet stands in a package to the byte, under the name it has here."""
        part = self.tab.part
        return part in package and package.data(part) == self.package.data(part)

    def typed(self, *, boxes: bool) -> Iterator[Typed]:
        """The cells that are somebody's."""
        surely, perhaps, in_place = [], [], 0
        row_before, kinds = b"", ""
        for letters, row, attributes, inside in self._filled():
            if row != row_before:
                row_before, kinds = row, self.left.row(int(row) - 1)
            column = _column(letters)
            held = kinds[column] if column < len(kinds) else NOTHING
            in_place += held not in (NOTHING, BOX, TICK)
            if held == BOX and not boxes:
                continue
            is_formula = inside.startswith(_A_FORMULA)
            ours = self._our_bones(inside) if is_formula else None
            if ours and held == FORMULA:
                continue
            text = self._shown(attributes, inside)
            if held == TICK and not is_formula and len(text) <= _LONGEST_TICK:
                continue
            if not is_formula:
                ours = not text or short(text) in self.left.values
            cell = f"{letters.decode()}{row.decode()}"
            if not ours:
                surely.append(self._found(cell, TYPED, text))
            elif text and (held == NOTHING or (held == FORMULA) != is_formula):
                perhaps.append(self._found(cell, TYPED, text))
        yield from surely
        if in_place == self.left.filled:
            yield from perhaps

    def _our_bones(self, inside: bytes) -> bool:
        end = inside.find(b"</f>")
        if end < 0:
            return True  # one of a group that shares a formula, which stands in its first cell
        skinned = skin(inside[inside.find(b">") + 1 : end])
        if skinned in self.known:
            return True
        ours = short(bones(skin(_formula(inside))).decode("ascii")) in self.left.formulas
        if ours:
            self.known.add(skinned)
        return ours

    def hung(self) -> Iterator[Typed]:
        """The notes and pictures that are somebody's."""
        for part in self._held("comments"):
            for cell, inside in _COMMENT.findall(self.package.data(part)):
                text = _joined(inside)
                if short(text) not in self.left.notes:
                    yield self._found(cell.decode(), NOTE, text)
        parts = map(self.package.data, self._held("drawing"))
        if sum(len(_ANCHOR_END.findall(part)) for part in parts) > self.left.drawings:
            yield self._found("", PICTURE, "")

    def _held(self, kind: str) -> list[str]:
        linked = relations(self.package, self.tab.part)
        return [each.target for each in linked if each.kind == kind and each.target in self.package]

    def _found(self, cell: str, what: str, text: str) -> Typed:
        return Typed(self.title, self.tab.name, cell, what, text)


def _formula(inside: bytes) -> bytes:
    """The formula of a cell; empty where another cell holds it."""
    end = inside.find(b"</f>")
    text = inside[inside.find(b">") + 1 : end] if end >= 0 else b""
    return unescape(text.decode("utf-8", "replace")).encode()


def _number(text: str) -> str:
    try:
        return of_number(float(text))
    except ValueError:
        return text
