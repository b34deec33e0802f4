"""Draft labels as a list for a label printer: a row a label, in a file of separated values.

A spreadsheet program that opens it must find texts and no formulas, so a text that begins as one
has an apostrophe before it.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from io import StringIO
from typing import Final

from costbook.book import one_line
from costbook.deciding.labels import DRAFT, DraftLabel

__all__ = ["HEADINGS", "is_label_list", "label_list"]

HEADINGS: Final = (
    *("Product", "Not finished", "Ingredients", "Allergens", "Net weight", "Batch and day"),
    *("Business and address", DRAFT),
)
_CODING: Final = "utf-8-sig"
"""Its mark tells spreadsheet programs that letters with accents are to come."""
_BEGINS_A_FORMULA: Final = ("=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""Signs, those of full width too, that make a program compute the text behind them."""


def label_list(labels: Sequence[DraftLabel]) -> bytes:
    """The file: its headings, and a row for each label."""
    text = StringIO()
    writer = csv.writer(text)  # its lines end as RFC 4180 has it
    writer.writerow(HEADINGS)
    for label in labels:
        said = (label.product, label.unfinished, label.statement, label.allergens.in_words())
        more = (label.net_said, label.batch_said, label.maker, DRAFT)
        writer.writerow(map(_harmless, (*said, *more)))
    return text.getvalue().encode(_CODING)


def is_label_list(content: bytes) -> bool:
    """Whether a file is such a list: it begins with these headings."""
    return content.startswith(label_list(()))


def _harmless(text: str) -> str:
    plain = one_line(text)
    return f"'{plain}" if plain.startswith(_BEGINS_A_FORMULA) else plain
