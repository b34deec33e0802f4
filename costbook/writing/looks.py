"""How each role looks: one quiet scheme, in plain data that any writer of sheets can read.

Roles differ in weight, slant, lines and boxes, and only then in colour, so that a sheet printed in
black and white says the same. The words are nobody's: a line is thin, medium, dotted or hair as in
ISO/IEC 29500, and stands above, below, left or right of a cell.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from costbook.definitions.columns import Show
from costbook.definitions.day_codes import PLAIN_DAY
from costbook.writing.description import Look, Role

__all__ = [
    "FILLS",
    "FONT",
    "INK",
    "PAPER",
    "RULE",
    "appearance",
    "bold",
    "marked",
    "number_format",
    "size",
    "wraps",
]

INK, PAPER, BAND, RULE = "#22343A", "#FFFFFF", "#ECE8DC", "#8D9891"
ALERT, ALERT_BAND = "#7A2E12", "#F7EBE3"
"""Dark ink on white, oat-coloured bands, grey rules, rust for what to look at."""

FONT: Final = "Arial"
"""On every machine: where it isn't, a font of the same widths stands in for it."""
PLAIN_SIZE: Final = 10.0

_SIDES: Final = ("above", "below", "left", "right")


def _lines(kind: str, colour: str, *sides: str) -> dict[str, Any]:
    """A line of a kind and a colour on each of some sides."""
    return dict.fromkeys(sides, (kind, colour))


_BOX: Final = _lines("thin", INK, *_SIDES)

ROLES: Final[Mapping[Role, Mapping[str, Any]]] = MappingProxyType(
    {
        Role.TITLE: {"bold": True, "size": 16, "upright": "middle"},
        Role.LEAD: {},
        Role.SECTION: {"bold": True, "size": 12, **_lines("medium", INK, "below")},
        Role.HEADING: {
            "bold": True,
            "fill": BAND,
            "upright": "bottom",
            **_lines("thin", "", "below"),
        },
        Role.LABEL: {},
        Role.GIVEN: {"italic": True, **_lines("dotted", RULE, "below")},
        Role.COMPUTED: {},
        Role.ANSWER: {"bold": True, "fill": BAND, **_BOX},
        Role.SUM: {"bold": True},
        Role.TOTAL: {"bold": True, **_lines("thin", INK, "above")},
        Role.TYPE_HERE: {"italic": True, **_lines("dotted", INK, *_SIDES)},
        Role.EXAMPLE: {"italic": True, "ink": "#5A6B63"},
        Role.FLAG: {
            "bold": True,
            "ink": ALERT,
            "fill": ALERT_BAND,
            **_lines("thin", ALERT, "left"),
        },
        Role.LARGE: {
            "bold": True,
            "size": 24,
            "upright": "middle",
            **_lines("dotted", RULE, "below"),
        },
        Role.NOTE: {"italic": True, "size": 9},
        Role.CAUTION: {**_lines("thin", "", "above", "below"), "upright": "middle"},
        Role.BAR: {"ink": "#5A6B63"},
        Role.TICK: _BOX,
        Role.UNKNOWN: {"bold": True, "ink": ALERT},
        Role.UNSEEN: {"size": 1},
    }
)

FILLS: Final = (
    ("solid", "#4A5F57"),
    ("wide_upward_diagonal", "#8C6D3F"),
    ("solid", "#C9C3AE"),
    ("small_grid", "#56678A"),
    ("dotted_diamond", "#7B5B70"),
    ("light_horizontal", "#5C6E49"),
    ("dark_vertical", "#A0705C"),
    ("solid", "#FFFFFF"),
)
"""Patterns and colours of a chart's parts: neighbours differ in black and white too."""


def appearance(
    look: Look, places: int, day_code: str = "", *, leads_on: bool = False
) -> dict[str, Any]:
    """How a look appears; money has this many decimal places, and a text may lead somewhere.

    ``font`` and its ``size`` [points], ``ink`` and ``fill`` as #RRGGBB, ``bold``, ``italic``,
    ``underlined``; a line's kind and colour (the ink's, where empty) by its side; ``across``
    (left, right) and ``upright`` (top, middle, bottom); ``indent``, ``wraps``; and ``figures``, a
    number format as in ISO/IEC 29500.
    """
    said: dict[str, Any] = {"font": FONT, "size": PLAIN_SIZE, "ink": INK, "upright": "top"}
    if look.ruled:
        said |= _lines("hair", RULE, "above")
    said |= _lines("dotted", RULE, *look.cut)
    said |= ROLES[look.role]
    if look.show is not Show.TEXT:
        said["across"] = "right"
    elif look.indent:
        said |= {"across": "left", "indent": look.indent}
    if wraps(look):
        said["wraps"] = True
    if leads_on and look.show is Show.TEXT:
        said["underlined"] = True
    return said | {"figures": number_format(look, places, day_code)}


def marked(role: Role) -> dict[str, Any]:
    """What a mark lays over a cell's own look: weight, colours and a bar, never size or place."""
    kept = ("bold", "italic", "ink", "fill", "left")
    return {name: ROLES[role][name] for name in kept if name in ROLES[role]}


def wraps(look: Look) -> bool:
    """Whether a text that is too long goes on in a second line: headings always do."""
    return look.wrap or look.role is Role.HEADING


def bold(role: Role) -> bool:
    """Whether a role's texts are bold."""
    return bool(ROLES[role].get("bold"))


def size(role: Role) -> float:
    """The size of a role's texts [points]."""
    return float(ROLES[role].get("size", PLAIN_SIZE))


def number_format(look: Look, places: int, day_code: str = "") -> str:
    """The number format of a look; money has this many decimal places, days are written so."""
    if look.role is Role.UNSEEN:
        return ";;;@"  # a text may be a chart's label, shown as its cell is; in the cell it is tiny
    cents = "." + "0" * places if places else ""
    code = {
        Show.TEXT: "General",
        Show.MONEY: f"#,##0{cents};-#,##0{cents}",
        Show.FINE_MONEY: "#,##0.0000##;-#,##0.0000##",
        Show.UNIT_PRICE: f"[<1]#,##0.00##;#,##0{cents}",
        Show.NUMBER: "#,##0.###",
        Show.WHOLE: "0",
        Show.SHARE: "0.0%",
        Show.MINUTES: '#,##0.0" min"',
        Show.DATE: day_code or PLAIN_DAY,
    }[look.show]
    if not look.signed:
        return code
    above = code.split(";")[0]
    return f"+{above};-{above};{above}"
