"""What happened on the last market days with what is wanted now: packs taken, sold, sold out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Final

from costbook.book import Book, as_key
from costbook.costing.engine import Costing
from costbook.costing.stock_names import slips_of
from costbook.deciding.by_rule import by_rule
from costbook.deciding.market_days import SoldThatDay, sold_by_day
from costbook.definitions import market_days_rules as rules
from costbook.definitions.rounding import in_amount

__all__ = ["SoldLately", "TakenAlong", "sold_lately"]

_LAST_DAYS: Final = 3
"""How many of the days on which a product was taken along are looked at."""
_NOT_YET: Final = "not taken along yet"
_IN_DOUBT: Final = "a row of Sales is in doubt"


@dataclass(frozen=True, slots=True)
class TakenAlong:
    """A product on one market day [packs]; None where a row of that day doesn't say."""

    day: date
    outlet: str
    taken: Decimal | None
    sold: Decimal | None
    sold_out: bool | None

    def as_data(self) -> dict[str, Any]:
        """As `plan --json` has it."""
        return {
            "date": self.day.isoformat(),
            "outlet": self.outlet,
            "taken": self.taken,
            "sold": self.sold,
            "sold_out": self.sold_out,
        }


@dataclass(frozen=True, slots=True)
class SoldLately:
    """The last market days on which a product was taken along, the earliest first."""

    days: tuple[TakenAlong, ...]
    last: str
    """The last of them, as the workbook writes its days."""
    in_doubt: bool
    """Whether a row of Sales has no day, or a name that may be meant for the product's."""

    def as_data(self) -> list[dict[str, Any]]:
        """As `plan --json` has it."""
        return [each.as_data() for each in self.days]

    def in_words(self) -> str:
        """How much of what was taken was sold, on how many days, and on how many it sold out."""
        said = self._days_said() if self.days else _NOT_YET
        return f"{said}; {_IN_DOUBT}" if self.in_doubt else said

    def _days_said(self) -> str:
        sold = in_amount(_total([each.sold for each in self.days]))
        taken = in_amount(_total([each.taken for each in self.days]))
        days = "1 day" if len(self.days) == 1 else f"{len(self.days)} days"
        unknown = sum(each.sold_out is None for each in self.days)
        out = sum(each.sold_out is True for each in self.days) or "none"
        not_known = f" ({unknown} not known)" if unknown else ""
        return f"{sold} of {taken} on {days} to {self.last}, sold out on {out}{not_known}"


def sold_lately(costing: Costing) -> dict[str, SoldLately]:
    """Of each product, by its name, its last market days; of none in a workbook without Sales.

    Days after the costing date are none of them.
    """
    structure = costing.structure
    book = structure.book
    if "Sales" not in book.sheets:
        return {}
    names = [str(row.fixed["product"]) for row in structure.rows["products"]]
    found: dict[str, list[TakenAlong]] = {name: [] for name in names}
    slips = slips_of(book)["slip_on_sales"]
    in_doubt = {name for name in names if as_key(name) in slips}
    for (day, _), rows in sold_by_day(costing).items():
        for name in found.keys() & {each.product for each in rows}:
            if not isinstance(day, Decimal):
                in_doubt.add(name)
            elif book.day(day) <= structure.costed_on:
                its = [each for each in rows if each.product == name]
                found[name].append(_that_day(book.day(day), its))
    return {name: _last_of(days, book, name in in_doubt) for name, days in found.items()}


def _that_day(day: date, rows: Sequence[SoldThatDay]) -> TakenAlong:
    """All rows of a product on a day together."""
    sold, taken, home = (
        _total([each.number(name) for each in rows])
        for name in ("sold_counted", "taken", "came_home")
    )
    out = by_rule(rules.sold_out, {"came_home": home, "sold": sold})
    return TakenAlong(day, rows[0].outlet, taken, sold, None if out is None else out == 1)


def _last_of(days: Sequence[TakenAlong], book: Book, in_doubt: bool) -> SoldLately:
    along = sorted((each for each in days if each.taken != 0), key=lambda each: each.day)
    last = tuple(along[-_LAST_DAYS:])
    return SoldLately(last, book.written(last[-1].day) if last else "", in_doubt)


def _total(figures: Sequence[Decimal | None]) -> Decimal | None:
    """The sum; None where one is unknown."""
    known = [each for each in figures if each is not None]
    return sum(known, Decimal(0)) if len(known) == len(figures) else None
