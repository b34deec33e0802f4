"""Exact numbers, units, and sums that know whether they are whole."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

__all__ = [
    "BASE",
    "GAP",
    "MINOR",
    "UNITS",
    "ZERO",
    "Blank",
    "Part",
    "Row",
    "given",
    "key",
    "number",
    "pct",
    "records",
    "sells",
    "share",
    "total_of",
    "up_to",
]

Row = dict[str, Any]

# NIST SP 811 and Handbook 44 App. C (from memory): kind, and how many base units in one.
_LB, _GAL, _INCH = Fraction("453.59237"), Fraction("3785.411784"), Fraction("2.54")
UNITS: Final[dict[str, tuple[str, Fraction]]] = {
    "g": ("mass", Fraction(1)),
    "kg": ("mass", Fraction(1000)),
    "lb": ("mass", _LB),
    "oz": ("mass", _LB / 16),
    "ml": ("volume", Fraction(1)),
    "l": ("volume", Fraction(1000)),
    "gal": ("volume", _GAL),
    "qt": ("volume", _GAL / 4),
    "pt": ("volume", _GAL / 8),
    "cup": ("volume", _GAL / 16),
    "fl oz": ("volume", _GAL / 128),
    "tbsp": ("volume", _GAL / 256),
    "tsp": ("volume", _GAL / 768),
    "ea": ("piece", Fraction(1)),
    "dozen": ("piece", Fraction(12)),
    "cm": ("length", Fraction(1)),
    "m": ("length", Fraction(100)),
    "in": ("length", _INCH),
    "ft": ("length", 12 * _INCH),
    "sq cm": ("area", Fraction(1)),
    "sq m": ("area", Fraction(10000)),
    "sq in": ("area", _INCH**2),
    "sq ft": ("area", 144 * _INCH**2),
}
BASE: Final = {"mass": "g", "volume": "ml", "piece": "ea", "length": "cm", "area": "cm2"}
MINOR: Final = {"USD": 2, "EUR": 2, "JPY": 0, "KWD": 3}


@dataclass(frozen=True)
class Part:
    """What is known of a sum, and whether that is all of it."""

    known: Fraction
    whole: bool = True

    def __add__(self, other: Part) -> Part:
        return Part(self.known + other.known, self.whole and other.whole)

    def __mul__(self, factor: Fraction | None) -> Part:
        """A whole times a missing figure is not known at all."""
        return GAP if factor is None else Part(self.known * factor, self.whole)

    @property
    def figure(self) -> Fraction | None:
        return self.known if self.whole else None


ZERO: Final = Part(Fraction(0))
GAP: Final = Part(Fraction(0), whole=False)


def total_of(parts: Iterable[Part]) -> Part:
    return sum(parts, ZERO)


def part(figure: Fraction | None) -> Part:
    return GAP if figure is None else Part(figure)


def number(cell: object, blank: Fraction | int | None = None) -> Fraction | None:
    """The decimal that the cell shows: 0.1 is a tenth."""
    if cell in (None, ""):
        return None if blank is None else Fraction(blank)
    return Fraction(str(cell))


def given(cell: object, blank: Fraction | int = 0) -> Fraction:
    figure = number(cell, blank)
    assert figure is not None
    return figure


def share(cell: object, blank: Fraction | int | None = 0, limit: int = 1) -> Fraction | None:
    """Above the limit a percentage, up to it a share."""
    figure = number(cell, blank)
    return figure / 100 if figure is not None and figure > limit else figure


def pct(cell: object, blank: Fraction | int = 0) -> Fraction:
    part = share(cell, blank)
    assert part is not None
    return part


def key(cell: object) -> str:
    """A name without its case, spaces, commas, and what can't be seen of it."""
    text = unicodedata.normalize("NFKC", str(cell or ""))
    seen = "".join(c for c in text if unicodedata.category(c) != "Cf")
    return " ".join(seen.replace(",", " ").lower().split())


def up_to(value: Fraction, step: Fraction) -> Fraction:
    """CEILING(ROUND(x, 6), step): binary noise never moves a figure by a step."""
    rounded = Fraction(math.floor(value * 10**6 + Fraction(1, 2)), 10**6)
    return math.ceil(rounded / step) * step


def records(rows: list[list[object]]) -> list[Row]:
    """Each row by its headings, with its place; a column that isn't there is empty."""
    headings = [key(heading) for heading in rows[0]]
    return [
        Blank([*zip(headings, row, strict=False), ("#", at)]) for at, row in enumerate(rows) if at
    ]


class Blank(dict[str, Any]):
    """A row in which a missing column is an empty cell."""

    def __missing__(self, key: str) -> None:
        return None


def sells(product: Row, outlet: Row) -> bool:
    """Whether a product is sold at an outlet: everywhere, unless it says where."""
    listed = str(product.get("sold at") or "")
    return not listed or key(outlet.get("outlet")) in map(key, listed.split(","))
