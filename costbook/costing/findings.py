"""Costing → problems that only show once everything is computed: gaps, loops, old prices.

To add one, write a function of this shape and name it in FINDINGS.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Final

from costbook.book import Record, as_key
from costbook.costing.batch_findings import (
    batches_without_good,
    minutes_of_no_unit,
    packs_of_odd_size,
    packs_without_amount,
)
from costbook.costing.buy_findings import BUY_FINDINGS
from costbook.costing.engine import Costing
from costbook.costing.fee_findings import (
    card_fees_missing,
    card_shares_missing,
    commissions_missing,
    tax_rate_missing,
)
from costbook.costing.gap_findings import (
    allowance_of_nothing,
    hours_not_said,
    packaging_not_said,
    work_not_said,
)
from costbook.costing.line_findings import (
    items_without_price,
    lines_without_bridge,
    place_of,
    trimmings_not_said,
    uses_per_week_apart,
    uses_without_cost,
)
from costbook.costing.market_day_findings import MARKET_DAY_FINDINGS
from costbook.costing.price_findings import prices_far_from_the_last
from costbook.costing.receipt_findings import (
    newer_set_aside,
    nothing_paid,
    prices_old,
    purchases_later,
    readings,
    supplier_not_used,
)
from costbook.costing.result_findings import (
    packaging_above_half,
    prices_far_from_now,
    selling_above_half,
)
from costbook.costing.rows import Row
from costbook.costing.stock_findings import more_gone_than_was_there, stock_yet_to_come
from costbook.problems import Place, Problem, Severity

__all__ = ["FINDINGS", "TO_CHARGE", "Finding", "find"]

Finding = Callable[[Costing], Iterator[Problem]]


def find(costing: Costing, leave_out: Collection[Finding] = ()) -> list[Problem]:
    """All findings, in their order, but for some that are no fault of what is asked."""
    return [problem for each in FINDINGS if each not in leave_out for problem in each(costing)]


def _wrong(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.WRONG, place_of(costing, record, name), what, remedy)


def _doubt(costing: Costing, record: Record, name: str, what: str, remedy: str) -> Problem:
    return Problem(Severity.DOUBTFUL, place_of(costing, record, name), what, remedy)


# ---------------------------------------------------------------- recipes and work


def loops(costing: Costing) -> Iterator[Problem]:
    """A recipe that uses itself, directly or through others, has no cost: each of its lines."""
    for loop in costing.structure.loops:
        names = " → ".join(loop)
        steps = {(as_key(one), as_key(other)) for one, other in pairwise(loop)}
        steps |= {(other, one) for one, other in steps}  # a loop may be told either way round
        for record in costing.structure.book.records("Recipes"):
            if (as_key(record.text("recipe")), as_key(record.text("uses"))) in steps:
                yield _wrong(
                    costing,
                    record,
                    "uses",
                    f"these recipes use one another in a circle: {names}.",
                    "Take one of these lines out.",
                )


def stages_without_minutes(costing: Costing) -> Iterator[Problem]:
    """A stage without any minutes is a gap, not nothing."""
    names = ("minutes_per_batch", "minutes_per_unit", "waiting_minutes")
    told: set[int] = set()
    for table in ("stages", "product_stages"):
        for row in costing.structure.rows[table]:
            record = row.sources.get("Stages")
            if not record or record.row in told or any(name in record.values for name in names):
                continue
            told.add(record.row)
            yield _wrong(
                costing,
                record,
                "minutes_per_batch",
                "the stage has no minutes.",
                "Time it once and fill them in.",
            )


def overlaps_too_long(costing: Costing) -> Iterator[Problem]:
    """A stage that overlaps another for longer than it lasts holds the kitchen for no time."""
    told: set[int] = set()
    for table in ("stages", "product_stages"):
        for row in costing.structure.rows[table]:
            record = row.sources.get("Stages")
            if not record or record.row in told or not _overlaps_too_long(costing, row):
                continue
            told.add(record.row)
            yield _wrong(
                costing,
                record,
                "overlap_minutes",
                "the stage overlaps another for longer than it takes itself.",
                "Type at most the minutes that the stage takes.",
            )


def _overlaps_too_long(costing: Costing, row: Row) -> bool:
    figures = costing.of(row)
    works = "minutes_per_batch" if figures["minutes_per_unit"] == 0 else "work_minutes"
    work, waiting, overlap = (
        figures[name] for name in (works, "waiting_minutes", "overlap_minutes")
    )
    if not (isinstance(work, Decimal) and isinstance(waiting, Decimal)):
        return False
    return isinstance(overlap, Decimal) and overlap > work + waiting


# ---------------------------------------------------------------- settings and outlets


def settings_missing(costing: Costing) -> Iterator[Problem]:
    """Pay, target margin and the like, where a figure waits for them."""
    stages = [*costing.figures["stages"], *costing.figures["product_stages"]]
    unpaid = any(f["stage_labour"] is None and f["person_minutes"] for f in stages)
    unpaid = unpaid or any(f["own_pay_per_day"] is None for f in costing.figures["outlets"])
    no_target = any(f["applied_target_margin"] is None for f in costing.figures["prices"])
    year = costing.one("year")
    yearly = year["yearly"] is not None and year["yearly_per_batch"] is None
    for name, title, waits in (
        ("pay_per_hour", "Pay per hour", unpaid),
        ("target_margin", "Target margin %", no_target),
        ("batches_per_year", "Batches per year", yearly),
    ):
        if waits and costing.one("settings")[name] is None:
            yield from _setting_missing(costing, name, title)


def _setting_missing(costing: Costing, name: str, title: str) -> Iterator[Problem]:
    """Asked, unless the cell is filled with what was asked about already."""
    book = costing.structure.book
    record = next(iter(book.records("Settings")), None)
    if record and name in record.values:
        return
    tab = book.sheets["Settings"].tab if "Settings" in book.sheets else "Settings"
    place = Place(tab, record.cells.get(name, "") if record else "")
    what, remedy = f"{title} is not known.", f"Fill in {title} on Settings."
    yield Problem(Severity.WRONG, place, what, remedy)


def outlets_without_units(costing: Costing) -> Iterator[Problem]:
    """The costs of a day can't be shared out without the units sold on it."""
    for row in costing.structure.rows["outlets"]:
        figures = costing.of(row)
        if not row.sources or figures["selling_per_unit"] is not None:
            continue
        record = row.sources["Outlets"]
        costs = figures["day_costs"] or figures["day_costs_without_pay"]
        if "units_sold_per_day" not in record.values and costs:
            yield _wrong(
                costing,
                record,
                "units_sold_per_day",
                "the day has costs, and how many units it sells is not known.",
                "Fill in Units sold per day.",
            )
        if figures["travel_per_day"] is None and "cost_per_mile" not in record.values:
            yield _wrong(
                costing,
                record,
                "cost_per_mile",
                "there are miles, and what one costs is not known.",
                "Fill in Cost per mile, or clear the miles.",
            )


def sales_of_one(costing: Costing) -> Iterator[Problem]:
    """A fixed fee for each card sale, and nobody said how many units a sale has."""
    for row in costing.structure.rows["outlets"]:
        figures, record = costing.of(row), row.sources.get("Outlets")
        fixed = figures["card_fixed_fee"] and figures["card_share"]
        if record and fixed and "units_per_sale" not in record.values:
            yield _doubt(
                costing,
                record,
                "units_per_sale",
                "the fixed card fee was counted for sales of 1 unit each.",
                "Fill in Units per sale, if people buy more at once.",
            )


def prices_out_of_reach(costing: Costing) -> Iterator[Problem]:
    """Margin and percentage fees that together take the whole price."""
    by_outlet: dict[str, list[Row]] = defaultdict(list)
    for row in costing.structure.rows["prices"]:
        by_outlet[str(costing.of(row)["outlet"])].append(row)
    for rows in by_outlet.values():
        none_left = [row for row in rows if _no_room(costing, row)]
        outlet = rows[0].sources.get("Outlets")
        if none_left and len(none_left) == len(rows) and outlet:
            fee = "commission" if "commission" in outlet.values else "card_fee"
            yield _out_of_reach(costing, outlet, fee, "no product", rows[0])
            continue
        for row in none_left:
            name = f"{costing.of(row)['product']} has no price"
            margin = "product_target_margin"
            yield _out_of_reach(costing, row.sources["Products"], margin, name, row)


def _no_room(costing: Costing, row: Row) -> bool:
    """Whether nothing is left; a margin of 100 % is asked about where it stands."""
    room, margin = (costing.of(row)[name] for name in ("room", "applied_target_margin"))
    return isinstance(room, Decimal) and room <= 0 and isinstance(margin, Decimal) and margin < 1


def _out_of_reach(costing: Costing, record: Record, name: str, who: str, row: Row) -> Problem:
    where = costing.of(row)["outlet"]
    has = "has a price" if who == "no product" else ""
    subject = " ".join(filter(None, (who, has, f"at {where}" if where else "")))
    return _wrong(
        costing,
        record,
        name,
        f"{subject}: the target margin and the percentage fees take all of it.",
        "Lower the target margin, the commission or the card fee.",
    )


TO_CHARGE: Final[tuple[Finding, ...]] = (settings_missing, prices_out_of_reach)
"""What a price to charge waits for: no fault where packs are compared."""

FINDINGS: Final[tuple[Finding, ...]] = (
    loops,
    items_without_price,
    lines_without_bridge,
    uses_without_cost,
    uses_per_week_apart,
    *BUY_FINDINGS,
    trimmings_not_said,
    batches_without_good,
    packs_without_amount,
    packs_of_odd_size,
    settings_missing,
    stages_without_minutes,
    minutes_of_no_unit,
    overlaps_too_long,
    work_not_said,
    packaging_not_said,
    allowance_of_nothing,
    hours_not_said,
    outlets_without_units,
    tax_rate_missing,
    commissions_missing,
    card_shares_missing,
    card_fees_missing,
    sales_of_one,
    prices_out_of_reach,
    nothing_paid,
    purchases_later,
    supplier_not_used,
    newer_set_aside,
    prices_old,
    readings,
    prices_far_from_the_last,
    prices_far_from_now,
    packaging_above_half,
    selling_above_half,
    more_gone_than_was_there,
    stock_yet_to_come,
    *MARKET_DAY_FINDINGS,
)
