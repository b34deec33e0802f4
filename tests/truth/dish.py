"""One dish, one portion: the workbook that published examples are drawn over."""

from __future__ import annotations

import math
from typing import Any

from tests.helpers import priced, product_of
from tests.tables import sheets

__all__ = ["DISH", "cut", "made_of", "portion", "printed"]

# One portion is the whole batch, so that a pack's ingredients are the recipe's own sum.
DISH = """
Settings
Setting  | Value
Currency | USD

Batches
Recipe | Makes | Unit
Dish   | 1     | ea

Products
Product | Recipe | Units per pack
Portion | Dish | 1
"""


def portion(*texts: str) -> dict[str, Any]:
    """The one product of a workbook that is drawn over the dish above."""
    return product_of(priced(sheets(DISH, *texts)), "Portion")


def made_of(*texts: str) -> float:
    """What the ingredients of one portion cost."""
    cost: float = portion(*texts)["cost"]["ingredients"]
    return cost


def printed(found: float, figure: str) -> None:
    """Assert the figure as a book prints it, rounded half up to as many places."""
    places = len(figure.partition(".")[2])
    assert math.floor(found * 10**places + 0.5) / 10**places == float(figure)


def cut(found: float, figure: str) -> None:
    """Assert the figure as a book prints it that drops the digits it has no room for."""
    places = len(figure.partition(".")[2])
    assert math.floor(found * 10**places) / 10**places == float(figure)
