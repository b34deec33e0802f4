"""The purchases as they are computed, filed by item, supplier and day: which of them counts."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from decimal import Decimal
from typing import Final

from costbook.book import Value, as_key
from costbook.costing.rows import Compute, Figures, Row
from costbook.definitions.columns import Discounts, FirstRank, LatestPack, LatestRank, YearSpend
from costbook.definitions.rules import ROWS_IN_RANK

__all__ = ["DAYS_IN_YEAR", "NEAR", "NOBODY", "Ledger"]

DAYS_IN_YEAR: Final = 365
"""How far back a year's spending goes."""

NEAR: Final = Decimal("0.000001")
"""Packs that differ by less than this share of what they hold are the same size."""

NOBODY: Final = as_key("")
"""The key of a supplier that isn't named."""


class Ledger:
    """What the rows of Purchases say together; every row is filed before anybody asks."""

    def __init__(self) -> None:
        self.ranks: dict[tuple[str, ...], list[Decimal]] = defaultdict(list)
        self.packs: dict[tuple[Value, Value], list[tuple[Decimal, Decimal]]] = defaultdict(list)
        self.discounts: dict[tuple[Value, ...], Decimal] = defaultdict(Decimal)
        self.spent: dict[Value, list[tuple[Decimal, Decimal]]] = defaultdict(list)
        self.spent_in_year: dict[tuple[Value, Decimal], Decimal] = {}

    def file(self, figures: Figures) -> None:
        """File a purchase under its item, under its item and supplier, and under its supplier."""
        item, supplier, day = figures["item_key"], figures["supplier_key"], figures["day"]
        rank, discount, line = figures["rank"], figures["discount"], figures["line_total"]
        if isinstance(rank, Decimal):
            self.ranks[str(item),].append(rank)
            self.ranks[str(item), str(supplier)].append(rank)
            held = figures["pack_held"]
            if isinstance(held, Decimal):
                self.packs[item, supplier].append((rank, held))
        if isinstance(discount, Decimal) and discount:
            self.discounts[item, supplier, day] += discount
        if isinstance(day, Decimal) and isinstance(line, Decimal):
            self.spent[supplier].append((day, line))

    def latest_rank(self, how: LatestRank) -> Compute:
        """How a row finds the purchase that counts for it."""

        def latest_rank(_row: Row, figures: Figures) -> Value:
            up_to = figures[how.up_to]
            if not isinstance(up_to, Decimal):
                return None
            item = str(figures[how.key])
            if not how.supplier:
                return self._latest((item,), up_to)
            supplier = str(figures[how.supplier])
            counts = supplier != NOBODY or how.unnamed_too
            return self._latest((item, supplier), up_to) if counts else Decimal(0)

        return latest_rank

    def _latest(self, of: tuple[str, ...], up_to: Decimal) -> Decimal:
        """The highest rank up to a day; zero for none."""
        ranks = self.ranks.get(of, [])
        ranks.sort()  # sorted already after the first call, which then costs next to nothing
        at = bisect_left(ranks, (up_to + 1) * ROWS_IN_RANK)
        return ranks[at - 1] if at else Decimal(0)

    def latest_pack(self, how: LatestPack) -> Compute:
        """How a pack finds its latest purchase."""

        def latest_pack(_row: Row, figures: Figures) -> Value:
            up_to, held = figures[how.up_to], figures[how.held]
            if not isinstance(up_to, Decimal) or not isinstance(held, Decimal):
                return None
            limit = (up_to + 1) * ROWS_IN_RANK
            packs = self.packs.get((figures[how.key], figures[how.supplier]), ())
            near = (
                rank
                for rank, size in packs
                if rank < limit and held * (1 - NEAR) < size < held * (1 + NEAR)
            )
            return max(near, default=Decimal(0))

        return latest_pack

    def first_rank(self, how: FirstRank) -> Compute:
        """How a row finds the first purchase of its item."""

        def first_rank(_row: Row, figures: Figures) -> Value:
            return min(self.ranks.get((str(figures[how.key]),), ()), default=Decimal(0))

        return first_rank

    def year_spend(self, how: YearSpend) -> Compute:
        """How a row learns what was spent at its supplier in the year up to a day [money]."""

        def year_spend(_row: Row, figures: Figures) -> Value:
            day, supplier = figures[how.day], figures[how.supplier]
            return self._spent(supplier, day) if isinstance(day, Decimal) else None

        return year_spend

    def _spent(self, supplier: Value, day: Decimal) -> Decimal:
        """What was spent in the year up to a day; added up once for each supplier and day."""
        key = supplier, day
        if key not in self.spent_in_year:
            lines = self.spent.get(supplier, ())
            year = (line for bought, line in lines if day - DAYS_IN_YEAR < bought <= day)
            self.spent_in_year[key] = sum(year, Decimal(0))
        return self.spent_in_year[key]

    def discounted(self, how: Discounts) -> Compute:
        """How a row finds what was taken off its purchase [money]."""

        def discounted(_row: Row, figures: Figures) -> Value:
            if figures[how.day] is None:
                return None
            key = figures[how.key], figures[how.supplier], figures[how.day]
            return self.discounts.get(key, Decimal(0))

        return discounted
