"""Packs of a supplier whose yearly costs can't be spread yet: what they would need to pay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_CEILING, Decimal

from costbook.costing.engine import Costing
from costbook.deciding.by_rule import by_rule
from costbook.deciding.pack import Pack, money
from costbook.deciding.plan import usable_of
from costbook.definitions import rules
from costbook.definitions.amounts import amount_in_words
from costbook.definitions.rounding import in_percent, rounded

__all__ = ["with_costs_to_spread"]

_BEFORE_NOISE = 6
"""Decimal places that an amount is rounded to before it is taken up, as rules do."""


def with_costs_to_spread(
    costing: Costing, packs: Sequence[Pack], unit: str, places: int
) -> Iterator[str]:
    """A sentence for each pack whose supplier costs something a year, over a need not known."""
    priced = [pack for pack in packs if pack.weighed and pack.stands]
    for pack in packs:
        share = pack.row.links.get("supplier_shares")
        costs = costing.of(share) if share is not None else {}
        charge = costs.get("yearly_charge")
        if isinstance(charge, Decimal) and charge and costs["yearly_share"] is None:
            yield (
                f"The {pack.called} is not compared yet: {pack.supplier} costs "
                f"{money(charge, places)} a year beside its prices, and how much of what it sells "
                "you use is not known. Fill in Batches per year on Settings, or Use per week on "
                f"Items.{_pays(costing, pack, priced, charge, unit)}"
            )


def _pays(costing: Costing, pack: Pack, priced: Sequence[Pack], charge: Decimal, unit: str) -> str:
    """From how much a year on it is the cheapest, its yearly costs included."""
    own = _ready_without(pack)
    other = priced[0].number("compared_ready") if priced else None
    if own is None or other is None:
        return ""
    if own >= other:
        return f" Without that it is no cheaper than the {priced[0].called}."
    needed = rounded(charge / (other - own) / usable_of(costing, pack), _BEFORE_NOISE)
    pays_from = amount_in_words(needed, unit, ROUND_CEILING)
    return (
        f" Without that it is {in_percent(1 - own / other)} cheaper than the {priced[0].called}, "
        f"so it pays if you use more than {pays_from} a year."
    )


def _ready_without(pack: Pack) -> Decimal | None:
    """Its price ready to use without what its supplier costs a year [money/base]."""
    known = pack.figures | {"supplier_share": Decimal(0), "need_part": Decimal(0)}
    known["pack_cost"] = by_rule(rules.pack_cost, known)
    known["compared_price"] = by_rule(rules.compared_price, known)
    return by_rule(rules.compared_ready, known)
