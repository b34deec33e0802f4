"""What the person is told when costbook can't answer, and that the document stays as it was."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from costbook.addon.building import ENTRIES
from tests.addon.conftest import script
from tests.addon.office import AddonOffice, Opened
from tests.addon.test_update import opened
from tests.helpers import run

pytestmark = pytest.mark.libreoffice


def untouched(document: Opened) -> bool:
    return document.undo_steps == [] and len(document.contents()) == 7


def test_costbook_has_moved(office: AddonOffice, python: Path, samples: Path) -> None:
    python.unlink()
    with opened(office, samples / "starter.xlsx") as document:
        document.choose("update")
        assert untouched(document)
        assert office.window("Update costs") == [
            (
                f"costbook is not in {python.parent} any more. "
                "Choose the folder that holds its README.md."
            ),
            "Close",
            "Choose folder",
        ]


def test_costbook_prints_no_answer(office: AddonOffice, python: Path, samples: Path) -> None:
    script(python, "echo 'no module named costbook' >&2")
    with opened(office, samples / "starter.xlsx") as document:
        document.choose("update")
        assert untouched(document)
        assert office.window("Update costs") == [
            "costbook gave no answer. It said last: no module named costbook",
            "Close",
        ]


def test_costbook_prints_nothing(office: AddonOffice, python: Path, samples: Path) -> None:
    script(python, "exit 3")
    with opened(office, samples / "starter.xlsx") as document:
        document.choose("update")
        assert untouched(document)
        assert office.window("Update costs") == [
            "costbook gave no answer. It printed nothing.",
            "Close",
        ]


def test_an_add_on_of_another_version(office: AddonOffice, python: Path, samples: Path) -> None:
    script(python, """echo '{"drawn": {"version": 99}}'""")
    with opened(office, samples / "starter.xlsx") as document:
        document.choose("update")
        assert untouched(document)
        assert office.window("Update costs") == [
            (
                "This add-on and costbook are not of one version, so nothing was changed. Close "
                "LibreOffice, and install the add-on again: python3 -m costbook addon"
            ),
            "Close",
        ]


def test_an_answer_that_cannot_be_drawn_is_taken_back(
    office: AddonOffice, python: Path, samples: Path
) -> None:
    sheet = '{"tab": "Prices", "title": "Prices", "rows": [[0, [[0, 0, "x"]]]], "widths": 7}'
    drawn = (
        f'{{"version": 1, "sheets": [{sheet}], "order": ["Settings", "Prices"], "leaving": [],'
        ' "tab_marks": {"Prices": "costbook_sheet_Prices"}, "looks": []}'
    )
    script(python, f"""echo '{{"drawn": {drawn}, "problems": []}}'""")
    with opened(office, samples / "starter.xlsx") as document:
        document.choose("update")
        assert untouched(document)
        assert office.window("Update costs") == [
            (
                "costbook met something that nobody foresaw (KeyError: 'heights'). "
                "The workbook is as it was."
            ),
            "Close",
        ]


def test_a_slow_answer_may_be_cancelled(office: AddonOffice, python: Path, samples: Path) -> None:
    script(python, "exec sleep 100")
    with opened(office, samples / "starter.xlsx") as document:
        document.begin("update")
        assert not document.ask("enabled", command="update")
        assert office.window("Update costs") == ["costbook works out the costs …", "Cancel"]
        office.ask("press", title="Update costs", button="Cancel")
        document.wait()
        assert untouched(document)
        assert office.window("Update costs") == []


def test_an_empty_document_has_nothing_to_cost(office: AddonOffice, python: Path) -> None:
    with opened(office, None) as document:
        document.choose("update")
        assert document.undo_steps == []
        assert list(document.contents()) == ["Sheet1"]
        assert office.window("Update costs")[0].startswith(
            "None of the sheets Purchases, Recipes, Batches, Products is in this workbook"
        )


@pytest.mark.parametrize("command", ENTRIES)
def test_each_command_can_be_chosen(office: AddonOffice, command: str) -> None:
    with opened(office, None) as document:
        assert document.ask("enabled", command=command)


def test_check_lists_the_problems_and_leads_to_their_cells(
    office: AddonOffice, python: Path, samples: Path
) -> None:
    with opened(office, samples / "everything_wrong.xlsx") as document:
        document.choose("check")
        count, first, *_ = office.window("Check")
        assert re.fullmatch(
            "[0-9]+ wrong, [0-9]+ to look at. Double-click a line to go to its cell.", count
        )
        assert first.startswith("Settings!B13: ")
        office.ask("press", title="Check", button="Go to the cell")
        assert document.ask("selected") == "Settings.B13"
        assert document.undo_steps == []


def test_which_pack_of_the_selected_item_is_cheapest(
    office: AddonOffice, python: Path, samples: Path
) -> None:
    with opened(office, samples / "market_stall.xlsx") as document:
        document.ask("select", sheet="Items", cell="A2")
        item = document.contents()["Items"]["values"][1][0]
        document.choose("pack")
        assert office.window("Which pack?")[0].startswith(f"{item}. ")


def test_without_a_name_selected_there_is_nothing_to_ask(office: AddonOffice, python: Path) -> None:
    with opened(office, None) as document:
        document.choose("pack")
        assert office.window("Which pack?") == [
            "Select a cell that names a product or an item, or one in its row.",
            "Close",
        ]


@pytest.mark.parametrize("title", ["What moved", "Try a change", "About"])
def test_a_sheet_of_ours_is_gone_to_once_it_is_there(
    office: AddonOffice, python: Path, samples: Path, tmp_path: Path, title: str
) -> None:
    path = shutil.copy(samples / "starter.xlsx", tmp_path)
    command = next(name for name, words in ENTRIES.items() if words == title)
    with opened(office, path) as document:
        document.choose(command)
        assert office.window(title)[0] == f"Choose Update costs first: it makes the sheet {title}."
    assert run("cost", path)[0] == 0
    with opened(office, path) as document:
        document.choose(command)
        assert document.ask("selected") == f"{title}.A1"


ONLY_WHERE = {
    "The week": ", where there is a sheet Plan",
    "Buy list": ", where there is a sheet Plan, or a Par on Items",
    "Labels": ", where Items has a Label name",
    "Season": ", where there is a sheet Market days",
    "Freezer": ", where there is a sheet Made, Counts or Tests",
    "The year": ", where there is a sheet Market days",
}


def test_a_sheet_that_only_some_workbooks_get_is_gone_to_or_says_what_it_needs(
    office: AddonOffice, python: Path, samples: Path, tmp_path: Path
) -> None:
    path = shutil.copy(samples / "market_season.xlsx", tmp_path)
    command = {title: name for name, title in ENTRIES.items()}
    with opened(office, samples / "starter.xlsx") as document:
        for title, where in ONLY_WHERE.items():
            document.choose(command[title])
            said = f"Choose Update costs first: it makes the sheet {title}{where}."
            assert office.window(title)[0] == said
    assert run("cost", path)[0] == 0
    with opened(office, path) as document:
        for title in ONLY_WHERE:
            document.choose(command[title])
            assert document.ask("selected") in (f"{title}.A1", f"'{title}'.A1")


def test_a_new_costing_workbook_is_opened_without_a_name(office: AddonOffice, python: Path) -> None:
    with opened(office, None) as document:
        document.choose("new")
        new = document.ask("newest")
    made = Opened(office, new)
    assert "Purchases" in made.contents()
    assert made.ask("location") == ""
    made.close()
