"""What only figures show of the buy list: an amount on Items that can't be brought together."""

from __future__ import annotations

from collections.abc import Iterator

from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.problems import Problem, Severity

__all__ = ["BUY_FINDINGS"]

_AMOUNTS = (("on_hand", "on_hand", "On hand"), ("pars", "par", "Par"))
"""Tables of amounts on Items: the table, its field, and that field's title."""


def amounts_apart(costing: Costing) -> Iterator[Problem]:
    """What is on hand, or a par, in a unit that can't be compared with the one it is bought in."""
    for table, field, title in _AMOUNTS:
        for row in costing.structure.rows[table]:
            figures = costing.of(row)
            both = figures["measure"] is not None and figures["price_measure"] is not None
            if figures[field] and both and figures[f"{field}_bridge"] is None:
                yield Problem(
                    Severity.WRONG,
                    place_of(costing, row.sources["Items"], field),
                    "it is in another kind of unit than the item is bought in, and does not count.",
                    f"Give {title} in a unit that it is bought in.",
                )


def orders_without_end(costing: Costing) -> Iterator[Problem]:
    """A par whose orders take days to come, and nobody said how often they are sent."""
    for row in costing.structure.rows["pars"]:
        figures = costing.of(row)
        if figures["par"] and figures["comes_after_days"] and figures["order_every_days"] == 0:
            yield Problem(
                Severity.WRONG,
                place_of(costing, row.sources["Items"], "comes_after_days"),
                "without Order every days it doesn't say how long an order is to last.",
                "Type Order every days, or leave this cell empty if Par is what is to be there.",
            )


BUY_FINDINGS = (amounts_apart, orders_without_end)
"""What is found of a buy list, in its order."""
