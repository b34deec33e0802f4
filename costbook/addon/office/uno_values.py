"""LibreOffice's own kinds of values, made in one line."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.table import BorderLine2, CellAddress, CellRangeAddress

__all__ = ["address", "area_of", "enum", "line_of", "place_of", "properties"]


def properties(**wanted: Any) -> tuple[Any, ...]:
    """Named arguments."""
    return tuple(PropertyValue(Name=name, Value=value) for name, value in wanted.items())


def address(sheet: Any, area: Iterable[int]) -> Any:
    """The address of an area of a sheet."""
    top, left, bottom, right = area
    return CellRangeAddress(sheet.RangeAddress.Sheet, left, top, right, bottom)


def place_of(sheet: Any, row: int, column: int) -> Any:
    """The address of a cell of a sheet."""
    return CellAddress(sheet.RangeAddress.Sheet, column, row)


def area_of(sheet: Any, area: Iterable[int]) -> Any:
    """The cells of an area of a sheet."""
    top, left, bottom, right = area
    return sheet.getCellRangeByPosition(left, top, right, bottom)


def line_of(colour: int, width: int, style: int) -> Any:
    """A line of a cell's border; widths are hundredths of a millimetre."""
    return BorderLine2(colour, 0, width, 0, style, width)


def enum(kind: str, value: str) -> Any:
    """A value of an enumeration, as in ``enum("awt.FontSlant", "ITALIC")``."""
    return uno.Enum(f"com.sun.star.{kind}", value)
