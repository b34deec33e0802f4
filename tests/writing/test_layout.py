"""Where each table of Workings stands, and how its cells are addressed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter

from costbook.definitions.workings import TABLE_ORDER
from costbook.writing.layout import column_letters, lay_out_tables, sheet_name, tables_shown
from tests.costing.costed import costed


@given(st.integers(0, 16_383))
def test_letters_are_those_another_library_gives(index: int) -> None:
    assert column_letters(index) == get_column_letter(index + 1)


@pytest.mark.parametrize(
    ("tab", "written"),
    [("Workings", "'Workings'"), ("Bob's sums", "'Bob''s sums'"), ("A1", "'A1'"), ("1 é", "'1 é'")],
)
def test_a_tab_is_quoted(tab: str, written: str) -> None:
    assert sheet_name(tab) == written


def test_tables_stand_below_one_another_with_room_for_their_headings() -> None:
    structure = costed().structure
    layout = lay_out_tables(structure, "Workings")
    ends = 0
    for table in tables_shown(structure):
        first, count = layout.first[table.name], layout.count[table.name]
        assert count == sum(map(layout.has_cells, structure.rows[table.name]))
        assert first - ends >= 3, table.name  # an empty row, a title, the headings
        ends = first + count
    assert TABLE_ORDER[-1].name == "purchases"  # the one that grows stands last


def test_addresses_of_a_figure() -> None:
    structure = costed().structure
    layout = lay_out_tables(structure, "Bob's sums")
    row = structure.rows["settings"][0]
    at = layout.first["settings"]
    assert layout.cell(row, "costed_on") == f"B{at}"
    assert layout.absolute(row, "costed_on") == f"'Bob''s sums'!$B${at}"
    count = len(structure.rows["units"])
    first = layout.first["units"]
    assert layout.column_range("units", "measure") == f"$C${first}:$C${first + count - 1}"
