"""The kinds of column: what a rule's arguments make of it, and how it is headed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions import rules
from costbook.definitions.algebra import N, Term, choose, joined, known, meets_unknowns
from costbook.definitions.column_makers import what_is_known
from costbook.definitions.columns import Column, Computed, Fixed, Gathered, Show, Table, UnitRow


def test_a_computed_column_takes_its_arguments_from_the_rules_own_names() -> None:
    how = Computed(rules.person_minutes, "people")
    assert how.arguments == ("people", "work_minutes")
    assert not how.meets_unknowns
    assert how.term() == Term("name", ("people",)) * Term("name", ("work_minutes",))


def test_a_figure_past_what_a_cell_can_hold_is_unknown() -> None:
    """The largest is 1.8e308, so 9e307 is the last that is known to fit."""
    how = Computed(rules.day_before)
    assert how.figure([Decimal("9e307")]) == Decimal("9e307") - 1
    assert how.figure([Decimal("1e308")]) is None


def test_a_figure_is_unknown_where_one_that_it_asks_for_is() -> None:
    line = Computed(rules.line_cost)  # 2 kg at 1.50
    assert line.figure([Decimal(2), Decimal("1.5")]) == 3
    assert line.figure([Decimal(2), None]) is None
    assert line.figure([Decimal(0), None]) is None


def test_nothing_of_something_costs_nothing_at_any_price() -> None:
    line = Computed(rules.line_cost, "amount_as_bought")
    assert line.figure([Decimal(0), None]) == 0
    assert line.figure([Decimal(1), None]) is None
    assert line.figure([Decimal(2), Decimal("1.5")]) == 3


def test_what_is_divided_by_nothing_is_unknown() -> None:
    assert Computed(rules.other_cost_per_pack).figure([Decimal(3), Decimal(0)]) is None


def test_a_rule_that_meets_unknowns_answers_for_them() -> None:
    @meets_unknowns
    def either_one(first: N, second: N) -> N:
        return choose(known(first), first, second)  # type: ignore[no-any-return]  # a number

    how = Computed(either_one)
    assert how.figure([Decimal(3), Decimal(4)]) == 3
    assert how.figure([None, Decimal(4)]) == 4
    assert how.figure([None, None]) is None


def test_a_rules_own_nought_is_as_exact_as_any_figure() -> None:
    found = Computed(lambda _: 0).figure([Decimal(5)])
    assert isinstance(found, Decimal)
    assert found == 0


def test_a_sum_is_of_all_rows_unless_it_says_of_those_known() -> None:
    assert Gathered("jars", "price").fold == "all"


def test_a_first_text_is_gathered_without_a_key() -> None:
    with pytest.raises(ValueError, match="first text is") as refused:
        Gathered("jars", "lid", "first", key="size")
    assert str(refused.value) == "jars.lid: a first text is gathered without a key"


def test_no_text_brings_a_unit_along_unless_it_is_named() -> None:
    assert UnitRow("Items", "roll_width_unit").text_in == ""


def test_a_rule_may_answer_with_a_text() -> None:
    assert Computed(lambda kind: joined("by ", kind)).figure(["weight"]) == "by weight"


def test_a_rule_marked_so_meets_unknowns() -> None:
    assert Computed(rules.advice).meets_unknowns


def test_a_heading_is_the_name_in_plain_words_unless_another_is_given() -> None:
    assert Column("price_on_step", Fixed()).heading == "Price on step"
    assert Column("recipe", Fixed(), Show.TEXT, "For").heading == "For"


def test_a_row_is_about_its_first_column_where_that_is_a_name_that_the_run_writes() -> None:
    name, price = Column("item", Fixed(), Show.TEXT), Column("price", Fixed())
    advice = Column("advice", Computed(rules.advice), Show.TEXT)
    assert Table("jars", "", (name, price)).about == "item"
    assert Table("jars", "", (price, name)).about == ""
    assert Table("jars", "", (advice, name)).about == ""
    assert Table("jars", "", (name, price), about="price").about == "price"
    assert Table("jars", "", ()).about == ""


def test_nothing_says_what_a_row_lacks_unless_it_is_named() -> None:
    assert Table("jars", "", ()).lacks == ""


def test_what_is_known_of_a_figure_is_its_own_rule_over_what_is_known() -> None:
    how = what_is_known(rules.labour, "batch_labour", "product_labour").how
    assert isinstance(how, Computed)
    assert how.arguments == ("batch_labour_known", "product_labour_known", "packs_sold")
    assert how.figure([Decimal(29), Decimal(1), Decimal(20)]) == Decimal("1.5")  # 30.00 over 20
    batch, product, packs = (Term("name", (name,)) for name in how.arguments)
    assert how.term() == (batch + product) / packs
