"""Fixtures for the judges, and what a run without them says."""

from __future__ import annotations

import gc
import os
import signal
from collections.abc import Iterator
from contextlib import ExitStack
from typing import NoReturn

import pytest

from tests.judges import CannotJudge, Judge
from tests.judges.ironcalc_judge import IronCalc
from tests.judges.libreoffice import LibreOffice
from tests.left_out import LeftOut

REQUIRE = "COSTBOOK_REQUIRE_LIBREOFFICE"


def pytest_configure(config: pytest.Config) -> None:
    """Say at the end what was not tested, also when pytest is started by itself."""
    manager = config.pluginmanager
    if not any(isinstance(plugin, LeftOut) for plugin in manager.get_plugins()):
        manager.register(LeftOut())


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long ones first, so that none is left to run alone when the others are done."""
    items.sort(key=lambda item: item.get_closest_marker("long") is None)


def pytest_collection_finish() -> None:
    """Nine thousand tests and their libraries stay to the end: let Python not look there for waste.

    It would each time that a test has made enough, which takes a fifth of all that tests take.
    """
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session")
def libreoffice() -> Iterator[LibreOffice]:
    """A LibreOffice for the whole run; where it is missing the test is skipped, and it is said.

    With COSTBOOK_REQUIRE_LIBREOFFICE=1 the test fails instead, for machines that must have it.
    """
    with ExitStack() as stack:
        try:
            office = stack.enter_context(LibreOffice())
        except CannotJudge as problem:
            without(str(problem))
        yield office


def without(reason: str) -> NoReturn:
    """Skip the test for a reason, or fail it where LibreOffice is required."""
    if os.environ.get(REQUIRE) == "1":
        pytest.fail(f"{reason} ({REQUIRE}=1 asks for it)", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def ironcalc() -> Iterator[IronCalc]:
    """ironcalc for the whole run, or a skip that says how to get it."""
    with ExitStack() as stack:
        try:
            judge = stack.enter_context(IronCalc())
        except CannotJudge as problem:
            pytest.skip(str(problem))
        yield judge


@pytest.fixture(params=[pytest.param("libreoffice", marks=pytest.mark.libreoffice), "ironcalc"])
def judge(request: pytest.FixtureRequest) -> Judge:
    """Each judge in turn."""
    found: Judge = request.getfixturevalue(request.param)
    return found


@pytest.fixture
def hears_ctrl_c() -> Iterator[None]:
    """Programs that the test starts hear Ctrl-C, also where the run was started to ignore it.

    A shell starts what runs in the background so, and it is handed on from program to program.
    """
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)
