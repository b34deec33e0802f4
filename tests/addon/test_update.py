"""Update costs in an open document: what `cost` writes into the file, one step of Undo."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice, zip_longest
from math import isclose
from pathlib import Path
from typing import Any

import pytest

from costbook.addon.office.formulas import same_formula
from tests.addon.office import AddonOffice, Opened
from tests.helpers import run
from tests.judges import address

pytestmark = pytest.mark.libreoffice


@contextmanager
def opened(office: AddonOffice, path: Path | str | None) -> Iterator[Opened]:
    document = office.document(path)
    try:
        yield document
    finally:
        document.close()


def differing(one: dict[str, Any], other: dict[str, Any]) -> list[str]:
    """Each thing in which two documents aren't the same, as text; the first twenty."""
    if list(one) != list(other):
        return [f"sheets {list(one)}, not {list(other)}"]
    return list(islice(_differing(one, other), 20))


def same_value(one: object, other: object) -> bool:
    """Sums in another order differ in their last digit."""
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-12, abs_tol=1e-12)
    return one == other


DIFFERS = "Memory"
"""It holds by what the file that was costed is known again; an open document is no file."""


def _differing(one: dict[str, Any], other: dict[str, Any]) -> Iterator[str]:
    for sheet, told in one.items():
        if sheet == DIFFERS and other[sheet]["visible"] == told["visible"]:
            continue
        for what, lines in told.items():
            if isinstance(lines, bool) or what == "errors":
                if lines != other[sheet][what]:
                    yield f"{sheet} {what}: {lines}, not {other[sheet][what]}"
                continue
            for row, (line, theirs) in enumerate(zip_longest(lines, other[sheet][what])):
                for column, (cell, their) in enumerate(zip_longest(line or [], theirs or [])):
                    same = same_formula if what == "formulas" else same_value
                    if not same(cell, their):
                        place = f"{sheet}!{address(row + 1, column + 1)}"
                        yield f"{place} {what}: {cell!r}, not {their!r}"


@pytest.mark.long
def test_the_document_looks_as_what_cost_writes_into_the_file(
    office: AddonOffice, samples: Path, tmp_path: Path
) -> None:
    path = shutil.copy(samples / "starter.xlsx", tmp_path / "starter.xlsx")
    with opened(office, path) as document:
        document.choose("update")
        drawn = document.ask("looks")
    assert run("cost", path)[0] == 0
    with opened(office, path) as document:
        written = document.ask("looks")
    differ = [
        f"{sheet} {what}: {drawn[sheet][what]} not {lines}"
        for sheet, told in written.items()
        for what, lines in told.items()
        if what != "cells" and drawn[sheet][what] != lines
    ]
    differ += [
        f"{sheet} {cell}: {drawn[sheet]['cells'].get(cell)} not {look}"
        for sheet, told in written.items()
        for cell, look in told["cells"].items()
        if drawn[sheet]["cells"].get(cell) != look
    ]
    assert differ[:20] == []


@pytest.mark.long
@pytest.mark.parametrize("sample", ["starter", "market_stall"])
def test_the_document_holds_what_cost_writes_into_the_file(
    office: AddonOffice, samples: Path, tmp_path: Path, sample: str
) -> None:
    path = shutil.copy(samples / f"{sample}.xlsx", tmp_path / f"{sample}.xlsx")
    with opened(office, path) as document:
        before = document.contents()
        document.choose("update")
        drawn = document.contents()
        assert document.undo_steps == ["Update costs"]
        document.ask("undo")
        assert differing(document.contents(), before) == []
        document.ask("redo")
        assert differing(document.contents(), drawn) == []
        document.choose("update")
        assert document.undo_steps == ["Update costs"]  # nothing differs, nothing is done
    assert run("cost", path)[0] in (0, 1)
    with opened(office, path) as document:
        written = document.contents()
    assert differing(drawn, written) == []
