"""A chart of ours with everything said that programs would otherwise guess.

What XlsxWriter leaves out is off in its eyes, as in Excel 2007. In a workbook of a later Excel the
same gap means on, as the format has it (ECMA-376 part 1, 21.2), and LibreOffice goes by that: each
label would show its series and category, and lines would be smoothed.
"""

from __future__ import annotations

from typing import Final

from costbook.package.xml import Element, children, local, parse, placed, serialise

__all__ = ["spelled_out"]

_SHOWN: Final = (
    *("showLegendKey", "showVal", "showCatName", "showSerName", "showPercent", "showBubbleSize"),
)
_AXIS: Final = ("majorTickMark", "minorTickMark", "tickLblPos", "spPr", "txPr", "crossAx")
_TITLE: Final = ("overlay", "spPr", "txPr")
_SERIES: Final = (
    *("invertIfNegative", "pictureOptions", "dPt", "dLbls", "trendline", "errBars", "cat", "val"),
    *("smooth", "shape", "extLst"),
)
_OFF: Final = {
    "chartSpace": ("roundedCorners",),
    "chart": ("autoTitleDeleted",),
    "title": ("overlay",),
    "legend": ("overlay",),
    "barChart": ("varyColors",),
    "lineChart": ("varyColors",),
    "dLbls": _SHOWN,
    "dLbl": _SHOWN,
}
"""What is off in an element unless it says otherwise."""
_OFF_IN_SERIES: Final = {"barChart": "invertIfNegative", "lineChart": "smooth"}
_TICKS: Final = {"majorTickMark": "out", "minorTickMark": "none"}
_ORDER: Final = {
    "chartSpace": (
        *("roundedCorners", "AlternateContent", "style", "clrMapOvr", "pivotSource"),
        *("protection", "chart"),
    ),
    "chart": (
        "autoTitleDeleted",
        "pivotFmts",
        "view3D",
        "floor",
        "sideWall",
        "backWall",
        "plotArea",
    ),
    "title": _TITLE,
    "legend": _TITLE,
    "barChart": ("varyColors", "ser"),
    "lineChart": ("varyColors", "ser"),
    "dLbls": (*_SHOWN, "separator", "showLeaderLines", "leaderLines", "extLst"),
    "dLbl": (*_SHOWN, "separator", "extLst"),
}
"""From the first of those on: what stands in an element, in the format's order."""


def spelled_out(part: bytes) -> bytes:
    """The chart's part with every label, tick and option written out."""
    root = parse(part)
    for element in list(root.iter()):
        name = local(element)
        deleted = _has(element, "delete")
        for option in () if deleted else _OFF.get(name, ()):
            placed(element, option, _ORDER[name], {"val": "0"})
        if name in _OFF_IN_SERIES:
            for series in children(element, "ser"):
                placed(series, _OFF_IN_SERIES[name], _SERIES, {"val": "0"})
        if name.endswith("Ax") and _has(element, "scaling"):
            for tick, where in _TICKS.items():
                placed(element, tick, _AXIS, {"val": where})
    return serialise(root, part)


def _has(element: Element, name: str) -> bool:
    return next(children(element, name), None) is not None
