"""What an item costs: the purchase that counts, the bridges, one bought line."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from tests.oracle.numbers import GAP, UNITS, Part, Row, given, key, number, pct, records, share
from tests.tables import Sheets

__all__ = ["Items"]


class Items:
    """One workbook, looked up by name as each figure asks for it."""

    def __init__(self, sheets: Sheets, on: date) -> None:
        self.on = on
        self.tables = {name: records(rows) for name, rows in sheets.items()}
        self.settings = {key(row["setting"]): row["value"] for row in self.rows("Settings")}
        self.items = {key(row["item"]): row for row in self.rows("Items")}
        self.batches = {key(row["recipe"]): row for row in self.rows("Batches")}
        self.pay = number(self.settings.get("pay per hour"))
        self.on_costs = 1 + self.pct("pay on-costs %")
        self.included = key(self.settings.get("prices include sales tax")) == "yes"
        # tax inside the prices at a rate that nobody gave is not known; on top of them it is none
        self.tax = share(self.settings.get("sales tax %"), None if self.included else 0)

    def rows(self, sheet: str) -> list[Row]:
        return self.tables.get(sheet, [])

    def pct(self, setting: str) -> Fraction:
        return pct(self.settings.get(setting))

    def _qualifies(self, row: Row, until: date) -> bool:
        """A dated, sized, priced purchase that is no return."""
        return (
            row["date"] <= until
            and given(row["pack size"]) > 0
            and given(row["price per pack"]) > 0
            and given(row["packs"], 1) > 0
        )

    def counts(self, item: str, until: date) -> Row | None:
        """The purchase that counts: the latest from the usual supplier, else from any."""
        usual = key(self.items.get(item, {}).get("usual supplier"))
        bought = [row for row in self.rows("Purchases") if key(row["item"]) == item]
        priced = [row for row in bought if self._qualifies(row, until)]
        pool = [row for row in priced if usual and key(row["supplier"]) == usual] or priced
        return max(pool, key=lambda row: (row["date"], row["#"]), default=None)

    def _discounts(self, paid: Row) -> Fraction:
        """Money back in rows without a size, of the same item, supplier and date."""
        same = [
            given(row["packs"], 1) * given(row["price per pack"]) + given(row["other cost"])
            for row in self.rows("Purchases")
            if row["pack size"] is None
            and given(row["packs"], 1) >= 0
            and row["date"] == paid["date"]
            and key(row["item"]) == key(paid["item"])
            and key(row["supplier"]) == key(paid["supplier"])
        ]
        return sum((money for money in same if money < 0), Fraction(0))

    def as_bought(self, item: str, until: date) -> tuple[Fraction, str] | None:
        """Money per base unit, and the kind of unit it was bought by."""
        row = self.counts(item, until)
        if row is None:
            return None
        kind, factor = UNITS[row["unit"]]
        packs, price = given(row["packs"], 1), given(row["price per pack"])
        paid = packs * price + given(row["other cost"]) + self._discounts(row)
        held = packs * given(row["pack count"], 1) * given(row["pack size"]) * factor
        return paid / held, kind

    def _worth(self, item: str, kind: str) -> tuple[str, Fraction] | None:
        """What one base unit of this kind is worth in grams, or in square centimetres."""
        row = self.items.get(item, {})
        width = number(row.get("roll width"))
        if width is not None:
            width *= UNITS[row["roll width unit"]][1]
        worth = {
            "mass": ("grams", Fraction(1)),
            "volume": ("grams", number(row.get("grams per ml"))),
            "piece": ("grams", number(row.get("grams per piece"))),
            "area": ("square", Fraction(1)),
            "length": ("square", width),
        }[kind]
        return None if worth[1] is None else (worth[0], worth[1])

    def cross(self, item: str, kind: str, wanted: str) -> Fraction | None:
        """Base units of the wanted kind in one of this kind, over the item's own bridges."""
        if kind == wanted:
            return Fraction(1)
        here, there = self._worth(item, kind), self._worth(item, wanted)
        if here is None or there is None or here[0] != there[0]:
            return None
        return here[1] / there[1]

    def bought_line(self, row: Row, *, ready: bool) -> Part:
        """An amount of an item, at its price as bought or ready to use."""
        item = key(row["uses"])
        price = self.as_bought(item, self.on)
        if price is None:
            return GAP
        kind, factor = UNITS[row["unit"]]
        bridge = self.cross(item, kind, price[1])
        general = share(self.items.get(item, {}).get("usable %"), 1, 5)
        usable = share(row.get("usable %"), general, 5) if ready else Fraction(1)
        return Part(price[0] * given(row["amount"]) * factor / given(usable)) * bridge
