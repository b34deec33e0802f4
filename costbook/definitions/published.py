"""Published figures of foods, each with its source: offered to a person who can't weigh one.

Never counted by itself: what is typed from here is the person's choice.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final

from costbook.definitions.likeness import words_of

__all__ = ["Published", "published"]


@dataclass(frozen=True, slots=True)
class Published:
    """A figure of a food: g/ml, g a piece, or the share that trimming leaves."""

    name: str
    value: Decimal
    source: str
    date: str

    @property
    def cited(self) -> str:
        """The source and its year."""
        where = self.source.partition(";")[0]
        return ", ".join(filter(None, (where, self.date[:4])))


_TABLES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "grams_per_ml": "densities",
        "grams_per_piece": "piece_weights",
        "usable_share": "usable_shares",
    }
)
_MOST: Final = 2
"""How many figures are offered: of more, as of an egg of any size, the least and the greatest."""


def published(field: str, item: str) -> Sequence[Published]:
    """What is published of an item for a field of Items, the first source of each food.

    The item's own words, up to a comma, stand in the food's name; of several foods those with the
    fewest words that the item hasn't: "Sugar" finds "white sugar", "Peanut butter" nothing.
    """
    words, own = set(words_of(item)), set(words_of(item.partition(",")[0]))
    further: dict[int, list[Published]] = defaultdict(list)
    for each in _table(field):
        name = set(words_of(each.name))
        as_bought = "without" not in name  # an egg without its shell isn't what Items asks for
        if own and own <= name and as_bought:
            further[len(name - words) + len(words - name)].append(each)
    found = sorted(further[min(further)], key=lambda each: each.value) if further else []
    return found if len(found) <= _MOST else (found[0], found[-1])


@cache
def _table(field: str) -> Sequence[Published]:
    file = Path(__file__).parent / "data" / f"{_TABLES[field]}.csv"
    rows: dict[str, Published] = {}
    for row in csv.DictReader(file.read_text(encoding="utf-8").splitlines()):
        figure = Published(row["name"], Decimal(row["value"]), row["source"], row["date"])
        rows.setdefault(row["name"], figure)
    return tuple(rows.values())
