"""The tables of what was measured: tests of yields and times, and what Made shows.

Workbooks without these sheets have none of them.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions import measured_rules as rules
from costbook.definitions.column_makers import stands_as
from costbook.definitions.columns import (
    Column,
    Computed,
    Fixed,
    Gathered,
    Given,
    Key,
    LookedUp,
    Over,
    RowOf,
    Same,
    Show,
    Table,
    UnitFact,
    UnitRow,
)
from costbook.definitions.row_sources import EachOf, RowsOfSheet
from costbook.definitions.rules import stage_units
from costbook.definitions.stock_workings import OF_A_PRODUCT, OF_IT, made_of_it

__all__ = ["MEASURED_TABLES"]

_0: Final = Decimal(0)

TESTS = Table(
    "tests",
    "Tests: what was weighed and timed",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("what_row", RowOf("Tests", "what"), Show.WHOLE),
        Column("what_key", Key("Tests", "what"), Show.TEXT),
        Column("test_kind", Given("Tests", "test_kind", ""), Show.TEXT),
        Column("weighed_in", Given("Tests", "weighed_in")),
        Column("weighed_out", Given("Tests", "weighed_out")),
        Column("unit_row", UnitRow("Tests", "unit"), Show.WHOLE),
        Column("unit_factor", UnitFact("factor")),
        Column("measure", UnitFact("measure"), Show.WHOLE),
        Column("tested_in", Computed(rules.tested_in)),
        Column("tested_out", Computed(rules.tested_out)),
        Column("tested_share", Computed(rules.tested_share), Show.SHARE),
        Column("is_yield", Computed(rules.is_yield), Show.WHOLE),
        Column("minutes", Given("Tests", "minutes"), Show.MINUTES),
        Column("units", Given("Tests", "units")),
        Column("timed_minutes", Computed(rules.timed_minutes), Show.MINUTES),
        Column("timed_units", Computed(rules.timed_units)),
        Column("minutes_each", Computed(rules.minutes_each), Show.MINUTES),
        Column("is_timed", Computed(rules.is_timed), Show.WHOLE),
    ),
    RowsOfSheet("Tests", key="what_key"),
    only_with=("Tests",),
)


def _spread(table: str, column: str, counted: str, own: Same) -> tuple[Column, ...]:
    """How many rows were measured, and how far they lie apart."""
    show = Show.SHARE if column == "tested_share" else Show.NUMBER
    return (
        Column("measured", Over(table, "total", counted, (own,)), Show.WHOLE),
        Column("least", Over(table, "least", column, (own,)), show),
        Column("most", Over(table, "largest", column, (own,)), show),
    )


_WEIGHED = Same("what_key", "item_key", named=True)
_TIMED = Same("what_key", "stage_key", named=True)

YIELDS = Table(
    "yields",
    "Yield tests: what is left of each item",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        *_spread("tests", "tested_share", "is_yield", _WEIGHED),
        Column("in_all", Over("tests", "total", "tested_in", (_WEIGHED,))),
        Column("out_all", Over("tests", "total", "tested_out", (_WEIGHED,))),
        Column("least_measure", Over("tests", "least", "measure", (_WEIGHED,)), Show.WHOLE),
        Column("most_measure", Over("tests", "largest", "measure", (_WEIGHED,)), Show.WHOLE),
        Column("real_share", Computed(rules.real_share), Show.SHARE),
        Column("usable_share", LookedUp("items", "usable_share"), Show.SHARE),
    ),
    EachOf("prices_now"),
    only_with=("Tests",),
)


def _typed(name: str) -> Column:
    """Minutes as typed on Stages; a blank is none."""
    return Column(name, Given("Stages", name, _0), Show.MINUTES)


def _times(name: str, title: str, stages: str, *units_started: Column) -> Table:
    """What was timed of each stage, beside what is typed."""
    return Table(
        name,
        title,
        (
            Column("recipe", Fixed(), Show.TEXT, "For"),
            Column("stage", Fixed(), Show.TEXT),
            stands_as(stages, "Stages"),
            Column("stage_key", Key("Stages", "stage"), Show.TEXT),
            *_spread("tests", "minutes_each", "is_timed", _TIMED),
            Column("minutes_all", Over("tests", "total", "timed_minutes", (_TIMED,)), Show.MINUTES),
            Column("units_all", Over("tests", "total", "timed_units", (_TIMED,))),
            Column("real_minutes", Computed(rules.real_minutes), Show.MINUTES),
            Column("work_minutes", LookedUp(stages, "work_minutes"), Show.MINUTES),
            *units_started,
            Column("planned_minutes", Computed(rules.planned_minutes), Show.MINUTES),
            *(_typed(name) for name in ("minutes_per_batch", "minutes_per_unit")),
            Column("unit_minutes_to_type", Computed(rules.unit_minutes_to_type), Show.MINUTES),
            Column("batch_minutes_to_type", Computed(rules.batch_minutes_to_type), Show.MINUTES),
        ),
        EachOf(stages),
        about="stage",
        only_with=("Tests",),
    )


STAGE_TIMES = _times(
    "stage_times",
    "Time tests: stages of recipes",
    "stages",
    Column("measure", LookedUp("batches", "measure"), Show.WHOLE),
    Column("started", LookedUp("batches", "started")),
    Column("products", LookedUp("batches", "products"), Show.WHOLE, "Products made of it"),
    Column("agreed_units", LookedUp("packs", "agreed_units")),
    Column("units_started", Computed(stage_units)),
)
PACK_TIMES = _times(
    "pack_times",
    "Time tests: stages of products",
    "product_stages",
    Column("units_started", LookedUp("packs", "packs_made"), title="Packs made"),
)

MADE_TIMES = Table(
    "made_times",
    "Made: minutes for a pack, as made and as typed",
    (
        *OF_A_PRODUCT,
        *_spread("made_log", "minutes_each", "is_timed", OF_IT),
        Column("minutes_all", made_of_it("total", "timed_minutes"), Show.MINUTES),
        Column("units_all", made_of_it("total", "timed_units")),
        Column("real_minutes", Computed(rules.real_minutes), Show.MINUTES),
        Column("person_minutes", LookedUp("recipes", "person_minutes"), Show.MINUTES),
        Column("pack_minutes", Gathered("product_stages", "person_minutes"), Show.MINUTES),
        Column("packs_made", LookedUp("packs", "packs_made")),
        Column("planned_minutes", Computed(rules.planned_pack_minutes), Show.MINUTES),
        Column("labour", LookedUp("products", "labour"), Show.MONEY),
        Column("labour_apart", Computed(rules.labour_apart), Show.MONEY),
    ),
    EachOf("products"),
    only_with=("Made",),
)

MADE_REJECTS = Table(
    "made_rejects",
    "Made: what was rejected, and what is typed",
    (
        *OF_A_PRODUCT,
        *_spread("made_log", "rejects_each", "is_watched", OF_IT),
        Column("rejects_all", made_of_it("total", "made_rejects")),
        Column("watched_packs", made_of_it("total", "packs_beside")),
        Column("rejects_per_pack", Computed(rules.rejects_a_pack)),
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("rejected_share", Computed(rules.rejected_share), Show.SHARE),
        Column("least_share", Computed(rules.least_share), Show.SHARE),
        Column("most_share", Computed(rules.most_share), Show.SHARE),
        Column("units_started", LookedUp("packs", "units_started")),
        Column("units_good", LookedUp("packs", "units_good")),
        Column("rejects_typed", Computed(rules.rejects_typed), Show.SHARE),
        Column("started", LookedUp("packs", "started"), title="A batch starts"),
        Column("rejects_to_type", Computed(rules.rejects_to_type)),
    ),
    EachOf("products"),
    only_with=("Made",),
)

MEASURED_TABLES: Final = (MADE_TIMES, MADE_REJECTS, YIELDS, STAGE_TIMES, PACK_TIMES, TESTS)
"""From what was found down to the rows that were typed."""
