"""The kind of column that looks through a whole table: all receipts, or all packs, at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Literal

from costbook.definitions.algebra import UNKNOWN, N
from costbook.definitions.rules import DAYS_IN_YEAR, ROWS_IN_RANK

__all__ = [
    "Compared",
    "Criterion",
    "Fold",
    "Over",
    "Same",
    "Sign",
    "a_year_before",
    "rank_of_the_next_day",
]


def itself(number: N) -> N:
    """The number as it stands."""
    return number


def rank_of_the_next_day(day: N) -> N:
    """What the ranks of all purchases up to a day are below."""
    return (day + 1) * ROWS_IN_RANK


def a_year_before(day: N) -> N:
    """The day before a year that ends on a day."""
    return day - DAYS_IN_YEAR


Fold = Literal["largest", "least", "total", "count", "all", "every", "only"]
"""What is made of the figures of the rows that pass.

``all`` is their total where each is known, ``only`` the figure of the one row that passes: these
two are unknown where no row does, or where what they are made of is. ``every`` is as ``all``, and
nothing where no row passes.
"""

Sign = Literal["=", "<", "<=", ">"]


@dataclass(frozen=True, slots=True)
class Same:
    """A row passes whose key is that in this row's column ``own``.

    ``named`` says that the key of nobody is no key: then no row passes.
    """

    column: str
    own: str
    named: bool = False


@dataclass(frozen=True, slots=True)
class Compared:
    """A row passes whose number is so to a bound: a rule of this row's number in ``own``."""

    column: str
    sign: Sign
    own: str
    bound: Callable[[Any], Any] = itself


Criterion = Same | Compared


@dataclass(frozen=True, slots=True)
class Over:
    """The largest, the least, the total … of a column over the rows of a table that pass.

    Where none does it is zero, or unknown, as the fold says. Where a number of this row's that
    others are compared with is unknown, it is unknown, or what it is ``without`` one. Rows whose
    own figure is unknown are passed over, as far as the fold doesn't ask for each.
    """

    table: str
    fold: Fold
    column: str
    criteria: tuple[Criterion, ...]
    without: Decimal | str = UNKNOWN
    numbers: tuple[str, ...] = field(init=False)
    """This row's columns that must be numbers."""
    named: tuple[str, ...] = field(init=False)
    """This row's columns that must name somebody."""

    def __post_init__(self) -> None:
        numbers = (each.own for each in self.criteria if isinstance(each, Compared))
        named = (each.own for each in self.criteria if isinstance(each, Same) and each.named)
        object.__setattr__(self, "numbers", tuple(dict.fromkeys(numbers)))
        object.__setattr__(self, "named", tuple(named))
