"""Every table of Workings: which rule fills which column, left to right, in the order of the money.

To add a rule: write it in ``rules.py``, with columns (or settings) as its arguments, and name it
in a column here. The engine, the formulas, ``explain`` and the About sheet follow.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from functools import cache
from typing import Final

from costbook.definitions import rules
from costbook.definitions.buying_workings import BUYING_TABLES
from costbook.definitions.column_makers import (
    renamed,
    setting,
    stands,
    stands_as,
    what_is_known,
    what_lacks,
)
from costbook.definitions.columns import (
    AsCosted,
    Column,
    Compared,
    Computed,
    CountInText,
    Criterion,
    Fixed,
    Gathered,
    Given,
    Key,
    LookedUp,
    Over,
    Renamed,
    RowOf,
    RowsNow,
    Same,
    Show,
    StandsOn,
    Table,
    Today,
    UnitFact,
    UnitRow,
    Worth,
)
from costbook.definitions.figures_told import FIGURES_TOLD
from costbook.definitions.label_workings import LABEL_TABLES
from costbook.definitions.market_days_workings import MARKET_DAY_TABLES
from costbook.definitions.measured_workings import MEASURED_TABLES
from costbook.definitions.over import (
    a_year_before,
    rank_of_the_next_day,
)
from costbook.definitions.parts import MADE
from costbook.definitions.row_sources import (
    Cells,
    EachOf,
    EachPair,
    LaidOut,
    LinesOf,
    OneRow,
    RowsOfSheet,
    RowSource,
)
from costbook.definitions.session_workings import SESSION_TABLES
from costbook.definitions.stock_workings import STOCK_TABLES
from costbook.definitions.week_workings import WEEK_TABLES
from costbook.definitions.wiring import wired
from costbook.definitions.year_workings import YEAR_TABLES

__all__ = ["COMPARED", "LOGS", "TABLES", "TABLE_ORDER", "row_column"]

_0, _1 = Decimal(0), Decimal(1)


SETTINGS = Table(
    "settings",
    "Settings in use",
    (
        Column("today", Today(), Show.DATE),
        Column("costed_on", Given("Settings", "costing_date", stands_in="today"), Show.DATE),
        setting("pay_per_hour", Show.MONEY),
        setting("on_costs", Show.SHARE, _0),
        setting("target_margin", Show.SHARE),
        Column("minor_unit", Fixed(), Show.FINE_MONEY, "Smallest coin"),
        Column("price_step", Given("Settings", "price_step", stands_in="minor_unit"), Show.MONEY),
        setting("small_ingredient_allowance", Show.SHARE, _0),
        setting("stale_after_days", Show.WHOLE, Decimal(30)),
        setting("tax_included", Show.TEXT, "no"),
        Column("sales_tax_if_blank", Computed(rules.sales_tax_if_blank), Show.SHARE),
        Column(
            "sales_tax",
            Given("Settings", "sales_tax", stands_in="sales_tax_if_blank"),
            Show.SHARE,
        ),
        setting("kitchen_hire_per_hour", Show.MONEY, _0),
        Column("kitchen_hire_typed", Given("Settings", "kitchen_hire_per_hour"), Show.MONEY),
        setting("booking_block_minutes", Show.MINUTES, _0),
        setting("batches_per_year", Show.NUMBER),
        Column("rows_on_stages", Fixed(), Show.WHOLE),
        Column("rows_on_packaging", Fixed(), Show.WHOLE),
        Column("rows_on_overheads", Fixed(), Show.WHOLE),
        Column("rows_on_outlets", Fixed(), Show.WHOLE),
        setting("no_kitchen", Show.TEXT, "no"),
        setting("no_overheads", Show.TEXT, "no"),
        setting("no_selling_costs", Show.TEXT, "no"),
        Column("uncounted", Computed(rules.uncounted), Show.TEXT),
        Column("moved_since", Computed(rules.moved_since), Show.DATE),
        Column("ditto_marks", Fixed(), Show.TEXT),
        Column("blank_marks", Fixed(), Show.TEXT),
        renamed("Settings", "business", "currency"),
    ),
    OneRow(),
)

UNITS = Table(
    "units",
    "Units: each spelling, and what it is in base units (g, ml, ea, cm, sq cm)",
    (
        Column("spelling", Fixed(), Show.TEXT),
        Column("unit", Fixed(), Show.TEXT),
        Column("measure", Fixed(), Show.WHOLE),
        Column("factor", Fixed()),
        Column("piece_word", Fixed(), Show.TEXT),
        Column("part", Fixed(), Show.WHOLE, "A part of a piece"),
        Column("large_unit", Fixed(), Show.TEXT, "Read in"),
        Column("large_unit_size", Fixed(), title="which is, in base units"),
    ),
)

ALIASES = Table(
    "aliases",
    "Other names of items, and names typed with unusual signs or spaces",
    (
        Column("other_key", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
    ),
)

READINGS = Table(
    "readings",
    "Texts, and what each was read as",
    (
        Column("key", Fixed(), Show.TEXT),
        Column("value", Fixed()),
        Column("count", Fixed()),
        Column("unit", Fixed(), Show.TEXT),
    ),
)

CHOICES = Table(
    "choices",
    "Words that may be typed for a choice, and what each means",
    (
        Column("key", Fixed(), Show.TEXT),
        Column("meaning", Fixed(), Show.TEXT),
    ),
)

PURCHASES = Table(
    "purchases",
    "Purchases: which rows can set a price, and in what order",
    (
        Column("row_number", Fixed(), Show.WHOLE, "Row"),
        Column("day_row", RowOf("Purchases", "day"), Show.WHOLE),
        Column("item_row", RowOf("Purchases", "item"), Show.WHOLE),
        Column("supplier_row", RowOf("Purchases", "supplier"), Show.WHOLE),
        Column("item_key", Key("Purchases", "item"), Show.TEXT),
        Column("supplier_key", Key("Purchases", "supplier"), Show.TEXT),
        Column("day", Given("Purchases", "day"), Show.DATE),
        Column("pack_size", Given("Purchases", "pack_size")),
        Column("pack_count", Given("Purchases", "pack_count", _1, count_in="pack_size")),
        Column("packs", Given("Purchases", "packs", _1)),
        Column("price_per_pack", Given("Purchases", "price_per_pack", _0), Show.MONEY),
        Column("other_cost", Given("Purchases", "other_cost", _0), Show.MONEY),
        Column("unread", Renamed("Purchases", (), ("pack_size", "price_per_pack")), Show.WHOLE),
        Column("asked", Fixed(), Show.WHOLE),
        Column("rank", Computed(rules.rank), Show.WHOLE),
        Column("size_or_none", Given("Purchases", "pack_size", _0), title="Pack size, 0 if empty"),
        Column("discount", Computed(rules.discount), Show.MONEY),
        Column("left_out", Computed(rules.left_out), Show.WHOLE),
        Column("line_total", Computed(rules.line_total), Show.MONEY),
        Column("unit_row", UnitRow("Purchases", "unit", "pack_size"), Show.WHOLE),
        Column("unit_factor", UnitFact("factor")),
        Column("pack_held", Computed(rules.pack_held)),
    ),
    RowsOfSheet("Purchases", key="item_key", figures=("pack_size", "price_per_pack")),
)


def _bought(name: str, field: str, blank: Decimal | str | None, show: Show) -> Column:
    """A column read from the purchase that counts."""
    here = Given("Purchases", field, at_row="purchase_row")
    if blank is not None:
        here = Given("Purchases", field, blank, at_row="purchase_row")
    return Column(name, here, show)


_SAME_ITEM = Same("item_key", "item_key")
_SAME_SUPPLIER = Same("supplier_key", "supplier_key")
_FROM_THERE = Same("supplier_key", "supplier_key", named=True)
_USUAL = Same("supplier_key", "usual_supplier", named=True)
_SAME_SIZE = (
    Compared("pack_held", ">", "held_from"),
    Compared("pack_held", "<", "held_to"),
)


def _latest(day: str, *criteria: Criterion) -> Over:
    """The highest rank among the purchases of an item up to a day."""
    until_then = Compared("rank", "<", day, rank_of_the_next_day)
    return Over("purchases", "largest", "rank", (until_then, _SAME_ITEM, *criteria))


_OF_RANK = Compared("rank", "=", "rank")
"""The purchase of the same rank: no two have the same."""

_TAKEN_OFF = Over(
    "purchases", "total", "discount", (_SAME_ITEM, _SAME_SUPPLIER, Compared("day", "=", "day"))
)
"""What rows without a size take off an item, from one supplier on one day [money]."""

_FIRST = Over("purchases", "least", "rank", (_SAME_ITEM,))
"""The lowest rank among the purchases of an item."""

_SPENT_IN_A_YEAR = Over(
    "purchases",
    "total",
    "line_total",
    (
        _SAME_SUPPLIER,
        Compared("day", ">", "costed_on", a_year_before),
        Compared("day", "<=", "costed_on"),
    ),
)
"""What was spent at a supplier in the year up to the costing date [money]."""


_FIRST_DAY = Over("purchases", "least", "day", (Compared("day", "<=", "costed_on"),))
"""The day of the first receipt of all; zero where there is none yet."""


_RECEIPT = (
    Column("purchase_row", Computed(rules.purchase_row), Show.WHOLE),
    _bought("day", "day", None, Show.DATE),
    _bought("supplier", "supplier", "", Show.TEXT),
    Column("supplier_key", Key("Purchases", "supplier", at_row="purchase_row"), Show.TEXT),
    _bought("packs", "packs", _1, Show.NUMBER),
    Column(
        "pack_count",
        Given("Purchases", "pack_count", _1, count_in="pack_size", at_row="purchase_row"),
    ),
    _bought("pack_size", "pack_size", None, Show.NUMBER),
    Column(
        "unit_row",
        UnitRow("Purchases", "unit", "pack_size", at_row="purchase_row"),
        Show.WHOLE,
    ),
    Column("unit_factor", UnitFact("factor")),
    Column("measure", UnitFact("measure"), Show.WHOLE),
    Column("piece_word", UnitFact("piece_word", without=""), Show.TEXT),
    _bought("price_per_pack", "price_per_pack", None, Show.MONEY),
    _bought("other_cost", "other_cost", _0, Show.MONEY),
    Column("discounts", _TAKEN_OFF, Show.MONEY),
    Column("size_in_base_units", Computed(rules.size_in_base_units)),
    Column("price_per_base_unit", Computed(rules.price_per_base_unit), Show.FINE_MONEY),
)
"""The receipt line that counts, and the price it sets."""


_EACH_ITEM: Final = EachOf("prices_now")


def _quotes(
    name: str,
    title: str,
    up_to: Column,
    *,
    rank: tuple[Column, ...] = (Column("rank", Computed(rules.counting_rank), Show.WHOLE),),
    usual: tuple[Column, ...] = (
        Column("usual_supplier", LookedUp("prices_now", "usual_supplier", without=""), Show.TEXT),
    ),
    more: tuple[Column, ...] = (),
    rows: RowSource = _EACH_ITEM,
) -> Table:
    """Which purchase counts for each item up to a day, and the price it sets."""
    return Table(
        name,
        title,
        (
            Column("item", Fixed(), Show.TEXT),
            Column("item_key", Fixed(), Show.TEXT),
            *usual,
            up_to,
            Column("rank_of_usual", _latest("up_to", _USUAL), Show.WHOLE),
            Column("rank_of_any", _latest("up_to"), Show.WHOLE),
            *rank,
            *_RECEIPT,
            *more,
        ),
        rows,
    )


_READ_IN = (
    Column("large_unit", UnitFact("large_unit", without=""), Show.TEXT, "Read in"),
    Column("large_unit_size", UnitFact("large_unit_size"), title="which is, in base units"),
)
"""The unit in which people read prices and amounts of what was bought, or made, in another."""

PRICES_NOW = _quotes(
    "prices_now",
    "Prices now: the purchase that counts for each item",
    Column("up_to", LookedUp("settings", "costed_on"), Show.DATE),
    rows=LaidOut(),
    usual=(
        stands("Items", "item"),
        Column("usual_supplier", Key("Items", "usual_supplier"), Show.TEXT),
    ),
    more=(
        Column("whole_pack", Computed(rules.whole_pack)),
        Column("pack_in_its_unit", Computed(rules.pack_in_its_unit), title="A pack holds"),
        Column("pack_unit", UnitFact("unit", without=""), Show.TEXT, "of"),
        Column("beside_price", Computed(rules.beside_price), Show.MONEY),
        *_READ_IN,
    ),
)

PRICES_BEFORE = _quotes(
    "prices_before",
    "Prices before: what counted the day before that purchase",
    Column("up_to", LookedUp("items", "day_before"), Show.DATE),
)


_WORTHS = (
    Column("roll_width", Given("Items", "roll_width")),
    Column("roll_width_unit_row", UnitRow("Items", "roll_width_unit", "roll_width"), Show.WHOLE),
    Column("roll_width_factor", UnitFact("factor", "roll_width_unit_row"), title="Roll width unit"),
    Column("worth_weight", Fixed(), title="1 g is, g"),
    Column("worth_volume", Given("Items", "grams_per_ml"), title="1 ml is, g"),
    Column("worth_piece", Given("Items", "grams_per_piece"), title="1 piece is, g"),
    Column("worth_length", Computed(rules.roll_width_cm), title="1 cm is, sq cm"),
    Column("worth_area", Fixed(), title="1 sq cm is, sq cm"),
)
"""What one base unit of each measure is worth: the bridges of an item or a used recipe."""
PRICES_THEN = _quotes(
    "prices_then",
    "Prices then: what counted on the day that changes are shown since",
    Column("up_to", LookedUp("settings", "moved_since"), Show.DATE),
    rank=(
        Column("rank_of_first", _FIRST, Show.WHOLE),
        Column("rank", Computed(rules.rank_then), Show.WHOLE),
    ),
)


ITEM_BASICS = Table(
    "items",
    "Items: usable share and bridges",
    (
        Column("item", Fixed(), Show.TEXT),
        stands_as("prices_now", "Items"),
        renamed("Items", "also_called"),
        Column("usable_share", Given("Items", "usable_share", _1), Show.SHARE),
        *_WORTHS,
        Column("day", LookedUp("prices_now", "day"), Show.DATE),
        Column("day_before", Computed(rules.day_before), Show.DATE),
    ),
)

ITEM_PRICES = Table(
    "item_prices",
    "Items: price now, before, and the change",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("costed_on", LookedUp("settings", "costed_on"), Show.DATE),
        Column("day", LookedUp("prices_now", "day"), Show.DATE),
        Column("supplier", LookedUp("prices_now", "supplier", without=""), Show.TEXT),
        Column("measure", LookedUp("prices_now", "measure"), Show.WHOLE),
        Column(
            "price_per_base_unit",
            LookedUp("prices_now", "price_per_base_unit"),
            Show.FINE_MONEY,
        ),
        Column("usable_share", LookedUp("items", "usable_share"), Show.SHARE),
        Column("price_ready_to_use", Computed(rules.price_ready_to_use), Show.FINE_MONEY),
        Column("price_measure", LookedUp("prices_before", "measure"), Show.WHOLE),
        Column("worth", Worth("items", "measure")),
        Column("price_worth", Worth("items", "price_measure")),
        Column("before_bridge", Computed(rules.bridge)),
        Column(
            "price_before",
            LookedUp("prices_before", "price_per_base_unit"),
            Show.FINE_MONEY,
        ),
        Column("before_in_units_of_now", Computed(rules.before_in_units_of_now), Show.FINE_MONEY),
        Column("change", Computed(rules.change), Show.SHARE),
        Column("large_unit", LookedUp("prices_now", "large_unit", without=""), Show.TEXT),
        Column("large_unit_size", LookedUp("prices_now", "large_unit_size")),
        Column("large_unit_price", Computed(rules.large_unit_price), Show.UNIT_PRICE),
        Column("large_unit_price_before", Computed(rules.large_unit_price_before), Show.UNIT_PRICE),
        Column("large_unit_price_ready", Computed(rules.large_unit_price_ready), Show.UNIT_PRICE),
        Column("age_days", Computed(rules.age_days), Show.WHOLE),
        Column("freshness", Computed(rules.freshness), Show.TEXT),
    ),
    EachOf("prices_before"),
)

ITEM_MOVES = Table(
    "item_moves",
    "Items: the price then, in the unit of the price now",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("measure", LookedUp("prices_now", "measure"), Show.WHOLE),
        Column("price_measure", LookedUp("prices_then", "measure"), Show.WHOLE),
        Column("worth", Worth("items", "measure")),
        Column("price_worth", Worth("items", "price_measure")),
        Column("before_bridge", Computed(rules.bridge)),
        Column("day", LookedUp("prices_then", "day"), Show.DATE),
        Column("price_before", LookedUp("prices_then", "price_per_base_unit"), Show.FINE_MONEY),
        Column("before_in_units_of_now", Computed(rules.before_in_units_of_now), Show.FINE_MONEY),
        Column(
            "price_per_base_unit", LookedUp("prices_now", "price_per_base_unit"), Show.FINE_MONEY
        ),
        Column("change", Computed(rules.change), Show.SHARE),
    ),
    EachOf("prices_then"),
)


BATCHES = Table(
    "batches",
    "Batches: what one starts, and what is good",
    (
        Column("recipe", Fixed(), Show.TEXT),
        stands("Batches", "recipe"),
        renamed("Batches"),
        stands("Items", "item"),
        renamed("Items", column="renamed_bridges"),
        Column("products", Fixed(), Show.WHOLE, "Products made of it"),
        Column("makes", Given("Batches", "makes")),
        Column("unit_row", UnitRow("Batches", "unit", "makes"), Show.WHOLE),
        Column("unit_factor", UnitFact("factor")),
        Column("measure", UnitFact("measure"), Show.WHOLE),
        Column("piece_word", UnitFact("piece_word", without=""), Show.TEXT),
        Column("counted_in", Computed(rules.counted_in)),
        Column("started", Computed(rules.started)),
        Column("typed_rejects", Given("Batches", "rejects", _0)),
        Column("rejects_are_share", Fixed(), Show.WHOLE, "Rejects are a share"),
        Column("rejects", Computed(rules.rejects)),
        Column("good", Computed(rules.good)),
        Column("good_in_base_units", Computed(rules.good_in_base_units)),
        *_READ_IN,
        *_WORTHS,
    ),
)


def _asked(sheet: str) -> tuple[Column, ...]:
    """An amount of an item or recipe, in base units, and what one is worth."""
    return (
        Column("uses", Fixed(), Show.TEXT),
        Column("amount", Given(sheet, "amount")),
        Column("unit_row", UnitRow(sheet, "unit", "amount"), Show.WHOLE),
        Column("unit_factor", UnitFact("factor")),
        Column("measure", UnitFact("measure"), Show.WHOLE),
        Column("piece_word", UnitFact("piece_word", without=""), Show.TEXT),
        Column("part", UnitFact("part", without=_0), Show.WHOLE, "A part of a piece"),
        Column("amount_in_base_units", Computed(rules.amount_in_base_units, "amount")),
    )


_PRICED = (
    Column("price_measure", LookedUp("prices_now", "measure"), Show.WHOLE),
    Column("price_word", LookedUp("prices_now", "piece_word", without=""), Show.TEXT),
    Column("worth", Worth("items", "measure")),
    Column("price_worth", Worth("items", "price_measure")),
    Column("bridge", Computed(rules.bridge)),
    Column("whole", LookedUp("prices_now", "whole_pack"), title="Its pack holds"),
    Column("usable_bridge", Computed(rules.same_piece)),
    Column("price_per_base_unit", LookedUp("prices_now", "price_per_base_unit"), Show.FINE_MONEY),
)
"""The price of the item used, and the bridge to the unit it is bought in."""

_LINE_OPEN: Final = ("amount_as_bought", "line_cost")

LINES = Table(
    "lines",
    "Recipe lines that use an item",
    (
        Column("recipe", Fixed(), Show.TEXT),
        stands("Recipes", "recipe", "uses"),
        renamed("Recipes"),
        *_asked("Recipes"),
        Column("item_key", Fixed(), Show.TEXT),
        Column("measured", Given("Recipes", "measured", "blank"), Show.TEXT),
        Column("item_usable_share", LookedUp("items", "usable_share"), Show.SHARE),
        Column(
            "line_usable_share",
            Given("Recipes", "usable_share", stands_in="item_usable_share"),
            Show.SHARE,
        ),
        Column("applied_usable_share", Computed(rules.applied_usable_share), Show.SHARE),
        *_PRICED,
        Column("amount_as_bought", Computed(rules.amount_as_bought, "amount_in_base_units")),
        Column("line_cost", Computed(rules.line_cost, "amount_as_bought"), Show.FINE_MONEY),
        Column("lacks", Computed(rules.line_lacks), Show.TEXT),
    ),
    LinesOf("recipes", "Recipes", "items", left_open=_LINE_OPEN),
    about="uses",
    lacks="lacks",
)

USES = Table(
    "uses",
    "Recipe lines that use another recipe",
    (
        Column("recipe", Fixed(), Show.TEXT),
        stands("Recipes", "recipe", "uses"),
        renamed("Recipes"),
        *_asked("Recipes"),
        Column("price_measure", LookedUp("batches", "measure"), Show.WHOLE),
        Column("price_word", LookedUp("batches", "piece_word", without=""), Show.TEXT),
        Column("worth", Worth("batches", "measure")),
        Column("price_worth", Worth("batches", "price_measure")),
        Column("bridge", Computed(rules.bridge)),
        Column("whole", LookedUp("batches", "good_in_base_units"), title="Its batch gives"),
        Column("usable_bridge", Computed(rules.same_piece)),
        Column("good_in_base_units", LookedUp("batches", "good_in_base_units")),
        Column("share_of_batch", Computed(rules.share_of_batch, "amount_in_base_units")),
        Column("batch_cost", LookedUp("recipes", "batch_cost"), Show.FINE_MONEY),
        Column("used_cost", Computed(rules.used_cost), Show.FINE_MONEY),
        Column("batch_cost_known", LookedUp("recipes", "batch_cost_known"), Show.FINE_MONEY),
        what_is_known(rules.used_cost, "batch_cost", show=Show.FINE_MONEY),
        Column("batch_labour", LookedUp("recipes", "batch_labour"), Show.FINE_MONEY),
        Column("used_labour", Computed(rules.used_labour), Show.FINE_MONEY),
        Column("batch_labour_known", LookedUp("recipes", "batch_labour_known"), Show.FINE_MONEY),
        what_is_known(rules.used_labour, "batch_labour", show=Show.FINE_MONEY),
        Column("person_minutes", LookedUp("recipes", "person_minutes"), Show.MINUTES),
        Column("used_person_minutes", Computed(rules.used_person_minutes), Show.MINUTES),
        Column("clock_minutes", LookedUp("recipes", "batch_clock_minutes"), Show.MINUTES),
        Column("used_clock_minutes", Computed(rules.used_clock_minutes), Show.MINUTES),
        Column("batch_lacks", LookedUp("recipes", "lacks", without=""), Show.TEXT),
        Column("lacks", Computed(rules.use_lacks), Show.TEXT),
        Column("labour_lacks", LookedUp("recipes", "labour_lacks", without=""), Show.TEXT),
    ),
    LinesOf("recipes", "Recipes", "recipes", left_open=("share_of_batch",)),
    about="uses",
    lacks="lacks",
)


_MINUTES: Final = ("minutes_per_batch", "minutes_per_unit", "waiting_minutes")

_TIMED = (
    Column("people", Given("Stages", "people", _1)),
    Column(
        "minutes_per_batch",
        Given("Stages", "minutes_per_batch", _0, together_with=_MINUTES),
        Show.MINUTES,
    ),
    Column(
        "minutes_per_unit",
        Given("Stages", "minutes_per_unit", _0, together_with=_MINUTES),
        Show.MINUTES,
    ),
)
"""Who is at a step of the work, and what the stopwatch said."""

_PAID = (
    Column("work_minutes", Computed(rules.work_minutes), Show.MINUTES),
    Column("person_minutes", Computed(rules.person_minutes, "people"), Show.MINUTES),
    Column("waiting_minutes", Given("Stages", "waiting_minutes", _0), Show.MINUTES),
    Column("overlap_minutes", Given("Stages", "overlap_minutes", _0), Show.MINUTES),
    Column("clock_minutes", Computed(rules.stage_clock_minutes), Show.MINUTES),
    Column("stage_pay", Given("Stages", "stage_pay", stands_in="pay_per_hour"), Show.MONEY),
    Column("stage_labour", Computed(rules.stage_labour, "person_minutes"), Show.FINE_MONEY),
)
"""What a step of the work takes, and what it is paid."""


_STAGE_OPEN: Final = ("work_minutes", "person_minutes", "clock_minutes", "stage_labour")


def _stages(name: str, title: str, whose: str, links: tuple[str, ...], *units: Column) -> Table:
    """The steps of the work of a recipe, or on a product's packs."""
    return Table(
        name,
        title,
        (
            Column("recipe", Fixed(), Show.TEXT, "For"),
            Column("stage", Fixed(), Show.TEXT),
            stands("Stages", "recipe", "stage"),
            renamed("Stages"),
            *_TIMED,
            *units,
            *_PAID,
            Column("lacks", Computed(rules.stage_lacks), Show.TEXT),
        ),
        LinesOf(whose, "Stages", links=links, left_open=_STAGE_OPEN),
        about="stage",
        lacks="lacks",
    )


STAGES = _stages(
    "stages",
    "Stages of recipes",
    "recipes",
    ("batches", "packs"),
    Column("measure", LookedUp("batches", "measure"), Show.WHOLE),
    Column("started", LookedUp("batches", "started")),
    Column("products", LookedUp("batches", "products"), Show.WHOLE, "Products made of it"),
    Column("agreed_units", LookedUp("packs", "agreed_units")),
    Column("units_started", Computed(rules.stage_units)),
)
PRODUCT_STAGES = _stages(
    "product_stages",
    "Stages of products",
    "products",
    ("packs",),
    Column("units_started", LookedUp("packs", "packs_made"), title="Packs made"),
)

RECIPES = Table(
    "recipes",
    "Recipes: each after those it uses",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("lines", Fixed(), Show.WHOLE),
        Column("items_cost", Gathered("lines", "line_cost"), Show.FINE_MONEY),
        Column("allowance", Computed(rules.allowance_cost), Show.FINE_MONEY),
        Column("items_cost_known", Gathered("lines", "line_cost", "total"), Show.FINE_MONEY),
        Column("uses_cost", Gathered("uses", "used_cost"), Show.FINE_MONEY),
        Column("uses_cost_known", Gathered("uses", "used_cost_known", "total"), Show.FINE_MONEY),
        Column("batch_cost", Computed(rules.batch_cost), Show.FINE_MONEY),
        Column("batch_cost_known", Computed(rules.batch_cost_known), Show.FINE_MONEY),
        Column("good", LookedUp("batches", "good")),
        Column("unit_cost", Computed(rules.unit_cost), Show.FINE_MONEY),
        Column("good_in_base_units", LookedUp("batches", "good_in_base_units")),
        Column("large_unit", LookedUp("batches", "large_unit", without=""), Show.TEXT),
        Column("large_unit_size", LookedUp("batches", "large_unit_size")),
        Column("large_unit_cost", Computed(rules.large_unit_cost), Show.UNIT_PRICE),
        Column("own_labour", Gathered("stages", "stage_labour"), Show.FINE_MONEY),
        Column("own_labour_known", Gathered("stages", "stage_labour", "total"), Show.FINE_MONEY),
        Column("used_labour", Gathered("uses", "used_labour"), Show.FINE_MONEY),
        Column(
            "used_labour_known", Gathered("uses", "used_labour_known", "total"), Show.FINE_MONEY
        ),
        Column("batch_labour", Computed(rules.batch_labour), Show.FINE_MONEY),
        Column("large_unit_labour", Computed(rules.large_unit_labour), Show.UNIT_PRICE),
        what_is_known(rules.batch_labour, "own_labour", "used_labour", show=Show.FINE_MONEY),
        Column("own_person_minutes", Gathered("stages", "person_minutes"), Show.MINUTES),
        Column("used_person_minutes", Gathered("uses", "used_person_minutes"), Show.MINUTES),
        Column("person_minutes", Computed(rules.batch_person_minutes), Show.MINUTES),
        Column("own_clock_minutes", Gathered("stages", "clock_minutes"), Show.MINUTES),
        Column("used_clock_minutes", Gathered("uses", "used_clock_minutes"), Show.MINUTES),
        Column("batch_clock_minutes", Computed(rules.batch_clock_minutes), Show.MINUTES),
        Column("line_lack", Gathered("lines", "lacks", "first"), Show.TEXT),
        Column("use_lack", Gathered("uses", "lacks", "first"), Show.TEXT),
        Column("lacks", Computed(rules.recipe_lacks), Show.TEXT),
        Column("stage_lack", Gathered("stages", "lacks", "first"), Show.TEXT),
        Column("used_labour_lack", Gathered("uses", "labour_lacks", "first"), Show.TEXT),
        what_lacks("labour_lacks", "batch_labour", "stage_lack", "used_labour_lack"),
    ),
    lacks="lacks",
)


OVERHEADS = Table(
    "overheads",
    "Overheads",
    (
        Column("cost", Fixed(), Show.TEXT),
        stands("Overheads", "cost"),
        renamed("Overheads"),
        Column("amount", Given("Overheads", "amount"), Show.MONEY),
        Column("period", Given("Overheads", "period", ""), Show.TEXT),
        Column("business_share", Given("Overheads", "business_share", _1), Show.SHARE),
        Column("business_part", Computed(rules.business_part), Show.MONEY),
        Column("cost_a_year", Computed(rules.cost_a_year), Show.MONEY),
        Column("cost_a_batch", Computed(rules.cost_a_batch), Show.MONEY),
        Column("cost_a_market_day", Computed(rules.cost_a_market_day), Show.MONEY),
    ),
    RowsOfSheet("Overheads"),
)

YEAR = Table(
    "year",
    "Overheads in all",
    (
        Column("yearly", Gathered("overheads", "cost_a_year"), Show.MONEY),
        Column("per_batch", Gathered("overheads", "cost_a_batch"), Show.MONEY),
        Column("market_daily", Gathered("overheads", "cost_a_market_day"), Show.MONEY),
        Column("yearly_per_batch", Computed(rules.yearly_per_batch, "yearly"), Show.MONEY),
        Column("overhead_per_batch", Computed(rules.overhead_per_batch), Show.MONEY),
        Column("yearly_known", Gathered("overheads", "cost_a_year", "total"), Show.MONEY),
        Column("per_batch_known", Gathered("overheads", "cost_a_batch", "total"), Show.MONEY),
        Column(
            "overhead_per_batch_known",
            Computed(rules.overhead_per_batch_known),
            Show.MONEY,
        ),
    ),
    OneRow(),
)

_PACK_HOLDS = (
    Column("typed_units", Given("Products", "units_per_pack", _0), title="Units per pack, typed"),
    Column("units_in_text", CountInText("Products", "units_per_pack"), title="Times, in the text"),
    Column("pack_unit_row", UnitRow("Products", "", "units_per_pack"), Show.WHOLE),
    Column("unit_factor", UnitFact("factor", "pack_unit_row")),
    Column("pack_measure", UnitFact("measure", "pack_unit_row"), Show.WHOLE),
    Column("net_weight", Given("Products", "net_weight")),
    Column("net_unit_row", UnitRow("Products", "net_weight_unit", "net_weight"), Show.WHOLE),
    Column("net_factor", UnitFact("factor", "net_unit_row")),
    Column("net_measure", UnitFact("measure", "net_unit_row"), Show.WHOLE),
    Column("batch_factor", LookedUp("batches", "unit_factor")),
    Column("portion", Computed(rules.portion)),
    Column("measure", Computed(rules.portion_measure), Show.WHOLE),
    Column("price_measure", LookedUp("batches", "measure"), Show.WHOLE, "Measure of the batch"),
    Column("worth", Worth("batches", "measure")),
    Column("price_worth", Worth("batches", "price_measure")),
    Column("bridge", Computed(rules.bridge)),
    Column("unit_amount", Computed(rules.unit_amount), title="One unit is"),
    Column("units_per_pack", Computed(rules.units_per_pack)),
)
"""How many units a pack holds, and what one unit of the batch is."""

PACKS = Table(
    "packs",
    "Packs: made and sold of one batch",
    (
        Column("product", Fixed(), Show.TEXT),
        stands("Products", "product", "recipe"),
        renamed("Products", "sold_at"),
        *_PACK_HOLDS,
        Column("started", LookedUp("batches", "started")),
        Column("counted_in", LookedUp("batches", "counted_in")),
        Column("good_in_base_units", LookedUp("batches", "good_in_base_units")),
        Column("units_started", Computed(rules.units_started)),
        Column("units_good", Computed(rules.units_good)),
        Column("units_before", LookedUp("packs", "agreed_units", without=_0)),
        Column("agreed_units", Computed(rules.agreed_units)),
        Column("not_sold", Given("Products", "not_sold", _0), Show.SHARE),
        Column("units_sold", Computed(rules.units_sold)),
        Column("packs_made", Computed(rules.packs_made)),
        Column("packs_sold", Computed(rules.packs_sold)),
    ),
)

PACKAGING = Table(
    "packaging",
    "Packaging of one batch",
    (
        Column("product", Fixed(), Show.TEXT),
        stands("Packaging", "product", "uses"),
        renamed("Packaging"),
        *_asked("Packaging"),
        Column("item_key", Fixed(), Show.TEXT),
        *_PRICED,
        Column("per", Given("Packaging", "per", ""), Show.TEXT),
        Column("units_started", LookedUp("packs", "units_started")),
        Column("packs_made", LookedUp("packs", "packs_made")),
        Column("times_used", Computed(rules.times_used)),
        Column("spare", Given("Packaging", "spare", _0), Show.SHARE),
        Column("amount_as_bought", Computed(rules.package_as_bought, "amount_in_base_units")),
        Column("line_cost", Computed(rules.line_cost, "amount_as_bought"), Show.FINE_MONEY),
        Column("lacks", Computed(rules.line_lacks), Show.TEXT),
    ),
    LinesOf("products", "Packaging", "items", ("packs",), _LINE_OPEN, shared=True),
    about="uses",
    lacks="lacks",
)


PRODUCTS = Table(
    "products",
    "Products: what a pack sold cost to make",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("packs_sold", LookedUp("packs", "packs_sold")),
        Column("batch_cost", LookedUp("recipes", "batch_cost"), Show.FINE_MONEY),
        Column("ingredients", Computed(rules.ingredients), Show.MONEY),
        Column("batch_cost_known", LookedUp("recipes", "batch_cost_known"), Show.FINE_MONEY),
        what_is_known(rules.ingredients, "batch_cost"),
        Column("packaging_batch", Gathered("packaging", "line_cost"), Show.FINE_MONEY),
        Column("packaging", Computed(rules.packaging), Show.MONEY),
        Column(
            "packaging_batch_known", Gathered("packaging", "line_cost", "total"), Show.FINE_MONEY
        ),
        what_is_known(rules.packaging, "packaging_batch"),
        Column("batch_labour", LookedUp("recipes", "batch_labour"), Show.FINE_MONEY),
        Column("product_labour", Gathered("product_stages", "stage_labour"), Show.FINE_MONEY),
        Column("labour", Computed(rules.labour), Show.MONEY),
        Column(
            "batch_labour_known",
            LookedUp("recipes", "batch_labour_known"),
            Show.FINE_MONEY,
        ),
        Column(
            "product_labour_known",
            Gathered("product_stages", "stage_labour", "total"),
            Show.FINE_MONEY,
        ),
        what_is_known(rules.labour, "batch_labour", "product_labour"),
        Column(
            "batch_clock_minutes",
            LookedUp("recipes", "batch_clock_minutes"),
            Show.MINUTES,
        ),
        Column("product_clock_minutes", Gathered("product_stages", "clock_minutes"), Show.MINUTES),
        Column("kitchen_minutes", Computed(rules.kitchen_minutes), Show.MINUTES),
        Column(
            "kitchen_batch",
            Computed(rules.kitchen_batch, "kitchen_hire_per_hour"),
            Show.FINE_MONEY,
        ),
        Column("kitchen", Computed(rules.kitchen, "kitchen_batch"), Show.MONEY),
        Column("overhead_per_batch", LookedUp("year", "overhead_per_batch"), Show.FINE_MONEY),
        Column("overhead", Computed(rules.overhead, "overhead_per_batch"), Show.MONEY),
        Column(
            "overhead_per_batch_known", LookedUp("year", "overhead_per_batch_known"), Show.MONEY
        ),
        what_is_known(rules.overhead, "overhead_per_batch"),
        Column("made", Computed(rules.made), Show.MONEY),
        Column("ingredients_lack", LookedUp("recipes", "lacks", without=""), Show.TEXT),
        Column("packaging_lack", Gathered("packaging", "lacks", "first"), Show.TEXT),
        Column(
            "batch_labour_lack",
            LookedUp("recipes", "labour_lacks", without=""),
            Show.TEXT,
        ),
        Column("product_labour_lack", Gathered("product_stages", "lacks", "first"), Show.TEXT),
        what_lacks("labour_lack", "labour", "batch_labour_lack", "product_labour_lack"),
        Column("lacks", Computed(rules.made_lacks), Show.TEXT),
    ),
)

_NO_SELLING: Final[Cells] = {"outlet": "", "market_daily": _0, "hours_per_day": _0}
"""Without an outlet, selling costs nothing: no market day is counted either."""

OUTLETS = Table(
    "outlets",
    "Outlets: what selling costs",
    (
        Column("outlet", Fixed(), Show.TEXT),
        stands("Outlets", "outlet"),
        renamed("Outlets"),
        Column("kind", Given("Outlets", "kind", "stall"), Show.TEXT),
        Column("fee_per_day", Given("Outlets", "fee_per_day", _0), Show.MONEY),
        Column("miles_per_day", Given("Outlets", "miles_per_day", _0)),
        Column("cost_per_mile", Given("Outlets", "cost_per_mile"), Show.MONEY),
        Column("travel_per_day", Computed(rules.travel_per_day, "miles_per_day"), Show.MONEY),
        Column("other_per_day", Given("Outlets", "other_per_day", _0), Show.MONEY),
        Column("market_daily", LookedUp("year", "market_daily"), Show.MONEY),
        Column("market_day_overheads", Computed(rules.market_day_overheads), Show.MONEY),
        Column("day_costs_without_pay", Computed(rules.day_costs_without_pay), Show.MONEY),
        Column("hours_if_blank", Computed(rules.hours_if_blank)),
        Column("hours_per_day", Given("Outlets", "hours_per_day", stands_in="hours_if_blank")),
        Column("own_pay_per_day", Computed(rules.own_pay_per_day, "hours_per_day"), Show.MONEY),
        Column("day_costs", Computed(rules.day_costs), Show.MONEY),
        Column("units_sold_per_day", Given("Outlets", "units_sold_per_day")),
        Column("days_per_year", Given("Outlets", "days_per_year")),
        Column("weekly_units", Computed(rules.weekly_units)),
        Column("products_sold", Fixed(), Show.WHOLE, "Products sold there"),
        Column("units_of_each", Computed(rules.units_of_each)),
        Column("day_costs_per_unit", Computed(rules.day_costs_per_unit, "day_costs"), Show.MONEY),
        Column("card_fee", Given("Outlets", "card_fee", _0), Show.SHARE),
        Column("card_fixed_fee", Given("Outlets", "card_fixed_fee", _0), Show.MONEY),
        Column("card_share_if_blank", Computed(rules.card_share_if_blank), Show.SHARE),
        Column(
            "card_share",
            Given("Outlets", "card_share", stands_in="card_share_if_blank"),
            Show.SHARE,
        ),
        Column("units_per_sale", Given("Outlets", "units_per_sale", _1)),
        Column(
            "card_fixed_per_unit",
            Computed(rules.card_fixed_per_unit, "card_fixed_fee"),
            Show.FINE_MONEY,
        ),
        Column("selling_per_unit", Computed(rules.selling_per_unit), Show.MONEY),
        Column("selling_per_unit_known", Computed(rules.selling_per_unit_known), Show.MONEY),
        Column("commission_if_blank", Computed(rules.commission_if_blank), Show.SHARE),
        Column(
            "commission",
            Given("Outlets", "commission", stands_in="commission_if_blank"),
            Show.SHARE,
        ),
        Column("card_part", Computed(rules.card_part, "card_fee"), Show.SHARE),
        Column("tax_here", Computed(rules.tax_here), Show.SHARE),
        Column("tax_in_price", Computed(rules.tax_in_price), Show.SHARE),
        Column("fee_share", Computed(rules.fee_share), Show.SHARE),
        Column("their_margin", Given("Outlets", "their_margin"), Show.SHARE),
    ),
    RowsOfSheet("Outlets", without=_NO_SELLING),
)


def _as_made(names: Iterable[str]) -> Iterator[Column]:
    """Figures of a product, the same at every outlet."""
    return (Column(name, LookedUp("products", name), Show.MONEY) for name in names)


_OF_A_DAY: Final = ("break_even", "break_even_without_pay")

PRICES = Table(
    "prices",
    "Prices: each product at each outlet",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("outlet", Fixed(), Show.TEXT),
        stands_as("packs", "Products"),
        stands_as("outlets", "Outlets"),
        Column("kind", LookedUp("outlets", "kind"), Show.TEXT),
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("units_of_each", LookedUp("outlets", "units_of_each")),
        *_as_made(part.name for part in MADE),
        Column("made", LookedUp("products", "made"), Show.MONEY),
        Column("selling_per_unit", LookedUp("outlets", "selling_per_unit"), Show.MONEY),
        Column("selling", Computed(rules.selling, "selling_per_unit"), Show.MONEY),
        Column("total", Computed(rules.total), Show.MONEY),
        *_as_made(part.known for part in MADE if part.known),
        Column("selling_per_unit_known", LookedUp("outlets", "selling_per_unit_known"), Show.MONEY),
        what_is_known(rules.selling, "selling_per_unit"),
        Column("known", Computed(rules.known_cost), Show.MONEY),
        Column("fee_share", LookedUp("outlets", "fee_share"), Show.SHARE),
        Column("tax_in_price", LookedUp("outlets", "tax_in_price"), Show.SHARE),
        Column(
            "product_target_margin",
            Given("Products", "product_target_margin", stands_in="target_margin"),
            Show.SHARE,
        ),
        Column(
            "applied_target_margin",
            Given("Outlets", "outlet_target_margin", stands_in="product_target_margin"),
            Show.SHARE,
            "Target margin here",
        ),
        Column("room", Computed(rules.room), Show.SHARE),
        Column("price_before_tax", Computed(rules.price_before_tax), Show.MONEY),
        Column("price_at_target", Computed(rules.price_at_target), Show.MONEY),
        Column("price_on_step", Computed(rules.price_on_step), Show.MONEY),
        Column("step_before_tax", Computed(rules.step_before_tax), Show.MONEY),
        Column("step_fees", Computed(rules.step_fees), Show.MONEY),
        Column("step_all_cost", Computed(rules.step_all_cost), Show.MONEY),
        Column("step_profit", Computed(rules.step_profit), Show.MONEY),
        Column("step_margin", Computed(rules.step_margin), Show.SHARE),
        Column("step_markup", Computed(rules.step_markup), Show.SHARE),
        Column("current_price", Given("Products", "current_price"), Show.MONEY),
        Column("wholesale_price_now", Given("Products", "wholesale_price_now"), Show.MONEY),
        Column("price_now", Computed(rules.price_now), Show.MONEY),
        Column("now_before_tax", Computed(rules.now_before_tax), Show.MONEY),
        Column("now_all_cost", Computed(rules.now_all_cost), Show.MONEY),
        Column("now_profit", Computed(rules.now_profit), Show.MONEY),
        Column("now_margin", Computed(rules.now_margin), Show.SHARE),
        Column("now_markup", Computed(rules.now_markup), Show.SHARE),
        Column("counted_price", Computed(rules.counted_price), Show.MONEY),
        Column("card_fixed_per_unit", LookedUp("outlets", "card_fixed_per_unit"), Show.MONEY),
        Column("contribution_per_unit", Computed(rules.contribution_per_unit), Show.MONEY),
        Column("in_mix", Computed(rules.in_mix), Show.WHOLE, "Counts in the mix"),
        Column("packs_per_unit", Computed(rules.packs_per_unit)),
        Column("day_costs", LookedUp("outlets", "day_costs"), Show.MONEY),
        Column("break_even", Computed(rules.break_even), Show.WHOLE),
        Column(
            "day_costs_without_pay",
            LookedUp("outlets", "day_costs_without_pay"),
            Show.MONEY,
        ),
        Column("break_even_without_pay", Computed(rules.break_even_without_pay), Show.WHOLE),
        Column("their_margin", LookedUp("outlets", "their_margin"), Show.SHARE),
        Column("shelf_price", Computed(rules.shelf_price), Show.MONEY),
        Column("shelf_price_with_tax", Computed(rules.shelf_price_with_tax), Show.MONEY),
        Column("made_lack", LookedUp("products", "lacks", without=""), Show.TEXT),
        Column("lacks", Computed(rules.price_lacks), Show.TEXT),
        Column("lacks_or_goes_without", Computed(rules.lacks_or_goes_without), Show.TEXT),
        Column("advice", Computed(rules.advice), Show.TEXT),
        Column("number", Fixed(), Show.WHOLE),
        Column("short_by", Computed(rules.short_by), Show.SHARE),
    ),
    EachPair("products", "outlets", where_sold=True, without=dict.fromkeys(_OF_A_DAY)),
)


def _of_its_prices(column: str) -> Over:
    """The total of a column over the products at an outlet."""
    return Over("prices", "total", column, (Compared("outlets_row", "=", "outlets_row"),))


DAYS = Table(
    "days",
    "A day at each outlet, in the usual mix: each product sells as many units",
    (
        Column("outlet", Fixed(), Show.TEXT),
        stands_as("outlets", "Outlets"),
        Column("products", LookedUp("outlets", "products_sold"), Show.WHOLE),
        Column("in_mix", _of_its_prices("in_mix"), Show.WHOLE),
        Column("contributions", _of_its_prices("contribution_per_unit"), Show.MONEY),
        Column("parts_of_packs", _of_its_prices("packs_per_unit")),
        Column("contribution_per_unit", Computed(rules.mix_contribution), Show.MONEY),
        Column("packs_per_unit", Computed(rules.mix_packs_per_unit)),
        Column("day_costs", LookedUp("outlets", "day_costs"), Show.MONEY),
        Column("break_even", Computed(rules.break_even), Show.WHOLE),
        Column("break_even_packs", Computed(rules.break_even_packs), Show.WHOLE),
        Column("day_costs_without_pay", LookedUp("outlets", "day_costs_without_pay"), Show.MONEY),
        Column("break_even_without_pay", Computed(rules.break_even_without_pay), Show.WHOLE),
        Column("units_sold_per_day", LookedUp("outlets", "units_sold_per_day")),
    ),
    EachOf("outlets"),
)

USE_NEEDS = Table(
    "use_needs",
    "What a recipe takes of each item through the recipes it uses",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("item", Fixed(), Show.TEXT),
        Column("share_of_batch", LookedUp("uses", "share_of_batch")),
        Column("batch_need", LookedUp("recipe_needs", "batch_need")),
        Column("need_through", Computed(rules.need_through)),
    ),
)

RECIPE_NEEDS = Table(
    "recipe_needs",
    "What a batch of each recipe takes of each item",
    (
        Column("recipe", Fixed(), Show.TEXT),
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        Column("own_need", Gathered("lines", "amount_as_bought", key="item_key")),
        Column("used_need", Gathered("use_needs", "need_through")),
        Column("batch_need", Computed(rules.batch_need)),
    ),
)

PACK_NEEDS = Table(
    "pack_needs",
    "What a pack sold takes of each item, and what it pays for it",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        Column("recipe_need", LookedUp("recipe_needs", "batch_need", without=_0)),
        Column("packaging_need", Gathered("packaging", "amount_as_bought", key="item_key")),
        Column("packs_sold", LookedUp("packs", "packs_sold")),
        Column("batch_take", Computed(rules.batch_take)),
        Column("takes", Computed(rules.takes), Show.WHOLE),
        Column("pack_need", Computed(rules.pack_need)),
        Column(
            "price_per_base_unit", LookedUp("prices_now", "price_per_base_unit"), Show.FINE_MONEY
        ),
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("unit_need", Computed(rules.unit_need, "pack_need")),
        Column("units_per_week", Gathered("prices", "units_of_each", "total")),
        Column("week_need", Computed(rules.week_need)),
        Column("need_cost", Computed(rules.need_cost, "pack_need"), Show.MONEY),
        Column("price_then", LookedUp("item_moves", "before_in_units_of_now"), Show.FINE_MONEY),
        Column("need_moved", Computed(rules.need_moved, "pack_need"), Show.FINE_MONEY),
    ),
)

MOVES = Table(
    "moves",
    "What moved: each product at each outlet, then and now",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("outlet", Fixed(), Show.TEXT),
        Column("total", LookedUp("prices", "total"), Show.MONEY),
        Column("moved", Gathered("pack_needs", "need_moved"), Show.FINE_MONEY),
        Column("moved_known", Gathered("pack_needs", "need_moved", "total"), Show.FINE_MONEY),
        Column("cost_then", Computed(rules.cost_then), Show.MONEY),
        Column("moved_share", Computed(rules.moved_share), Show.SHARE),
        Column("known_cost", LookedUp("prices", "known"), Show.MONEY),
        Column("moved_share_known", Computed(rules.moved_share_known), Show.SHARE),
        Column("units_per_pack", LookedUp("packs", "units_per_pack")),
        Column("units_of_first", LookedUp("moves", "units_per_pack", without=_0)),
        Column("ranked", Computed(rules.ranked), Show.WHOLE, "Has a rank of its own"),
        Column("move_order", Computed(rules.move_order), Show.WHOLE),
        Column("price_now", LookedUp("prices", "price_now"), Show.MONEY),
        Column("restoring_price", Computed(rules.restoring_price), Show.MONEY),
        Column("packs_sold", LookedUp("packs", "packs_sold")),
        Column("now_profit", LookedUp("prices", "now_profit"), Show.MONEY),
        Column("packs_that_pay", Computed(rules.packs_that_pay), Show.WHOLE),
        Column("counted_price", LookedUp("prices", "counted_price"), Show.MONEY),
        Column("room", LookedUp("prices", "room"), Show.SHARE),
        Column("fee_share", LookedUp("prices", "fee_share"), Show.SHARE),
        Column("slack_to_target", Computed(rules.slack_to_target), Show.MONEY),
        Column("slack_to_zero", Computed(rules.slack_to_zero), Show.MONEY),
    ),
    EachOf("prices"),
)

MOVE_RANKS = Table(
    "move_ranks",
    "What moved: the ranks",
    (
        Column("product", Fixed(), Show.TEXT),
        Column("outlet", Fixed(), Show.TEXT),
        Column("move_order", LookedUp("moves", "move_order"), Show.WHOLE),
        Column(
            "rose_more",
            Over("moves", "total", "ranked", (Compared("move_order", ">", "move_order"),)),
            Show.WHOLE,
        ),
        Column("move_rank", Computed(rules.move_rank), Show.WHOLE, "Rank"),
    ),
    EachOf("moves"),
)


ITEM_USE = Table(
    "item_use",
    "Items: use per week",
    (
        Column("item", Fixed(), Show.TEXT),
        Column("item_key", Fixed(), Show.TEXT),
        stands_as("prices_now", "Items"),
        Column("typed_amount", Given("Items", "use_per_week")),
        Column("use_unit_row", UnitRow("Items", "on_hand_unit", "use_per_week"), Show.WHOLE),
        Column("use_unit_factor", UnitFact("factor", "use_unit_row")),
        Column("measure", UnitFact("measure", "use_unit_row"), Show.WHOLE),
        Column("price_measure", LookedUp("prices_now", "measure"), Show.WHOLE),
        Column("worth", Worth("items", "measure")),
        Column("price_worth", Worth("items", "price_measure")),
        Column("use_bridge", Computed(rules.bridge)),
        Column("typed_use", Computed(rules.typed_use)),
        Column("products", Fixed(), Show.WHOLE),
        Column("batch_takes", Gathered("pack_needs", "batch_take", key="item_key")),
        Column("made_per_week", Computed(rules.made_per_week)),
        Column("needed_per_week", Gathered("pack_needs", "week_need", key="item_key")),
        Column("use_per_week", Computed(rules.use_per_week)),
        Column("keeps_days", Given("Items", "keeps_days"), Show.WHOLE),
        Column("takers", Gathered("pack_needs", "takes", key="item_key"), Show.WHOLE),
        Column("taken_at_once", Computed(rules.taken_at_once)),
        Column("usable_share", LookedUp("items", "usable_share"), Show.SHARE),
        Column("taken_ready", Computed(rules.taken_ready)),
        Column("batches_kept", Computed(rules.batches_kept), Show.WHOLE),
        Column("usable_in_time", Computed(rules.usable_in_time)),
    ),
)

SUPPLIER_NEEDS = Table(
    "supplier_needs",
    "Suppliers: a year's need of what each sells, at the prices now",
    (
        Column("supplier", Fixed(), Show.TEXT),
        Column("item", Fixed(), Show.TEXT),
        Column("use_per_week", LookedUp("item_use", "use_per_week")),
        Column(
            "price_per_base_unit", LookedUp("prices_now", "price_per_base_unit"), Show.FINE_MONEY
        ),
        Column("need_in_a_year", Computed(rules.need_in_a_year), Show.MONEY),
    ),
)

SUPPLIER_SHARES = Table(
    "supplier_shares",
    "Suppliers: what buying there costs beside its prices",
    (
        Column("supplier", Fixed(), Show.TEXT),
        Column("supplier_key", Fixed(), Show.TEXT),
        stands("Suppliers", "supplier"),
        renamed("Suppliers"),
        Column("membership", Given("Suppliers", "membership", _0), Show.MONEY),
        Column("trip_cost", Given("Suppliers", "trip_cost", _0), Show.MONEY),
        Column("trips_per_year", Given("Suppliers", "trips_per_year", _0)),
        Column("yearly_charge", Computed(rules.yearly_charge), Show.MONEY),
        Column("costed_on", LookedUp("settings", "costed_on"), Show.DATE),
        Column("spent_in_a_year", _SPENT_IN_A_YEAR, Show.MONEY),
        Column("first_day", _FIRST_DAY, Show.DATE, "Receipts since"),
        Column("spent_scaled", Computed(rules.spent_scaled), Show.MONEY),
        Column(
            "needed_in_a_year",
            Gathered("supplier_needs", "need_in_a_year", "total"),
            Show.MONEY,
        ),
        Column("bought_in_a_year", Computed(rules.bought_in_a_year), Show.MONEY),
        Column("yearly_share", Computed(rules.yearly_share, "yearly_charge"), Show.SHARE),
        Column("supplier_share", Computed(rules.supplier_share), Show.SHARE),
        Column("need_share", Computed(rules.need_share), Show.SHARE),
    ),
)

_PACK = (
    Column("item", Fixed(), Show.TEXT),
    Column("item_key", Fixed(), Show.TEXT),
    Column("pack", Fixed(), Show.TEXT),
)

_PACK_BOUGHT = (
    Column("supplier_key", Fixed(), Show.TEXT),
    Column("held_from", Fixed()),
    Column("held_to", Fixed()),
    Column("cut_to_weight", Fixed(), Show.WHOLE),
    Column("costed_on", LookedUp("settings", "costed_on"), Show.DATE),
    Column("rank", _latest("costed_on", _SAME_SUPPLIER, *_SAME_SIZE), Show.WHOLE),
    Column("pack_held", Over("purchases", "largest", "pack_held", (_OF_RANK,))),
    Column("row_number", Computed(rules.row_of_pack), Show.WHOLE, "Row"),
    Column("supplier", Given("Purchases", "supplier", "", at_row="row_number"), Show.TEXT),
    Column("unit_row", UnitRow("Purchases", "unit", "pack_size", "row_number"), Show.WHOLE),
    Column("price_measure", UnitFact("measure"), Show.WHOLE),
    Column("price_per_pack", Given("Purchases", "price_per_pack", at_row="row_number"), Show.MONEY),
    Column("other_cost", Given("Purchases", "other_cost", _0, at_row="row_number"), Show.MONEY),
    Column("packs", Given("Purchases", "packs", _1, at_row="row_number")),
    Column("day", Given("Purchases", "day", at_row="row_number"), Show.DATE),
    Column("newest_rank", _latest("costed_on", _FROM_THERE), Show.WHOLE),
    Column("last_rank", _latest("day", _SAME_SUPPLIER), Show.WHOLE),
    Column("taken_off", _TAKEN_OFF, Show.MONEY),
    Column("discounts", Computed(rules.taken_off_line), Show.MONEY),
    Column("other_cost_per_pack", Computed(rules.beside_price), Show.MONEY),
    Column("least_packs", Fixed()),
    Column("usable_share", LookedUp("items", "usable_share"), Show.SHARE),
)
"""A pack's latest receipt, found live."""

_PACK_SEEN = (
    stands("Offers", "item", "supplier"),
    renamed("Offers"),
    Column("supplier", Given("Offers", "supplier", ""), Show.TEXT),
    Column("supplier_key", Key("Offers", "supplier"), Show.TEXT),
    Column("day", Given("Offers", "seen_on"), Show.DATE, "Seen on"),
    Column("costed_on", LookedUp("settings", "costed_on"), Show.DATE),
    Column("newest_rank", _latest("costed_on", _FROM_THERE), Show.WHOLE),
    Column("cut_to_weight", Fixed(), Show.WHOLE),
    Column("pack_count", Given("Offers", "pack_count", _1, count_in="pack_size")),
    Column("pack_size", Given("Offers", "pack_size")),
    Column("unit_row", UnitRow("Offers", "unit", "pack_size"), Show.WHOLE),
    Column("unit_factor", UnitFact("factor")),
    Column("price_measure", UnitFact("measure"), Show.WHOLE),
    Column("pack_held", Computed(rules.pack_held)),
    Column("price_per_pack", Given("Offers", "price_per_pack"), Show.MONEY),
    Column("other_cost", Given("Offers", "delivery", _0), Show.MONEY, "Delivery"),
    Column("packs", Given("Offers", "least_packs", _1), title="Packs in the order"),
    Column("other_cost_per_pack", Computed(rules.other_cost_per_pack), Show.MONEY),
    Column("least_packs", Given("Offers", "least_packs", _1)),
    Column("item_usable_share", LookedUp("items", "usable_share"), Show.SHARE),
    Column(
        "usable_share",
        Given("Offers", "usable_share", stands_in="item_usable_share"),
        Show.SHARE,
    ),
)

_COMPARED = (
    Column("measure", LookedUp("prices_now", "measure"), Show.WHOLE),
    Column("worth", Worth("items", "measure")),
    Column("price_worth", Worth("items", "price_measure")),
    Column("bridge", Computed(rules.bridge)),
    Column("pack_in_units_of_now", Computed(rules.pack_in_units_of_now)),
    Column("supplier_share", LookedUp("supplier_shares", "supplier_share", without=_0), Show.SHARE),
    Column("need_share", LookedUp("supplier_shares", "need_share", without=_0), Show.SHARE),
    Column("price_per_base_unit", LookedUp("prices_now", "price_per_base_unit"), Show.FINE_MONEY),
    Column("need_part", Computed(rules.need_part, "need_share"), Show.MONEY),
    Column("pack_cost", Computed(rules.pack_cost), Show.MONEY),
    Column("compared_price", Computed(rules.compared_price), Show.FINE_MONEY),
    Column("compared_ready", Computed(rules.compared_ready), Show.FINE_MONEY),
    Column("pack_ready", Computed(rules.pack_ready)),
    Column("taken_ready", LookedUp("item_use", "taken_ready")),
    Column("batches_kept", LookedUp("item_use", "batches_kept"), Show.WHOLE),
    Column("usable_in_time", LookedUp("item_use", "usable_in_time")),
    Column("used_part", Computed(rules.used_part), Show.SHARE),
    Column("order_used", Computed(rules.order_used), Show.SHARE),
    Column("used_price", Computed(rules.used_price), Show.FINE_MONEY),
    Column("overtaken", Computed(rules.overtaken), Show.WHOLE),
    Column("standing_ready", Computed(rules.standing_ready), Show.FINE_MONEY),
    Column("standing_price", Computed(rules.standing_price), Show.FINE_MONEY),
    Column("cash_tied_up", Computed(rules.cash_tied_up), Show.MONEY),
)

PACKS_BOUGHT = Table("packs_bought", "Packs compared: bought", (*_PACK, *_PACK_BOUGHT, *_COMPARED))
PACKS_SEEN = Table(
    "packs_seen", "Packs compared: seen and not bought", (*_PACK, *_PACK_SEEN, *_COMPARED)
)


def _least_of_smaller(packs: str) -> Over:
    """The least price that stands among an item's packs that hold less [money per base unit]."""
    smaller = Compared("pack_in_units_of_now", "<", "pack_in_units_of_now")
    return Over(packs, "least", "standing_ready", (_SAME_ITEM, smaller), without=_0)


def _spoilage(name: str, title: str, packs: str) -> Table:
    """How much of a pack may be thrown away before the best smaller pack wins."""
    size = "pack_in_units_of_now"
    return Table(
        name,
        title,
        (
            Column("item", Fixed(), Show.TEXT),
            Column("item_key", Fixed(), Show.TEXT),
            Column("compared_ready", LookedUp(packs, "compared_ready"), Show.FINE_MONEY),
            Column(size, LookedUp(packs, size)),
            Column("least_bought", _least_of_smaller("packs_bought")),
            Column("least_seen", _least_of_smaller("packs_seen")),
            Column("cheapest_smaller", Computed(rules.cheapest_smaller), Show.FINE_MONEY),
            Column("break_even_spoilage", Computed(rules.break_even_spoilage), Show.SHARE),
        ),
        EachOf(packs),
    )


SPOILAGE_BOUGHT = _spoilage(
    "spoilage_bought", "Packs bought: what may be thrown away of each", "packs_bought"
)
SPOILAGE_SEEN = _spoilage("spoilage_seen", "Packs seen: what may be thrown away", "packs_seen")

ROWS = Table(
    "rows",
    "Rows of your sheets: when this was costed, and now",
    (
        Column("sheet", Fixed(), Show.TEXT),
        Column("rows_costed", Fixed(), Show.WHOLE),
        Column("rows_now", RowsNow("rows_costed"), Show.WHOLE),
        Column("rows_changed", Computed(rules.rows_changed), Show.WHOLE),
    ),
)

_WATCHED = (
    *("lines", "uses", "stages", "product_stages", "batches", "packs", "packaging", "outlets"),
    *("overheads", "items", "packs_seen", "supplier_shares", "settings"),
)

SINCE = Table(
    "since",
    "Since this was costed: rows that only a new run takes in",
    (
        Column("changed_rows", Gathered("rows", "rows_changed"), Show.WHOLE),
        *(
            Column(f"renamed_{table}", Gathered(table, "renamed", "total"), Show.WHOLE)
            for table in _WATCHED
        ),
        Column("renamed_bridges", Gathered("batches", "renamed_bridges", "total"), Show.WHOLE),
        Column("unread", Gathered("purchases", "unread", "total"), Show.WHOLE),
        Column("left_out_now", Gathered("purchases", "left_out", "total"), Show.WHOLE),
        Column("left_out_costed", AsCosted("left_out_now"), Show.WHOLE),
        Column("newly_left_out", Computed(rules.newly_left_out), Show.WHOLE),
        Column("to_cost_again", Computed(rules.to_cost_again), Show.WHOLE),
    ),
    OneRow(),
)

TABLE_ORDER: Final = (
    SETTINGS,
    SINCE,
    PRICES,
    DAYS,
    PRODUCTS,
    PACKS,
    PACKAGING,
    PRODUCT_STAGES,
    MOVES,
    MOVE_RANKS,
    PACK_NEEDS,
    PACKS_BOUGHT,
    PACKS_SEEN,
    SPOILAGE_BOUGHT,
    SPOILAGE_SEEN,
    SUPPLIER_SHARES,
    SUPPLIER_NEEDS,
    ITEM_USE,
    *SESSION_TABLES,
    *WEEK_TABLES,
    *LABEL_TABLES,
    *BUYING_TABLES,
    OUTLETS,
    YEAR,
    OVERHEADS,
    RECIPES,
    RECIPE_NEEDS,
    USE_NEEDS,
    USES,
    LINES,
    STAGES,
    BATCHES,
    ITEM_PRICES,
    ITEM_MOVES,
    PRICES_NOW,
    PRICES_BEFORE,
    PRICES_THEN,
    ITEM_BASICS,
    *YEAR_TABLES,
    *MARKET_DAY_TABLES,
    ROWS,
    READINGS,
    ALIASES,
    CHOICES,
    UNITS,
    *STOCK_TABLES,
    *MEASURED_TABLES,
    PURCHASES,
)
"""From the answers down to the receipts, the table that grows at the end."""

TABLES: Final = {table.name: table for table in wired(TABLE_ORDER, SETTINGS, FIGURES_TOLD)}

LOGS: Final[Mapping[str, tuple[str, str]]] = {
    table.rows.sheet: (table.name, table.rows.key)
    for table in TABLE_ORDER
    if isinstance(table.rows, RowsOfSheet) and table.rows.key
}
"""By sheet that is a log, the table that has its rows, and the column of their names' keys."""

COMPARED: Final[Mapping[str, tuple[str, ...]]] = dict.fromkeys(
    ("packs_bought", "spoilage_bought"), ("packs_bought", "packs_seen", "to_buy")
)
"""By table whose rows are there to be compared, the tables that have what to compare them with.

What bears one ``item_key`` is compared, or bought by the list; a row that is alone with its key
needs no cells.
"""


@cache
def row_column(table: str, sheet: str) -> str:
    """The column of a table that says on which row of a sheet its record stands, or nothing."""
    for column in TABLES[table].columns:
        how = column.how
        if isinstance(how, StandsOn) and how.sheet == sheet:
            return column.name
        if isinstance(how, LookedUp) and _is_row_of(TABLES[how.table], how.column, sheet):
            return column.name
    return ""


def _is_row_of(table: Table, name: str, sheet: str) -> bool:
    how = table.columns[table.index[name]].how
    return isinstance(how, StandsOn) and how.sheet == sheet
