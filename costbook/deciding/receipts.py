"""The receipts that set a price, each with the one price that it sets."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal

from costbook.book import Value
from costbook.costing.engine import Costing, Figures
from costbook.deciding.by_rule import by_rule
from costbook.definitions import rules

__all__ = ["receipts"]


def receipts(costing: Costing) -> Iterator[tuple[Figures, Decimal]]:
    """Each receipt line that sets a price until the costing date, by day, and its price [base].

    What was taken off goes to the last line of its item, supplier and day, as in the costing.
    """
    lines = costing.figures["purchases"]
    taken_off: dict[tuple[Value, ...], Decimal] = defaultdict(Decimal)
    for line in lines:
        taken_off[_where(line)] += _number(line["discount"])
    ranked = sorted((line for line in lines if _counts(costing, line)), key=_rank)
    last = {_where(line): line for line in ranked}
    for line in ranked:
        known = line | {"discounts": Decimal(0)}
        if last[_where(line)] is line:
            known["discounts"] = taken_off[_where(line)]
        known["size_in_base_units"] = by_rule(rules.size_in_base_units, line)
        price = by_rule(rules.price_per_base_unit, known)
        if price is not None:
            yield line, price


def _where(line: Figures) -> tuple[Value, ...]:
    return line["item_key"], line["supplier_key"], line["day"]


def _counts(costing: Costing, line: Figures) -> bool:
    day, until = line["day"], costing.one("settings")["costed_on"]
    dated = isinstance(day, Decimal) and isinstance(until, Decimal) and day <= until
    return dated and isinstance(line["rank"], Decimal)


def _rank(line: Figures) -> Decimal:
    return _number(line["rank"])


def _number(value: Value) -> Decimal:
    return value if isinstance(value, Decimal) else Decimal(0)
