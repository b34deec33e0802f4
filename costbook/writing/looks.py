"""How each role looks: one quiet scheme, in plain data that any writer of sheets can read.

Roles differ in weight, slant, lines and boxes, and only then in colour, so that a sheet printed in
black and white says the same. The property names are XlsxWriter's.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from costbook.definitions.columns import Show
from costbook.writing.description import Look, Role

__all__ = [
    "FILLS",
    "FONT",
    "INK",
    "PAPER",
    "RULE",
    "bold",
    "marked",
    "number_format",
    "properties",
    "size",
    "wraps",
]

INK, PAPER, BAND, RULE = "#22343A", "#FFFFFF", "#ECE8DC", "#8D9891"
ALERT, ALERT_BAND = "#7A2E12", "#F7EBE3"
"""Dark ink on white, oat-coloured bands, grey rules, rust for what to look at."""

FONT: Final = "Arial"
"""On every machine: where it isn't, a font of the same widths stands in for it."""
PLAIN_SIZE: Final = 10.0

_BOX: Final[dict[str, Any]] = {"border": 1, "border_color": INK}

ROLES: Final[Mapping[Role, Mapping[str, Any]]] = MappingProxyType(
    {
        Role.TITLE: {"bold": True, "font_size": 16, "valign": "vcenter"},
        Role.LEAD: {},
        Role.SECTION: {"bold": True, "font_size": 12, "bottom": 2, "bottom_color": INK},
        Role.HEADING: {"bold": True, "bg_color": BAND, "valign": "bottom", "bottom": 1},
        Role.LABEL: {},
        Role.GIVEN: {"italic": True, "bottom": 4, "bottom_color": RULE},
        Role.COMPUTED: {},
        Role.ANSWER: {"bold": True, "bg_color": BAND, **_BOX},
        Role.SUM: {"bold": True},
        Role.TOTAL: {"bold": True, "top": 1, "top_color": INK},
        Role.TYPE_HERE: {"italic": True, "border": 4, "border_color": INK},
        Role.EXAMPLE: {"italic": True, "font_color": "#5A6B63"},
        Role.FLAG: {
            "bold": True,
            "font_color": ALERT,
            "bg_color": ALERT_BAND,
            "left": 1,
            "left_color": ALERT,
        },
        Role.NOTE: {"italic": True, "font_size": 9},
        Role.CAUTION: {"top": 1, "bottom": 1, "valign": "vcenter"},
        Role.BAR: {"font_color": "#5A6B63"},
        Role.TICK: _BOX,
        Role.UNKNOWN: {"bold": True, "font_color": ALERT},
        Role.UNSEEN: {"font_size": 1},
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


def properties(look: Look) -> dict[str, Any]:
    """What XlsxWriter is told about a look, but for its number format."""
    said: dict[str, Any] = {
        "font_name": FONT,
        "font_size": PLAIN_SIZE,
        "font_color": INK,
        "valign": "top",
    }
    if look.ruled:
        said |= {"top": 7, "top_color": RULE}
    said |= ROLES[look.role]
    if look.show is not Show.TEXT:
        said["align"] = "right"
    elif look.indent:
        said |= {"align": "left", "indent": look.indent}
    if wraps(look):
        said["text_wrap"] = True
    return said


def marked(role: Role) -> dict[str, Any]:
    """What a mark lays over a cell's own look: weight, colours and a bar, never size or place."""
    kept = ("bold", "italic", "font_color", "bg_color", "left", "left_color")
    return {name: ROLES[role][name] for name in kept if name in ROLES[role]}


def wraps(look: Look) -> bool:
    """Whether a text that is too long goes on in a second line: headings always do."""
    return look.wrap or look.role is Role.HEADING


def bold(role: Role) -> bool:
    """Whether a role's texts are bold."""
    return bool(ROLES[role].get("bold"))


def size(role: Role) -> float:
    """The size of a role's texts [points]."""
    return float(ROLES[role].get("font_size", PLAIN_SIZE))


def number_format(look: Look, places: int) -> str:
    """The number format of a look; money has this many decimal places."""
    if look.role is Role.UNSEEN:
        return ";;;"
    cents = "." + "0" * places if places else ""
    code = {
        Show.TEXT: "General",
        Show.MONEY: f"#,##0{cents};-#,##0{cents}",
        Show.FINE_MONEY: "#,##0.0000##;-#,##0.0000##",
        Show.NUMBER: "#,##0.###",
        Show.WHOLE: "0",
        Show.SHARE: "0.0%",
        Show.MINUTES: '#,##0.0" min"',
        Show.DATE: "d mmm yyyy",
    }[look.show]
    if not look.signed:
        return code
    above = code.split(";")[0]
    return f"+{above};-{above};{above}"
