"""The sheets that a person fills in: no two headings can be mistaken, every reference leads on."""

from __future__ import annotations

import pytest

from costbook.definitions.columns import Given, Key, UnitRow
from costbook.definitions.fields import Field, InputSheet, Kind
from costbook.definitions.sheets import INPUT_SHEETS, SHEETS
from costbook.definitions.workings import TABLE_ORDER

each_sheet = pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.title)

# The columns of the design, left to right: what a cook may type, by sheet.
DESIGNED = {
    "Purchases": "Date · Item · Supplier · Packs · Pack count · Pack size · Unit · "
    "Price per pack · Other cost · Note",
    "Recipes": "Recipe · Uses · Amount · Unit · Measured · Usable % · Note",
    "Batches": "Recipe · Makes · Unit · Rejects · Smallest part · Own batches · Note",
    "Stages": "Recipe · Stage · People · Minutes per batch · Minutes per unit · Waiting minutes · "
    "Overlap minutes · Pay per hour · Once a session",
    "Packaging": "Product · Uses · Amount · Unit · Per · Spare %",
    "Products": "Product · Recipe · Units per pack · Not sold % · Net weight · Net weight unit · "
    "Current price · Wholesale price now · Target margin % · Sold at",
    "Overheads": "Cost · Amount · Per · Share %",
    "Plan": "Product · Wanted · For · Batches · Note",
    "Market days": "Date · Outlet · Hours · Float · Cash counted · Cash paid out · Card takings · "
    "Card payout · Fee paid · Miles · Other paid · Weather · Note",
    "Sales": "Date · Outlet · Product · Taken · Sold · Sampled · Spoiled · Price · Note",
    "Made": "Date · Product · Packs · Rejects · Minutes · Batch code · Use by · Note",
    "Counts": "Date · What · Amount · Unit · Note",
    "Tests": "Date · What · Kind · In · Out · Unit · Minutes · Units · Note",
}


@pytest.mark.parametrize("title", DESIGNED)
def test_the_columns_stand_as_they_were_designed(title: str) -> None:
    assert " · ".join(field.title for field in INPUT_SHEETS[title].fields) == DESIGNED[title]


@each_sheet
def test_no_heading_means_two_fields(sheet: InputSheet) -> None:
    wordings = [word for field in sheet.fields for word in (field.title, *field.also)]
    plain = ["".join(filter(str.isalnum, word.lower())) for word in wordings if word != "Usable"]
    by_field = {word for word in plain if plain.count(word) > 1}
    # a title and another wording of the same field may differ only in punctuation
    twice = {word for word in by_field if len(fields_called(sheet, word)) > 1}
    assert twice == set()


def fields_called(sheet: InputSheet, word: str) -> set[str]:
    return {
        field.name
        for field in sheet.fields
        for each in (field.title, *field.also)
        if "".join(filter(str.isalnum, each.lower())) == word
    }


@each_sheet
def test_fields_that_go_together_stand_on_one_sheet(sheet: InputSheet) -> None:
    names = {field.name for field in sheet.fields}
    assert len(names) == len(sheet.fields)
    assert {name for field in sheet.fields for name in field.goes_with} <= names


@each_sheet
def test_a_choice_has_its_answers_and_none_means_two_things(sheet: InputSheet) -> None:
    for field in sheet.fields:
        assert bool(field.choices) == (field.kind is Kind.CHOICE), field.name
        words = [word for choice in field.choices for word in (choice.value, *choice.also)]
        assert len(set(words)) == len(words), field.name


@each_sheet
def test_what_is_needed_has_an_example(sheet: InputSheet) -> None:
    assert [field.title for field in sheet.fields if field.needed and field.example == ""] == []


def test_the_row_is_named_by_its_first_needed_field_that_is_no_date() -> None:
    assert INPUT_SHEETS["Purchases"].naming_field.title == "Item"
    assert INPUT_SHEETS["Settings"].naming_field.title == "Business"


def test_an_unknown_field_is_named() -> None:
    with pytest.raises(KeyError, match="colour"):
        INPUT_SHEETS["Items"].field("colour")


def test_only_four_sheets_are_needed() -> None:
    """Nothing is costed without what was bought, used, made and sold; a price lacks two more."""
    needed = [sheet.title for sheet in SHEETS if sheet.needed]
    assert needed == ["Purchases", "Recipes", "Batches", "Products"]
    assert [sheet.title for sheet in SHEETS if sheet.priced] == ["Stages", "Packaging"]


def test_one_sheet_stands_upright_and_some_are_logs_that_grow() -> None:
    assert [sheet.title for sheet in SHEETS if sheet.upright] == ["Settings"]
    assert {sheet.title: sheet.spare_rows for sheet in SHEETS if sheet.spare_rows} == {
        "Purchases": 200,
        "Plan": 50,
        "Market days": 30,
        "Sales": 100,
        "Made": 100,
        "Counts": 50,
        "Tests": 30,
    }


# A row without one of these says nothing: what it is about, and the figure that it is there for.
NEEDED = {
    "Purchases": "Date · Item · Pack size · Price per pack",
    "Items": "Item",
    "Recipes": "Recipe · Uses · Amount",
    "Batches": "Recipe · Makes",
    "Stages": "Recipe · Stage",
    "Packaging": "Product · Uses · Amount · Per",
    "Products": "Product · Recipe · Units per pack",
    "Overheads": "Cost · Amount · Per",
    "Outlets": "Outlet",
    "Offers": "Item · Pack size · Price per pack",
    "Suppliers": "Supplier",
    "Plan": "Product · Wanted",
    "Market days": "Date · Outlet",
    "Sales": "Date · Product",
    "Made": "Date · Product · Packs",
    "Counts": "Date · What · Amount",
    "Tests": "What · Kind",
}


@each_sheet
def test_what_a_row_can_not_be_without(sheet: InputSheet) -> None:
    needed = " · ".join(field.title for field in sheet.fields if field.needed)
    assert needed == NEEDED.get(sheet.title, "")


def costed(field: Field, sheet: InputSheet) -> bool:
    """Does a column of Workings read the field?"""
    hows = [column.how for table in TABLE_ORDER for column in table.columns]
    return any(
        how.sheet == sheet.title and field.name in (how.field, getattr(how, "text_in", ""))
        for how in hows
        if isinstance(how, Given | Key | UnitRow)
    )


def test_every_figure_a_person_types_in_recipes_and_stages_is_costed() -> None:
    """A column that nothing reads would be typed in vain."""
    read = {"Recipes", "Stages", "Batches"}
    idle = [
        f"{sheet.title}.{field.name}"
        for sheet in SHEETS
        for field in sheet.fields
        if sheet.title in read and field.kind not in (Kind.NAME, Kind.TEXT)
        if not costed(field, sheet)
    ]
    assert idle == []
