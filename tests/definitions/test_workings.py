"""The tables of Workings are wired: every rule's arguments are there, and every slip is named."""

from __future__ import annotations

import inspect
from typing import Any

import pytest

from costbook.definitions import rules
from costbook.definitions.algebra import N
from costbook.definitions.columns import (
    Column,
    Computed,
    Fixed,
    Gathered,
    LookedUp,
    Over,
    Same,
    Table,
)
from costbook.definitions.sheets import INPUT_SHEETS
from costbook.definitions.wiring import wired
from costbook.definitions.workings import SETTINGS, TABLE_ORDER, TABLES
from tests.definitions.rule_cases import RULES

CHOICES = Table("settings", "", (Column("price_step", Fixed()),))


def faults(*columns: Column) -> list[str]:
    table = Table("made_up", "", columns)
    try:
        wired((CHOICES, table), CHOICES, {})
    except ValueError as error:
        return str(error).splitlines()
    return []


AMOUNT, PRICE = Column("amount_as_bought", Fixed()), Column("price_per_base_unit", Fixed())
COST = Column("line_cost", Computed(rules.line_cost))


def test_a_column_whose_arguments_stand_left_of_it_is_wired() -> None:
    assert faults(AMOUNT, PRICE, COST) == []


def test_an_argument_may_be_a_setting() -> None:
    price = Column("price_at_target", Fixed())
    assert faults(price, Column("price_on_step", Computed(rules.price_on_step))) == []


def test_an_argument_that_is_nowhere_is_named() -> None:
    assert faults(AMOUNT, COST) == [
        (
            "workings.py: made_up.line_cost: the rule line_cost asks for price_per_base_unit, "
            "no column left of it and no setting."
        )
    ]


def test_an_argument_that_is_computed_later_is_named() -> None:
    assert faults(AMOUNT, COST, PRICE) == [
        (
            "workings.py: made_up.line_cost: the rule line_cost asks for price_per_base_unit, "
            "no column left of it and no setting."
        )
    ]


def test_a_column_that_asks_for_itself_is_named() -> None:
    assert faults(Column("day", Computed(rules.day_before))) == [
        (
            "workings.py: made_up.day: the rule day_before asks for day, no column left of it and "
            "no setting."
        )
    ]


def heedless(amount_as_bought: N, price_per_base_unit: N) -> N:
    return amount_as_bought * 2


def test_an_argument_of_no_use_is_named() -> None:
    assert faults(AMOUNT, PRICE, Column("line_cost", Computed(heedless))) == [
        (
            "workings.py: made_up.line_cost: the rule heedless asks for price_per_base_unit and "
            "makes no use of it."
        )
    ]


def test_nothing_of_something_else_is_named() -> None:
    assert faults(AMOUNT, PRICE, Column("line_cost", Computed(rules.line_cost, "people"))) == [
        (
            "workings.py: made_up.line_cost: nothing of people is said to cost nothing, but "
            "line_cost has none of it."
        )
    ]


@pytest.mark.parametrize(
    "how",
    [
        LookedUp("made_up", "absent"),
        LookedUp("absent", "x"),
        Gathered("made_up", "absent"),
        Gathered("absent", "x", "first"),
        Over("made_up", "total", "absent", ()),
    ],
)
def test_a_column_that_is_not_there_is_named(how: LookedUp | Gathered | Over) -> None:
    assert faults(Column("found", how)) == [
        f"workings.py: made_up.found: there is no column {how.table}.{how.column}."
    ]


def test_what_another_kind_asks_for_stands_left_of_it_too() -> None:
    sought = Over("made_up", "largest", "amount_as_bought", (Same("amount_as_bought", "mine"),))
    assert faults(AMOUNT, Column("found", sought), Column("mine", Fixed())) == [
        "workings.py: made_up.found: it asks for mine, no column left of it and no setting."
    ]


def test_a_column_named_twice_is_refused() -> None:
    with pytest.raises(ValueError, match="made_up: a column is named twice"):
        Table("made_up", "", (AMOUNT, AMOUNT))


def test_every_rule_fills_a_column_or_is_used_by_a_page() -> None:
    filled = {
        column.how.rule
        for table in TABLE_ORDER
        for column in table.columns
        if isinstance(column.how, Computed)
    }
    assert {name for name, rule in RULES.items() if rule not in filled} == FOR_PAGES


FOR_PAGES = {"per_pack", "amount_for_a_batch", "of_a_batch", "share_of"} | {
    "of_batches",
    "of_used_batch",
    "in_large_units",
    "cost_of_goods",
    "difference",
    "grams_of_line",
    "grams_of_used",
    "held_in_pack",
    "ladder_price",
    "ladder_profit",
    "measure_of_pack",
    "trial_doubt",
    "turning_at_target",
    "turning_at_zero",
    *("pack_gives", "still_to_cover", "packs_that_cover", "packs_of_a_mix", "packs_cut"),
    *("grams_each", "scaled_by_count", "scaled_by_weight", "scaled_exactly"),
    *("covered", "cash_for_packs", "cash_for_an_order", "left_over"),
}
"""Rules that only our sheets show, over figures of Workings."""


@pytest.mark.parametrize("table", TABLE_ORDER, ids=lambda table: table.name)
def test_a_column_that_reads_the_persons_cells_names_a_field_that_exists(table: Table) -> None:
    reading: list[Any] = [each.how for each in table.columns if hasattr(each.how, "sheet")]
    named = [
        (how.sheet, field)
        for how in reading
        for field in (getattr(how, "field", ""), getattr(how, "count_in", ""), *fields_of(how))
        if field
    ]
    known = {(title, field.name) for title, sheet in INPUT_SHEETS.items() for field in sheet.fields}
    assert [each for each in named if each not in known] == []


def fields_of(how: Any) -> tuple[str, ...]:
    texts = (getattr(how, "text_in", ""),)
    return (*getattr(how, "together_with", ()), *getattr(how, "fields", ()), *texts)


def test_headings_are_plain_words_and_none_twice_in_a_table() -> None:
    for table in TABLE_ORDER:
        headings = [column.heading for column in table.columns]
        assert [each for each in headings if "_" in each or not each] == []
        assert len(set(headings)) == len(headings), table.name


def test_the_tables_are_told_apart_by_their_names() -> None:
    assert len(TABLES) == len(TABLE_ORDER)
    assert SETTINGS.name == "settings"
    assert inspect.getdoc(rules)
