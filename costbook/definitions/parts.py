"""What a pack costs: its parts, once, in the order of the money.

To add a part: write its rule, give it a column (in ``PRODUCTS`` of ``workings.py`` where it is
made, in ``PRICES`` where it is a cost of selling), and a line here. What is made, known and
lacking, JSON, the sheets Prices and Cost cards and their charts follow.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

__all__ = ["KNOWN", "MADE", "PARTS", "SOLD", "Part"]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of what a pack costs; the names are columns of Workings."""

    name: str
    """Its column, and its name in JSON."""
    words: str
    """What a cook calls it."""
    lacks: str
    """What may be missing where it is unknown; or the column that says so, as ``lack_of_rows``."""
    lack_of_rows: bool = False
    known: str = ""
    """The column of what is known of it; none where all of it is known or nothing."""
    made: bool = True
    """Whether it is a part of the cost made; else of the selling."""
    line: str = ""
    """What its one line on a cost card is called, where it has no lines of its own."""
    batch: str = ""
    """The column of a batch's figure of it, for that line."""
    minutes: str = ""
    """The column of the minutes that it is paid by, for that line."""
    timed_with: str = ""
    """The part that is timed by the same rows: what those lack is said once."""

    @property
    def title(self) -> str:
        """Its name as a heading."""
        return self.name.capitalize()

    @property
    def lacking(self) -> tuple[str, ...]:
        """Its column, and the one that says what its rows lack, where it has rows."""
        return (self.name, self.lacks) if self.lack_of_rows else (self.name,)

    def lack_told(self, values: Iterator[Any]) -> Any:
        """What it lacks: the next of the values, where its rows say so."""
        return next(values) if self.lack_of_rows else self.lacks

    @property
    def what_is_known(self) -> str:
        """The column of what is known of it."""
        return self.known or self.name


PARTS: Final = (
    Part("ingredients", "ingredients", "ingredients_lack", True, "ingredients_known"),
    Part("packaging", "film, foil, bag, label", "packaging_lack", True, "packaging_known"),
    Part("labour", "your minutes", "labour_lack", True, "labour_known"),
    Part(
        "kitchen",
        "the kitchen",
        "kitchen (minutes)",
        line="Kitchen hire",
        batch="kitchen_batch",
        minutes="kitchen_minutes",
        timed_with="labour",
    ),
    Part(
        "overhead",
        "insurance and the like",
        "overheads (an amount, batches per year)",
        known="overhead_known",
        line="Overheads",
        batch="overhead_per_batch",
    ),
    Part(
        "selling",
        "the stall",
        "selling (hours, pay, units sold per day, card share)",
        known="selling_known",
        made=False,
    ),
)

MADE: Final = tuple(part for part in PARTS if part.made)
SOLD: Final = tuple(part for part in PARTS if not part.made)
KNOWN: Final = tuple(part.what_is_known for part in PARTS)
"""The columns of what is known of each part."""
