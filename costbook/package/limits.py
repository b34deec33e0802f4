"""How much a workbook may hold: the one place where every limit stands.

None comes near a book that a person keeps; each is far below what costs minutes or gigabytes.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

__all__ = [
    "AROUND_CELLS",
    "DEEPEST",
    "HOLLOW",
    "LAST_COLUMN",
    "LAST_ROW",
    "LONGEST_PIECE",
    "LONGEST_TAB",
    "LONGEST_TEXT",
    "MEGABYTE",
    "MOST_ATTRIBUTES",
    "MOST_BYTES",
    "MOST_FORMATS",
    "MOST_FOR_AN_ELEMENT",
    "MOST_IN_A_TAG",
    "MOST_IN_PARTS",
    "MOST_MONTHS",
    "MOST_NAMESPACES",
    "MOST_PARTS",
    "MOST_READ",
    "MOST_READ_BYTES",
    "MOST_ROWS",
    "MOST_SECONDS",
    "MOST_SERIES_BYTES",
    "MOST_SHEETS",
    "MOST_SPACE",
    "MOST_SPACE_OLD",
    "OTHERWISE",
    "USUAL_FOLDING",
]

MEGABYTE: Final = 1024 * 1024

MOST_BYTES: Final = 150 * MEGABYTE
"""Bytes that any workbook may have on the disk, and unfold to."""
USUAL_FOLDING: Final = 40
"""A workbook may unfold further, up to so many times its own size: a large book of real sheets is
folded 10 to 20 times, one made to do harm hundreds of times."""
MOST_PARTS: Final = 10_000
"""Parts of one file: a sheet with its notes, drawings and charts has about ten."""
MOST_SHEETS: Final = 1_000
LONGEST_TAB: Final = 255
"""Letters of a tab's name; Excel allows 31."""

LAST_ROW: Final = 1_048_576
LAST_COLUMN: Final = 16_384
"""The grid of every spreadsheet program."""
LONGEST_TEXT: Final = 32_767
"""Letters that a cell may hold, in every spreadsheet program."""

MOST_READ: Final = 1_000_000
"""XML elements of all the sheets that are read (a filled cell has two or three); of an .xls its
records, of an .ods every cell that it repeats, too."""
MOST_ROWS: Final = 50_000
"""Filled rows of all the sheets that are read: a lifetime of receipts."""
MOST_READ_BYTES: Final = 50 * MEGABYTE
"""Bytes of all the sheets that are read."""
MOST_IN_PARTS: Final = MappingProxyType(
    {
        "worksheet": 8_000_000,  # not read, only copied: our own Trial workings of a large book
        "sst": 1_000_000,
        "document-content": 1_000_000,
        "calcChain": 2_000_000,
        "pivotCacheRecords": 2_000_000,
        "externalLink": 2_000_000,
        "workbook": 100_000,
        "Relationships": 100_000,
        "Types": 100_000,
    }
)
"""XML elements that one part may have, by the name of its outermost."""
OTHERWISE: Final = 250_000
"""XML elements of any other part: styles, drawings, notes."""
HOLLOW: Final = 20 * MEGABYTE
MOST_FOR_AN_ELEMENT: Final = 400
"""Bytes that a sheet may have, and then for each of its elements; real ones have 15 to 50."""
AROUND_CELLS: Final = 250_000
"""XML elements of a sheet before and after its cells: merged cells, rules, links."""
MOST_FORMATS: Final = 65_490
"""Cell formats that spreadsheet programs allow, and so named styles, fonts and borders."""
MOST_ATTRIBUTES: Final = 1_000_000
"""XML attributes of one part, beside four for each of its elements."""
MOST_IN_A_TAG: Final = 1_000
"""XML attributes of one element."""
DEEPEST: Final = 500
"""XML elements within each other; what programs write is some ten deep."""
MOST_NAMESPACES: Final = 50_000
"""Namespaces that one part may declare."""
LONGEST_PIECE: Final = MEGABYTE
"""Bytes of one XML tag with the text behind it; ten times as many in what other programs keep for
themselves (customXml)."""

MOST_SERIES_BYTES: Final = 2 * MEGABYTE
MOST_MONTHS: Final = 10_000
"""Rows of a series of prices: 800 years of months, 27 of days."""

MOST_SECONDS: Final = 120
"""Of computing, to read a workbook: some twenty times what the largest real one takes."""
MOST_SPACE: Final = 2048 * MEGABYTE
"""Of memory, to read a workbook, beside what the program itself has."""
MOST_SPACE_OLD: Final = 400 * MEGABYTE
"""The same for an .xls, whose parser follows lengths that lead back."""
