"""A quantity's text beside its pieces, and what makes one doubtful though its shape is known."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from typing import Final, NamedTuple

from costbook.definitions.units import HOLDERS, Measure
from costbook.reading.quantity import Quantity, added
from costbook.reading.quantity_words import Piece
from costbook.reading.texts import Unclear, plainly, quoted

__all__ = ["LIKE", "THE_ONE", "Seen", "doubts", "size_of"]

THE_ONE: Final = "Write the one it is."
LIKE: Final = "Write it like 500 g, 5 lb or 2 x 18 ea."


class Seen(NamedTuple):
    """A text, its pieces, and where the parts of its shape lie among them."""

    text: str
    pieces: tuple[Piece, ...]
    shape: re.Match[str]
    in_all: bool
    """Whether the text must give all there is: an amount, of which 10 g each is no answer."""

    def part(self, name: str) -> tuple[Piece, ...]:
        """Return the pieces of one named part of the shape."""
        if name not in self.shape.re.groupindex:
            return ()
        start, end = self.shape.span(name)
        return self.pieces[start:end]

    @property
    def letters(self) -> str:
        """The shape of the whole text."""
        return self.shape.string

    def asked(self, says: str, remedy: str) -> Unclear:
        """Return a sentence that begins with the text."""
        return Unclear(f"{quoted(self.text)} {says}", remedy)


def size_of(pieces: tuple[Piece, ...]) -> Quantity | None:
    """Return the sum of the sizes among some pieces, or a number alone; None if they don't add."""
    numbers = [piece.number for piece in pieces if piece.letter == "n"]
    units = [piece.unit for piece in pieces if piece.unit]
    plus = any(piece.letter == "+" and piece.text != "," for piece in pieces)
    return added(numbers, units, plus=plus) if units else Quantity(Decimal(1), numbers[0], None)


def doubts(seen: Seen, counted: Quantity) -> Unclear | None:
    """Return the first question that a counted size raises; None where there is none."""
    asks = (_part_of_a_case, _count_of_a_sum, _said_again, _of_one, _no_count)
    return next(filter(None, (ask(seen, counted) for ask in asks)), None)


def _part_of_a_case(seen: Seen, counted: Quantity) -> Unclear | None:
    """Ask whether half case of 15 dozen is half of that, or 15 dozen; 1.3/4 lb is no count."""
    counts = seen.part("counts")
    numbers = [piece.number for piece in counts if piece.letter == "n"]
    if any(number % 1 for number in numbers) and counts[-1].letter == "/":
        return seen.asked("is not understood.", LIKE)
    if counts and 0 < counts[0].number < 1 and any(piece.letter == "w" for piece in counts):
        size = replace(counted, count=Decimal(1))
        half = replace(size, size=counted.count * counted.size)
        return seen.asked(f"could be {half} or {size}.", THE_ONE)
    return None


def _count_of_a_sum(seen: Seen, counted: Quantity) -> Unclear | None:
    """Ask whether 2 x 2.5 kg + 1 kg is twice the sum, or 5 kg and one."""
    size = seen.part("size")
    letters = [piece.letter for piece in size]
    if counted.count == 1 or "(" in seen.letters or "+" not in letters:
        return None
    assert counted.unit is not None, "the grammar asks for a unit"
    times = replace(counted, count=Decimal(1), size=counted.count * counted.size)
    once = _in_base_units(size[: letters.index("+")]) / counted.unit.factor
    plus = replace(times, size=counted.size + (counted.count - 1) * once)
    return seen.asked(f"could be {times} or {plus}.", THE_ONE)


def _in_base_units(pieces: Sequence[Piece]) -> Decimal:
    """Return what numbers, each before its unit, come to."""
    pairs = pairwise(pieces)
    return sum((one.number * two.unit.factor for one, two in pairs if two.unit), Decimal(0))


def _said_again(seen: Seen, counted: Quantity) -> Unclear | None:
    """Ask whether 12 (1 dozen) is twelve, or twelve dozen."""
    pieces = counted.unit is not None and counted.unit.measure is Measure.PIECE
    if counted.count == 1 or not pieces or not seen.letters.startswith("n("):
        return None
    return seen.asked(f"could be {counted} or {replace(counted, count=Decimal(1))}.", THE_ONE)


def _of_one(seen: Seen, counted: Quantity) -> Unclear | None:
    """Ask how many, where an amount is given for one: 10 g per roll, 10 g each."""
    end = seen.part("end")
    if not seen.in_all or not end:
        return None
    each = end[0].text.lower().rstrip(".") in _EACH and counted.count == 1
    if end[0].letter != "/" and not each:
        return None
    return seen.asked("is for one, not for all.", f"Write what it is in all, as 24 x {counted}.")


def _no_count(seen: Seen, counted: Quantity) -> Unclear | None:
    """Ask how many pieces of a size there are: 80 g slices, 12 in wraps; 1 M ct is a thousand."""
    end, size = seen.part("end"), seen.part("size")
    if counted.unit is None or counted.unit.measure is Measure.PIECE or seen.part("counts"):
        return None
    if not end or not _says_many(end[0]):
        return None
    if seen.in_all and counted.unit.measure in _POURED and end[0].unit and end[0].unit.piece_word:
        return None  # 200 g onions: that is what they weigh
    if size[-1].text == "M":
        many = plainly(counted.size)
        return seen.asked(
            f"could be {many} thousand or {many} m.", "Write the number, as 1000 ct, or a small m."
        )
    return seen.asked("does not say how many.", f"Write how many, as 6 x {counted}.")


def _says_many(piece: Piece) -> bool:
    """Tell a word for several pieces, as slices or ct, from one for what holds a size: tins."""
    word, unit = piece.text.lower().rstrip("."), piece.unit
    if unit is None or unit.factor != 1 or unit.name in HOLDERS:
        return False
    return word in ("ct", "count") or (word.endswith("s") and word not in _EACH)


_POURED: Final = (Measure.WEIGHT, Measure.VOLUME)
_EACH: Final = frozenset({"each", "ea", "apiece"})
