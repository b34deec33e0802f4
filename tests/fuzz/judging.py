"""One damaged workbook → what, if anything, went wrong with costbook."""

from __future__ import annotations

import os
import tempfile
import time
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.fuzz.mutations import mutated
from tests.helpers import run

__all__ = ["fault_of", "told"]

SECONDS = 20
"""Of work, not by the clock: other programs may be busy."""
COSTED = 12
"""One in so many is costed and written, too; the others are read, costed, and only told of."""


def fault_of(number: int) -> str:
    """What went wrong with the workbook of a number; empty where it ended as it should."""
    return told(mutated(number), written=number % COSTED == 0)


def told(workbook: bytes, *, written: bool = True) -> str:
    """What went wrong with a workbook; empty where it ended in a result or a sentence."""
    with tempfile.TemporaryDirectory() as folder, _loud():
        path = Path(folder) / "stall.xlsx"
        path.write_bytes(workbook)
        if written:
            command = ["cost", path, "--output", Path(folder) / "new.xlsx"]
        else:
            command = ["labels" if len(workbook) % 2 else "check", path]
        started = time.process_time()
        try:
            code, out, err = run(*command, "--on", "2026-11-25")
        except Exception as error:  # noqa: BLE001 - whatever it is, it is what is looked for
            return f"{type(error).__name__}: {error}"
        faults = _faults(code, out, err)
        if time.process_time() - started > SECONDS:
            faults.append("it took too long")
        if path.read_bytes() != workbook:
            faults.append("the file was changed")
        left = {each.name for each in Path(folder).iterdir()} - {"stall.xlsx"}
        if left - {"new.xlsx"} or (left and code == 2):
            faults.append(f"files were left: {sorted(left)}")
        return "; ".join(faults)


def _faults(code: int, out: str, err: str) -> list[str]:
    faults = []
    if code not in (0, 1, 2):
        faults.append(f"exit status {code}")
    if code == 2 and (out or not err.startswith("costbook: ") or len(err.splitlines()) != 1):
        faults.append(f"refused in other words: {err[-300:]}")
    if "Traceback" in out + err or "Warning" in err:
        faults.append(f"a program's words: {err[-300:]}")
    return faults


@contextmanager
def _loud() -> Iterator[None]:
    """Faults of our own as exceptions, and warnings among them."""
    before = os.environ.get("COSTBOOK_DEBUG")
    os.environ["COSTBOOK_DEBUG"] = "1"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            yield
    finally:
        if before is None:
            del os.environ["COSTBOOK_DEBUG"]
        else:
            os.environ["COSTBOOK_DEBUG"] = before
