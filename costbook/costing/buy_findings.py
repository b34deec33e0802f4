"""What only figures show of a buy list: an amount on Items that can't be brought together."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from costbook.book import Record
from costbook.costing.engine import Costing
from costbook.costing.line_findings import place_of
from costbook.costing.plan_findings import PLAN_FINDINGS
from costbook.costing.rows import Row
from costbook.definitions.rules import ROWS_IN_RANK, WEEKS_IN_YEAR
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


def more_than_a_year_s(costing: Costing) -> Iterator[Problem]:
    """More on hand than a year takes: a slip of the unit, or of a digit, buys too little."""
    for row in costing.structure.rows["to_buy"]:
        held = costing.of(row)["held_on_hand"]
        use = costing.of(row.links["item_use"])["use_per_week"]
        if not isinstance(held, Decimal) or not isinstance(use, Decimal):
            continue
        if 0 < use * WEEKS_IN_YEAR < held:
            count = _count_of(costing, row)
            place = count and place_of(costing, count, "amount")
            yield Problem(
                Severity.DOUBTFUL,
                place or place_of(costing, row.sources["Items"], "on_hand"),
                "so much is on hand as is not used in a year.",
                "Look whether the amount and its unit are right.",
            )


def bought_since_the_count(costing: Costing) -> Iterator[Problem]:
    """A count that stands for what is on hand, and is older than a receipt."""
    for row in costing.structure.rows["to_buy"]:
        count, rank = _count_of(costing, row), costing.of(row.links["prices_now"])["rank_of_any"]
        day = count.number("day") if count else None
        if count and day and isinstance(rank, Decimal) and rank // ROWS_IN_RANK > day:
            yield Problem(
                Severity.DOUBTFUL,
                place_of(costing, count, "amount"),
                f"this counts as what is on hand of {row.fixed['item']}, and more of it was bought "
                "since.",
                "Count again, or type what is there as On hand on Items.",
            )


def _count_of(costing: Costing, row: Row) -> Record | None:
    """The row of Counts that says what is on hand of an item; None where none does."""
    if costing.of(row)["on_hand_cell"] is not None or "counted_on_hand" not in row.links:
        return None
    rank = costing.of(row.links["counted_on_hand"])["counted_rank"]
    at = rank % ROWS_IN_RANK if isinstance(rank, Decimal) else None
    return next((r for r in costing.structure.book.records("Counts") if r.row == at), None)


BUY_FINDINGS = (
    *PLAN_FINDINGS,
    amounts_apart,
    orders_without_end,
    more_than_a_year_s,
    bought_since_the_count,
)
"""What is found of a plan and its buy list, in its order."""
