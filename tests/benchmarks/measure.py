"""Measures commands side by side: time on the clock and peak memory, the best of several turns."""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Taken", "side_by_side"]

HOUSE = Path(__file__).parent.parent.parent


@dataclass(frozen=True, slots=True)
class Taken:
    """What a command took: time on the clock [s] and peak memory [MB], and what it printed."""

    seconds: float
    megabytes: float
    printed: str = ""


def side_by_side(*commands: Sequence[str], outputs: Path, turns: int = 5) -> list[Taken]:
    """The least that each command took, all of them taking turns so that none has the quiet hour.

    The folder of outputs is emptied before each. Raises RuntimeError where one does not end well.
    """
    taken = [[once(command, outputs) for command in commands] for _ in range(turns)]
    return [best(turns_of_one) for turns_of_one in zip(*taken, strict=True)]


def best(turns: Sequence[Taken]) -> Taken:
    return Taken(
        min(turn.seconds for turn in turns),
        min(turn.megabytes for turn in turns),
        turns[0].printed,
    )


def once(command: Sequence[str], outputs: Path) -> Taken:
    """Run a command, in an emptied folder of outputs; compiled modules are kept, as anywhere."""
    shutil.rmtree(outputs, ignore_errors=True)
    outputs.mkdir()
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(outputs.with_name("bytecode"))
    said = outputs.with_name("said.txt")
    start = time.perf_counter()
    with (
        said.open("w", encoding="utf-8") as errors,
        subprocess.Popen(
            command, cwd=HOUSE, env=environment, stdout=subprocess.PIPE, stderr=errors, text=True
        ) as process,
    ):
        assert process.stdout
        printed = process.stdout.read()
        _, status, usage = os.wait4(process.pid, 0)
        seconds = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        last = said.read_text(encoding="utf-8").splitlines()[-1:]
        raise RuntimeError(f"{' '.join(command)} ended with {process.returncode}: {last}")
    return Taken(seconds, usage.ru_maxrss / 1024, printed)
