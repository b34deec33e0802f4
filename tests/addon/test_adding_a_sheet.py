"""Add a sheet: those to fill in that the open document lacks, drawn into it as one step."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from costbook.definitions.sheets import INPUT_SHEETS
from tests.addon.conftest import script
from tests.addon.office import AddonOffice
from tests.addon.test_update import differing, opened
from tests.helpers import run

pytestmark = pytest.mark.libreoffice

TITLE = "Add a sheet"


def test_a_sheet_that_is_lacking_is_drawn_as_new_add_writes_it_and_undone(
    office: AddonOffice, python: Path, samples: Path, tmp_path: Path
) -> None:
    path = shutil.copy(samples / "market_stall.xlsx", tmp_path)
    with opened(office, path) as document:
        before = document.contents()
        document.choose("add")
        text, *lines = office.window(TITLE)
        assert text.startswith(
            "Sheets to fill in that this workbook doesn't have yet. One Undo takes it away again."
        )
        offered = [line.split(":")[0] for line in lines if ": a row is " in line]
        assert offered == [title for title in INPUT_SHEETS if title not in before]
        assert "Plan: a row is packs of one product that are wanted" in lines
        office.ask("pick", title=TITLE, beginning="Plan:")
        office.ask("press", title=TITLE, button="Add the sheet")
        assert document.ask("selected") == "Plan.A2"
        assert document.undo_steps == [TITLE]
        drawn, looks = document.contents(), document.ask("looks")
        document.ask("undo")
        assert differing(document.contents(), before) == []
        document.ask("redo")
        assert differing(document.contents(), drawn) == []
    assert run("new", "--add", "Plan", path)[0] == 0
    with opened(office, path) as document:
        assert differing(drawn, document.contents()) == []
        assert document.ask("looks")["Plan"] == looks["Plan"]


def test_a_workbook_that_has_them_all_is_told(
    office: AddonOffice, python: Path, tmp_path: Path
) -> None:
    run("new", "--full", tmp_path / "all.xlsx")
    with opened(office, tmp_path / "all.xlsx") as document:
        document.choose("add")
        assert office.window(TITLE) == [
            "Every sheet that there is to fill in is here already.",
            "Close",
        ]


def test_an_empty_document_may_be_filled_sheet_by_sheet(office: AddonOffice, python: Path) -> None:
    with opened(office, None) as document:
        document.choose("add")
        office.ask("press", title=TITLE, button="Add the sheet")
        assert list(document.contents()) == ["Sheet1", "Settings"]
        document.choose("add")
        office.ask("press", title=TITLE, button="Add the sheet")
        assert list(document.contents()) == ["Sheet1", "Settings", "Purchases"]
        assert document.undo_steps == [TITLE, TITLE]


def test_a_sheet_that_cannot_be_drawn_is_taken_back(
    office: AddonOffice, python: Path, samples: Path
) -> None:
    sheet = '{"tab": "Plan", "title": "Plan", "rows": [[0, [[0, 0, "x"]]]], "widths": 7}'
    drawn = f'{{"version": 1, "sheets": [{sheet}], "order": ["Plan"], "leaving": [],'
    lacking = '[{"title": "Plan", "row_is": "one"}]'
    script(
        python,
        f"""echo '{{"lacking": {lacking}, "drawn": {drawn} "tab_marks": {{}}, "looks": []}}}}'""",
    )
    with opened(office, samples / "starter.xlsx") as document:
        document.choose("add")
        office.ask("press", title=TITLE, button="Add the sheet")
        assert document.undo_steps == []
        assert "Plan" not in document.contents()
        assert office.window(TITLE) == [
            (
                "costbook met something that nobody foresaw (KeyError: 'heights'). "
                "The workbook is as it was."
            ),
            "Close",
        ]
