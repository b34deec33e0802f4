"""The columns of Workings that pages point at: these stand in cells of their own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from costbook.definitions.parts import MADE, PARTS

__all__ = ["LISTED", "POINTED_AT"]

_LINE = "amount lacks line_cost price_per_base_unit uses"
_STAGE = "lacks people person_minutes stage stage_labour waiting_minutes"
_PACK = (
    "cash_tied_up compared_price compared_ready day item overtaken pack_cost price_per_pack "
    "standing_price supplier used_part used_price"
)
_TIMED = (
    "batch_minutes_to_type least measured most planned_minutes real_minutes unit_minutes_to_type"
)
_TO_BUY = "least_packs other_cost_per_pack pack_in_units_of_now"
_SPOILAGE = "break_even_spoilage compared_ready"

_NAMES: Final = {
    "since": "to_cost_again",
    "settings": (
        "batches_per_year blank_marks booking_block_minutes costed_on kitchen_hire_per_hour "
        "moved_since on_costs pay_per_hour price_step sales_tax small_ingredient_allowance "
        "target_margin uncounted"
    ),
    "prices": (
        "advice applied_target_margin break_even break_even_without_pay contribution_per_unit "
        "fee_share known lacks_or_goes_without now_margin now_markup now_profit outlet "
        "price_at_target price_now price_on_step product shelf_price shelf_price_with_tax "
        "short_by step_before_tax step_fees step_margin step_markup step_profit tax_in_price "
        "their_margin total"
    ),
    "products": "lacks made packs_sold product",
    "outlets": "outlet",
    "labels_since": "changed_since",
    "days": "break_even break_even_packs break_even_without_pay day_costs",
    "packs": "packs_sold units_good units_started",
    "lines": _LINE,
    "packaging": f"{_LINE} spare times_used",
    "uses": "amount lacks used_cost used_labour used_person_minutes uses",
    "recipes": (
        "allowance good_in_base_units large_unit large_unit_cost large_unit_labour large_unit_size"
    ),
    "stages": _STAGE,
    "product_stages": _STAGE,
    "prices_now": (
        "beside_price day pack_in_its_unit pack_unit price_per_base_unit price_per_pack "
        "purchase_row whole_pack"
    ),
    "item_prices": (
        "age_days change day freshness item large_unit large_unit_price "
        "large_unit_price_before large_unit_price_ready large_unit_size supplier "
        "usable_share"
    ),
    "packs_bought": f"{_PACK} {_TO_BUY}",
    "packs_seen": f"{_PACK} {_TO_BUY} usable_share",
    "to_buy": "held_on_hand to_be_there to_buy",
    "spoilage_bought": _SPOILAGE,
    "spoilage_seen": _SPOILAGE,
    "moves": (
        "cost_then moved moved_share packs_that_pay restoring_price slack_to_target slack_to_zero"
    ),
    "move_ranks": "move_rank",
    "market_days": (
        "cost_of_gone costs_of_the_day day_lacks day_rank day_sell_through left_for_own_work "
        "margin_of_the_day over_short own_hours pay_an_hour pay_wished takings_by_count "
        "takings_by_till"
    ),
    "market_rows": "day outlet_key row_number",
    "sold_at": "outlet outlet_key",
    "freezer": (
        "counted_on found_at_count gone_since lacks made_since packs_at_count packs_left product"
    ),
    "this_year": (
        "bought_for_sale bought_otherwise cap_left cap_reached_on days_not_known days_there "
        "last_day own_use stock_at_cost until year_card_fees year_commission year_expenses "
        "year_miles year_net year_other year_overheads year_own_hours year_own_pay year_pitches "
        "year_sales_tax year_takings year_travel yearly_sales_cap"
    ),
    "year_span": "year_lacks",
    "year_months": "month_takings",
    "months_there": "no_day takings_there",
    "year_kinds": "bought",
    "year_packs": "counted_on packs_at_cost product",
    "year_items": "counted_on item item_at_cost",
    "yields": "least measured most real_share usable_share",
    "stage_times": _TIMED,
    "pack_times": _TIMED,
    "made_times": "least measured most planned_minutes real_minutes",
    "made_rejects": (
        "least_share measured most_share rejected_share rejects_to_type rejects_typed"
    ),
    "plan_rows": "said",
    "plan_products": "in_freezer out product spare to_make wanted",
    "plan_recipes": "batches",
    "plan_stages": "work_minutes",
    "plan_product_stages": "work_minutes",
    "plan_work": "batches cost left_over minutes own_minutes recipe units",
    "plan_whole": (
        "blocks clock_minutes cost freezer_holds kitchen_minutes minutes_over minutes_there "
        "own_minutes packs_over room time_said to_freeze to_make"
    ),
    "pack_needs": "need_moved pack_need price_per_base_unit price_then",
}
_OF_PARTS: Final[Mapping[str, tuple[str, ...]]] = {
    "plan_whole": tuple(part.name for part in MADE),
    "prices": tuple(part.name for part in PARTS),
    "products": tuple(name for part in MADE for name in (part.batch or part.name, part.minutes)),
}

POINTED_AT: Final[Mapping[str, frozenset[str]]] = {
    table: frozenset((*names.split(), *_OF_PARTS.get(table, ()))) - {""}
    for table, names in _NAMES.items()
}
"""By table, the names of the columns; a test compares them with what pages do point at."""

LISTED: Final[Mapping[str, frozenset[str]]] = {"prices": frozenset({"fee_share", "tax_in_price"})}
"""Columns that only relay others, and of which a page takes all rows at once."""
