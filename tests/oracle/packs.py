"""How much of its batch a pack holds: pieces, or an amount of what is made by weight or volume."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from tests.oracle.items import Items
from tests.oracle.numbers import UNITS, Row, given, key, number

__all__ = ["Packs"]

_AMOUNT: Final = re.compile(r"(?:([0-9.]+) x )?([0-9.]+) ([a-z ]+)")


class Packs(Items):
    """Batches as they are counted, and the packs they are shared out in."""

    def counted(self, recipe: str) -> Fraction:
        """Base units in one of what the batch is counted in: a piece, or its row's unit."""
        kind, factor = UNITS[self.batches[recipe]["unit"]]
        return Fraction(1) if kind == "piece" else factor

    def started(self, recipe: str) -> Fraction:
        """What a batch starts, as it is counted: two dozen are 24 pieces, 2 kg are 2."""
        row = self.batches[recipe]
        return given(row["makes"]) * UNITS[row["unit"]][1] / self.counted(recipe)

    def good(self, recipe: str) -> Fraction:
        """What of a batch can be used or sold, as it is counted."""
        return self.started(recipe) - given(self.batches[recipe]["rejects"])

    def in_pieces(self, recipe: str) -> bool:
        return UNITS[self.batches[recipe]["unit"]][0] == "piece"

    def pack(self, product: Row) -> tuple[Fraction | None, Fraction | None]:
        """Units in one pack, and what one unit is in base units of the batch."""
        recipe, typed = key(product["recipe"]), product["units per pack"]
        amount = _AMOUNT.fullmatch(typed) if isinstance(typed, str) else None
        if self.in_pieces(recipe):
            if amount is None:
                return number(typed), Fraction(1)
            kind, factor = UNITS[amount[3]]
            pieces = given(amount[1], 1) * given(amount[2]) * factor
            return (pieces if kind == "piece" else None), Fraction(1)
        if amount is not None:
            unit = self._in_batch(recipe, given(amount[2]), amount[3])
            return (None if unit is None else given(amount[1], 1)), unit
        unit = self._net(product)
        return (None if unit is None else Fraction(1)), unit

    def _net(self, product: Row) -> Fraction | None:
        """The net weight, unless the number of units says something else."""
        if product["net weight"] is None or product["net weight unit"] is None:
            return None
        recipe, typed = key(product["recipe"]), number(product["units per pack"], 1)
        weight = given(product["net weight"])
        factor = UNITS[product["net weight unit"]][1]
        same = given(typed) * UNITS[self.batches[recipe]["unit"]][1] == weight * factor
        if typed != 1 and not same:
            return None
        return self._in_batch(recipe, weight, product["net weight unit"])

    def _in_batch(self, recipe: str, amount: Fraction, unit: str) -> Fraction | None:
        kind, factor = UNITS[unit]
        bridge = self.cross(recipe, kind, UNITS[self.batches[recipe]["unit"]][0])
        return None if bridge is None else amount * factor * bridge

    def units_started(self, recipe: str) -> Fraction | None:
        """What minutes per unit are counted for: pieces, the packs' units, or the row's unit."""
        sold = [row for row in self.rows("Products") if key(row["recipe"]) == recipe]
        if self.in_pieces(recipe) or not sold:
            return self.started(recipe)
        base = self.started(recipe) * self.counted(recipe)
        found = {base / unit for row in sold if (unit := self.pack(row)[1]) is not None}
        return found.pop() if len(found) == 1 else None
