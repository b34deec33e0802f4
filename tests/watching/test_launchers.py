"""What is double-clicked: the texts for each system, and on this one a run of it.

Those for macOS and Windows are held as texts: they were not run there.
"""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from costbook.launchers import SYSTEMS, launcher_for
from tests.helpers import make_book, run
from tests.tables import sheets
from tests.test_house import HOUSE
from tests.writing.test_ladder import BOOK

WORDS = ("/opt/py 3/python", "-m", "costbook", "launcher", '/stalls/Ann\'s 5% "big" $tall.xlsx')


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return make_book(tmp_path / "my stall.xlsx", sheets(BOOK))


def test_the_one_for_linux_quotes_as_the_desktop_entry_rules_ask() -> None:
    """Desktop Entry Specification 1.5, "The Exec key", from memory: within quotes a backslash
    stands before `"`, `$`, a backquote and itself, then each backslash is doubled as in any text;
    a percent sign is doubled."""
    made = launcher_for("linux", "Price stall", PurePosixPath("/opt/costbook"), WORDS)
    assert made.ending == ".desktop"
    assert made.text == (
        "[Desktop Entry]\nType=Application\nName=Price stall\n"
        'Exec="/opt/py 3/python" "-m" "costbook" "launcher" '
        '"/stalls/Ann\'s 5%% \\\\"big\\\\" \\\\$tall.xlsx" %F\n'
        "Path=/opt/costbook\nTerminal=true\nIcon=x-office-spreadsheet\n"
        "MimeType=application/vnd.openxmlformats-officedocument.spreadsheetml.sheet;\n"
    )


def test_the_one_for_macos_is_a_script_of_the_shell() -> None:
    made = launcher_for("macos", "Price stall", PurePosixPath("/opt/cost book"), WORDS)
    first, comment, command = made.text.splitlines()
    assert (made.ending, first, comment) == (".command", "#!/bin/sh", "# Price stall")
    assert shlex.split(command) == ["cd", "/opt/cost book", "&&", "exec", *WORDS, "$@"]


def test_the_one_for_windows_is_a_batch_file() -> None:
    words = (r"C:\Python\python.exe", "-m", "costbook", "launcher", r"C:\Ann's 5%\stall.xlsx")
    made = launcher_for("windows", "Price stall", PureWindowsPath(r"C:\cost book"), words)
    assert made.ending == ".bat"
    assert made.text == (
        "@echo off\r\nrem Price stall\r\nchcp 65001 >nul\r\n"
        'cd /d "C:\\cost book"\r\n'
        '"C:\\Python\\python.exe" "-m" "costbook" "launcher" "C:\\Ann\'s 5%%\\stall.xlsx" %*\r\n'
    )


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_launcher_is_made_beside_its_workbook(system: str, stall: Path) -> None:
    code, out, err = run("launcher", stall, "--for", system)
    made = next(path for path in stall.parent.iterdir() if path.stem == "Price my stall")
    assert (code, err) == (0, "")
    assert out.startswith(f"Made {made}. Double-click it, or drop a workbook on it.\n")
    assert str(stall) in made.read_text(encoding="utf-8")
    assert os.access(made, os.X_OK)
    code, _, err = run("launcher", stall, "--for", system)  # nothing is written over
    assert code == 2
    assert f"{made.name} is already there" in err


def test_one_that_watches_says_so(stall: Path) -> None:
    code, out, _ = run("launcher", stall, "--watch", "--for", "macos")
    made = stall.with_name("Watch my stall.xlsx.command")
    assert (code, out.splitlines()[0]) == (0, f"Made {made}. Double-click it.")
    words = shlex.split(made.read_text(encoding="utf-8").splitlines()[2])
    assert words[4:] == [sys.executable, "-m", "costbook", "watch", str(stall), "$@"]


def test_a_launcher_of_nothing_is_refused(tmp_path: Path) -> None:
    missing = tmp_path / "lost.xlsx"
    for command in ("launcher", "watch"):
        code, _, err = run(command, missing)
        assert code == 2
        assert f"There is no file or folder {missing}. Check the name." in err


def test_what_is_double_clicked_shows_the_front_sheet_and_waits(stall: Path) -> None:
    """The script for macOS runs in any shell: started as a double-click, and dropped on."""
    run("launcher", stall, "--for", "macos")
    script = stall.with_name("Price my stall.command")
    other = make_book(stall.with_name("other.xlsx"), sheets(BOOK))
    for dropped, book in (((), stall), ((other,), other)):
        done = subprocess.run(
            [script, *dropped],
            cwd=stall.parent,
            env=os.environ | {"PYTHONPATH": str(HOUSE)},
            input="\n",
            capture_output=True,
            text=True,
            check=False,
        )
        first, *rest = done.stdout.splitlines()
        assert (done.returncode, done.stderr) == (0, "")
        assert first == f"{book.name}: priced, in {book.name}. 0 wrong, 0 to check."
        assert any(line.startswith("  To put right: ") for line in rest)
        assert rest[-1] == "Press Enter to close."


def test_what_is_dropped_and_is_no_workbook_is_said(stall: Path) -> None:
    notes = stall.with_name("notes.txt")
    notes.write_text("apples", encoding="utf-8")
    code, out, _ = run("launcher", stall, "--run", notes, stall, "--json")
    first, second = json.loads(out)["runs"]
    assert (code, first["written"], second["written"]) == (2, None, str(stall))
    assert first["refused"]
