"""Which pack: every pack of an item side by side, and the finding in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from costbook.book import Value
from costbook.costing.engine import Costing
from costbook.costing.result import currency_of
from costbook.deciding.compared_item import ComparedItem
from costbook.deciding.least_orders import with_least_orders
from costbook.deciding.pack import SOURCES, SPOILAGE, Pack, money
from costbook.deciding.pack_words import finding
from costbook.deciding.plan import Need, cheapest_plan, need_of, plan_of, usual_cost
from costbook.deciding.shrunk import shrunk_packs
from costbook.deciding.yearly_costs import with_costs_to_spread
from costbook.definitions.currencies import minor_unit
from costbook.definitions.units import BASE_UNIT, Measure

__all__ = ["SOURCES", "ComparedItem", "Pack", "compared", "money", "packs_by_item"]


def compared(costing: Costing, weeks: Decimal) -> list[ComparedItem]:
    """Every item of which a pack is known; ``weeks`` is how long the mix is to last."""
    shrunk = shrunk_packs(costing)
    items = [
        _item(costing, key, packs, shrunk.get(key, ()), weeks)
        for key, packs in packs_by_item(costing).items()
    ]
    return with_least_orders(costing, items)


def packs_by_item(costing: Costing) -> dict[str, list[Pack]]:
    """Every pack that was bought or seen, by its item's key."""
    by_item: dict[str, list[Pack]] = {}
    for table, spoilage in SPOILAGE.items():
        for row in costing.structure.rows[table]:
            figures, lost = costing.of(row), costing.of(row.links[spoilage])
            pack = Pack(row, figures, lost, str(row.fixed["pack"]))
            by_item.setdefault(str(row.fixed["item_key"]), []).append(pack)
    return by_item


def _item(
    costing: Costing, key: str, packs: list[Pack], shrunk: Sequence[str], weeks: Decimal
) -> ComparedItem:
    need = need_of(costing, packs[0], weeks)
    weighed = [replace(pack, alone=_alone(pack, need)) for pack in packs]
    ordered = sorted(
        weighed, key=lambda each: (not each.stands, each.weighed is None, each.weighed or 0)
    )
    unit = costing.of(ordered[0].row.links["prices_now"])["large_unit"] or ""
    coins = minor_unit(currency_of(costing))
    spread = with_costs_to_spread(costing, ordered, str(unit), 2 if coins is None else coins)
    return ComparedItem(
        item=str(ordered[0].row.fixed["item"]),
        key=key,
        base_unit=_base_unit(ordered[0].figures["measure"]),
        large_unit=str(unit),
        packs=tuple(ordered),
        in_words=" ".join((finding(ordered, costing.structure.book), *spread, *shrunk)),
        need=need,
        plan=cheapest_plan(ordered, need),
        usual_cost=usual_cost(ordered, need),
    )


def _alone(pack: Pack, need: Need | None) -> Decimal | None:
    """What the need costs in this pack alone, for each unit of it ready to use [money/base]."""
    plan = plan_of(pack, need) if need else None
    return plan.cost / need.ready if plan and need else None


def _base_unit(measure: Value) -> str:
    """The base unit as JSON names it; empty where the item has no price."""
    if not isinstance(measure, Decimal):
        return ""
    return "cm²" if measure == Measure.AREA else BASE_UNIT[Measure(int(measure))]
