"""Our sheets known again, and names that leave the person theirs."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costbook.package.marks import _title, is_mark, mark, quoted
from costbook.package.tabs import sheet_named
from tests.package.making import (
    TITLES,
    grafted,
    ours_in,
    parts,
    plain,
    quiet,
    rich,
    tab_names,
    xml_edited,
)

ANY = settings(deadline=None, derandomize=True, database=None)
FREE = {title: title for title in TITLES}
BOOK = "xl/workbook.xml"


def test_a_workbook_without_our_sheets_holds_none_and_leaves_us_our_titles() -> None:
    assert ours_in(plain()) == {}
    assert tab_names(plain(), TITLES) == FREE


@pytest.mark.parametrize(
    ("theirs", "name"),
    [
        (plain("Prices"), "Prices (costbook)"),
        (plain("PRICES"), "Prices (costbook)"),
        (plain("Prices", "Prices (costbook)"), "Prices (costbook 2)"),
        (
            xml_edited(
                rich(), "xl/tables/table1.xml", ('displayName="Costs"', 'displayName="Prices"')
            ),
            "Prices (costbook)",
        ),
        (xml_edited(rich(), BOOK, ('name="Pay"', 'name="prices"')), "Prices (costbook)"),
    ],
    ids=["a sheet", "in capitals", "its variation too", "a table", "a defined name"],
)
def test_a_title_they_bear_is_theirs_and_ours_takes_another(theirs: bytes, name: str) -> None:
    assert tab_names(theirs, TITLES)["Prices"] == name


def test_a_defined_name_stands_for_a_title_with_spaces() -> None:
    theirs = xml_edited(rich(), BOOK, ('name="Pay"', 'name="Cost_cards"'))
    assert tab_names(theirs, TITLES)["Cost cards"] == "Cost cards (costbook)"


def test_the_other_name_is_kept_on_the_next_run_even_when_theirs_has_gone() -> None:
    once = grafted(plain("Recipes", "Prices"))
    assert ours_in(once)["Prices (costbook)"] == "Prices"
    freed = xml_edited(once, BOOK, ('name="Prices"', 'name="Old prices"'))
    assert tab_names(freed, TITLES)["Prices"] == "Prices (costbook)"
    assert ours_in(grafted(freed)) == ours_in(once)


@ANY
@given(st.text(alphabet=st.characters(codec="utf-8", exclude_characters="[]:*?/\\'"), min_size=32))
def test_a_long_title_still_gives_a_name_that_fits(title: str) -> None:
    found = tab_names(BARE, [title])[title]
    assert len(found) <= 31


BARE = plain()


def renamed(package: bytes, old: str, new: str) -> bytes:
    """As a spreadsheet program renames a tab: in the list, and in every reference."""
    text = parts(package)[BOOK].decode()
    text = text.replace(f'name="{old}"', f'name="{new}"')
    text = re.sub(rf"(?:'{old}'|{old})!", f"{quoted(new)}!", text)
    return xml_edited(package, BOOK, (parts(package)[BOOK].decode(), text))


def test_a_tab_the_person_renamed_is_found_and_keeps_its_name() -> None:
    changed = renamed(grafted(plain()), "Prices", "What to charge")
    assert ours_in(changed)["What to charge"] == "Prices"
    assert tab_names(changed, TITLES)["Prices"] == "What to charge"
    again = grafted(changed, figure=9.0)
    assert ours_in(again) == ours_in(changed)
    assert set(parts(again)) == set(parts(changed))


def test_it_stays_in_its_place_with_its_number_relation_and_part() -> None:
    once = grafted(plain("Recipes"))
    first = re.findall("<sheet .*?/>", parts(once)[BOOK].decode())
    moved = xml_edited(
        once, BOOK, ("".join(first), "".join([first[2], first[0], first[3], first[1]]))
    )
    moved = xml_edited(moved, BOOK, (' localSheetId="1" hidden', ' localSheetId="3" hidden'))
    again = grafted(moved, figure=9.0)
    sheets = re.findall("<sheet .*?/>", parts(again)[BOOK].decode())
    assert sheets == [first[2], first[0], first[3], first[1]]


@pytest.mark.parametrize(
    "done",
    [
        (' hidden="1"', ""),
        (' localSheetId="1" hidden="1"', ' localSheetId="0" hidden="1"'),
        (' localSheetId="1" hidden="1"', ""),
        ("'Prices'!$A$1", "#REF!"),
        ("'Prices'!$A$1", "Prices!$A$1"),
    ],
    ids=["shown", "numbered anew", "without a number", "its cell deleted", "unquoted"],
)
def test_a_mark_that_another_program_changed_still_finds_the_sheet(done: tuple[str, str]) -> None:
    once = grafted(plain())
    assert ours_in(xml_edited(once, BOOK, done)) == FREE
    assert parts(grafted(xml_edited(once, BOOK, done))) == parts(once)


def test_a_copy_the_person_made_of_our_tab_is_theirs() -> None:
    once = grafted(plain())
    copied = xml_edited(
        once,
        BOOK,
        ("<sheet name=", '<sheet name="Prices (2)" sheetId="9" r:id="rId1"/><sheet name='),
        (
            "</definedNames>",
            (
                '<definedName name="costbook_sheet_Prices" localSheetId="0">\'Prices (2)\'!$A$1'
                "</definedName></definedNames>"
            ),
        ),
    )
    assert ours_in(copied) == FREE
    text = parts(grafted(copied, figure=9.0))[BOOK].decode()
    assert '<sheet name="Prices (2)" sheetId="9" r:id="rId1"/>' in text
    assert "'Prices (2)'!" not in text  # the copy has lost the mark


def test_a_mark_whose_sheet_is_gone_is_no_sheet() -> None:
    text = parts(grafted(plain()))[BOOK].decode()
    assert "costbook_sheet_Prices" in text
    lost = re.sub(r'<sheet name="(Prices|Cost cards|To put right)".*?/>', "", text)
    lost = lost.replace('localSheetId="', 'localSheetId="7')
    assert ours_in(xml_edited(grafted(plain()), BOOK, (text, lost))) == {}


def test_the_mark_reads_well() -> None:
    assert mark("To put right") == "costbook_sheet_To_put_right"
    assert (
        'name="costbook_sheet_Prices" localSheetId="1" hidden="1">\'Prices\'!$A$1<'
        in parts(grafted(plain()))[BOOK].decode()
    )


@ANY
@given(st.text(min_size=1))
def test_every_title_comes_back_from_its_mark(title: str) -> None:
    assert is_mark(mark(title))
    assert _title(mark(title)) == title
    assert re.fullmatch(r"[A-Za-z0-9_.]+", mark(title))


@ANY
@given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), min_size=1))
def test_every_tab_name_comes_back_from_a_reference(name: str) -> None:
    assert sheet_named(f"{quoted(name)}!$A$1") == name


def test_another_books_sheets_are_not_ours() -> None:
    assert (
        ours_in(quiet(xml_edited(plain(), BOOK, ("<calcPr", '<calcPr fullCalcOnLoad="1"')))) == {}
    )
