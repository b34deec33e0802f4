"""Which mutants no test notices.

The tests are collected once. For each mutant a child of this process is forked, puts the mutant's
code into the functions that are already there, and runs only the tests that come to the statement
that is changed, those that noticed the last mutants first. What that can't change (a constant of
the module, an argument's default) is written into a copy of the tree, where pytest starts anew; so
is what no test noticed, where that statement ran while the module was imported.
"""

from __future__ import annotations

import ast
import functools
import gc
import os
import pickle
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field
from functools import partial
from importlib import import_module
from pathlib import Path
from types import CodeType, FrameType, FunctionType
from typing import Any

import pytest

from tests.mutations.copies import QUICK, judged_in_copies
from tests.mutations.mutants import Mutant

__all__ = ["survivors"]

SURVIVED, KILLED, NOT_THERE = 0, 1, 3


def survivors(
    root: Path,
    mutants: Sequence[tuple[str, Mutant]],
    tests: Sequence[str],
    said: Callable[[str], None],
    jobs: int = 0,
) -> dict[str, list[Mutant]]:
    """Those of the mutants of modules under ``root`` that none of the tests notices, by module."""
    modules = list(dict.fromkeys(module for module, _ in mutants))
    said(f"{len(mutants)} mutants of {len(modules)} modules")
    judge = _Judge(root, mutants, jobs or os.cpu_count() or 1, said)
    judge.imported = _seen({str(root / module) for module in modules})
    status = pytest.main(
        [*QUICK, f"--rootdir={root}", *(str(root / each) for each in tests)], [judge]
    )
    if not judge.ran:
        raise RuntimeError(f"the tests could not be collected (pytest's status {status})")
    alive = [mutants[at] for at, fate in judge.fates.items() if fate == SURVIVED]
    anew = [mutants[at] for at, fate in judge.fates.items() if fate == NOT_THERE]
    said(f"{len(anew)} to be judged in copies")
    for module, mutant in judged_in_copies(root, anew, tests, jobs or os.cpu_count() or 1):
        said(f"  not noticed: {module} {mutant}")
        alive.append((module, mutant))
    found: dict[str, list[Mutant]] = {module: [] for module in modules}
    for module, mutant in sorted(alive, key=lambda each: each[1].line):
        found[module].append(mutant)
    return found


@dataclass(eq=False)
class _Judge:
    """A pytest plugin whose test loop runs the tests once for each mutant."""

    root: Path
    mutants: Sequence[tuple[str, Mutant]]
    jobs: int
    said: Callable[[str], None]
    imported: Lines = field(default_factory=dict)
    fates: dict[int, int] = field(default_factory=dict)
    ran: bool = False

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        for module in {module for module, _ in self.mutants}:  # a command loads it when it runs
            import_module(module.removesuffix(".py").replace("/", "."))
        sys.settrace(None)
        if session.testsfailed or not session.items:
            return True
        gc.unfreeze()  # or what there is couldn't be found
        cached = _cached(self.mutants)
        reached, seconds = self._reached(session, cached)
        live = {module: _live(self.root / module) for module, _ in self.mutants}
        plain = {module: _codes(path := self.root / module, _plain(path)) for module in live}
        first: dict[int, None] = {}  # the tests that noticed, the last one last
        running: dict[int, tuple[int, Path]] = {}
        limit = 20 + 2 * seconds
        gc.freeze()  # or each child would copy all of this process to look through it
        with tempfile.TemporaryDirectory() as folder:
            for at, (module, mutant) in enumerate(self.mutants):
                if len(running) == self.jobs:
                    self._wait(running, first)
                told, path = Path(folder) / str(at), self.root / module
                judged = partial(
                    self._judged,
                    session,
                    mutant,
                    path,
                    reached,
                    live[module],
                    plain[module],
                    cached,
                )
                running[_child(partial(judged, [*reversed(first)], told, limit))] = at, told
            while running:
                self._wait(running, first)
        gc.unfreeze()
        self.ran = True
        return True

    def _wait(self, running: dict[int, tuple[int, Path]], first: dict[int, None]) -> None:
        """Take in the fate of the child that ends next; one that never ends was noticed."""
        child, status = os.wait()
        at, told = running.pop(child)
        self.fates[at] = os.waitstatus_to_exitcode(status) if os.WIFEXITED(status) else KILLED
        if self.fates[at] == KILLED and told.exists():
            killer = int(told.read_text())
            first.pop(killer, None)
            first[killer] = None
        if self.fates[at] == SURVIVED:
            module, mutant = self.mutants[at]
            self.said(f"  not noticed: {module} {mutant}")

    def _reached(self, session: pytest.Session, cached: Cached) -> tuple[list[Lines], float]:
        """Which lines of the modules each test comes to, and how long all work [s]."""
        paths = {str(self.root / module) for module, _ in self.mutants}
        with tempfile.TemporaryDirectory() as folder:
            told = Path(folder) / "reached"

            def look() -> int:
                reached, started = [], time.process_time()
                for item in session.items:
                    _forget(cached)  # so that each test comes to what it would alone
                    reached.append(_lines_of(item, paths))
                    if session.testsfailed:
                        told.write_bytes(pickle.dumps(item.nodeid))
                        return KILLED
                told.write_bytes(pickle.dumps((reached, time.process_time() - started)))
                return SURVIVED

            _, status = os.waitpid(_child(look), 0)
            found = pickle.loads(told.read_bytes())
        if status:
            raise RuntimeError(f"{found} fails without any mutant")
        self.said(f"{len(session.items)} tests, {found[1]:.0f} s")
        reached, seconds = found
        return reached, seconds

    def _judged(
        self,
        session: pytest.Session,
        mutant: Mutant,
        path: Path,
        reached: Sequence[Lines],
        live: Sequence[FunctionType],
        plain: dict[str, CodeType],
        cached: Cached,
        first: Sequence[int],
        told: Path,
        limit: float,
    ) -> int:
        if not _put_in(mutant, path, live, plain):
            return NOT_THERE
        _forget(cached)
        changed = sum(1 << line for line in mutant.lines)
        signal.setitimer(signal.ITIMER_PROF, limit)  # of its own time: others may be running
        signal.alarm(int(60 + 10 * limit))  # should it wait for something
        concerned = [at for at, lines in enumerate(reached) if lines.get(str(path), 0) & changed]
        sooner = [at for at in first if at in set(concerned)]
        order = [*sooner, *(at for at in concerned if at not in set(sooner))]
        items = [session.items[at] for at in order]
        for at, item, following in zip(order, items, [*items[1:], None], strict=False):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if session.testsfailed:
                told.write_text(str(at))
                return KILLED
        return NOT_THERE if self.imported[str(path)] & changed else SURVIVED


def _child(work: Callable[[], int]) -> int:
    """The number of a forked process that does the work in silence, and ends with its result."""
    child = os.fork()
    if child:
        return child
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    try:
        os._exit(work())
    except BaseException:  # noqa: BLE001  # whatever a mutant does, it was noticed
        os._exit(KILLED)


Lines = dict[str, int]
"""Lines of files: for each a number whose bit 7 stands for line 7, and so on."""


def _lines_of(item: pytest.Item, paths: Collection[str]) -> Lines:
    """Run a test, fixtures and all, and see to which lines of some modules it comes."""
    lines = _seen(paths)
    try:
        # With no next item, fixtures that tests share are made anew for each.
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
    finally:
        sys.settrace(None)
    return lines


def _seen(paths: Collection[str]) -> Lines:
    """Begin to note to which lines of some modules the program comes."""
    lines: Lines = dict.fromkeys(paths, 0)

    def look(frame: FrameType, event: str, _: object) -> Any:
        path = frame.f_code.co_filename
        if path not in lines:
            return None
        if event == "line":
            lines[path] |= 1 << frame.f_lineno
        return look

    sys.settrace(look)
    return lines


def _plain(path: Path) -> str:
    """The module's own source, without comments, as a mutant's is."""
    return ast.unparse(ast.parse(path.read_text(encoding="utf-8")))


def _codes(path: Path, source: str) -> dict[str, CodeType]:
    """The code of every function of a module, also of those inside classes, by its name."""
    found: dict[str, CodeType] = {}

    def walk(code: CodeType) -> None:
        for const in code.co_consts:
            if isinstance(const, CodeType):
                found[const.co_qualname] = const
                walk(const)

    walk(compile(source, str(path), "exec", dont_inherit=True))
    return found


def _live(path: Path) -> list[FunctionType]:
    """The functions of a module that are there, wherever they are held."""
    there = (each for each in gc.get_objects() if isinstance(each, FunctionType))
    return [each for each in there if each.__code__.co_filename == str(path)]


def _put_in(
    mutant: Mutant, path: Path, live: Sequence[FunctionType], plain: dict[str, CodeType]
) -> bool:
    """Put a mutant's code into the functions that are there; whether that changed any."""
    codes = _codes(path, mutant.source)
    changed = {name for name, code in codes.items() if plain.get(name) != code}
    put = False
    for function in live:
        name = function.__code__.co_qualname
        if name in changed:
            function.__code__ = codes[name]
            put = True
    return put


Cached = Sequence["functools._lru_cache_wrapper[Any]"]
"""Functions that keep their answers."""


def _cached(judged: Sequence[tuple[str, Mutant]]) -> Cached:
    """All functions of the package that is judged that keep their answers."""
    packages = {module.removesuffix(".py").split("/")[0] for module, _ in judged}
    cached = (each for each in gc.get_objects() if isinstance(each, functools._lru_cache_wrapper))
    return [each for each in cached if each.__module__.split(".")[0] in packages]


def _forget(cached: Cached) -> None:
    for each in cached:
        each.cache_clear()
