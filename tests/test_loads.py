"""Which foreign libraries each command loads: as the letter says, and no other.

Each command runs in a process of its own, since what one has loaded stays loaded.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.test_house import HOUSE, table_under, words

SAMPLES = HOUSE / "sample_workbooks"
SAID = table_under("### Which command loads which library")
GIVEN = {
    "BOOK": "book.xlsx",
    "OTHER": "other.xlsx",
    "NEW": "new.xlsx",
    "SEASON": str(SAMPLES / "market_season.xlsx"),
    "ADDON": "costbook.oxt",
    "PRODUCT": "Bean wraps, four",
    "ITEM": "Onions",
    "SERIES": str(SAMPLES / "us_egg_prices_2022_2025.csv"),
}
"""What the words in capitals of the letter's table stand for."""

ENDS = {"labels": "1"}
"""How a command ends that ends otherwise: nothing says which allergens are in the sample."""

ENDLESS = ("watch",)
"""Commands that Ctrl-C ends, once their first line was read."""

RUN = """
import signal
import sys
from costbook.cli import main
signal.signal(signal.SIGINT, signal.default_int_handler)  # also behind an `&`
status = None
try:
    status = main(sys.argv[1:])
except SystemExit as ended:
    status = ended.code
print()
print(status, *sorted({name.split(".")[0] for name in sys.modules}))
"""


def loaded(command: list[str], folder: Path) -> set[str]:
    """The foreign libraries that one command loads, run to a good end on the starter sample."""
    shutil.copy(SAMPLES / "starter.xlsx", folder / "book.xlsx")
    given = [sys.executable, "-c", RUN, *command]
    here = os.environ | {"PYTHONPATH": str(HOUSE)}
    pipe = subprocess.PIPE
    with subprocess.Popen(given, cwd=folder, env=here, stdout=pipe, stderr=pipe, text=True) as ran:
        if command[0] in ENDLESS and ran.stdout:
            ran.stdout.readline()
            ran.send_signal(signal.SIGINT)
        out, err = ran.communicate()
    assert ran.returncode == 0, err
    status, *names = out.splitlines()[-1].split()
    assert status == ENDS.get(command[0], "0"), out + err
    return set(names) & {row[0] for row in table_under("### Which module knows which library")}


@pytest.mark.parametrize(("command", "libraries"), [row[:2] for row in SAID])
def test_a_command_loads_the_libraries_the_letter_says(
    command: str, libraries: str, tmp_path: Path
) -> None:
    given = [part.format(**GIVEN) for part in _words(command)]
    assert loaded(given, tmp_path) == words(libraries)


def _words(command: str) -> list[str]:
    """A command's words, with {} around those that stand for something."""
    parts = [part.split("=") for part in command.split()]
    return ["=".join(f"{{{one}}}" if one in GIVEN else one for one in part) for part in parts]


def test_the_letter_names_every_command_and_no_library_that_is_not_ours() -> None:
    from costbook.command_words import COMMANDS

    assert {row[0].split()[0] for row in SAID} - {"--help"} == set(COMMANDS)
    known = {row[0] for row in table_under("### Which module knows which library")}
    assert set().union(*(words(row[1]) for row in SAID)) <= known
