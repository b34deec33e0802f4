"""However and whenever a run of `cost` ends, the old or the new workbook stands there whole."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.helpers import run
from tests.write_back.books import ON, small

HOUSE = Path(__file__).parents[2]
LATER = (0.0, 0.002, 0.004, 0.007, 0.01, 0.02)
"""Seconds after the folder for backups has come, which is when the writing begins."""


def ended(stall: Path, by: signal.Signals, later: float) -> str:
    """What a run says that gets a signal just when it writes."""
    backups = stall.with_name("stall backups")
    with subprocess.Popen(
        [sys.executable, "-m", "costbook", "cost", stall, *ON],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, cwd=HOUSE,
    ) as running:  # fmt: skip
        while running.poll() is None and not backups.exists():
            time.sleep(0.0005)
        time.sleep(later)
        running.send_signal(by)
        return running.communicate()[1]


@pytest.fixture(scope="module")
def new(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The workbook as a run that isn't ended leaves it."""
    done = small(tmp_path_factory.mktemp("done") / "done.xlsx")
    assert run("cost", done, *ON)[0] == 0
    return done.read_bytes()


@pytest.mark.skipif(sys.platform == "win32", reason="signals as Unix has them")
@pytest.mark.parametrize("later", LATER)
@pytest.mark.parametrize("by", [signal.SIGKILL, signal.SIGINT])
@pytest.mark.usefixtures("hears_ctrl_c")
def test_the_old_or_the_new_workbook_stands_there_whole(
    by: signal.Signals, later: float, new: bytes, tmp_path: Path
) -> None:
    stall = small(tmp_path / "stall.xlsx")
    old = stall.read_bytes()
    said = ended(stall, by, later)
    now = stall.read_bytes()
    assert now in (old, new)
    for backup in stall.with_name("stall backups").glob("stall (*"):
        assert backup.read_bytes() == old
    if "as it was." in said:
        assert now == old
    if "is written" in said:
        assert now == new
    assert "Traceback" not in said
    # nothing that was left keeps the next run out
    assert run("cost", stall, *ON)[0] == 0
    assert stall.read_bytes() == new
    assert not [path for path in tmp_path.rglob(".*") if "unfinished" in path.name]
