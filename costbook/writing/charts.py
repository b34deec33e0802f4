"""Charts as plain data → what XlsxWriter is told about them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final

from costbook.writing.layout import column_letters, sheet_name
from costbook.writing.looks import FILLS, FONT, INK, PAPER, RULE

__all__ = ["kind_of", "setting_of"]

_LABEL: Final[dict[str, Any]] = {"name": FONT, "size": 10, "color": INK}
_TEXT: Final[dict[str, Any]] = {"name": FONT, "size": 10, "bold": False, "color": INK}
_DASHES: Final = ("solid", "dash", "round_dot", "dash_dot", "long_dash", "square_dot")
_MARKERS: Final = ("circle", "square", "triangle", "diamond", "x", "plus")


ChartSaid = Mapping[str, Any]
"""A chart, or one of its series, as ``plain`` says it."""


def kind_of(chart: ChartSaid) -> dict[str, str]:
    """The kind of chart in XlsxWriter's words."""
    if chart["kind"] == "bars":
        return {"type": "bar", "subtype": "percent_stacked" if chart["whole"] else "stacked"}
    return {"type": "column" if chart["kind"] == "columns" else "line"}


def setting_of(chart: ChartSaid, tab: str) -> dict[str, Any]:
    """What each of XlsxWriter's ``set_`` methods and ``add_series`` are told."""
    code, lying, series = chart["figures"], chart["kind"] == "bars", chart["series"]
    along: dict[str, Any] = {"num_font": _TEXT, "num_format": code, "line": {"color": INK}}
    up: dict[str, Any] = {"num_font": _TEXT, "num_format": code, "name_font": _TEXT}
    if chart["unit"]:
        up["name"] = _text(chart["unit"])
    if lying:
        along |= {"reverse": True, "label_position": "low"}
        up |= {"visible": not chart["whole"], "major_gridlines": {"visible": False}}
        if chart["begins"]:
            up["min"] = chart["begins"]
    else:
        # below the columns that hang down, not across them
        along |= {"label_position": "low", "name": _text(chart["along"]), "name_font": _TEXT}
        told = any(each["labels"] for each in series)  # figures at the points need no lines to read
        up["major_gridlines"] = {"visible": not told, "line": {"color": RULE, "width": 0.5}}
    return {
        "series": [_series(chart, tab, *each) for each in enumerate(series)],
        "x_axis": up if lying else along,
        "y_axis": along if lying else up,
        "title": {
            "name": _text(chart["title"]),
            "name_font": {"name": FONT, "size": 13, "bold": True, "color": INK},
            "overlay": False,
        },
        "legend": {"none": True} if _names_itself(series) else _LEGEND,
        "size": dict(zip(("width", "height"), chart["size"], strict=True)),
        "chartarea": {"border": {"none": True}, "fill": {"color": PAPER}},
        "plotarea": {"fill": {"none": True}},
    }


_LIKE_A_CELL: Final = re.compile(r"!(?=\$?[A-Z]+\$?[0-9])")


def _text(text: str) -> str:
    """A text that XlsxWriter won't take for a reference to cells: a product may be called =A!A1."""
    apart = _LIKE_A_CELL.sub("! ", text)
    return f" {apart}" if apart.startswith("=") else apart


_LEGEND: Final[dict[str, Any]] = {"position": "bottom", "font": _TEXT}


def _names_itself(series: Sequence[ChartSaid]) -> bool:
    """Whether the chart's own labels or title say what its series are."""
    return len(series) == 1 or bool(series[0]["labels"])


def _series(chart: ChartSaid, tab: str, number: int, series: ChartSaid) -> dict[str, Any]:
    name = series["name"]
    said: dict[str, Any] = {
        "name": _text(name) if isinstance(name, str) else _cell(tab, *name),
        "categories": [tab, *chart["categories"]],
        "values": [tab, *series["values"]],
    }
    if chart["kind"] == "lines":
        said |= _lined(number)
    else:
        unseen = {"fill": {"none": True}, "border": {"none": True}}
        said |= (unseen if series["unseen"] else _filled(number)) | {"gap": 40}
    if series["labels"]:
        said["data_labels"] = _labels(series["labels"], chart["figures"])
        if chart["kind"] == "lines":
            said["data_labels"]["position"] = "above"
    return said


def _filled(number: int) -> dict[str, Any]:
    pattern, colour = FILLS[number % len(FILLS)]
    border = {"border": {"color": INK, "width": 0.75}}
    if pattern == "solid":
        return border | {"fill": {"color": colour}}
    return border | {"pattern": {"pattern": pattern, "fg_color": colour, "bg_color": PAPER}}


def _lined(number: int) -> dict[str, Any]:
    colours = [colour for _, colour in FILLS if colour != PAPER]
    colour = colours[number % len(colours)]
    dash = _DASHES[number % len(_DASHES)]
    marker = {"type": _MARKERS[number % len(_MARKERS)], "size": 6}
    return {
        "line": {"color": colour, "width": 2, "dash_type": dash},
        "marker": marker | {"border": {"color": INK}, "fill": {"color": PAPER}},
    }


def _labels(labels: Sequence[str | None], code: str) -> dict[str, Any]:
    """Labels on white, so that they can be read on any pattern."""
    each: list[Any] = []
    for label in labels:
        if label is None:
            each.append(None)
        elif label:
            each.append({"value": _text(label), "font": _LABEL, "fill": {"color": PAPER}})
        else:
            each.append({"delete": True})
    return {
        "value": True,
        "num_format": code,
        "font": _LABEL,
        "fill": {"color": PAPER},
        "custom": each,
    }


def _cell(tab: str, row: int, column: int) -> str:
    """A cell as a chart's formulas name it."""
    return f"={sheet_name(tab)}!${column_letters(column)}${row + 1}"
