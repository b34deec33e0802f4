"""Which of the person's own names a drop-down offers where one is asked."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

__all__ = ["CHOSEN_FROM", "OFFERED", "TOGETHER", "FieldOf", "NamesAt", "offered"]

FieldOf = tuple[str, str]
"""A sheet that people fill in, and the field that has the names."""


@dataclass(frozen=True, slots=True)
class NamesAt:
    """Where names stand in a workbook: the tab, and the first of their cells, from 0."""

    tab: str
    row: int
    column: int


_ITEMS: Final = (("Items", "item"), ("Purchases", "item"))
_SUPPLIERS: Final = (("Suppliers", "supplier"), ("Purchases", "supplier"))
_RECIPES: Final = (("Batches", "recipe"), ("Recipes", "recipe"))
_PRODUCTS: Final = (("Products", "product"),)
_OUTLETS: Final = (("Outlets", "outlet"),)

OFFERED: Final[Mapping[FieldOf, tuple[FieldOf, ...]]] = MappingProxyType(
    {
        ("Purchases", "item"): _ITEMS,
        ("Purchases", "supplier"): _SUPPLIERS,
        ("Items", "item"): _ITEMS,
        ("Items", "usual_supplier"): _SUPPLIERS,
        ("Recipes", "recipe"): _RECIPES,
        ("Recipes", "uses"): _ITEMS,
        ("Batches", "recipe"): _RECIPES,
        ("Stages", "recipe"): _RECIPES,
        ("Packaging", "product"): _PRODUCTS,
        ("Packaging", "uses"): _ITEMS,
        ("Products", "recipe"): _RECIPES,
        ("Products", "sold_at"): _OUTLETS,
        ("Offers", "item"): _ITEMS,
        ("Offers", "supplier"): _SUPPLIERS,
        ("Suppliers", "supplier"): _SUPPLIERS,
        ("Plan", "product"): _PRODUCTS,
        ("Market days", "outlet"): _OUTLETS,
        ("Sales", "outlet"): _OUTLETS,
        ("Sales", "product"): _PRODUCTS,
        ("Made", "product"): _PRODUCTS,
        ("Counts", "what"): _PRODUCTS,
        ("Tests", "what"): _ITEMS,
    }
)
"""By field, where the names may be taken from: the first other one that is there."""


TOGETHER: Final[Mapping[FieldOf, tuple[tuple[FieldOf, ...], tuple[FieldOf, ...]]]] = (
    MappingProxyType({("Recipes", "uses"): (_RECIPES, _ITEMS)})
)
"""Fields that take a name of either of two, as far as a workbook has a sheet that lists both."""
CHOSEN_FROM: Final = "Names to choose from"
"""That sheet, out of sight in a workbook that we made; nothing is read from it."""


def offered(field: FieldOf, there: Collection[FieldOf]) -> FieldOf | None:
    """Where a field's names are taken from in a workbook; None where it has no such sheet.

    >>> offered(("Recipes", "uses"), [("Purchases", "item")])
    ('Purchases', 'item')
    """
    own = (each for each in OFFERED.get(field, ()) if each != field and each in there)
    return next(own, None)
