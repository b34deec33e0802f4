"""Messages name the command as the person started it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from costbook import started

HOUSE = Path(__file__).parent.parent


@pytest.mark.parametrize(
    ("platform", "typed", "starts"),
    [
        ("linux", ["python3", "-m", "costbook", "cost"], "python3 -m costbook"),
        ("linux", ["python3.13", "-X", "utf8", "-m", "costbook"], "python3.13 -m costbook"),
        ("linux", ["/opt/my tools/python", "-m", "costbook"], '"/opt/my tools/python" -m costbook'),
        ("linux", ["/usr/bin/python3", "/usr/bin/costbook", "cost"], "costbook"),
        ("win32", [r"C:\Programs\Python\python.exe", "-m", "costbook"], "py -m costbook"),
        ("win32", [r"C:\Programs\Python\python.exe", "costbook.exe"], "costbook"),
    ],
)
def test_the_command_as_it_was_started(
    platform: str, typed: list[str], starts: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", platform)
    monkeypatch.setattr(sys, "orig_argv", typed)
    assert started.command() == starts
    assert started.command("new", "my stall.xlsx") == f'{starts} new "my stall.xlsx"'


def said(*words: str) -> str:
    python = [sys.executable, "-m", "costbook", *words]
    return subprocess.run(python, cwd=HOUSE, text=True, capture_output=True).stderr


def test_a_message_of_a_real_run_names_it() -> None:
    assert said("cost", "no such.xlsx") == (
        "costbook: There is no file no such.xlsx. Check its name, or make a blank workbook: "
        f'{sys.executable} -m costbook new "no such.xlsx"\n'
    )
    assert said("csot", "stall.xlsx") == (
        'costbook: there is no command "csot"; did you mean "cost"? '
        f"Example: {sys.executable} -m costbook cost stall.xlsx\n"
    )
