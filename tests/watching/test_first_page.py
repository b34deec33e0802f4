"""README's page for a person who never saw a terminal: every step of it, as it stands there."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest

from costbook.reading.tables import heading_key
from tests.helpers import read_back
from tests.test_house import HOUSE, README
from tests.watching.test_watcher import charged

PAGE = README.split("\n## If you have never seen a terminal\n")[1].split("\n## ")[0]


def typed_lines() -> list[list[str]]:
    [block] = re.findall(r"```sh\n(.*?)```", PAGE, re.DOTALL)
    return [shlex.split(line) for line in block.strip().splitlines()]


def rows() -> Iterator[tuple[str, dict[str, str]]]:
    """By sheet, each row of the page's table: what is typed under which heading."""
    for sheet, cells in re.findall(r"^   \| (\w+) \| (\w[^|]*: [^|]*) \|$", PAGE, re.MULTILINE):
        yield sheet, dict(each.split(": ", 1) for each in cells.split("; "))


def as_typed(text: str) -> object:
    """What a program makes of it: a number, a percentage or a text."""
    number = re.fullmatch(r"([0-9.]+)( %)?", text)
    return float(number[1]) / (100 if number[2] else 1) if number else text


def fill_in(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    filled: dict[str, int] = {}
    for sheet, cells in rows():
        tab = book[sheet]
        if sheet == "Settings":
            for row in tab.iter_rows(min_row=2):
                if row[0].value in cells:
                    row[1].value = as_typed(cells[row[0].value])
            continue
        headings = {heading_key(str(cell.value)): cell.column for cell in tab[1] if cell.value}
        if sheet not in filled:
            for row in tab.iter_rows(min_row=2):
                for cell in row:
                    cell.value = None
        at = filled[sheet] = filled.get(sheet, 1) + 1
        for heading, text in cells.items():
            tab.cell(at, headings[heading_key(heading)]).value = as_typed(text)
    book.save(path)


def double_clicked(launcher: Path) -> list[str]:
    """Start it as a desktop does, with Enter pressed in its window."""
    said = dict(
        line.split("=", 1) for line in launcher.read_text(encoding="utf-8").splitlines()[1:]
    )
    words = shlex.split(said["Exec"].replace("\\\\", "\\"))
    assert words.pop() == "%F"
    done = subprocess.run(
        [word.replace("%%", "%") for word in words],
        cwd=said["Path"],
        input="\n",
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""
    return done.stdout.splitlines()


@pytest.mark.long
@pytest.mark.skipif(sys.platform != "linux", reason="what is double-clicked there is another")
def test_every_step_of_the_first_page(tmp_path: Path) -> None:
    for program, *words in typed_lines():
        assert program == "python3"
        here = os.environ | {"PYTHONPATH": str(HOUSE)}
        subprocess.run([sys.executable, *words], cwd=tmp_path, check=True, env=here)
    stall, copies = tmp_path / "first_stall.xlsx", tmp_path / "Price first_stall.desktop"
    assert {path.name for path in tmp_path.iterdir()} == {
        *(stall.name, copies.name, "Watch first_stall.xlsx.desktop"),
    }
    fill_in(stall)
    first, *told = double_clicked(copies)
    assert first == "first_stall.xlsx: priced, in first_stall.xlsx. 0 wrong, 0 to check."
    assert told[-1] == "Press Enter to close."
    assert read_back(stall).sheetnames[0] == "In short"
    assert charged(stall) == 1.5
    assert "CHARGE 1.50" in " ".join(PAGE.split())
    wrong = shutil.copy(stall, tmp_path / "typed.xlsx")
    book = openpyxl.load_workbook(wrong)
    book["Recipes"]["B2"] = "Flower"
    book.save(stall)
    assert "1 wrong" in double_clicked(copies)[0]
    assert charged(stall) == "?"
    asked = 'no item is called "Flower". Did you mean "Flour"?'
    put_right = read_back(stall)["To put right"]
    shown = " ".join(str(cell.value) for row in put_right.iter_rows() for cell in row if cell.value)
    assert all(words in shown for words in ('no item is called "Flower"', 'Did you mean "Flour"?'))
    assert asked in " ".join(PAGE.split())
    shutil.copy(wrong, stall)
    assert double_clicked(copies)[0] == first
    assert charged(stall) == 1.5


def test_the_page_names_the_copy_that_is_written_beside() -> None:
    """Step 6 is run by the tests of `watch`; its name for the copy is that which they find."""
    assert "*first_stall - priced while open.xlsx*" in " ".join(PAGE.split())
