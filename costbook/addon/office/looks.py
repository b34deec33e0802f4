"""How cells look, as the description says it in neutral words → LibreOffice's properties."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from com.sun.star.lang import Locale

from costbook.addon.office.uno_values import address, enum, line_of

if TYPE_CHECKING:
    from costbook.addon.office.kinds import Block, Spot

__all__ = ["Formats", "colour", "dressed", "mark_style", "rectangles", "together"]

_INDENT = 370.4
"""A step of indent: three spaces of the plain font [hundredths of a millimetre]."""
_LINES = {"thin": (26, 0), "medium": (62, 0), "dotted": (26, 1), "hair": (2, 0)}
"""Width and style of a kind of line, as LibreOffice reads them from a file."""
_SIDES = {"above": "Top", "below": "Bottom", "left": "Left", "right": "Right"}
_UPRIGHT = {"top": 1, "middle": 2, "bottom": 3}
_ACROSS = {"left": "LEFT", "right": "RIGHT"}


class Formats:
    """Number formats of a document, by their code."""

    def __init__(self, document: Any) -> None:
        self._formats = document.NumberFormats
        self._locale = Locale("en", "US", "")
        self._keys: dict[str, int] = {}

    def key(self, code: str) -> int:
        """The key of a number format, which is added where it isn't known."""
        if code not in self._keys:
            key = self._formats.queryKey(code, self._locale, False)
            self._keys[code] = key if key >= 0 else self._formats.addNew(code, self._locale)
        return self._keys[code]


def colour(hashed: str) -> int:
    """#RRGGBB as a number; black where it is empty."""
    return int(hashed[1:], 16) if hashed else 0


def dressed(look: Mapping[str, Any], formats: Formats) -> dict[str, Any]:
    """The properties of cells of a look: all of them, so that none is left from before."""
    fill = look.get("fill")
    found = {
        "CharFontName": look["font"],
        "CharHeight": float(look["size"]),
        "CharUnderline": 1 if look.get("underlined") else 0,
        "IsCellBackgroundTransparent": not fill,
        "HoriJustify": enum(
            "table.CellHoriJustify", _ACROSS.get(look.get("across", ""), "STANDARD")
        ),
        "VertJustify": _UPRIGHT[look["upright"]],
        "ParaIndent": int(look.get("indent", 0) * _INDENT),
        "IsTextWrapped": bool(look.get("wraps")),
        "NumberFormat": formats.key(look["figures"]),
        **_weight_and_ink(look),
        **{f"{_SIDES[side]}Border2": _line(look.get(side)) for side in _SIDES},
    }
    if fill:
        found["CellBackColor"] = colour(fill)
    return found


def _weight_and_ink(look: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "CharColor": colour(look.get("ink", "")),
        "CharWeight": 150.0 if look.get("bold") else 100.0,
        "CharPosture": enum("awt.FontSlant", "ITALIC" if look.get("italic") else "NONE"),
    }


def _line(said: Any) -> Any:
    if not said:
        return line_of(0, 0, 0)
    kind, ink = said
    width, style = _LINES[kind]
    return line_of(colour(ink), width, style)


def mark_style(document: Any, mark: Mapping[str, Any]) -> str:
    """The name of the cell style that a mark lays over cells; it is made where it isn't there."""
    name = " ".join(["costbook mark", mark.get("ink", ""), mark.get("fill", "")]).strip()
    styles = document.StyleFamilies.getByName("CellStyles")
    if not styles.hasByName(name):
        styles.insertByName(name, document.createInstance("com.sun.star.style.CellStyle"))
        style = styles.getByName(name)
        style.CharWeight = 150.0 if mark.get("bold") else 100.0
        if "ink" in mark:
            style.CharColor = colour(mark["ink"])
        if "fill" in mark:
            style.CellBackColor = colour(mark["fill"])
        if "left" in mark:
            style.LeftBorder2 = _line(mark["left"])
    return name


def rectangles(places: Sequence[Spot]) -> list[Block]:
    """Few rectangles that cover some cells: runs in a row, and equal runs below each other."""
    runs: dict[tuple[int, int], list[list[int]]] = {}
    start = end = row = -1
    for at_row, column in [*sorted(places), (-1, -1)]:
        if (at_row, column) == (row, end + 1):
            end = column
            continue
        if row >= 0:
            below = runs.setdefault((start, end), [])
            if below and below[-1][1] == row - 1:
                below[-1][1] = row
            else:
                below.append([row, row])
        row, start, end = at_row, column, column
    return [
        (top, left, bottom, right) for (left, right), found in runs.items() for top, bottom in found
    ]


def together(document: Any, sheet: Any, areas: Sequence[Block]) -> Any:
    """Many areas of a sheet as one, so that what is set is set at once."""
    found = document.createInstance("com.sun.star.sheet.SheetCellRanges")
    found.addRangeAddresses(tuple(address(sheet, area) for area in areas), False)
    return found
