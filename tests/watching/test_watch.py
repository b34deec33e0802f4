"""`watch` as a person runs it: a process of its own, a real folder, Ctrl-C at the end."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import openpyxl
import pytest

from costbook.costing.result import CAUTION
from tests.helpers import make_book
from tests.tables import sheets
from tests.test_house import HOUSE
from tests.watching.test_watcher import as_excel_saves, charged, flour
from tests.writing.test_ladder import BOOK

PATIENCE = 60.0
"""Seconds after which a line that should be there won't come."""


@pytest.fixture(autouse=True)
def _ctrl_c_arrives() -> Iterator[None]:
    """Also where these tests run behind an `&`, whose programs are started deaf to it."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@contextmanager
def watching(*words: object) -> Iterator[subprocess.Popen[str]]:
    process = subprocess.Popen(
        [sys.executable, "-m", "costbook", "watch", *map(str, words)],
        env=os.environ | {"PYTHONPATH": str(HOUSE)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        yield process
    finally:
        process.kill()
        process.wait()


def line(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().rstrip("\n")


def ended(process: subprocess.Popen[str]) -> tuple[int, str, str]:
    """What is printed from Ctrl-C on, and how it ends."""
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=PATIENCE)
    return process.returncode, out, err


def until(*, holds: bool, path: Path) -> None:
    """Wait until a file is there, or has gone."""
    end = time.monotonic() + PATIENCE
    while path.exists() is not holds:
        assert time.monotonic() < end, path
        time.sleep(0.05)


@pytest.mark.long
def test_a_folder_is_watched_until_ctrl_c(tmp_path: Path) -> None:
    stall = make_book(tmp_path / "stall.xlsx", sheets(BOOK))
    lock = tmp_path / ".~lock.stall.xlsx#"
    with watching(tmp_path) as process:
        assert line(process) == (
            f"Watching {tmp_path}: save a workbook in it, and it is priced. Ctrl-C ends this."
        )
        assert line(process) == CAUTION
        time.sleep(1.0)  # the system begins to tell
        as_excel_saves(stall, flour(stall, 3))
        assert line(process)[6:] == "stall.xlsx: priced, in stall.xlsx. 0 wrong, 0 to check."
        assert charged(stall) == 3
        lock.write_text(",ann,desk,;", encoding="utf-8")
        as_excel_saves(stall, flour(stall, 4))
        assert line(process)[6:].startswith("stall.xlsx is open in LibreOffice, so its prices ")
        lock.unlink()
        assert line(process)[6:].startswith("stall.xlsx: priced, in stall.xlsx.")
        assert charged(stall) == 4
        until(holds=False, path=tmp_path / "stall - priced while open.xlsx")
        assert ended(process) == (0, "", "")
    assert not [path for path in tmp_path.iterdir() if path.name.startswith((".", "~"))]


@pytest.mark.long
def test_json_is_one_object_once_it_has_ended(tmp_path: Path) -> None:
    stall = make_book(tmp_path / "stall.xlsx", sheets(BOOK))
    with watching(stall, "--json") as process:
        time.sleep(3.0)
        as_excel_saves(stall, flour(stall, 3))
        end = time.monotonic() + PATIENCE
        while "Prices" not in openpyxl.load_workbook(stall).sheetnames:
            assert time.monotonic() < end
            time.sleep(0.2)
        time.sleep(0.5)
        code, out, err = ended(process)
    assert (code, err) == (0, "")
    [run] = json.loads(out)["runs"]
    assert (run["written"], run["open_in"], run["wrong"]) == (str(stall), None, 0)
