"""From a text such as `2 x 18 ct` to its numbers and words, each with a letter for its kind.

The letters:
    n  a number: 18, 2.5, ½, 1 1/2, half        x  times: x, ×, *, @, of
    u  a unit: oz, cup, dozen, ft               /  a slash, or "per"
    p  a piece, or its word: ea, slice, tin     -  a range: 1-2, 1 to 2, 1 or 2
    w  a wrapper: case, bag, pack               +  a sum: +, and, plus, or a comma
    f  a slash that may mean half or 1 × 2      c  a can size: #10
    h  half, behind a number: 2 half cups
    ?  a word or mark that means nothing here   ( ) =  themselves
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.definitions.units import WRAPPERS, Measure, Unit, find_unit
from costbook.reading.number_style import NumberStyle, plain_number
from costbook.reading.number_words import in_figures
from costbook.reading.numbers import FRACTION, fraction
from costbook.reading.texts import Unclear, tidy

__all__ = ["Piece", "cut"]


@dataclass(frozen=True, slots=True)
class Piece:
    """One number, word or mark of a text, and its letter."""

    letter: str
    text: str
    number: Decimal = Decimal(0)
    unit: Unit | None = None


# Ways of saying things in words. As the grammar, they are compiled when first a text comes.
_SAID: Final = (
    (r"\b(?:about|approx|approximately|around|ca|circa|level|net|roughly)\b\.?|~|≈", " "),
    (r"\b(?:large|medium|small)\b", " "),
    (r"(?<!\S)(?!(?:and|plus|of|x|or|to|in|for|with|at)\s)([^\s/⁄×*@+&]+) an? (?=[a-z])", r"\1/"),
    (r"\ban?\b", "1"),
    (r"\bno\. ?(?=[0-9])", "#"),
    (r"(?<=[0-9]) ?- ?(?=[a-z])", " "),  # 2-pack, 12-oz
)
_WORD: Final = r"[^\W\d_]+\.?"
_WORDS: Final = re.compile(rf"({_WORD})(?: ?({_WORD}))?(?: ?({_WORD}))?")
_NUMBER: Final = re.compile(
    "[1-9][0-9]{0,2}(?:(?: [0-9]{3})+,[0-9]+| 0[0-9]{2}(?: [0-9]{3})*)(?![0-9.,/⁄])"  # 1 000
    "|[0-9]+(?:[.,'’][0-9]+)*|[.,][0-9]+"
)
_LEXEME: Final = re.compile(
    rf"(?P<fraction>{FRACTION.pattern}(?! [0-9]+ ?[/⁄]))"
    rf"|(?P<number>{_NUMBER.pattern})"
    r"|(?P<can>(?<![0-9])#[0-9]+|^# [0-9]+)"
    rf"|(?P<word>(?:mm|cm|m|ft|in|yd)[2²](?![0-9])|{_WORD})"
    r"|(?P<mark>\S)",
    re.IGNORECASE,
)
_LETTERS: Final = (
    dict.fromkeys(("x", "×", "*", "@", "of"), "x")
    | dict.fromkeys(("-", "–", "to", "or"), "-")
    | dict.fromkeys(("+", "&", ",", "and", "plus"), "+")
    | {"/": "/", "per": "/", "(": "(", ")": ")", "=": "=", "half": "h", "halves": "h"}
)
_CUT_BY_SLASH: Final = (2, 3, 4, 8)  # 1/2 gal may be half a gallon; 4/5 lb is 4 of 5 lb


def cut(text: str, style: NumberStyle, *, counts: bool) -> tuple[Piece, ...] | Unclear:
    """Return the pieces of a text, or what can't be read in one of its numbers.

    `counts` is for sizes, where 12/32 oz is 12 of 32 oz; in amounts a slash is a fraction.
    """
    plain = _without_note(in_figures(tidy(text)))
    for pattern, meant in _SAID:
        plain = re.sub(pattern, meant, plain, flags=re.IGNORECASE)
    return _pieces(tidy(plain), style, counts=counts)


def _without_note(text: str) -> str:
    """Return the text without a note behind it: (sifted), or a word such as chopped.

    A note that says something of how much, as (each) or (heaped), is no mere note.
    """
    found = re.fullmatch(_NOTE, text, re.IGNORECASE)
    if found is None:
        return text
    words = re.findall(r"[^\W\d_]+", text[found.end("text") :])
    if any(word.lower() in _OF_HOW_MUCH or _word(word).letter != "?" for word in words):
        return text
    return found["text"]


_NOTE: Final = (
    r"(?P<text>.*?[\w.#'\"”’)])(?: ?\([^\W\d_][^()0-9⁄]*\)"
    r"| ?[,;] [^\W\d_][^()0-9⁄]*|(?: (?:finely|roughly|coarsely|firmly|freshly|lightly"
    r"|well|beaten|chilled|chopped|cold|crushed|cubed|diced|fresh|grated|ground|melted|minced"
    r"|packed|peeled|shredded|sieved|sifted|sliced|softened|toasted|warm|washed))+)"
)
_OF_HOW_MUCH: Final = frozenset(
    {"all", "another", "approx", "double", "doubled", "each", "every", "extra", "few", "for"}
    | {"generous", "heaped", "heaping", "if", "less", "minus", "more", "not", "only", "rounded"}
    | {"scant", "several", "some", "time", "times", "total", "triple", "tripled", "twice"}
    | {"without"}
)
"""Words of a note that may change how much is meant."""


def _pieces(text: str, style: NumberStyle, *, counts: bool) -> tuple[Piece, ...] | Unclear:
    """Return the pieces from left to right, or what can't be read in one of them."""
    at = 0
    pieces: list[Piece] = []
    while found := _LEXEME.search(text, at):
        before = pieces[-1].letter if pieces else ""
        slashed = _slashed(found, before, counts=counts) if found["fraction"] else None
        piece, at = (slashed, found.end()) if slashed else _whole(found, style)
        if isinstance(piece, Unclear):
            return piece
        pieces.append(piece)
    return tuple(pieces)


def _whole(found: re.Match[str], style: NumberStyle) -> tuple[Piece | Unclear, int]:
    """Return the number, word or mark that starts here, and where it ends."""
    digits = _NUMBER.match(found.string, found.start())
    if found["can"]:
        return Piece("c", found["can"]), found.end()
    if digits is None:
        return _spelled(found)
    value = plain_number(digits[0], style)
    return value if isinstance(value, Unclear) else Piece("n", digits[0], value), digits.end()


def _slashed(found: re.Match[str], before: str, *, counts: bool) -> Piece | None:
    """Return what `a/b` is: a number, an `f` to ask about, or None for two numbers."""
    text, value, bottom = found["fraction"], fraction(found), int(found["bottom"])
    if bottom == 0:
        return Piece("?", text)
    doubtful = found["bar"] == "/" and not found["whole"]
    if value is not None and not (doubtful and counts and before in ("", "/")):
        return Piece("n", text, value)
    halves = value is not None and bottom in _CUT_BY_SLASH
    if doubtful and (halves or before or not counts):
        return Piece("f", text, Decimal(int(found["top"])) / bottom)
    return None


def _spelled(found: re.Match[str]) -> tuple[Piece, int]:
    """Return the longest unit that starts here, of up to three words (imp. fl. oz.), or a word."""
    words = _WORDS.match(found.string, found.start())
    for length in (3, 2):
        if words and words[length]:
            name = " ".join(words.group(*range(1, length + 1)))
            unit = find_unit(name.replace(".", ""))
            if unit:
                return Piece("u", name, unit=unit), words.end(length)
    return _word(found[0]), found.end()


def _word(text: str) -> Piece:
    """Return what a single word or a mark is."""
    bare = text.rstrip(".") or text
    unit = find_unit(bare)
    if bare.lower() in _LETTERS:
        return Piece(_LETTERS[bare.lower()], text)
    if bare.lower() in WRAPPERS:
        return Piece("w", text)
    if unit is None:
        return Piece("?", text)
    is_piece = unit.measure is Measure.PIECE and unit.name != "dozen"
    return Piece("p" if is_piece else "u", text, unit=unit)
