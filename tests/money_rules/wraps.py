"""The plain workbook that each hand-worked case is drawn over, and ways to ask it."""

from __future__ import annotations

from typing import Any

from tests.helpers import priced, product_of
from tests.tables import row_of, sheets

__all__ = ["STALL", "WRAPS", "answer", "costs", "flour", "said", "single"]

# 600 g of flour at 2.00 a kilogram is 1.20; twelve wraps, so 0.10 each.
WRAPS = """
Settings
Setting  | Value
Currency | USD

Purchases
Date       | Item  | Pack size | Unit | Price per pack
2026-11-01 | Flour | 1000      | g    | 2.00

Recipes
Recipe | Uses  | Amount | Unit
Wrap   | Flour | 600    | g

Batches
Recipe | Makes | Unit
Wrap   | 12    | ea

Products
Product | Recipe | Units per pack
Single  | Wrap | 1
"""


def answer(*texts: str, on: str = "2026-11-25") -> dict[str, Any]:
    return priced(sheets(WRAPS, *texts), on=on)


def single(*texts: str, outlet: str | None = None, on: str = "2026-11-25") -> dict[str, Any]:
    return product_of(answer(*texts, on=on), "Single", outlet)


def costs(*texts: str, outlet: str | None = None) -> dict[str, Any]:
    found: dict[str, Any] = single(*texts, outlet=outlet)["cost"]
    return found


def flour(purchases: str, *texts: str, on: str = "2026-11-25") -> dict[str, Any]:
    """The flour of a workbook with these purchases."""
    return row_of(answer(f"Purchases\n{purchases.strip()}", *texts, on=on), "item", "Flour")


def said(found: dict[str, Any], sheet: str, cell: str) -> list[str]:
    """What the problems say of one cell."""
    return [
        f"{problem['what']} {problem['remedy']}"
        for problem in found["problems"]
        if (problem["sheet"], problem["cell"]) == (sheet, cell)
    ]


STALL = """
Settings
Setting        | Value
Currency       | USD
Pay per hour   | 12
Pay on-costs % | 25

Overheads
Cost    | Amount | Per        | Share %
Gazebo  | 8      | market day | 50

Outlets
Outlet | Kind      | Fee per day | Hours per day | Miles per day | Cost per mile | Other per day | Units sold per day
Market |           | 35          | 6             | 20            | 0.70          | 3             | 100
Cafe   | wholesale | 0           | 0             | 10            | 0.70          | 0             | 50
"""  # noqa: E501  # a wide sheet
