"""How a figure is told where nothing else is said, and what its words ask for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal

import pytest

from costbook.definitions.column_makers import renamed, setting
from costbook.definitions.columns import Given, LookedUp, Renamed, Show
from costbook.definitions.figures_told import FIGURES_TOLD
from costbook.definitions.reads import ColumnAt, reads
from costbook.definitions.row_sources import EachPair, LinesOf, RowsOfSheet
from costbook.definitions.told import (
    CODE,
    CONVERSION,
    AsTyped,
    AsWorth,
    InKitchenUnits,
    Told,
    ToldByColumn,
    asked_for,
    beside,
)
from costbook.definitions.wiring import wired
from costbook.definitions.workings import TABLE_ORDER, TABLES


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
    lines = LinesOf("recipes", "Recipes")
    assert (lines.uses, lines.links, lines.left_open, lines.shared) == ("", (), (), False)


# ------------------------------------------------------------------ each word, and its column


def test_words_of_a_column_that_is_not_there_are_refused_when_the_tables_are_made() -> None:
    """What is told names columns of the row, of linked rows, or settings; wiring looks."""
    told = {"jars": {"lid": Told()}, "units": {"lid": Told(), "unit": Told("{packs.x} {y}")}}
    with pytest.raises(ValueError, match=r"figures_told\.py") as refused:
        wired(TABLE_ORDER, TABLES["settings"], told)
    assert str(refused.value).splitlines() == [
        "figures_told.py: jars.lid: there is no such column.",
        "figures_told.py: units.lid: there is no such column.",
        "figures_told.py: units.unit: what is told of it asks for packs.x, which is no column.",
        "figures_told.py: units.unit: what is told of it asks for y, which is no column.",
    ]


def at(table: str, name: str) -> ColumnAt:
    """A column that is read beside one of a table: its own, or a setting."""
    return (table if name in TABLES[table].index else "settings", name)


def the_same(place: ColumnAt) -> Iterator[ColumnAt]:
    """A column, and those whose figure it shows: looked up, or standing in for a blank one."""
    table, name = place
    yield place
    how = TABLES[table].column(name).how
    if isinstance(how, LookedUp):
        yield from the_same((how.table, how.column))
    if isinstance(how, Given) and how.stands_in:
        yield from the_same(at(table, how.stands_in))


def said(told: Mapping[str, ToldByColumn]) -> set[ColumnAt]:
    """The columns whose figures stand in words: those that have some, or are asked for in some."""
    found = set()
    for table, words in told.items():
        for name, each in words.items():
            found |= {*the_same((table, name))}
            for asked in asked_for(each):
                other, _, own = asked.rpartition(".")
                found |= {*the_same((other, own) if other else at(table, own))}
    return found


def untold(told: Mapping[str, ToldByColumn]) -> set[tuple[ColumnAt, ColumnAt]]:
    """Numbers that were typed, and lines that rest on them, with nothing said on the way."""
    lines = [(table, name) for table, words in told.items() for name in words if words[name].name]
    found, words = set(), said(told)
    for line in lines:
        seen, looking = set[ColumnAt](), [line]
        while looking:
            place = looking.pop()
            if place in seen or (place in words and place != line):
                continue
            seen.add(place)
            column = TABLES[place[0]].column(place[1])
            if isinstance(column.how, Given) and column.show is not Show.TEXT:
                found.add((place, line))
            read = reads(column.how)
            looking += [*(at(place[0], name) for name in read.beside), *read.elsewhere]
    return found


TYPED_ITSELF = ("current_price", "wholesale_price_now")
"""The price now, whose line is the cell that was typed."""


def test_whatever_was_typed_stands_in_words_before_a_line_rests_on_it() -> None:
    line = ("prices", "price_now")
    assert untold(FIGURES_TOLD) == {(("prices", name), line) for name in TYPED_ITSELF}


def test_a_figure_that_no_words_lead_to_is_noticed() -> None:
    without = {**FIGURES_TOLD["products"], "kitchen": Told(name="The kitchen", words="{*}")}
    assert untold({**FIGURES_TOLD, "products": without}) - untold(FIGURES_TOLD) == {
        (("settings", "kitchen_hire_per_hour"), ("products", "kitchen")),
    }
