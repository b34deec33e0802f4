"""The page set-up and frozen rows of one of our sheets: what Redo doesn't bring back itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

__all__ = ["furnish", "show_as"]

_A4 = (21000, 29700)
_INCH = 2540
_FOOTER = "Sums from your own figures, not advice"


def furnish(document: Any, sheet: Any, said: Mapping[str, Any]) -> None:
    """Set up a sheet's pages."""
    page = said["page"]
    _page_style(document, sheet, said["title"], page)


def _page_style(document: Any, sheet: Any, title: str, page: Mapping[str, Any]) -> None:
    name = f"costbook {title}"
    styles = document.StyleFamilies.getByName("PageStyles")
    if not styles.hasByName(name):
        styles.insertByName(name, document.createInstance("com.sun.star.style.PageStyle"))
    style = styles.getByName(name)
    short, long = _A4
    style.IsLandscape = page["landscape"]
    style.Width, style.Height = (long, short) if page["landscape"] else (short, long)
    margins = {side: round(inches * _INCH) for side, inches in page["margins"].items()}
    style.LeftMargin, style.RightMargin = margins["left"], margins["right"]
    style.TopMargin, style.BottomMargin = margins["top"], round(_FOOT * _INCH)
    style.HeaderIsOn = False
    style.FooterIsOn = True
    style.ScaleToPagesX, style.ScaleToPagesY = page["wide"], 0
    _foot(document, style, title)
    sheet.PageStyle = name


_FOOT = 0.3
"""The foot stands in the lower margin, so far from the paper's edge [inches]."""


def _foot(document: Any, style: Any, title: str) -> None:
    foot = style.RightPageFooterContent
    foot.LeftText.String = title
    foot.CenterText.String = _FOOTER
    right = foot.RightText
    right.String = ""
    cursor = right.createTextCursor()
    for part in ("PageNumber", " of ", "PageCount"):
        cursor.gotoEnd(False)
        if part.startswith(" "):
            right.insertString(cursor, part, False)
        else:
            right.insertTextContent(
                cursor, document.createInstance(f"com.sun.star.text.TextField.{part}"), False
            )
    style.RightPageFooterContent = foot


def show_as(controller: Any, sheet: Any, said: Mapping[str, Any]) -> None:
    """Freeze rows and columns, and leave out the grid: both belong to the window."""
    controller.setActiveSheet(sheet)
    rows, columns = said["frozen"]
    if rows or columns:
        controller.freezeAtPosition(columns, rows)
    controller.ShowGrid = False
