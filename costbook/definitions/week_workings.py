"""The tables of the week ahead: the plan's rows, what is wanted, batches, work, and all of it."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import rules, week_rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Computed,
    Fixed,
    Given,
    Key,
    LookedUp,
    Over,
    RowOf,
    Same,
    Show,
    Table,
    Totalled,
)
from costbook.definitions.own_work_workings import WHOSE_MINUTES
from costbook.definitions.row_sources import EachOf, LaidOut, OneRow, RowsOfSheet, RowSource

__all__ = ["WEEK_TABLES"]

_0, _1 = Decimal(0), Decimal(1)
_LAID_OUT: Final = LaidOut()


def _table(
    name: str, title: str, columns: tuple[Column, ...], rows: RowSource = _LAID_OUT
) -> Table:
    """A table that is there in a workbook with a sheet Plan."""
    return Table(name, title, columns, rows, only_with=("Plan",))


PLAN = _table(
    "plan",
    "Plan: what each row wants",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("product_row", RowOf("Plan", "product"), Show.WHOLE),
        Column("product_key", Key("Plan", "product"), Show.TEXT),
        Column("wanted", Given("Plan", "wanted")),
        Column("typed_batches", Given("Plan", "batches")),
        Column("aside", Fixed(), Show.WHOLE, "A total or a note"),
        Column("counts", Computed(week_rules.plan_row), Show.WHOLE),
        Column("wanted_read", Computed(week_rules.wanted_read), Show.WHOLE),
        Column("batches_read", Computed(week_rules.batches_read), Show.WHOLE),
    ),
    RowsOfSheet("Plan", key="product_key"),
)


def _in_rows(column: str) -> Over:
    """The total of a column over the rows of the plan that name a product."""
    return Over("plan", "total", column, (Same("product_key", "product_key"),))


PLAN_NAMES = _table(
    "plan_names",
    "Plan: the rows of each product",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("product_key", Fixed(), Show.TEXT),
        Column("rows", _in_rows("counts"), Show.WHOLE),
    ),
)

PLAN_ROWS = _table(
    "plan_rows",
    "Plan: rows whose product is none",
    (
        Column("rows_in_all", Totalled("plan", "counts"), Show.WHOLE),
        Column("rows_of_products", Totalled("plan_names", "rows"), Show.WHOLE),
        Column("strays", Computed(week_rules.rows_of_nobody), Show.WHOLE, "Rows of nobody's"),
        Column("said", Computed(week_rules.strays_said), Show.TEXT),
    ),
    OneRow(),
)

PLAN_WANTED = _table(
    "plan_wanted",
    "Plan: packs wanted of each product",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("product_key", Fixed(), Show.TEXT),
        Column("recipe_key", Fixed(), Show.TEXT),
        Column("rows", LookedUp("plan_names", "rows"), Show.WHOLE),
        Column("rows_read", _in_rows("wanted_read"), Show.WHOLE),
        Column("strays", LookedUp("plan_rows", "strays"), Show.WHOLE),
        Column("wanted_in_rows", _in_rows("wanted")),
        Column("wanted", Computed(week_rules.packs_wanted)),
        Column("in_freezer", LookedUp("freezer", "packs_left", without=_0)),
        Column("to_make", Computed(week_rules.packs_to_make)),
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("unit_amount", LookedUp("packs", "unit_amount")),
        Column("need", Computed(week_rules.need_in_base_units, "to_make")),
        Column("typed_rows", _in_rows("batches_read"), Show.WHOLE),
        Column("typed_batches", _in_rows("typed_batches")),
    ),
    EachOf("plan_names"),
)

PLAN_USES = _table(
    "plan_uses",
    "Plan: recipes used in others",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("uses", Fixed(), Show.TEXT),
        Column("user_batches", LookedUp("plan_recipes", "batches")),
        Column("share_of_batch", LookedUp("uses", "share_of_batch")),
        Column("used_batches", Computed(week_rules.batches_for_use, "user_batches")),
    ),
)


def _of_its_products(table: str, column: str) -> Totalled:
    """The total of a column over the products of a recipe, or over what is done for them."""
    return Totalled(table, column, key="recipe_key")


PLAN_RECIPES = _table(
    "plan_recipes",
    "Plan: batches of each recipe",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("recipe_key", Fixed(), Show.TEXT),
        stands_as("batches", "Batches"),
        Column("good_in_base_units", LookedUp("batches", "good_in_base_units")),
        Column("smallest_part", Given("Batches", "smallest_part", _1)),
        Column("own_batches", Given("Batches", "own_batches", "no"), Show.TEXT),
        Column("need", _of_its_products("plan_wanted", "need")),
        Column("need_batches", Computed(week_rules.batches_for_need, "need")),
        Column("used_batches", Totalled("plan_uses", "used_batches")),
        Column("typed_rows", _of_its_products("plan_wanted", "typed_rows"), Show.WHOLE),
        Column("typed_batches", _of_its_products("plan_wanted", "typed_batches")),
        Column("worked_out", Computed(week_rules.batches_worked_out)),
        Column("batches", Computed(week_rules.batches)),
    ),
)

PLAN_PRODUCTS = _table(
    "plan_products",
    "Plan: what comes out, and what is to spare",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("recipe_key", Fixed(), Show.TEXT),
        Column("wanted", LookedUp("plan_wanted", "wanted")),
        Column("in_freezer", LookedUp("plan_wanted", "in_freezer")),
        Column("to_make", LookedUp("plan_wanted", "to_make")),
        Column("need", LookedUp("plan_wanted", "need")),
        Column("typed_rows", LookedUp("plan_wanted", "typed_rows"), Show.WHOLE),
        Column("typed_batches", LookedUp("plan_wanted", "typed_batches")),
        Column("products", LookedUp("batches", "products"), Show.WHOLE, "Products of its recipe"),
        Column("recipe_need", LookedUp("plan_recipes", "need")),
        Column("recipe_typed", LookedUp("plan_recipes", "typed_batches")),
        Column("recipe_batches", LookedUp("plan_recipes", "batches")),
        Column("recipe_used", LookedUp("plan_recipes", "used_batches")),
        Column("share", Computed(week_rules.share_of_recipe), Show.SHARE),
        Column("product_batches", Computed(week_rules.product_batches, "share")),
        Column("packs_made", LookedUp("packs", "packs_made")),
        Column("out", Computed(week_rules.packs_out, "product_batches")),
        Column("spare", Computed(week_rules.packs_spare)),
        Column("packaging_batch", Totalled("packaging", "line_cost"), Show.FINE_MONEY),
        Column(
            "packaging",
            Computed(week_rules.packaging_of_batches, "product_batches"),
            Show.MONEY,
        ),
    ),
    EachOf("plan_wanted"),
)


def _stages(name: str, title: str, of: str, made: str, batches: str) -> Table:
    """The steps of the work of all batches that a table says are made."""
    return _table(
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
            Column("sparing", Computed(week_rules.batches_sparing)),
            Column("work_minutes", Computed(week_rules.session_work, "batches"), Show.MINUTES),
            Column("clock_minutes", Computed(week_rules.session_clock, "batches"), Show.MINUTES),
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

PLAN_WORK = _table(
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
        Column("stage_minutes", Totalled("plan_stages", "person_minutes"), Show.MINUTES),
        Column(
            "pack_minutes", _of_its_products("plan_product_stages", "person_minutes"), Show.MINUTES
        ),
        Column("minutes", Computed(week_rules.work_in_all), Show.MINUTES),
        Column("own_stage_minutes", Totalled("plan_stages", "own_minutes"), Show.MINUTES),
        Column(
            "own_pack_minutes", _of_its_products("plan_product_stages", "own_minutes"), Show.MINUTES
        ),
        Column("own_minutes", Computed(week_rules.own_work_in_all), Show.MINUTES),
        Column("lines", LookedUp("recipes", "lines"), Show.WHOLE),
        Column("items_cost", Totalled("lines", "line_cost"), Show.FINE_MONEY),
        Column("bought_for_a_batch", Computed(week_rules.bought_for_a_batch), Show.FINE_MONEY),
        Column("ingredients", Computed(week_rules.bought_for_batches, "batches"), Show.MONEY),
        Column("packaging", _of_its_products("plan_products", "packaging"), Show.MONEY),
        Column("stages_labour", Totalled("plan_stages", "labour"), Show.MONEY),
        Column("packs_labour", _of_its_products("plan_product_stages", "labour"), Show.MONEY),
        Column("labour", Computed(week_rules.labour_in_all), Show.MONEY),
        Column("cost", Computed(week_rules.recipe_cost), Show.MONEY),
    ),
    EachOf("plan_recipes"),
)

PLAN_WHOLE = _table(
    "plan_whole",
    "Plan: all of it",
    (
        Column("to_make", Totalled("plan_products", "to_make")),
        Column("packs_out", Totalled("plan_products", "out")),
        Column("sold_batches", Totalled("plan_products", "product_batches")),
        Column("recipes_minutes", Totalled("plan_work", "minutes"), Show.MINUTES),
        Column("minutes", Computed(week_rules.minutes_of_plan), Show.MINUTES),
        Column("recipes_own_minutes", Totalled("plan_work", "own_minutes"), Show.MINUTES),
        Column("own_minutes", Computed(week_rules.own_minutes_of_plan), Show.MINUTES),
        Column("minutes_there", Given("Settings", "minutes_there"), Show.MINUTES),
        Column("minutes_over", Computed(week_rules.minutes_over), Show.MINUTES),
        Column("recipes_clock", Totalled("plan_stages", "clock_minutes"), Show.MINUTES),
        Column("products_clock", Totalled("plan_product_stages", "clock_minutes"), Show.MINUTES),
        Column("clock_minutes", Computed(week_rules.clock_of_plan), Show.MINUTES),
        Column("kitchen_minutes", Computed(week_rules.session_kitchen_minutes), Show.MINUTES),
        Column("blocks", Computed(week_rules.blocks), Show.WHOLE),
        Column("ingredients", Totalled("plan_work", "ingredients"), Show.MONEY),
        Column("packaging", Totalled("plan_products", "packaging"), Show.MONEY),
        Column("labour", Totalled("plan_work", "labour"), Show.MONEY),
        Column(
            "kitchen", Computed(week_rules.session_kitchen, "kitchen_hire_per_hour"), Show.MONEY
        ),
        Column("overhead_per_batch", LookedUp("year", "overhead_per_batch"), Show.FINE_MONEY),
        Column("overhead", Computed(week_rules.session_overhead, "overhead_per_batch"), Show.MONEY),
        Column("cost", Computed(week_rules.session_cost), Show.MONEY),
        Column("packs_in_freezer", Totalled("plan_wanted", "in_freezer")),
        Column("to_freeze", Computed(week_rules.packs_to_freeze)),
        Column("freezer_holds", Given("Settings", "freezer_holds")),
        Column("packs_over", Computed(week_rules.packs_over)),
        Column("time_said", Computed(week_rules.time_said), Show.TEXT),
        Column("room", Computed(week_rules.room_said), Show.TEXT),
    ),
    OneRow(),
)

WEEK_TABLES: Final = (
    PLAN_WHOLE,
    PLAN_WORK,
    PLAN_PRODUCT_STAGES,
    PLAN_STAGES,
    PLAN_PRODUCTS,
    PLAN_RECIPES,
    PLAN_USES,
    PLAN_WANTED,
    PLAN_ROWS,
    PLAN_NAMES,
    PLAN,
)
"""From the answer down to what was typed, the table that grows at the end."""
