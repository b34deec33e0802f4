"""What a cook is told of each figure: its words, by table of Workings and column.

How a figure comes about stands in ``workings.py``, and what its words may hold in ``told.py``. A
column that isn't here is told as the one it is looked up from, or as a bare figure. ``wiring.py``
looks that each word has its column, and ``tests/definitions/test_told.py`` that whatever a person
typed, and a price rests on, stands in words.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from costbook.definitions.parts import PARTS
from costbook.definitions.told import (
    CODE,
    CONVERSION,
    AsTyped,
    AsWorth,
    InKitchenUnits,
    Told,
    ToldByColumn,
    beside,
)

__all__ = ["FIGURES_TOLD"]

_0, _1 = Decimal(0), Decimal(1)


_SETTINGS: Final[ToldByColumn] = {
    "on_costs": beside(" and {} on top"),
    "small_ingredient_allowance": beside(", {} on top for small ingredients"),
    "booking_block_minutes": beside(", in blocks of {}"),
    "uncounted": Told(" at least, without: {}"),
}

_LEFT_OF_CHARGE: Final = "{step_before_tax} without sales tax"
_LEFT_OF_NOW: Final = "{now_before_tax} without sales tax"
_PRICES: Final[ToldByColumn] = {
    "selling": Told(name="Selling", words="{selling_per_unit}{units_per_pack}", plain=_0),
    "total": Told(
        name="Cost",
        words=", ".join(f"{part.words} {{{part.name}}}" for part in PARTS),
        names_all=True,
        lacks="lacks",
    ),
    "price_before_tax": Told(
        name="Price at the target margin",
        words="{total} of cost is {room} of it, the rest a margin of "
        "{applied_target_margin}{fee_share}",
        lacks="lacks",
    ),
    "price_at_target": Told("{price_before_tax}{tax_in_price}", lacks="lacks"),
    "price_on_step": Told(
        name="Charge",
        words="{price_at_target}, up to the next {price_step}",
        so=" = {}{uncounted}",
        lacks="lacks",
    ),
    "step_profit": Told(
        name="Left of what to charge",
        words=f"{_LEFT_OF_CHARGE}, less {{step_all_cost}} of cost and fees",
    ),
    "step_margin": Told(
        name="Margin on what to charge", words=f"{{step_profit}} left of {_LEFT_OF_CHARGE}"
    ),
    "price_now": Told(name="Price now"),
    "now_profit": Told(
        name="Left of the price now",
        words=f"{_LEFT_OF_NOW}, less {{now_all_cost}} of cost and fees",
    ),
    "now_margin": Told(name="Margin now", words=f"{{now_profit}} left of {_LEFT_OF_NOW}"),
    "contribution_per_unit": Told(
        name="A unit sold leaves",
        words="{counted_price} without sales tax, less {made} to make it{fee_share}"
        "{card_fixed_per_unit}{units_per_pack}",
    ),
    "break_even": Told(
        name="Units that pay for the day",
        words="{day_costs} over {contribution_per_unit} a unit, up to the next whole one",
    ),
}


def _part(name: str, batch: str, lacks: str = "") -> Told:
    """A part of what a pack costs, by what a batch takes of it."""
    words = f"{batch}, over {{packs_sold}} packs sold"
    return Told(name=name, words=words, plain=_0, lacks=lacks)


_PRODUCTS: Final[ToldByColumn] = {
    "ingredients": _part("Ingredients", "{batch_cost} a batch", "ingredients_lack"),
    "packaging": _part("Packaging", "{packaging_batch} a batch{*}", "packaging_lack"),
    "product_labour": beside(" and {} on its packs"),
    "labour": _part("Your work", "{batch_labour} a batch{product_labour}{*}", "labour_lack"),
    "kitchen_minutes": Told("{} by the clock{booking_block_minutes}"),
    "kitchen": _part("The kitchen", "{kitchen_minutes}{*} at {kitchen_hire_per_hour} an hour"),
    "overhead": _part("Overheads", "{overhead_per_batch}{*}"),
}

_PACKS: Final[ToldByColumn] = {
    "measure": CODE,
    "bridge": CONVERSION,
    "unit_amount": Told(
        ", in portions of {}",
        plain=_1,
        measured=InKitchenUnits("price_measure", ("pack_unit_row", "net_unit_row")),
    ),
    "units_per_pack": beside(", {} to a pack", _1),
    "not_sold": beside(", {} of the good ones not sold"),
    "packs_sold": Told(
        name="Packs sold of a batch",
        words="{started} started{batches.rejects}{not_sold}{unit_amount}{units_per_pack}",
    ),
}

_ACROSS: Final = Told("{worth}{price_worth}", plain=_1, conversion=True)
"""How an amount crosses from one kind of unit to another."""

_USED: Final[ToldByColumn] = {
    "amount": Told(measured=AsTyped("unit_row")),
    "bridge": CONVERSION,
    "usable_bridge": _ACROSS,
}
"""An amount of an item or a recipe."""


def _worth(measure: str, *like: str) -> Told:
    return Told(", {}", plain=_1, measured=AsWorth(measure, like))


_LIKE: Final = ("unit_row", "prices_now.unit_row")
"""The units of a line, and of the receipt that it is priced by."""

_OF_ITEM: Final[ToldByColumn] = {
    **_USED,
    "worth": _worth("measure", "items.roll_width_unit_row"),
    "price_worth": _worth("price_measure", "items.roll_width_unit_row"),
    "price_per_base_unit": Told(measured=InKitchenUnits("price_measure", _LIKE, per=True)),
    "amount_as_bought": Told(
        ", so {} bought",
        same_as=("amount_in_base_units",),
        measured=InKitchenUnits("price_measure", _LIKE),
    ),
}
"""An amount of an item, at its price."""

_LINES: Final[ToldByColumn] = {
    **_OF_ITEM,
    "applied_usable_share": Told(" ready, {} usable", plain=_1, conversion=True),
    "line_cost": Told(
        name="{uses}",
        words="{amount}{applied_usable_share}{usable_bridge}{amount_as_bought} "
        "at {price_per_base_unit}",
    ),
}

_PACKAGING: Final[ToldByColumn] = {
    **_OF_ITEM,
    "times_used": beside(", {} of them", _1),
    "spare": beside(" and {} spare"),
    "amount_as_bought": replace(
        _OF_ITEM["amount_as_bought"], same_as=("amount_in_base_units", "times_used")
    ),
    "line_cost": Told(
        name="{uses}",
        words="{amount} for each {per}{times_used}{spare}{usable_bridge}"
        "{amount_as_bought}, at {price_per_base_unit}",
    ),
}

_OF_A_BATCH: Final = "{amount}{usable_bridge} of the {good_in_base_units} that a batch"

_USES: Final[ToldByColumn] = {
    **_USED,
    "worth": _worth("measure"),
    "price_worth": _worth("price_measure"),
    "good_in_base_units": Told(
        measured=InKitchenUnits("price_measure", ("batches.unit_row", "unit_row"))
    ),
    "used_cost": Told(name="{uses}", words=f"{_OF_A_BATCH} at {{batch_cost}} gives"),
    "used_labour": Told(
        name="{uses}",
        words=f"{_OF_A_BATCH} with {{batch_labour}} of work gives",
        plain=_0,
        lacks="labour_lacks",
    ),
    "used_clock_minutes": Told(
        name="{uses}", words=f"{_OF_A_BATCH} of {{clock_minutes}} gives", plain=_0
    ),
}

_RECIPES: Final[ToldByColumn] = {
    "lines": CODE,
    "uses_cost": beside(" and {} of recipes in it"),
    "batch_cost": Told(
        name="{recipe}, a batch",
        words="{items_cost} bought{small_ingredient_allowance}{uses_cost}",
    ),
}

_IN_BATCH_UNIT: Final = Told(measured=AsTyped("unit_row", counted=True))

_BATCHES: Final[ToldByColumn] = {
    "started": _IN_BATCH_UNIT,
    "rejects": replace(_IN_BATCH_UNIT, within=", {} rejected", plain=_0),
}

_STAGES: Final[ToldByColumn] = {
    "people": beside("{} people, ", _1),
    "minutes_per_batch": beside(" and {}"),
    "minutes_per_unit": beside(" and {} for each of {units_started}"),
    "work_minutes": Told("{minutes_per_batch}{minutes_per_unit}"),
    "waiting_minutes": beside(", {} waiting"),
    "overlap_minutes": beside(", {} of it beside another stage"),
    "clock_minutes": Told(
        name="{stage}",
        words="{minutes_per_batch}{minutes_per_unit}{waiting_minutes}{overlap_minutes}",
        plain=_0,
    ),
    "stage_labour": Told(
        name="{stage}",
        words="{people}{work_minutes} at {stage_pay} an hour{on_costs}",
        plain=_0,
    ),
}

_RUNNING_COST: Final = Told(name="{cost}", words="{amount} a {period}{business_share}", plain=_0)

_OVERHEADS: Final[ToldByColumn] = {
    "business_share": beside(", of which {} is the business's", _1),
    "cost_a_year": _RUNNING_COST,
    "cost_a_batch": _RUNNING_COST,
    "cost_a_market_day": _RUNNING_COST,
}

_YEAR: Final[ToldByColumn] = {
    "per_batch": beside(" and {} with each batch"),
    "yearly_per_batch": beside("{yearly} a year for {batches_per_year} batches"),
    "overhead_per_batch": Told("{yearly_per_batch}{per_batch}"),
}

_OUTLETS: Final[ToldByColumn] = {
    "fee_per_day": beside("{} fee"),
    "travel_per_day": beside(", {} for {miles_per_day} miles"),
    "other_per_day": beside(", {} other"),
    "market_day_overheads": beside(", {} overheads of a market day"),
    "own_pay_per_day": beside(", {} for {hours_per_day} hours at {pay_per_hour}{on_costs}"),
    "day_costs": Told(
        name="{outlet}, a day",
        words="{fee_per_day}{travel_per_day}{other_per_day}{market_day_overheads}{own_pay_per_day}",
        plain=_0,
    ),
    "day_costs_per_unit": beside("{day_costs} a day, over {units_sold_per_day} units sold"),
    "card_fixed_per_unit": beside(" and {} a unit for card sales"),
    "selling_per_unit": Told("{day_costs_per_unit}{card_fixed_per_unit}"),
    "commission": beside("{} commission"),
    "card_part": beside(" and {card_fee} of the {card_share} paid by card{tax_here}"),
    "tax_here": beside(", with the {} sales tax in it"),
    "tax_in_price": beside(" and {} sales tax"),
    "fee_share": Told(" and fees of {}", "Fees", "{commission}{card_part}", plain=_0),
}

_COUNTS: Final[ToldByColumn] = {"rank": CODE, "purchase_row": CODE}
"""Which receipt counts, by its rank and its row."""

FIGURES_TOLD: Final[Mapping[str, ToldByColumn]] = MappingProxyType(
    {
        "settings": _SETTINGS,
        "prices": _PRICES,
        "products": _PRODUCTS,
        "packs": _PACKS,
        "packaging": _PACKAGING,
        "product_stages": _STAGES,
        "outlets": _OUTLETS,
        "year": _YEAR,
        "overheads": _OVERHEADS,
        "recipes": _RECIPES,
        "uses": _USES,
        "lines": _LINES,
        "stages": _STAGES,
        "batches": _BATCHES,
        "item_prices": {"before_bridge": CONVERSION, "large_unit_size": CODE},
        "item_moves": {"before_bridge": CONVERSION},
        "prices_now": _COUNTS,
        "prices_before": _COUNTS,
        "prices_then": _COUNTS,
        "packs_bought": {"row_number": CODE, "overtaken": CODE},
        "packs_seen": {"overtaken": CODE},
        "units": {"measure": CODE, "factor": CONVERSION, "large_unit_size": CODE},
        "purchases": {"rank": CODE},
    }
)
"""By table, what is told of its columns."""
