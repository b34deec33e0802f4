"""The tables of whose work is in a pack: what it cost without their own, and their minutes in it.

They have rows only in a workbook that keeps market days, which judge by them.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import own_work_rules as rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Computed,
    Fixed,
    Gathered,
    Given,
    Key,
    LookedUp,
    Show,
    Table,
)
from costbook.definitions.parts import WITHOUT_WORK
from costbook.definitions.row_sources import EachOf

__all__ = ["MARKET_SHEETS", "OWN_WORK_TABLES", "WHOSE_MINUTES"]

MARKET_SHEETS: Final = ("Market days", "Sales")
"""The sheets that market days are kept on."""
_OWN: Final = Decimal(-1)
"""What a blank pay of a stage is read as: nobody types less than nothing."""
WHOSE_MINUTES: Final = (
    Column("typed_pay", Given("Stages", "stage_pay", _OWN), Show.MONEY),
    Column("own_minutes", Computed(rules.own_minutes), Show.MINUTES),
)
"""Of a stage's person minutes those of their own, by its pay on Stages."""


def _of_stages(name: str, title: str, stages: str) -> Table:
    return Table(
        name,
        title,
        (
            Column("recipe", Fixed(), Show.TEXT, "For"),
            Column("stage", Fixed(), Show.TEXT),
            stands_as(stages, "Stages"),
            Column("person_minutes", LookedUp(stages, "person_minutes"), Show.MINUTES),
            Column("stage_labour", LookedUp(stages, "stage_labour"), Show.FINE_MONEY),
            *WHOSE_MINUTES,
            Column("helpers_labour", Computed(rules.helpers_labour), Show.FINE_MONEY),
        ),
        EachOf(stages),
        about="stage",
        only_with=MARKET_SHEETS,
    )


OWN_STAGES = _of_stages("own_stages", "Stages of recipes: whose work it is", "stages")
OWN_PACK_STAGES = _of_stages(
    "own_pack_stages", "Stages of products: whose work it is", "product_stages"
)

OWN_USES = Table(
    "own_uses",
    "Recipes used in others: whose work is in them",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("uses", Fixed(), Show.TEXT),
        Column("share_of_batch", LookedUp("uses", "share_of_batch")),
        Column("own_batch_minutes", LookedUp("own_work", "own_batch_minutes"), Show.MINUTES),
        Column("helpers_batch", LookedUp("own_work", "helpers_batch"), Show.FINE_MONEY),
        Column("used_own_minutes", Computed(rules.used_own_minutes), Show.MINUTES),
        Column("used_helpers_labour", Computed(rules.used_helpers_labour), Show.FINE_MONEY),
    ),
    EachOf("uses"),
    about="uses",
    only_with=MARKET_SHEETS,
)

OWN_WORK = Table(
    "own_work",
    "Recipes: whose work a batch is",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("stages_own_minutes", Gathered("own_stages", "own_minutes"), Show.MINUTES),
        Column("uses_own_minutes", Gathered("own_uses", "used_own_minutes"), Show.MINUTES),
        Column("own_batch_minutes", Computed(rules.own_batch_minutes), Show.MINUTES),
        Column("stages_helpers_labour", Gathered("own_stages", "helpers_labour"), Show.FINE_MONEY),
        Column("uses_helpers_labour", Gathered("own_uses", "used_helpers_labour"), Show.FINE_MONEY),
        Column("helpers_batch", Computed(rules.helpers_batch), Show.FINE_MONEY),
    ),
    EachOf("recipes"),
    only_with=MARKET_SHEETS,
)

PACKS_GONE = Table(
    "packs_gone",
    "Products: what a pack costs that is gone, without your own work",
    (
        Column("product", Fixed(), Show.TEXT),
        stands_as("packs", "Products"),
        Column("product_key", Key("Products", "product"), Show.TEXT),
        Column("current_price", Given("Products", "current_price"), Show.MONEY),
        Column("wholesale_price_now", Given("Products", "wholesale_price_now"), Show.MONEY),
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("packs_made", LookedUp("packs", "packs_made")),
        Column("packs_sold", LookedUp("packs", "packs_sold")),
        *(Column(name, LookedUp("products", name), Show.MONEY) for name in WITHOUT_WORK),
        Column("made_without_labour", Computed(rules.made_without_labour), Show.MONEY),
        Column("helpers_batch", LookedUp("own_work", "helpers_batch"), Show.FINE_MONEY),
        Column(
            "packs_helpers_labour", Gathered("own_pack_stages", "helpers_labour"), Show.FINE_MONEY
        ),
        Column("cost_of_a_pack", Computed(rules.cost_of_a_pack), Show.MONEY),
        Column("own_batch_minutes", LookedUp("own_work", "own_batch_minutes"), Show.MINUTES),
        Column("packs_own_minutes", Gathered("own_pack_stages", "own_minutes"), Show.MINUTES),
        Column("own_minutes_of_a_pack", Computed(rules.own_minutes_of_a_pack), Show.MINUTES),
    ),
    EachOf("products"),
    only_with=MARKET_SHEETS,
)

OWN_WORK_TABLES: Final = (PACKS_GONE, OWN_WORK, OWN_USES, OWN_STAGES, OWN_PACK_STAGES)
"""From the packs down to the stages."""
