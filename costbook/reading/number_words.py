"""Numbers that are spelled out: `six`, `twenty-four`, `three quarters`, `a dozen and a half`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from costbook.definitions.units import find_unit

__all__ = ["in_figures"]

_SMALL: Final = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
    *("eighteen", "nineteen"),
)
_TENS: Final = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_NUMBERS: Final[Mapping[str, int]] = {
    **{word: number for number, word in enumerate(_SMALL)},
    **{word: number * 10 for number, word in enumerate(_TENS, 2)},
}
_PARTS: Final[Mapping[str, int]] = (
    dict.fromkeys(("half", "halves"), 2)
    | dict.fromkeys(("third", "thirds"), 3)
    | dict.fromkeys(("quarter", "quarters", "fourth", "fourths"), 4)
    | dict.fromkeys(("eighth", "eighths"), 8)
)


def _any(words: Mapping[str, int]) -> str:
    return "|".join(sorted(words, key=len, reverse=True))


# Compiled when first a text comes, as the patterns of quantity_words.py.
_NUMBER: Final = (
    rf"\b(?:(?P<tens>{'|'.join(_TENS)})(?:[ -](?P<more>{'|'.join(_SMALL[1:10])}))?"
    rf"|(?P<small>{'|'.join(reversed(_SMALL))})|(?:an?|one) hundred)\b"
)
_PART: Final = (
    rf"(?<![\w.,/⁄])(?:(?P<many>an?|[0-9]+)[ -])?(?P<part>{_any(_PARTS)})\b"
    r"(?:[ -](?:of )?(?:an?\b(?! half))|-)?"
)
_AND_A_PART: Final = (
    r"(?:(?<![\w.,/⁄])(?P<many>an?|[0-9]+) )?(?P<unit>[^\W\d_]+\.?) (?:and|&)"
    r" (?P<part>[13]⁄[248])\Z"
)


def in_figures(text: str) -> str:
    """Return the text with the numbers that are spelled out in figures.

    A number of halves stays as it is: 2 half cups may be one cup, or two and a half.

    >>> in_figures("twenty-four"), in_figures("three quarters cup"), in_figures("half a dozen")
    ('24', '3⁄4 cup', '1⁄2 dozen')
    """
    if not _SPELLED.search(text):
        return text
    for pattern, meant in ((_NUMBER, _number), (_PART, _part), (_AND_A_PART, _and_a_part)):
        text = " ".join(re.sub(pattern, meant, text, flags=re.IGNORECASE).split())
    return text


_SPELLED: Final = re.compile(rf"{_any(_NUMBERS)}|{_any(_PARTS)}|hundred", re.IGNORECASE)


def _number(found: re.Match[str]) -> str:
    """Return `twenty-four` as 24."""
    tens, more, small = (_NUMBERS.get((found[part] or "").lower(), 0) for part in found.groupdict())
    return str(tens + more + small) if found["tens"] or found["small"] else "100"


def _part(found: re.Match[str]) -> str:
    """Return `a half` and `1 half` as 1⁄2, `three quarters` as 3⁄4; 2 halves are left."""
    whole = found.string[: found.start()].rstrip()
    many = found["many"] or "1"
    many = many if many.isdigit() else "1"
    bottom = _PARTS[found["part"].lower()]
    halves = bottom == 2 and many != "1"
    return found[0] if halves or whole[-1:].isdigit() else f" {many}⁄{bottom} "


def _and_a_part(found: re.Match[str]) -> str:
    """Return `a dozen and a half` as 1 and 1⁄2 dozen."""
    if find_unit(found["unit"]) is None:
        return found[0]
    many = found["many"] or "1"
    return f"{many if many.isdigit() else 1} and {found['part']} {found['unit']}"
