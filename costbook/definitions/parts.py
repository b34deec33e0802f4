"""What a pack costs: its parts, once, in the order of the money.

To add a part: write its rule, give it a column (in ``PRODUCTS`` of ``workings.py`` where it is
made, in ``PRICES`` where it is a cost of selling), and a line here. What is made, known and
lacking, JSON, the sheets Prices and Cost cards and their charts follow.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from costbook.definitions.algebra import Test, either, known, same

__all__ = ["ASKED", "KNOWN", "MADE", "PARTS", "SOLD", "WITHOUT_WORK", "Part"]


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
    asked: str = ""
    """The setting that is known where this part is counted; without one it always is."""
    declared: str = ""
    """The setting by which a person says that there is none of it to pay."""
    uncounted: str = ""
    """Why it is not counted, in words."""
    sheet: str = ""
    """The sheet that a person fills in to have it counted."""

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
    def counted_by(self) -> tuple[str, ...]:
        """The settings that say whether it is counted."""
        return (self.asked, self.declared) if self.declared else (self.asked,)

    def is_counted(self, values: Iterator[Any]) -> Test:
        """Whether it is counted, or declared to be nothing, by the next of the values."""
        there = known(next(values))
        return either(there, same(next(values), "yes")) if self.declared else there

    @property
    def what_is_known(self) -> str:
        """The column of what is known of it."""
        return self.known or self.name


PARTS: Final = (
    Part("ingredients", "ingredients", "ingredients_lack", True, "ingredients_known"),
    Part(
        "packaging",
        "packaging",
        "packaging_lack",
        True,
        "packaging_known",
        asked="rows_on_packaging",
        uncounted="no rows on Packaging",
        sheet="Packaging",
    ),
    Part(
        "labour",
        "your work",
        "labour_lack",
        True,
        "labour_known",
        asked="rows_on_stages",
        uncounted="no rows on Stages",
        sheet="Stages",
    ),
    Part(
        "kitchen",
        "the kitchen",
        "kitchen (minutes)",
        line="Kitchen hire",
        batch="kitchen_batch",
        minutes="kitchen_minutes",
        timed_with="labour",
        asked="kitchen_hire_typed",
        declared="no_kitchen",
        uncounted="no Kitchen hire per hour on Settings",
    ),
    Part(
        "overhead",
        "overheads",
        "overheads (an amount, batches per year)",
        known="overhead_known",
        line="Overheads",
        batch="overhead_per_batch",
        declared="no_overheads",
        asked="rows_on_overheads",
        uncounted="no rows on Overheads",
        sheet="Overheads",
    ),
    Part(
        "selling",
        "selling",
        "selling (hours, pay, units sold per day, card share)",
        known="selling_known",
        made=False,
        declared="no_selling_costs",
        asked="rows_on_outlets",
        uncounted="no rows on Outlets",
        sheet="Outlets",
    ),
)

MADE: Final = tuple(part for part in PARTS if part.made)
WITHOUT_WORK: Final = tuple(part.name for part in MADE if part.name != "labour")
"""The parts of what making a pack costs, save work."""
SOLD: Final = tuple(part for part in PARTS if not part.made)
KNOWN: Final = tuple(part.what_is_known for part in PARTS)
"""The columns of what is known of each part."""
ASKED: Final = tuple(
    sorted((part for part in PARTS if part.asked), key=lambda part: part.name != "labour")
)
"""The parts that may not be counted, the one most often forgotten first."""
