"""The tables of a session: the stages of all batches planned, the work, the cost."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import rules, session_rules, week_rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Computed,
    Fixed,
    Gathered,
    Given,
    LookedUp,
    Show,
    Table,
)
from costbook.definitions.own_work_workings import WHOSE_MINUTES
from costbook.definitions.row_sources import EachOf, OneRow
from costbook.definitions.week_workings import of_its_products, planned_table

__all__ = ["SESSION_TABLES"]

_0 = Decimal(0)


def _stages(name: str, title: str, of: str, made: str, batches: str) -> Table:
    """The steps of the work of all batches that a table says are made."""
    return planned_table(
        name,
        title,
        (
            Column("recipe", Fixed(), Show.TEXT, "For"),
            Column("stage", Fixed(), Show.TEXT),
            Column("recipe_key", Fixed(), Show.TEXT),
            stands_as(of, "Stages"),
            Column("batches", LookedUp(made, batches)),
            Column("once_a_session", Given("Stages", "once_a_session", "no"), Show.TEXT),
            Column("minutes_per_batch", Given("Stages", "minutes_per_batch", _0), Show.MINUTES),
            Column("batch_work", LookedUp(of, "work_minutes"), Show.MINUTES),
            Column("batch_clock", LookedUp(of, "clock_minutes"), Show.MINUTES),
            Column("people", LookedUp(of, "people")),
            Column("sparing", Computed(session_rules.batches_sparing)),
            Column("work_minutes", Computed(session_rules.session_work, "batches"), Show.MINUTES),
            Column("clock_minutes", Computed(session_rules.session_clock, "batches"), Show.MINUTES),
            Column("person_minutes", Computed(rules.person_minutes, "work_minutes"), Show.MINUTES),
            *WHOSE_MINUTES,
            Column("stage_pay", Given("Stages", "stage_pay", stands_in="pay_per_hour"), Show.MONEY),
            Column("labour", Computed(rules.stage_labour, "person_minutes"), Show.MONEY),
        ),
    )


PLAN_STAGES = _stages("plan_stages", "Plan: stages of recipes", "stages", "plan_recipes", "batches")
PLAN_PRODUCT_STAGES = _stages(
    "plan_product_stages",
    "Plan: stages of products",
    "product_stages",
    "plan_products",
    "product_batches",
)

PLAN_WORK = planned_table(
    "plan_work",
    "Plan: the work and the cost of each recipe",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("recipe_key", Fixed(), Show.TEXT),
        Column("batches", LookedUp("plan_recipes", "batches")),
        Column("need", LookedUp("plan_recipes", "need")),
        Column("used_batches", LookedUp("plan_recipes", "used_batches")),
        Column("good_in_base_units", LookedUp("batches", "good_in_base_units")),
        Column("counted_in", LookedUp("batches", "counted_in")),
        Column("units", Computed(week_rules.units_needed)),
        Column("packed", of_its_products("plan_products", "packed")),
        Column("left_over", Computed(week_rules.left_over_of_recipe)),
        Column("stage_minutes", Gathered("plan_stages", "person_minutes"), Show.MINUTES),
        Column(
            "pack_minutes", of_its_products("plan_product_stages", "person_minutes"), Show.MINUTES
        ),
        Column("minutes", Computed(session_rules.work_in_all), Show.MINUTES),
        Column("own_stage_minutes", Gathered("plan_stages", "own_minutes"), Show.MINUTES),
        Column(
            "own_pack_minutes", of_its_products("plan_product_stages", "own_minutes"), Show.MINUTES
        ),
        Column("own_minutes", Computed(session_rules.own_work_in_all), Show.MINUTES),
        Column("lines", LookedUp("recipes", "lines"), Show.WHOLE),
        Column("items_cost", Gathered("lines", "line_cost"), Show.FINE_MONEY),
        Column("bought_for_a_batch", Computed(session_rules.bought_for_a_batch), Show.FINE_MONEY),
        Column("ingredients", Computed(session_rules.bought_for_batches, "batches"), Show.MONEY),
        Column("packaging", of_its_products("plan_products", "packaging"), Show.MONEY),
        Column("stages_labour", Gathered("plan_stages", "labour"), Show.MONEY),
        Column("packs_labour", of_its_products("plan_product_stages", "labour"), Show.MONEY),
        Column("labour", Computed(session_rules.labour_in_all), Show.MONEY),
        Column("cost", Computed(session_rules.recipe_cost), Show.MONEY),
    ),
    EachOf("plan_recipes"),
)

PLAN_WHOLE = planned_table(
    "plan_whole",
    "Plan: all of it",
    (
        Column("to_make", Gathered("plan_products", "to_make")),
        Column("packs_out", Gathered("plan_products", "out")),
        Column("sold_batches", Gathered("plan_products", "product_batches")),
        Column("recipes_minutes", Gathered("plan_work", "minutes"), Show.MINUTES),
        Column("minutes", Computed(session_rules.minutes_of_plan), Show.MINUTES),
        Column("recipes_own_minutes", Gathered("plan_work", "own_minutes"), Show.MINUTES),
        Column("own_minutes", Computed(session_rules.own_minutes_of_plan), Show.MINUTES),
        Column("minutes_there", Given("Settings", "minutes_there"), Show.MINUTES),
        Column("minutes_over", Computed(session_rules.minutes_over), Show.MINUTES),
        Column("recipes_clock", Gathered("plan_stages", "clock_minutes"), Show.MINUTES),
        Column("products_clock", Gathered("plan_product_stages", "clock_minutes"), Show.MINUTES),
        Column("clock_minutes", Computed(session_rules.clock_of_plan), Show.MINUTES),
        Column("kitchen_minutes", Computed(session_rules.session_kitchen_minutes), Show.MINUTES),
        Column("blocks", Computed(session_rules.blocks), Show.WHOLE),
        Column("ingredients", Gathered("plan_work", "ingredients"), Show.MONEY),
        Column("packaging", Gathered("plan_products", "packaging"), Show.MONEY),
        Column("labour", Gathered("plan_work", "labour"), Show.MONEY),
        Column(
            "kitchen", Computed(session_rules.session_kitchen, "kitchen_hire_per_hour"), Show.MONEY
        ),
        Column("overhead_per_batch", LookedUp("year", "overhead_per_batch"), Show.FINE_MONEY),
        Column(
            "overhead", Computed(session_rules.session_overhead, "overhead_per_batch"), Show.MONEY
        ),
        Column("cost", Computed(session_rules.session_cost), Show.MONEY),
        Column("packs_in_freezer", Gathered("plan_wanted", "in_freezer")),
        Column("to_freeze", Computed(session_rules.packs_to_freeze)),
        Column("freezer_holds", Given("Settings", "freezer_holds")),
        Column("packs_over", Computed(session_rules.packs_over)),
        Column("time_said", Computed(session_rules.time_said), Show.TEXT),
        Column("room", Computed(session_rules.room_said), Show.TEXT),
    ),
    OneRow(),
)

SESSION_TABLES: Final = (PLAN_WHOLE, PLAN_WORK, PLAN_PRODUCT_STAGES, PLAN_STAGES)
"""From the answer down to each stage."""
