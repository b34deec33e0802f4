"""Checks of the cells, by scanning the text: a sheet may have hundreds of thousands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, TypeAlias

from costbook.package.validity.styling import counted
from costbook.package.validity.subject import Sheet, Subject
from costbook.package.xml import children

__all__ = ["cell_faults"]

_TAG: Final = re.compile(rb'<(?:\w+:)?(row|c)(?: r="([A-Z]*)([0-9]+)")?((?: [^>]*)?)>')
_REFERENCE: Final = re.compile(rb' r="([A-Z]*)([0-9]+)"')
_FORMAT: Final = re.compile(rb' s="([^"]*)"')
_TYPE: Final = re.compile(rb' t="([^"]*)"')
_SHARED: Final = re.compile(rb't="s"[^>]*>\s*<(?:\w+:)?v>\s*([0-9]+)\s*<')
_NO_TEXT: Final = re.compile(rb't="inlineStr"[^>/]*>\s*(?!<(?:\w+:)?is[ />])')
_NO_NUMBER: Final = rb"<%sv>(?!\s*[-+]?\.?[0-9])"
_NUMBERS: Final = frozenset({b"n", b""})
_WITH_EQUALS: Final = re.compile(rb"<(?:\w+:)?f(?: [^>]*)?>=")
_LONG: Final = re.compile(rb">[^<]{8193}")
_LONG_FORMULA: Final = re.compile(rb"<(?:\w+:)?f(?: [^>]*)?>([^<]{8193,})<")
_LONG_TEXT: Final = re.compile(rb"<(?:\w+:)?t(?: [^>]*)?>([^<]{32768,})<")
_ESCAPE: Final = re.compile(rb"&[a-z#0-9]+;")
_WORDS: Final = {b"c": "cell", b"row": "row"}
_TYPES: Final = frozenset({b"b", b"d", b"e", b"inlineStr", b"n", b"s", b"str"})
_LAST_ROW: Final = 1_048_576
_LAST_COLUMN: Final = (3, b"XFD")

_Tag: TypeAlias = tuple[bytes, bytes, bytes, bytes]
"""`row` or `c`, the letters and digits of its address, and its other attributes."""


def cell_faults(subject: Subject) -> Iterator[str]:
    """Faults in the cells of every sheet."""
    root = subject.root("styles")
    formats = counted(root, "cellXfs") if root is not None else None
    strings = subject.root("sharedStrings")
    texts = 0 if strings is None else len(list(children(strings, "si")))
    for sheet in subject.sheets:
        tags = _TAG.findall(sheet.grid)
        yield from _order(sheet, tags)
        yield from _attributes(sheet, tags, formats)
        yield from _contents(sheet, texts)
        yield from _lengths(sheet)


def _order(sheet: Sheet, tags: list[_Tag]) -> Iterator[str]:
    """Rows and cells must come in order, each once, each cell in its row, inside the sheet."""
    row, line, column = 0, b"0", (0, b"")
    for kind, letters, digits, rest in tags:
        if not digits:
            found = _REFERENCE.search(rest)
            if found is None:  # without an address: the next one
                row += kind == b"row"
                line = b"%d" % row
                continue
            where = found.groups()
        else:
            where = letters, digits
        if kind == b"row":
            if not row < int(where[1]) <= _LAST_ROW:
                yield f"{sheet.part}: row {where[1].decode()} is out of order."
            row, line, column = int(where[1]), where[1], (0, b"")
            continue
        here = len(where[0]), where[0]
        if where[1] != line or not column < here <= _LAST_COLUMN:
            yield f"{sheet.part}: the cell {b''.join(where).decode()} is out of order."
        column = here


def _attributes(sheet: Sheet, tags: list[_Tag], formats: int | None) -> Iterator[str]:
    """Format numbers must exist and types be known; each way of writing them is looked at once."""
    for kind, rest in sorted({(kind, rest) for kind, _, _, rest in tags}):
        used = _FORMAT.search(rest)
        if formats is not None and used and not (used[1].isdigit() and int(used[1]) < formats):
            yield f"{sheet.part}: a {_WORDS[kind]} has format {used[1].decode()} of {formats}."
        typed = _TYPE.search(rest) if kind == b"c" else None
        if typed and typed[1] not in _TYPES:
            yield f"{sheet.part}: a cell has the unknown type {typed[1].decode()}."


def _contents(sheet: Sheet, texts: int) -> Iterator[str]:
    used = {int(each) for each in _SHARED.findall(sheet.grid)}
    if max(used, default=-1) >= texts:
        yield f"{sheet.part}: a cell uses shared text {max(used)} of {texts}."
    for found in _NO_TEXT.finditer(sheet.grid):
        cell, _ = _cell_around(sheet, found.start())
        yield f"{sheet.part}: the cell {cell} should hold its text and doesn't."
    value = _NO_NUMBER % (f"{sheet.root.prefix}:".encode() if sheet.root.prefix else b"")
    for found in re.finditer(value, sheet.grid):
        cell, kind = _cell_around(sheet, found.start())
        if kind in _NUMBERS:
            yield f"{sheet.part}: the cell {cell} should hold a number and doesn't."


def _cell_around(sheet: Sheet, place: int) -> tuple[str, bytes]:
    """The address and the type of the cell whose tag is the last before a place in the text."""
    # with its bracket, since a text or a formula may speak of a row
    start = f"<{sheet.root.prefix}:row " if sheet.root.prefix else "<row "
    row = sheet.grid.rfind(start.encode(), 0, place)
    tags = [
        tag for tag in _TAG.finditer(sheet.grid, max(row, 0), place + 99) if tag.start() <= place
    ]
    if not tags:
        return "", b""
    tag = tags[-1].group()
    where, typed = _REFERENCE.search(tag), _TYPE.search(tag)
    return b"".join(where.groups()).decode() if where else "", typed[1] if typed else b""


def _lengths(sheet: Sheet) -> Iterator[str]:
    if b">=" in sheet.grid and _WITH_EQUALS.search(sheet.grid):
        yield f"{sheet.part}: a formula begins with an equals sign."
    if not _LONG.search(sheet.grid):
        return
    if any(len(_plain(each)) > 8192 for each in _LONG_FORMULA.findall(sheet.grid)):
        yield f"{sheet.part}: a formula is longer than 8192 characters."
    if any(len(_plain(each)) > 32_767 for each in _LONG_TEXT.findall(sheet.grid)):
        yield f"{sheet.part}: a text is longer than 32767 characters."


def _plain(text: bytes) -> str:
    """The text with each escape as the one character it stands for."""
    return _ESCAPE.sub(b"x", text).decode(errors="replace")
