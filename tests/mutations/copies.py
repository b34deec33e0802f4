"""Which mutants no test notices in a copy of the tree that holds them, where pytest starts anew."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

from tests.mutations.mutants import Mutant

__all__ = ["QUICK", "judged_in_copies"]

QUICK = (
    "-q",
    "-s",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:xdist",
    "-m",
    "not long and not libreoffice",
)


def judged_in_copies(
    root: Path, mutants: Sequence[tuple[str, Mutant]], tests: Sequence[str], jobs: int
) -> list[tuple[str, Mutant]]:
    """Those mutants that the tests don't notice in a copy of the tree that holds them."""
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(jobs) as pool:
        copies: Queue[Path] = Queue()
        for number in range(min(jobs, len(mutants))):
            copies.put(_copied(root, Path(folder) / str(number)))

        def survives(each: tuple[str, Mutant]) -> bool:
            there = copies.get()
            try:
                return _unnoticed(there, *each, tests)
            finally:
                copies.put(there)

        fates = list(pool.map(survives, mutants))
    return [each for each, alive in zip(mutants, fates, strict=True) if alive]


def _copied(root: Path, there: Path) -> Path:
    shutil.copytree(root, there, ignore=shutil.ignore_patterns(".*", "__pycache__"))
    return there


def _unnoticed(there: Path, module: str, mutant: Mutant, tests: Sequence[str]) -> bool:
    """Whether the tests pass in a tree with the mutant, which is imported alone before."""
    before = (there / module).read_text(encoding="utf-8")
    (there / module).write_text(mutant.source, encoding="utf-8")
    dotted = module.removesuffix(".py").replace("/", ".")
    alone = [sys.executable, "-B", "-c", f"import {dotted}"]
    tested = [sys.executable, "-B", "-m", "pytest", "-x", *QUICK, *tests]
    try:
        return all(
            subprocess.run(words, cwd=there, capture_output=True, timeout=1200).returncode == 0
            for words in (alone, tested)
        )
    except subprocess.TimeoutExpired:
        return False
    finally:
        (there / module).write_text(before, encoding="utf-8")
