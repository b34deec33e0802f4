"""Our cell formats added to the person's, none of theirs changed, none added twice.

What a format means is compared, not how it is written down, so that a run after the person's
program has saved the workbook finds our formats again instead of adding them anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

from costbook.package.orders import STYLES
from costbook.package.padding import MOST, NOTHING_USED, Used, pad
from costbook.package.tabs import MAIN
from costbook.package.xml import (
    Element,
    added,
    children,
    copied,
    local,
    parse,
    placed,
    serialise,
    whole,
)

__all__ = ["BLANK", "Numbers", "with_styles"]

BLANK: Final = (
    b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<styleSheet xmlns="'
    + MAIN.encode()
    + b'"><fonts count="1"><font><sz val="11"/><color theme="1"/><name val="Calibri"/>'
    b'<family val="2"/><scheme val="minor"/></font></fonts><fills count="2"><fill>'
    b'<patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>'
    b'</fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border>'
    b'</borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>'
    b'</cellStyleXfs><cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"'
    b' xfId="0"/></cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0"'
    b' builtinId="0"/></cellStyles></styleSheet>'
)
"""The formats of a workbook that has none: what a program shows then anyway."""

_FIRST_OWN_FORMAT: Final = 164  # the numbers below are built into every program
_ON: Final = frozenset({"1", "true", "on"})
_OFF: Final = frozenset({"0", "false", "off"})
_SWITCHES: Final = frozenset({"b", "i", "strike", "outline", "shadow", "condense", "extend"})
_UNORDERED: Final = frozenset({"font", "border"})

Meaning: TypeAlias = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Numbers:
    """Our numbers of cell formats and of conditional formats -> the merged workbook's."""

    cells: Mapping[int, int]
    conditional: Mapping[int, int]


def with_styles(theirs: bytes, ours: bytes, used: Used = NOTHING_USED) -> tuple[bytes, Numbers]:
    """Their styles part with our formats added, and the numbers ours have there.

    Their entries stay as they are, in front, filled up to those that are used. Our format 0, the
    plain cell, is their format 0. The bytes come back untouched when nothing had to be added.
    """
    root, made = parse(theirs), parse(ours)
    before = [len(group) for group in root]
    pad(root, used, parse(BLANK))
    formats = _number_formats(root, made)
    renumber = _renumbering(formats)
    pieces = {
        name: _merged(root, made, name, lambda each: each) for name in ("fonts", "fills", "borders")
    }
    cells = _merged(root, made, "cellXfs", lambda each: _cell_format(each, pieces, formats))
    conditional = _merged(root, made, "dxfs", renumber)
    numbers = Numbers({**cells, 0: 0}, conditional)
    unchanged = before == [len(group) for group in root]
    return (theirs if unchanged else serialise(root, theirs)), numbers


def _group(root: Element, name: str) -> Element:
    return placed(root, name, STYLES, {"count": "0"})


def _number_formats(root: Element, made: Element) -> dict[int, int]:
    """Our own number formats -> theirs with the same code, else new numbers above theirs.

    Both what cells use and what conditional formats bring along themselves.
    """
    listed: dict[str, int] = {}
    for each in _entries(root, "numFmts"):
        listed.setdefault(each.get("formatCode", ""), whole(each.get("numFmtId")))
    numbered = (each for name in ("numFmt", "xf") for each in root.iter(_tag(name)))
    used = (number for each in numbered if (number := whole(each.get("numFmtId"))) <= MOST)
    highest = max(_FIRST_OWN_FORMAT - 1, *used, *listed.values(), 0)
    found: dict[int, int] = {}
    for each in made.iter(_tag("numFmt")):
        code = each.get("formatCode", "")
        if code not in listed:
            highest += 1
            listed[code] = highest
            _append(_group(root, "numFmts"), highest, code)
        found[whole(each.get("numFmtId"))] = listed[code]
    return found


def _tag(name: str) -> str:
    return f"{{{MAIN}}}{name}"


def _append(group: Element, number: int, code: str) -> None:
    added(group, "numFmt", {"numFmtId": str(number), "formatCode": code})
    group.set("count", str(len(list(children(group)))))


def _entries(root: Element, name: str) -> list[Element]:
    found = next(children(root, name), None)
    return [] if found is None else list(children(found))


def _renumbering(formats: Mapping[int, int]) -> Callable[[Element], Element]:
    """What gives a conditional format of ours the merged number of its number format."""

    def renumber(entry: Element) -> Element:
        for each in entry.iter(_tag("numFmt")):
            own = whole(each.get("numFmtId"))
            each.set("numFmtId", str(formats.get(own, own)))
        return entry

    return renumber


def _cell_format(
    entry: Element, pieces: Mapping[str, Mapping[int, int]], formats: Mapping[int, int]
) -> Element:
    """A cell format of ours with the merged numbers of its font, fill, border and number format.

    It hangs on the person's Normal style: ours brings no named styles along.
    """
    for attribute, group in (("fontId", "fonts"), ("fillId", "fills"), ("borderId", "borders")):
        entry.set(attribute, str(pieces[group][whole(entry.get(attribute))]))
    own = whole(entry.get("numFmtId"))
    entry.set("numFmtId", str(formats.get(own, own)))
    entry.set("xfId", "0")
    return entry


def _merged(
    root: Element, made: Element, name: str, ready: Callable[[Element], Element]
) -> dict[int, int]:
    """Our numbers in one group -> the merged ones; entries theirs lack are added at the end."""
    ours = [ready(each) for each in _entries(made, name)]
    if not ours:
        return {}
    group = _group(root, name)
    theirs = [_meaning(each) for each in children(group)]
    known = {meaning: number for number, meaning in reversed(list(enumerate(theirs)))}
    total = len(theirs)
    numbers: dict[int, int] = {}
    for number, each in enumerate(ours):
        meaning = _meaning(each)
        if meaning not in known:
            copied(group, each)
            known[meaning] = total
            total += 1
            group.set("count", str(total))
        numbers[number] = known[meaning]
    return numbers


def _meaning(element: Element) -> Meaning:
    """What an entry says, however it is written: `<b/>` is `<b val="1"/>`, `true` is `1`."""
    name = local(element)
    attributes = {str(each): _switch(str(text)) for each, text in element.items()}
    if name in _SWITCHES:
        attributes.setdefault("val", "1")
    if name == "patternFill":
        attributes.setdefault("patternType", "none")
    inner: Iterable[Meaning] = (_meaning(each) for each in children(element))
    if name == "border":
        inner = (each for each in inner if each[1:] != ((), ()))
    if name in _UNORDERED:
        inner = sorted(inner, key=repr)
    said = attributes.items() if name != "xf" else _said_by_cell_format(attributes)
    return (name, tuple(sorted(said)), tuple(inner))


def _said_by_cell_format(attributes: dict[str, str]) -> Iterable[tuple[str, str]]:
    """A cell format's attributes without those that say what silence says too."""
    defaults = {"numFmtId", "fontId", "fillId", "borderId", "xfId"}
    return ((name, text) for name, text in attributes.items() if name in defaults or text != "0")


def _switch(text: str) -> str:
    return "1" if text in _ON else "0" if text in _OFF else text
