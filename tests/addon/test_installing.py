"""The add-on's file, and how LibreOffice is given it."""

from __future__ import annotations

import json
import shutil
import zipfile
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from costbook.addon import building, installing
from costbook.addon.building import ENTRIES, extension
from costbook.addon.office.formulas import in_calc, same_formula
from tests.addon.conftest import script
from tests.helpers import run
from tests.test_house import PROJECT

AGAIN = "Close every window of LibreOffice, and run the same command again."


def parts() -> dict[str, bytes]:
    with zipfile.ZipFile(BytesIO(extension("py", "here"))) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def test_the_file_holds_what_its_manifest_says_and_remembers_where_costbook_is() -> None:
    found = parts()
    manifest = ET.fromstring(found["META-INF/manifest.xml"])
    listed = [next(iter(each.attrib.values())) for each in manifest]
    assert set(listed) <= set(found)
    assert json.loads(found["place.json"]) == {"python": "py", "folder": "here"}
    assert {name for name in found if name.endswith(".xcu")} <= set(listed)
    assert "pythonpath/costbook/addon/office/updating.py" in found


def test_the_xml_can_be_read_and_names_each_command() -> None:
    found = parts()
    for name, data in found.items():
        if name.endswith((".xcu", ".xml")):
            ET.fromstring(data)
    menu = found["Addons.xcu"].decode()
    assert all(f"costbook.addon:{command}<" in menu for command in ENTRIES)


def test_the_same_code_gives_the_same_file() -> None:
    assert extension("py", "here") == extension("py", "here")


def test_its_version_is_costbooks() -> None:
    assert PROJECT["version"] == building.VERSION


@pytest.fixture
def libreoffice_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder on PATH with a program for add-ons that writes down what it is asked."""
    script(tmp_path / "unopkg", f'echo "$@" >> "{tmp_path}/asked"; exit $(cat "{tmp_path}/status")')
    (tmp_path / "status").write_text("0")
    monkeypatch.setenv("PATH", str(tmp_path), prepend=":")
    return tmp_path


def test_it_is_installed_and_taken_away(libreoffice_says: Path) -> None:
    code, out, _ = run("addon")
    assert (code, out) == (
        0,
        "Installed. Start LibreOffice anew: its spreadsheets have a menu costbook.\n",
    )
    code, out, _ = run("addon", "--remove")
    assert (code, out) == (
        0,
        "The menu costbook is gone from LibreOffice. Your workbooks are as they were.\n",
    )
    added, removed = (libreoffice_says / "asked").read_text().splitlines()
    assert added.startswith("add --force --suppress-license ")
    assert added.endswith("/costbook.oxt")
    assert removed == "remove costbook.addon"


def test_libreoffice_may_refuse(libreoffice_says: Path) -> None:
    script(libreoffice_says / "unopkg", "echo 'it is running' >&2; exit 1")
    assert run("addon") == (
        2,
        "",
        f"costbook: LibreOffice said no: it is running {AGAIN}\n",
    )


def test_libreoffice_may_not_start(libreoffice_says: Path) -> None:
    (libreoffice_says / "unopkg").write_bytes(b"\0")
    code, _, err = run("addon")
    said = f"costbook: {libreoffice_says}/unopkg did not run ("
    why = err.removeprefix(said).removesuffix(f"). {AGAIN}\n")
    assert "Exec format" in why
    assert err == f"costbook: {libreoffice_says}/unopkg did not run ({why}). {AGAIN}\n"
    assert code == 2


def test_libreoffice_may_be_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(installing, "_usual_places", lambda _: iter(()))
    monkeypatch.setenv("PATH", "")
    assert run("addon") == (
        2,
        "",
        (
            "costbook: LibreOffice is not where it usually is. Install it; or make the add-on with "
            "--build costbook.oxt and open that file with it.\n"
        ),
    )


@pytest.mark.parametrize(
    ("system", "place"),
    [
        ("win32", "LibreOffice/program/unopkg.com"),
        ("darwin", "LibreOffice.app/Contents/MacOS/unopkg"),
    ],
)
def test_where_libreoffice_usually_is(
    system: str, place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "")
    monkeypatch.setenv("ProgramFiles", str(tmp_path))
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    there = tmp_path / ("Applications" if system == "darwin" else "") / place
    there.parent.mkdir(parents=True)
    there.touch()
    assert installing.find_installer(system) == there


def test_only_the_file_is_made(tmp_path: Path) -> None:
    code, out, _ = run("addon", "--build", tmp_path / "menu")
    assert (code, out) == (
        0,
        f"Made {tmp_path}/menu.oxt. Open it with LibreOffice to install it.\n",
    )
    assert zipfile.is_zipfile(tmp_path / "menu.oxt")
    assert (
        "menu.xlsx doesn't. Name it menu.oxt." in run("addon", "--build", tmp_path / "menu.xlsx")[2]
    )


SPELLED = {
    '=CEILING(A1,"CEILING(")': '=CEILING.XCL(A1;"CEILING(")',
    "=SUM('It''s mine'!$A:$A,1)": "=SUM($'It''s mine'.$A:$A;1)",
    '=IF(A1="a,b",_xlfn.MAXIFS(B:B,C:C,"<1,5"),"")': '=IF(A1="a,b";MAXIFS(B:B;C:C;"<1,5");"")',
}


@pytest.mark.parametrize("formula", SPELLED)
def test_a_formula_is_spelled_as_calc_takes_it(formula: str) -> None:
    assert in_calc(formula) == SPELLED[formula]


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("=$'Prices'.A1+1", "=$Prices.A1+1", True),
        ("=IF(A1;TRUE;FALSE)", "=IF(A1;1;0)", True),
        ("=A1*737.087601250", "=A1*737.08760125", True),
        ("=A1*3048.00", "=A1*3048", True),
        ("=A1*1.50", "=A1*15", False),
        ('="TRUE 1.50"', '="1 1.5"', False),
        ("=$'Prices'.A1", "=$'Prices'.A2", False),
        ("=A1*1.5", "=A1*1.05", False),
    ],
)
def test_formulas_are_compared_however_they_are_spelled(one: str, other: str, same: bool) -> None:
    assert same_formula(one, other) is same


def test_what_cost_would_write_is_described_and_nothing_written(
    samples: Path, tmp_path: Path
) -> None:
    path = shutil.copy(samples / "starter.xlsx", tmp_path)
    code, out, _ = run("describe", path, "--json")
    said = json.loads(out)
    assert code == 0
    assert said["drawn"]["order"][-1] == "Memory"
    assert said["drawn"]["tab_marks"]["To put right"] == "costbook_sheet_To_put_right"
    assert list(tmp_path.iterdir()) == [Path(path)]
    sheets = said["drawn"]["sheets"]
    cells = sum(len(row) for sheet in sheets for _, row in sheet["rows"])
    words = f"{len(sheets)} sheets, {cells} cells. --json prints them, and writes nothing.\n"
    assert run("describe", path)[1] == words
