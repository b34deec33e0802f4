"""How a figure is told where nothing else is said, and what its words ask for."""

from __future__ import annotations

from decimal import Decimal

import pytest

from costbook.definitions.column_makers import beside, renamed, setting
from costbook.definitions.columns import Given, Renamed, Show
from costbook.definitions.row_sources import EachPair, RowsOfSheet
from costbook.definitions.told import (
    CODE,
    CONVERSION,
    AsTyped,
    AsWorth,
    InKitchenUnits,
    Told,
    asked_for,
)


def test_a_figure_is_told_by_itself_unless_something_else_is_said() -> None:
    told = Told()
    assert (told.within, told.name, told.words, told.so) == ("{}", "", "", " = {}")
    assert (told.plain, told.same_as, told.measured, told.lacks) == (None, (), None, "")
    assert (told.names_all, told.code, told.conversion) == (False, False, False)
    assert not AsTyped("unit_row").counted
    assert not InKitchenUnits("measure").per


def test_what_stands_for_something_and_what_is_between_two_units() -> None:
    assert CODE.code
    assert not CODE.conversion
    assert CONVERSION.conversion
    assert CONVERSION.plain == 1  # between a unit and itself nothing is to be told


def test_words_beside_another_figure_are_left_out_where_nothing_changes() -> None:
    assert beside(", and {} spare") == Told(", and {} spare", plain=Decimal(0))


@pytest.mark.parametrize(
    ("told", "names"),
    [
        (
            Told("of {good}", "{recipe}", "{a.b} and {}", "{word}"),
            ("good", "recipe", "a.b", "word"),
        ),
        (Told("", so="", same_as=("before",), lacks="missing"), ("before", "missing")),
        (Told(measured=AsTyped("unit_row")), ("unit_row",)),
        (Told(measured=InKitchenUnits("measure", ("unit", "other"))), ("measure", "unit", "other")),
        (Told(measured=AsWorth("measure", ("unit",))), ("measure", "unit")),
    ],
)
def test_the_columns_that_its_words_ask_for(told: Told, names: tuple[str, ...]) -> None:
    assert asked_for(told) == names


def test_a_row_is_renamed_where_its_names_or_its_quantities_are_other_texts() -> None:
    """Of packaging the amount and what is spare are quantities; its unit and "per" are none."""
    how = renamed("Packaging", "product", "uses").how
    assert isinstance(how, Renamed)
    assert how.fields == ("product", "uses")
    assert how.quantities == ("amount", "spare")


def test_a_blank_setting_is_unknown_unless_it_counts_as_something() -> None:
    assert setting("pay", Show.MONEY).how == Given("Settings", "pay")
    assert setting("pay", Show.MONEY, Decimal(1)).how == Given("Settings", "pay", Decimal(1))


def test_pairs_are_of_all_and_rows_of_a_sheet_have_no_key_unless_it_is_said() -> None:
    assert not EachPair("products", "outlets").where_sold
    assert RowsOfSheet("Outlets").key == ""
