"""A sheet of ours made ready to live in the person's package.

It works on the text of the parts as XlsxWriter writes them, since a sheet of 200,000 cells is
too big to build as a tree before every write.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from costbook.package.styles import Numbers

__all__ = ["shared_strings", "sheet", "table", "tables_renamed"]

_STRING: Final = re.compile(rb"<si>(.*?)</si>|<si/>", re.DOTALL)
_CELL: Final = re.compile(rb'<c (r="[A-Z]+[0-9]+")([^>/]*)(/?>)(?:<v>([0-9]+)</v></c>)?')
_CELL_FORMAT: Final = re.compile(rb'( s=")([0-9]+)(")')
_ROW_OR_COLUMN: Final = re.compile(rb"<(?:row|col) [^>]*>")
_THEIR_FORMAT: Final = re.compile(rb'( s="| style=")([0-9]+)(")')
_CONDITIONAL: Final = re.compile(rb"<(?:cfRule|colorFilter|table|tableColumn|sortCondition) [^>]*>")
_CONDITIONAL_NUMBER: Final = re.compile(rb'((?: d| \w+D)xfId=")([0-9]+)(")')
_SELECTED: Final = re.compile(rb'(<sheetView\b[^>]*?) tabSelected="1"')
_FORMULA: Final = re.compile(
    rb"<(?:\w+:)?(?:f|formula[12]?|calculatedColumnFormula|totalsRowFormula)[ >][^<]*"
)
_SHARED: Final = b' t="s"'
_INLINE: Final = b' t="inlineStr"'


def shared_strings(part: bytes) -> tuple[bytes, ...]:
    """The texts of our shared strings part, with their runs and kept spaces, by number."""
    return tuple(found[1] or b"<t/>" for found in _STRING.finditer(part))


def sheet(part: bytes, texts: Sequence[bytes], numbers: Numbers) -> bytes:
    """The sheet with its texts inside it, the merged numbers of its formats, and not selected."""
    known: dict[bytes, bytes] = {}

    def cell(found: re.Match[bytes]) -> bytes:
        where, said, end, value = found.groups()
        new = known.get(said)
        if new is None:
            new = known[said] = _renumbered(_CELL_FORMAT, said, numbers.cells)
        if value is None:
            return b"<c " + where + new + end
        if _SHARED not in new:
            return b"<c " + where + new + end + b"<v>" + value + b"</v></c>"
        text = texts[int(value)]
        return b"<c " + where + new.replace(_SHARED, _INLINE) + b"><is>" + text + b"</is></c>"

    lined = _ROW_OR_COLUMN.sub(
        lambda found: _renumbered(_THEIR_FORMAT, found[0], numbers.cells), _CELL.sub(cell, part)
    )
    return _SELECTED.sub(rb"\1", _conditional(lined, numbers))


def _conditional(part: bytes, numbers: Numbers) -> bytes:
    return _CONDITIONAL.sub(
        lambda found: _renumbered(_CONDITIONAL_NUMBER, found[0], numbers.conditional), part
    )


def _renumbered(which: re.Pattern[bytes], text: bytes, numbers: Mapping[int, int]) -> bytes:
    return which.sub(lambda found: found[1] + b"%d" % numbers[int(found[2])] + found[3], text)


def table(part: bytes, number: int, names: Mapping[str, str], numbers: Numbers) -> bytes:
    """A table of ours with a number, a name and formats that are free in the merged workbook."""
    numbered = re.sub(rb'(<table [^>]*? id=")[0-9]+(")', rb"\g<1>%d\2" % number, part, count=1)
    for old, new in names.items():
        for attribute in (b"name", b"displayName"):
            numbered = numbered.replace(
                b' %s="%s" ' % (attribute, old.encode()),
                b' %s="%s" ' % (attribute, new.encode()),
                1,
            )
    return tables_renamed(_conditional(numbered, numbers), names)


def tables_renamed(part: bytes, names: Mapping[str, str]) -> bytes:
    """The part with the new names of our tables in its formulas (`Old[Price]`)."""
    if not names:
        return part
    old = "|".join(re.escape(name) for name in names)
    which = re.compile(rf"(?<![\w.])({old})(?=\[)".encode())

    def renamed(found: re.Match[bytes]) -> bytes:
        return which.sub(lambda each: names[each[1].decode()].encode(), found[0])

    return _FORMULA.sub(renamed, part)
