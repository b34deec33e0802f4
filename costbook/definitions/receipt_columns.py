"""The kinds of column that look through all receipts, or all packs, at once."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "Discounts",
    "FirstRank",
    "LatestPack",
    "LatestRank",
    "LeastWhere",
    "YearSpend",
]


@dataclass(frozen=True, slots=True)
class LatestRank:
    """The highest rank among an item's purchases up to a day, of one supplier or of any.

    Zero where there is none; ``supplier`` names the column with the supplier's key. Purchases
    without a supplier are nobody's, unless ``unnamed_too``: then they are one supplier's.
    """

    key: str
    up_to: str
    supplier: str = ""
    unnamed_too: bool = False


@dataclass(frozen=True, slots=True)
class FirstRank:
    """The lowest rank among an item's purchases: its first; zero where there is none."""

    key: str


@dataclass(frozen=True, slots=True)
class YearSpend:
    """What was spent at a supplier in the year up to a day [money]."""

    supplier: str
    day: str


@dataclass(frozen=True, slots=True)
class LeastWhere:
    """The least of a column among the rows of one key whose size is smaller; zero for none."""

    table: str
    column: str
    key: str
    size: str


@dataclass(frozen=True, slots=True)
class LatestPack:
    """The highest rank up to a day among an item's purchases from one supplier in one pack size.

    ``held`` names the column that says how much the pack holds; zero where there is none.
    """

    key: str
    supplier: str
    held: str
    up_to: str


@dataclass(frozen=True, slots=True)
class Discounts:
    """What rows without a size take off an item, from one supplier on one day [money]."""

    key: str
    supplier: str
    day: str
