"""What moved: each item's part of a product's change in cost, and the price at which it turns."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final

from costbook.costing.engine import Costing, Figures
from costbook.costing.rows import Row
from costbook.deciding.by_rule import by_rule
from costbook.definitions import rules

__all__ = ["MARKS", "moved", "ranked", "turning_prices"]

MARKS: Final = {"target": rules.turning_at_target, "zero": rules.turning_at_zero}
"""The marks a margin may fall to, and the rule that gives the pack price there."""


def moved(costing: Costing) -> list[dict[str, Any]]:
    """Each product at each outlet: cost then and now, each item's part, and what turns it.

    Costs then are those of today's recipes at the prices of then, so that the parts add up to
    the change exactly, in whatever order the prices changed.
    """
    return [_product(costing, row) for row in ranked(costing)]


def ranked(costing: Costing) -> list[Row]:
    """The rows of products, the largest rise in cost first; those unknown last."""

    def rise(row: Row) -> Decimal:
        value = costing.of(row.links["moves"])["moved_known"]
        return value if isinstance(value, Decimal) else Decimal(0)

    return sorted(costing.structure.rows["prices"], key=rise, reverse=True)


def _product(costing: Costing, row: Row) -> dict[str, Any]:
    figures, moves = costing.of(row), costing.of(row.links["moves"])
    needs = _needs(costing, row)
    return {
        "product": figures["product"],
        "outlet": figures["outlet"] or None,
        "before": moves["cost_then"],
        "after": figures["total"],
        "change": moves["moved"],
        "by_item": {str(need["item"]): need["need_moved"] for need in needs},
        "price_now": figures["price_now"],
        "margin_now": figures["now_margin"],
        "restoring_price": figures["price_on_step"],
        "packs_that_pay": moves["packs_that_pay"],
        "turning": list(turning_prices(costing, row)),
    }


def _needs(costing: Costing, price: Row) -> list[Figures]:
    product = price.links["products"]
    return [costing.figures["pack_needs"][at] for at in product.children["pack_needs"]]


def turning_prices(costing: Costing, price: Row) -> Iterator[dict[str, Any]]:
    """The pack price of each item at which the product's margin falls to each mark."""
    moves = costing.of(price.links["moves"])
    for at in price.links["products"].children["pack_needs"]:
        need = costing.structure.rows["pack_needs"][at]
        bought = costing.of(need.links["prices_now"])
        known = {**bought, **costing.of(need), **moves}
        for mark, rule in MARKS.items():
            turned = by_rule(rule, known)
            if turned is not None:
                yield {
                    "item": need.fixed["item"],
                    "price_per_pack": turned,
                    "now_per_pack": bought["price_per_pack"],
                    "at": mark,
                }
