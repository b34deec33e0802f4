"""Each product's margin over the months of a series of prices, as one answer."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from decimal import Decimal
from typing import Any

from costbook.definitions.rounding import rounded

__all__ = ["MarginPath", "MonthMargin", "ProductPath"]


@dataclass(frozen=True, slots=True)
class MonthMargin:
    """A month: the series' price, and the cost and the margin of a pack then; None for a gap."""

    month: str
    price: Decimal | None
    cost: Decimal | None
    margin: Decimal | None


@dataclass(frozen=True, slots=True)
class ProductPath:
    """A product at an outlet, month by month."""

    product: str
    outlet: str
    months: tuple[MonthMargin, ...]

    @property
    def called(self) -> str:
        """The product, and where it is sold."""
        return f"{self.product}, {self.outlet}" if self.outlet else self.product

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        months = [asdict(each) for each in self.months]
        return {"product": self.product, "outlet": self.outlet or None, "months": months}


@dataclass(frozen=True, slots=True)
class MarginPath:
    """Every product that takes an item, at every outlet, had it cost what it cost in each month."""

    item: str
    products: tuple[ProductPath, ...]

    @property
    def at_first_outlet(self) -> tuple[ProductPath, ...]:
        """The products, each at its first outlet, which a chart has room for."""
        first: dict[str, ProductPath] = {}
        for each in self.products:
            first.setdefault(each.product, each)
        return tuple(first.values())

    @property
    def message(self) -> str:
        """The one thing to know: in which month which margin was lowest, at the first outlet."""
        lows = [
            (month.margin, month.month, each.called)
            for each in self.at_first_outlet
            for month in each.months
            if month.margin is not None
        ]
        if not lows:
            return f"{self.item}: no margin is known in these months"
        margin, month, name = min(lows)
        percent = rounded(margin * 100, 0)
        return f"{self.item}: the lowest margin is {percent:f}%, for {name} in {month}"

    def as_data(self) -> dict[str, Any]:
        """As JSON has it."""
        return {"item": self.item, "products": [each.as_data() for each in self.products]}
