"""A person's text made plain, and the sentence that answers one that can't be read."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.book import one_line

__all__ = ["LONGEST", "Unclear", "plainly", "quoted", "tidy"]

LONGEST: Final = 200
"""Characters that are looked at: a longer cell is a note, not a number."""


@dataclass(frozen=True, slots=True)
class Unclear:
    """What is wrong with a text, and what to do: two sentences that name no cell."""

    what: str
    remedy: str


_ALIKE: Final = str.maketrans(
    {
        "\N{MINUS SIGN}": "-",
        "\N{HYPHEN}": "-",
        "\N{NON-BREAKING HYPHEN}": "-",
        "\N{FIGURE DASH}": "–",
        "\N{EM DASH}": "–",
        "\N{DIVISION SLASH}": "/",
        "\N{MULTIPLICATION X}": "×",
        "\N{HEAVY MULTIPLICATION X}": "×",
    }
    | {wide: wide - 0xFEE0 for wide in range(0xFF01, 0xFF5F)}  # ５００ ｇ, as some keyboards type
)
_GLYPH: Final = re.compile("[¼-¾⅐-⅞↉]")


def tidy(text: str) -> str:
    """Return the text with single plain spaces, like marks alike, and ½ written as 1⁄2.

    An apostrophe in front is a spreadsheet's own mark for "this is text", and goes.
    """
    spelled = _GLYPH.sub(lambda glyph: " " + unicodedata.normalize("NFKC", glyph[0]), text)
    return " ".join(spelled.translate(_ALIKE).split()).removeprefix("'").lstrip()


def quoted(text: str) -> str:
    """Return the text in quotation marks, on one line, cut to what fits a sentence."""
    printable = "".join(c if c.isprintable() else " " for c in one_line(text[: LONGEST + 1]))
    shown = " ".join(printable.split())
    return f'"{shown[:39]}…"' if len(shown) > 40 else f'"{shown}"'


def plainly(number: Decimal) -> str:
    """Return the number without an exponent or needless zeros: 2.50 is 2.5, 1E+2 is 100."""
    digits = format(number, "f")
    return digits.rstrip("0").rstrip(".") if "." in digits else digits
