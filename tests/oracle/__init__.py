"""A second costing: small, slow, exact, written from the design's money rules alone.

It shares no line with the package: fractions for numbers, a dictionary for the units, a walk down
the recipes for every figure. Two answers that agree were reached in two ways. It reads clean cells
only (numbers, dates, plain unit names); what people really type has its own tests.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from tests.oracle.numbers import BASE, UNITS, Blank, Row, key, sells, share
from tests.oracle.products import Products
from tests.tables import Sheets

__all__ = ["UNITS", "cost"]


class _Costing(Products):
    """Every row that `cost --json` shows."""

    def recipe(self, name: str) -> Row:
        cost = self.material(name).figure
        unit = None if cost is None else cost / self.good(name)
        minutes = self.work(name)[2].figure
        return {"batch_cost": cost, "unit_cost": unit, "labour_minutes": minutes}

    def item(self, name: str) -> Row:
        now, row = self.as_bought(name, self.on), self.counts(name, self.on)
        usable = share(self.items.get(name, {}).get("usable %"), 1, 5)
        if now is None or row is None:
            return {"price_per_base_unit": None, "usable_share": usable, "change": None}
        before = self.as_bought(name, row["date"] - timedelta(days=1))
        bridge = None if before is None else self.cross(name, before[1], now[1])
        change = now[0] / (before[0] / bridge) - 1 if before is not None and bridge else None
        return {"price_per_base_unit": now[0], "usable_share": usable, "change": change}


def cost(sheets: Sheets, on: date) -> dict[str, Any]:
    """Every figure of `cost --json`, as fractions, keyed by product and outlet or by name."""
    book = _Costing(sheets, on)
    outlets: list[Row] = book.rows("Outlets") or [Blank()]
    used = {key(row["uses"]) for sheet in ("Recipes", "Packaging") for row in book.rows(sheet)}
    names = {key(row["item"]) for row in book.rows("Purchases")}
    names |= {name for name in used if not book.is_recipe(name)}
    return {
        "products": {
            (key(row["product"]), key(outlet.get("outlet"))): book.product(row, outlet)
            for row in book.rows("Products")
            for outlet in outlets
            if sells(row, outlet)
        },
        "uncounted": book.uncounted(),
        "recipes": {name: book.recipe(name) for name in book.batches},
        "items": {name: book.item(name) for name in names | set(book.items)},
        "base_units": {
            name: BASE[price[1]]
            for name in names
            if (price := book.as_bought(name, on)) is not None
        },
    }
