"""The kinds of column: what a rule's arguments make of it, and how it is headed."""

from __future__ import annotations

from decimal import Decimal

from costbook.definitions import rules
from costbook.definitions.algebra import Term
from costbook.definitions.columns import Column, Computed, Fixed, Show


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


def test_a_rule_marked_so_meets_unknowns() -> None:
    assert Computed(rules.advice).meets_unknowns


def test_a_heading_is_the_name_in_plain_words_unless_another_is_given() -> None:
    assert Column("price_on_step", Fixed()).heading == "Price on step"
    assert Column("recipe", Fixed(), Show.TEXT, "For").heading == "For"


def test_what_is_known_of_a_figure_is_its_own_rule_over_what_is_known() -> None:
    how = Computed(rules.labour, known_of=("batch_labour", "product_labour"))
    assert how.arguments == ("batch_labour_known", "product_labour_known", "packs_sold")
    assert how.figure([Decimal(29), Decimal(1), Decimal(20)]) == Decimal("1.5")  # 30.00 over 20
    batch, product, packs = (Term("name", (name,)) for name in how.arguments)
    assert how.term() == (batch + product) / packs
