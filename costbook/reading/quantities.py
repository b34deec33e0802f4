"""Sizes and amounts as people write them: `2 x 18 ct`, `5 lb bag`, `1 1/2 cup`, `2 lb 3 oz`.

A text is cut into numbers and words, each with a letter (see quantity_words.py); the letters in
a row are its shape (`2 x 18 ct` is nxnp), and the shape is looked up in GRAMMAR, a table read
from the top. To understand one more way of writing, add a row with an example: the tests run
every example.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache
from math import prod
from typing import Final, NamedTuple

from costbook.definitions.units import Measure, near_units
from costbook.reading.number_style import NumberStyle
from costbook.reading.quantity import Allowance, Quantity, same_twice
from costbook.reading.quantity_doubts import LIKE, THE_ONE, Seen, doubts, size_of
from costbook.reading.quantity_words import cut
from costbook.reading.texts import LONGEST, Unclear, plainly, quoted, tidy

__all__ = [
    "GRAMMAR",
    "Allowance",
    "Quantity",
    "Shape",
    "Unclear",
    "read_amount",
    "read_pack_size",
]


def read_pack_size(text: str, style: NumberStyle) -> Quantity | Unclear:
    """Return how much one pack holds; a slash parts count and size, as in `12/32 oz`.

    >>> str(read_pack_size("2 pk 18 ct", NumberStyle.POINT))
    '2 × 18 ea'
    """
    return _read(text, style, counts=True)


def read_amount(text: str, style: NumberStyle) -> Quantity | Allowance | Unclear:
    """Return how much a recipe takes; a slash is a fraction, as in `1/2 cup`.

    >>> str(read_amount("1 1/2 cups", NumberStyle.POINT))
    '1.5 cup'
    """
    plain = tidy(text[:LONGEST])
    if _A_LITTLE.fullmatch(plain) or (_TO_TASTE.search(plain) and not re.search("[0-9]", plain)):
        return Allowance(plain)
    return _read(text, style, counts=False)


_A_LITTLE: Final = re.compile(
    r"(?:(?:an?|one|two|three|few|[0-9⁄/–-]+) )*(?:(?:small|large|big|good|generous|tiny) )?"
    r"(?:pinch(?:es)?|dash(?:es)?|drizzle|splash|smidgen|sprinkl(?:e|ing)|drops?|touch|bit|little)"
    r"(?: (?:of|or) .*)?|some|for (?:dusting|greasing)|(?:as|if) needed",
    re.IGNORECASE,
)
_TO_TASTE: Final = re.compile(r"\bto taste\b", re.IGNORECASE)


# --- What the parts of a shape come to ---


QuantityRead = Quantity | Unclear


def _asked(says: str, remedy: str) -> Callable[[Seen], QuantityRead]:
    """Return a reader that always asks, in these words."""
    return lambda seen: seen.asked(says, remedy)


def _counts(seen: Seen) -> Decimal:
    """Return the product of the counts before a size: 2 cases of 12 x 400 g is 24 of them."""
    return prod((p.number for p in seen.part("counts") if p.letter == "n"), start=Decimal(1))


def _counted(seen: Seen) -> QuantityRead:
    """Return `2 x 18 ct`, `12/32 oz`, `5 lb bag` or `18`."""
    size = size_of(seen.part("size"))
    if size is None:
        return seen.asked("can't be added up.", "Write it in one unit, as 2.5 lb.")
    counted = Quantity(_counts(seen), size.size, size.unit)
    return doubts(seen, counted) or counted


def _bare_count(seen: Seen) -> QuantityRead:
    """Return `2 9 oz jars`; but 2 500 g could be 2500 g with its thousand set apart."""
    first, second = seen.pieces[:2]
    apart = re.fullmatch(
        "[1-9][0-9]{0,2} [0-9]{3}|[0-9]+ [.,][0-9]+", f"{first.text} {second.text}"
    )
    if apart and second.unit is None and (not seen.part("end") or not second.text[0].isdigit()):
        unit = seen.pieces[2].text
        return seen.asked(
            f"could be {first.text}{second.text} {unit} or {first.text} x {second.text} {unit}.",
            THE_ONE,
        )
    return _counted(seen)


def _each(seen: Seen) -> QuantityRead:
    """Return `1 tin (400 g)`; of 3 tins, 400 g could be each or all of it."""
    count, size = _counts(seen), size_of(seen.part("size"))
    each = any(piece.text.lower() in ("each", "ea") for piece in seen.part("each"))
    if size is None or count == 1 or each:
        return _counted(seen)
    return seen.asked(
        f"could be {size} each or {size} in all.",
        f"Write {plainly(count)} x {size}, or {size}.",
    )


def _twice(seen: Seen) -> QuantityRead:
    """Return `250 g/8¾ oz` as 250 g."""
    one, two = size_of(seen.part("size")), size_of(seen.part("again"))
    size = same_twice(one, two) if one and two else None
    if size is None:
        return seen.asked("gives two sizes that differ.", "Write the one to cost by.")
    return Quantity(_counts(seen), size.size, size.unit)


def _half_or_count(seen: Seen) -> QuantityRead:
    """Ask whether 1/2 gal is half a gallon or one pack of two."""
    part, *rest = seen.pieces
    top, bottom = part.text.split("/")
    unit = "".join(f" {piece.text}" for piece in rest if piece.unit)
    number = f"{plainly(round(part.number, 4))}{unit}"
    count = f"{top.strip()} x {bottom.strip()}{unit}"
    return seen.asked(f"could be {number} or {count}.", THE_ONE)


def _one_of(seen: Seen) -> QuantityRead:
    """Return `dozen` as one dozen; `lb` alone does not say how many."""
    unit = seen.pieces[0].unit
    if unit and unit.measure is Measure.PIECE:
        return Quantity(Decimal(1), Decimal(1), unit)
    return seen.asked("has no number.", f"Write how many, as 5 {seen.pieces[0].text}.")


def _two_sides(seen: Seen) -> QuantityRead:
    """Tell how to write the two sides of a roll; other units can't be multiplied."""
    if any(piece.unit and piece.unit.measure is not Measure.LENGTH for piece in seen.pieces):
        return seen.asked("is not understood.", LIKE)
    return seen.asked(
        "is a width and a length.",
        "Write the length here, and the width as the item's Roll width.",
    )


def _unknown(seen: Seen) -> QuantityRead:
    """Name the first word that means nothing here, and a near one that does."""
    word = next(piece.text for piece in seen.pieces if piece.letter == "?")
    near = " or ".join(f'"{unit}"' for unit in near_units(word))
    return Unclear(
        f"In {quoted(seen.text)}, {quoted(word)} is not understood.",
        f"Did you mean {near}?" if near else LIKE,
    )


# --- The grammar: the first row whose shape fits reads the text ---

_SIZE: Final = r"(?:nu(?:\+?n[up])*|np(?:\+n[up])*)"
_COUNTS: Final = r"(?P<counts>(?:n[wp]?x|nw(?=n)|wx?)*(?:n/|nw/)?)"
_END: Final = r"(?P<end>(?:/?[wp])*)"


class Shape(NamedTuple):
    """A shape, a text that has it, and what reads it."""

    shape: str
    example: str
    read: Callable[[Seen], QuantityRead]


GRAMMAR: Final = (
    Shape(r"", "", lambda _: Unclear("There is nothing here.", LIKE)),
    Shape(r".*c.*", "6/#10", _asked("has a can size in it, not a weight.",
        "Write the weight that is printed on the can, as 6 x 3 kg.")),
    Shape(r"-[nf].*", "-5 lb", _asked("is less than nothing.", "Write it without the minus.")),
    Shape(r".*\?.*", "5 lb zo", _unknown),
    Shape(r".*[nfup]-[nf].*", "½–1 tsp", _asked("is a range.", "Write one amount.")),
    Shape(r".*h.*", "2 half cups", _asked("could be so many halves, or a half more.",
        "Write the number, as 1 or 2.5.")),
    Shape(r"n?w+p*", "1 case", _asked("does not say what is in it.",
        "Write how many or how much one holds, as 24 ea or 6 x 500 g.")),
    Shape(rf"f[up]?{_END}", "1/2 gal", _half_or_count),
    Shape(r"[up]", "dozen", _one_of),
    Shape(rf"(?P<size>nu)x(?P<counts>n){_END}", "500 g x 6", _counted),
    Shape(r"nuxnu.*", "18 in x 2000 ft", _two_sides),
    Shape(rf"(?P<counts>n)\((?P<size>{_SIZE})p?\){_END}", "1 (13.5 oz) tin", _counted),
    Shape(rf"(?P<counts>n[wp])\((?P<size>{_SIZE})(?P<each>p?)\){_END}", "1 tin (400 g)", _each),
    Shape(rf"(?P<counts>np)(?P<size>{_SIZE})(?P<each>p?)", "1 loaf 20 slices", _each),
    Shape(rf"{_COUNTS}(?P<size>{_SIZE})[/=](?P<again>{_SIZE}){_END}", "250 g/8¾ oz", _twice),
    Shape(rf"{_COUNTS}(?P<size>{_SIZE})\((?P<again>{_SIZE})\){_END}", "1 cup (120 g)", _twice),
    Shape(rf"(?P<counts>n)(?P<size>{_SIZE}){_END}", "2 9 oz jars", _bare_count),
    Shape(rf"{_COUNTS}(?P<size>{_SIZE}|n){_END}", "2 x 18 ct", _counted),
    Shape(r".*", "5 lb 6", _asked("is not understood.", LIKE)),
)  # fmt: skip


@lru_cache(maxsize=4096)
def _read(text: str, style: NumberStyle, *, counts: bool) -> QuantityRead:
    """Return what the first row that fits makes of the text."""
    if len(text) > LONGEST:
        return Unclear(f"{quoted(text)} is too long to be an amount.", LIKE)
    pieces = cut(text, style, counts=counts)
    if isinstance(pieces, Unclear):
        return pieces
    letters = "".join(piece.letter for piece in pieces)
    shapes = ((re.fullmatch(row.shape, letters), row) for row in GRAMMAR)
    seen = ((row, Seen(text, pieces, shape, not counts)) for shape, row in shapes if shape)
    return next(_sane(row.read(each)) for row, each in seen)


_SMALLEST, _LARGEST = Decimal("1e-9"), Decimal("1e12")


def _sane(answer: QuantityRead) -> QuantityRead:
    """Return the answer, unless a number in it can't be a kitchen's."""
    if isinstance(answer, Unclear):
        return answer
    sane = all(n == 0 or _SMALLEST <= n <= _LARGEST for n in (answer.count, answer.size))
    if sane and answer.count:
        return answer
    return Unclear(f"{quoted(str(answer))} can't be right.", "Check the number.")
