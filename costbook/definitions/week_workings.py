"""The tables of the week ahead: the plan's rows, what is wanted, batches, work, and all of it."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import week_rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Computed,
    Fixed,
    Fold,
    Gathered,
    Given,
    Key,
    LookedUp,
    Over,
    RowOf,
    Same,
    Show,
    Table,
)
from costbook.definitions.row_sources import EachOf, LaidOut, OneRow, RowsOfSheet, RowSource

__all__ = ["WEEK_TABLES", "of_its_products", "planned_table"]

_0, _1 = Decimal(0), Decimal(1)
_LAID_OUT: Final = LaidOut()


def planned_table(
    name: str, title: str, columns: tuple[Column, ...], rows: RowSource = _LAID_OUT
) -> Table:
    """A table that is there in a workbook with a sheet Plan."""
    return Table(name, title, columns, rows, only_with=("Plan",))


PLAN = planned_table(
    "plan",
    "Plan: what each row wants",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("product_row", RowOf("Plan", "product"), Show.WHOLE),
        Column("product_key", Key("Plan", "product"), Show.TEXT),
        Column("wanted", Given("Plan", "wanted")),
        Column("batches_cell", Given("Plan", "batches"), title="Batches, if typed"),
        Column("typed_batches", Given("Plan", "batches", _0)),
        Column("aside", Fixed(), Show.WHOLE, "A total or a note"),
        Column("counts", Computed(week_rules.plan_row), Show.WHOLE),
        Column("wanted_read", Computed(week_rules.wanted_read), Show.WHOLE),
        Column("has_batches", Computed(week_rules.has_batches), Show.WHOLE),
    ),
    RowsOfSheet("Plan", key="product_key"),
)


def _in_rows(column: str, fold: Fold = "total") -> Over:
    """The total of a column over the rows of the plan that name a product."""
    return Over("plan", fold, column, (Same("product_key", "product_key"),))


PLAN_NAMES = planned_table(
    "plan_names",
    "Plan: the rows of each product",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("product_key", Fixed(), Show.TEXT),
        Column("rows", _in_rows("counts"), Show.WHOLE),
    ),
)

PLAN_ROWS = planned_table(
    "plan_rows",
    "Plan: rows whose product is none",
    (
        Column("rows_in_all", Gathered("plan", "counts"), Show.WHOLE),
        Column("rows_of_products", Gathered("plan_names", "rows"), Show.WHOLE),
        Column("strays", Computed(week_rules.rows_of_nobody), Show.WHOLE, "Rows of nobody's"),
        Column("said", Computed(week_rules.strays_said), Show.TEXT),
    ),
    OneRow(),
)

PLAN_WANTED = planned_table(
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
        Column("typed_rows", _in_rows("has_batches"), Show.WHOLE),
        Column("typed_in_rows", _in_rows("typed_batches", "all")),
        Column("typed_batches", Computed(week_rules.batches_typed)),
    ),
    EachOf("plan_names"),
)

PLAN_USES = planned_table(
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


def of_its_products(table: str, column: str) -> Gathered:
    """The total of a column over the products of a recipe, or over what is done for them."""
    return Gathered(table, column, key="recipe_key")


PLAN_RECIPES = planned_table(
    "plan_recipes",
    "Plan: batches of each recipe",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("recipe_key", Fixed(), Show.TEXT),
        stands_as("batches", "Batches"),
        Column("good_in_base_units", LookedUp("batches", "good_in_base_units")),
        Column("smallest_part", Given("Batches", "smallest_part", _1)),
        Column("own_batches", Given("Batches", "own_batches", "no"), Show.TEXT),
        Column("need", of_its_products("plan_wanted", "need")),
        Column("need_batches", Computed(week_rules.batches_for_need, "need")),
        Column("used_batches", Gathered("plan_uses", "used_batches")),
        Column("typed_rows", of_its_products("plan_wanted", "typed_rows"), Show.WHOLE),
        Column("typed_batches", of_its_products("plan_wanted", "typed_batches")),
        Column("worked_out", Computed(week_rules.batches_worked_out)),
        Column("batches", Computed(week_rules.batches)),
    ),
)

PLAN_PRODUCTS = planned_table(
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
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("unit_amount", LookedUp("packs", "unit_amount")),
        Column("packed", Computed(week_rules.packed)),
        Column("packaging_batch", Gathered("packaging", "line_cost"), Show.FINE_MONEY),
        Column(
            "packaging",
            Computed(week_rules.packaging_of_batches, "product_batches"),
            Show.MONEY,
        ),
    ),
    EachOf("plan_wanted"),
)


WEEK_TABLES: Final = (
    PLAN_PRODUCTS,
    PLAN_RECIPES,
    PLAN_USES,
    PLAN_WANTED,
    PLAN_ROWS,
    PLAN_NAMES,
    PLAN,
)
"""From what comes out down to what was typed, the table that grows at the end."""
