"""A LibreOffice with the add-on, for the whole run."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from costbook.addon.building import extension
from tests.addon.office import AddonOffice
from tests.conftest import without
from tests.judges import CannotJudge
from tests.test_house import HOUSE


def script(path: Path, does: str) -> Path:
    """A program of one line."""
    path.write_text(f"#!/bin/sh\n{does}\n", encoding="utf-8")
    path.chmod(0o755)
    return path


@pytest.fixture(scope="session")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[AddonOffice]:
    """Installed as a person's would be, for the Python that runs the tests."""
    file = tmp_path_factory.mktemp("addon") / "costbook.oxt"
    place = tmp_path_factory.mktemp("place")
    (place / "costbook").symlink_to(HOUSE / "costbook", target_is_directory=True)
    python = script(place / "python", f'exec "{sys.executable}" "$@"')
    file.write_bytes(extension(str(python), str(place)))
    with ExitStack() as stack:
        try:
            started = stack.enter_context(AddonOffice())
        except CannotJudge as problem:
            without(str(problem))
        started.install(file)
        started.python = python
        yield started


@pytest.fixture
def python(office: AddonOffice) -> Iterator[Path]:
    """The Python of costbook, for one test to take away or to write anew."""
    kept = office.python.read_text(encoding="utf-8")
    yield office.python
    script(office.python, kept.splitlines()[1])
    office.ask("close_windows")


@pytest.fixture(scope="session")
def samples(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Copies of the sample workbooks: an office locks what it has open."""
    there = tmp_path_factory.mktemp("samples") / "sample_workbooks"
    shutil.copytree(HOUSE / "sample_workbooks", there)
    return there
