"""Checks of what hangs on sheets: tables, notes, pivots."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from costbook.package.tabs import names_in
from costbook.package.validity.holding import repeated
from costbook.package.validity.ranges import Range, overlapping, range_of
from costbook.package.validity.subject import Sheet, Subject, number
from costbook.package.xml import Element, children, local

__all__ = ["comment_faults", "pivot_faults", "table_faults"]

_CELL: Final = re.compile(
    rb'<(?:\w+:)?c r="([A-Z]+)[0-9]+"((?: [^>]*?)?)(?:/>|>(.*?)</(?:\w+:)?c>)', re.DOTALL
)
_TEXT: Final = re.compile(rb"<(?:\w+:)?(?:t|v)(?: [^>]*)?>([^<]*)<")
_CODED: Final = re.compile("_x([0-9A-Fa-f]{4})_")
_ENTITIES: Final = {"&lt;": "<", "&gt;": ">", "&quot;": '"', "&apos;": "'", "&amp;": "&"}


def table_faults(subject: Subject) -> Iterator[str]:
    """Faults in tables: ids, names, columns, and headings that aren't what the cells say."""
    held = [
        (sheet, part, root)
        for sheet in subject.sheets
        for part, root in subject.of(sheet.part, "table")
    ]
    for name in repeated([root.get("id", "") for _, _, root in held]):
        yield f"Two tables have the number {name}."
    names = [root.get("displayName", "").casefold() for _, _, root in held]
    names += [
        each.get("name", "").casefold()
        for each in names_in(subject.book)
        if not each.get("localSheetId")
    ]
    for name in repeated(names):
        yield f"Two tables or names are called {name}."
    strings = subject.root("sharedStrings") if held else None
    texts = [] if strings is None else list(children(strings, "si"))
    for sheet, part, root in held:
        yield from _table(texts, sheet, part, root)
    for sheet in subject.sheets:
        yield from _apart(subject, sheet)


def _apart(subject: Subject, sheet: Sheet) -> Iterator[str]:
    tables = [range_of(root.get("ref", "")) for _, root in subject.of(sheet.part, "table")]
    if overlapping([each for each in tables if each]):
        yield f"{sheet.part}: tables overlap."
    listed = [each for group in children(sheet.root, "tableParts") for each in children(group)]
    if len(listed) != len(tables):
        yield f"{sheet.part}: it lists {len(listed)} tables and has {len(tables)}."


def _table(texts: list[Element], sheet: Sheet, part: str, root: Element) -> Iterator[str]:
    place = range_of(root.get("ref", ""))
    columns = [each for group in children(root, "tableColumns") for each in children(group)]
    if place is None:
        yield f"{part}: {root.get('ref')!r} can't be a table's range."
        return
    if len(columns) != place.right - place.left + 1:
        yield f"{part}: it has {len(columns)} columns over {place.right - place.left + 1}."
    for name in repeated([_plain(each.get("name", "")).casefold() for each in columns]):
        yield f"{part}: two columns are called {name}."
    for name in repeated([each.get("id", "") for each in columns]):
        yield f"{part}: two columns have the number {name}."
    for group in children(root, "tableColumns"):
        if number(group.get("count"), len(columns)) != len(columns):
            yield f"{part}: it says {group.get('count')} columns and has {len(columns)}."
    for each in children(root, "autoFilter"):
        inner = range_of(each.get("ref", ""))
        if inner is None or inner[:2] != place[:2] or inner.right != place.right:
            yield f"{part}: its filter isn't on the table."
    if root.get("headerRowCount") != "0":
        yield from _headings(texts, sheet, part, place, columns)


def _headings(
    texts: list[Element], sheet: Sheet, part: str, place: Range, columns: list[Element]
) -> Iterator[str]:
    cells = _row_texts(texts, sheet, place.top)
    for offset, column in enumerate(columns):
        said, heading = cells.get(place.left + offset, ""), _plain(column.get("name", ""))
        if _folded(said) != _folded(heading):
            yield f"{part}: its column {heading!r} has {said!r} for a heading."


def _folded(text: str) -> str:
    return "".join(text.split()).casefold()


def _plain(text: str) -> str:
    return _CODED.sub(lambda found: chr(int(found[1], 16)), text)


def _row_texts(texts: list[Element], sheet: Sheet, row: int) -> dict[int, str]:
    """The texts of a row by column number."""
    opens = re.search(rb'<(?:\w+:)?row [^>]*?\br="%d"[^>]*>' % row, sheet.grid)
    if opens is None:
        return {}
    closes = re.compile(rb"</(?:\w+:)?row>").search(sheet.grid, opens.end())
    line = sheet.grid[opens.end() : closes.start()] if closes else b""
    found: dict[int, str] = {}
    for letters, said, inner in _CELL.findall(line):
        place = range_of(f"{letters.decode()}1")
        if place is not None:
            found[place.left] = _text(texts, said, inner)
    return found


def _text(texts: list[Element], said: bytes, inner: bytes) -> str:
    value = b"".join(_TEXT.findall(inner)).decode()
    if b't="s"' in said and value.strip().isdecimal():
        runs = texts[int(value)].iter() if int(value) < len(texts) else ()
        return _plain("".join(each.text or "" for each in runs if local(each) == "t"))
    for code, letter in _ENTITIES.items():
        value = value.replace(code, letter)
    return _plain(value)


def comment_faults(subject: Subject) -> Iterator[str]:
    """Faults in notes on cells: authors, cells, and the shapes that show them."""
    for sheet in subject.sheets:
        for part, root in subject.of(sheet.part, "comments"):
            authors = [each for group in children(root, "authors") for each in children(group)]
            notes = [each for group in children(root, "commentList") for each in children(group)]
            for cell in repeated([each.get("ref", "") for each in notes]):
                yield f"{part}: {cell} has two notes."
            for each in notes:
                if range_of(each.get("ref", "")) is None:
                    yield f"{part}: {each.get('ref')!r} can't be the cell of a note."
                if not 0 <= number(each.get("authorId"), -1) < len(authors):
                    yield f"{part}: the note on {each.get('ref')} has no author."
            if notes and not list(children(sheet.root, "legacyDrawing")):
                yield f"{sheet.part}: its notes have no shapes to show them."


def pivot_faults(subject: Subject) -> Iterator[str]:
    """Faults in pivots: each must have the stored data it works on."""
    listed = subject.book.one("pivotCaches")
    caches = [] if listed is None else [each.get("cacheId", "") for each in children(listed)]
    for name in repeated(caches):
        yield f"{subject.book.part}: two pivot caches have the number {name}."
    for sheet in subject.sheets:
        for part, root in subject.of(sheet.part, "pivotTable"):
            if root.get("cacheId", "") not in caches:
                yield f"{part}: its data, pivot cache {root.get('cacheId')}, isn't there."
