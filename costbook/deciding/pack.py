"""A pack that is compared, and an item's packs side by side: plain data."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from costbook.book import as_key
from costbook.costing.engine import Figures
from costbook.costing.rows import Row
from costbook.definitions.rounding import rounded
from costbook.definitions.rules import ROWS_IN_RANK

__all__ = ["SOURCES", "SPOILAGE", "Pack", "money", "plain"]

SOURCES: Final = {"packs_bought": "Purchases", "packs_seen": "Offers"}
"""The person's sheet that the packs of a table stand on."""

SPOILAGE: Final = {"packs_bought": "spoilage_bought", "packs_seen": "spoilage_seen"}
"""The table of what may be thrown away, beside each table of packs."""


@dataclass(frozen=True, slots=True)
class Pack:
    """One pack: where it stands in Workings, and its figures."""

    row: Row
    figures: Figures
    spoilage: Figures
    name: str
    alone: Decimal | None = None
    """What the need costs where it is filled with this pack alone [money/base ready to use]."""

    def number(self, column: str) -> Decimal | None:
        """A figure of the pack; None where it isn't known."""
        value = self.figures[column]
        return value if isinstance(value, Decimal) else None

    @property
    def used_price(self) -> Decimal | None:
        """Price of what is really used [money/base]; None where it isn't known."""
        return self.number("used_price")

    @property
    def weighed(self) -> Decimal | None:
        """What it is compared by: its price for the need, else of what is used [money/base]."""
        return self.used_price if self.alone is None else self.alone

    @property
    def stands(self) -> bool:
        """Whether no later receipt of the item from its supplier has overtaken its price."""
        return self.figures["overtaken"] != 1

    @property
    def cut_to_weight(self) -> bool:
        """Whether it is a piece of another weight each time, of which any weight can be bought."""
        return self.figures["cut_to_weight"] == 1

    def cash(self, count: Decimal) -> Decimal:
        """What so many of it cost at the till, with delivery and without yearly costs [money]."""
        price = self.number("price_per_pack") or Decimal(0)
        each, other = (
            self.number(name) or Decimal(0) for name in ("other_cost_per_pack", "other_cost")
        )
        if self.row.table == "packs_seen":
            return count * price + (other if count else Decimal(0))
        return count * (price + each)

    @property
    def day(self) -> Decimal | None:
        """The day its price is of, as the workbook counts days; None where none is given."""
        rank, offer = self.figures.get("rank"), self.row.sources.get("Offers")
        if offer is not None:
            return offer.number("seen_on")
        return rank // ROWS_IN_RANK if isinstance(rank, Decimal) else None

    @property
    def supplier(self) -> str:
        """The supplier's name; empty where none is given."""
        return str(self.figures["supplier"] or "")

    @property
    def supplier_key(self) -> str:
        """What the supplier is looked up by."""
        return as_key(self.supplier)

    @property
    def called(self) -> str:
        """The pack and who sells it: ``10 lb from Mill``."""
        return f"{self.name} from {self.supplier}" if self.supplier else self.name


def plain(number: Decimal | None) -> str:
    """A number as a person writes it; a question mark for what isn't known."""
    return "?" if number is None else f"{number.normalize():f}"


def money(amount: Decimal, places: int) -> str:
    """Money to the currency's coin, halves up as a spreadsheet shows them."""
    return f"{rounded(amount, places):f}"
