"""Where the workbook can't be written: one sentence, exit status 2, and nothing lost."""

from __future__ import annotations

import errno
import json
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from costbook.costing.engine import Costing
from costbook.keeping.alone import alone
from costbook.package.graft import graft
from costbook.package.workbook_file import WorkbookFile
from costbook.writing.sheets import describe, drawn
from tests.helpers import run
from tests.package.making import refused_files
from tests.write_back.books import ON, small, with_small


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return small(tmp_path_factory.mktemp("made") / "stall.xlsx").read_bytes()


@pytest.fixture(scope="module", autouse=True)
def drawn_once() -> Iterator[None]:
    """Sheets that were drawn for one test serve the others, since drawing takes longest."""
    seen: dict[str, Any] = {}

    def described(costing: Costing, _: object, tabs: object, *more: object) -> list[Any]:
        key = repr((costing.structure.costed_on, tabs, more))
        if key not in seen:
            seen[key] = describe(costing, (), tabs, *more)  # type: ignore[arg-type]  # as it came
        found: list[Any] = seen[key]
        return found

    def drawn_again(costing: Costing, sheets: list[Any]) -> bytes:
        key = str(id(sheets))
        if key not in seen:
            seen[key] = drawn(costing, sheets)
        found: bytes = seen[key]
        return found

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("costbook.write_back.describe", described)
        patch.setattr("costbook.write_back.drawn", drawn_again)
        yield


@pytest.fixture
def stall(made: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    path = tmp_path / "market" / "stall.xlsx"
    path.parent.mkdir()
    path.write_bytes(made)
    return path


def files(folder: Path) -> dict[str, bytes]:
    """All files below a folder."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def refusal(book: Path, *more: object) -> tuple[str, str]:
    """What is said on standard error, which must be what JSON says too."""
    before = files(book.parent)
    code, out, err = run("cost", book, "--json", *ON, *more)
    said: dict[str, Any] = json.loads(out)
    assert (code, set(said), said["book"]) == (2, {"book", "refused", "remedy"}, str(book))
    assert err == f"costbook: {said['refused']} {said['remedy']}\n"
    assert files(book.parent) == before
    return said["refused"], said["remedy"]


@pytest.mark.parametrize(
    ("lock", "program"), [("~$stall.xlsx", "Excel"), (".~lock.stall.xlsx#", "LibreOffice")]
)
def test_open_in_another_program(stall: Path, lock: str, program: str) -> None:
    (stall.parent / lock).write_bytes(b"")
    assert refusal(stall) == (
        f"stall.xlsx is open in {program}, which would write over what costbook writes.",
        (
            f"Save and close it there, then run costbook again. If it is open nowhere, delete the "
            f"file {lock} beside it, which {program} left behind."
        ),
    )


def test_an_output_that_is_open_in_another_program(stall: Path) -> None:
    other = stall.with_name("priced.xlsx")
    sentence = "priced.xlsx is open in Excel, which would write over what costbook writes."
    lock = stall.with_name("~$priced.xlsx")
    lock.write_bytes(b"")
    assert refusal(stall, "--output", other)[0] == sentence
    lock.unlink()
    assert run("cost", stall, *ON, "--output", other)[0] == 0
    lock.write_bytes(b"")
    assert refusal(stall, "--on", "2026-12-01", "--output", other)[0] == sentence


def test_changed_while_it_was_being_costed(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    theirs = stall.read_bytes() + b"\0"

    def meanwhile(*given: Any, **how: Any) -> WorkbookFile:
        stall.write_bytes(theirs)
        return graft(*given, **how)

    monkeypatch.setattr("costbook.write_back.graft", meanwhile)
    code, out, err = run("cost", stall, *ON)
    assert (code, out) == (2, "")
    assert err == (
        "costbook: stall.xlsx was changed by another program while costbook was working on it. "
        "Nothing was written. Run costbook again, so that it costs what is there now.\n"
    )
    assert files(stall.parent) == {"stall.xlsx": theirs}


def test_two_runs_at_once(stall: Path) -> None:
    with alone(stall.resolve()):
        assert refusal(stall) == (
            "Another run of costbook is writing stall.xlsx.",
            "Wait until it has finished, then run this one again.",
        )
    assert run("cost", stall, *ON)[0] == 0


def test_a_read_only_file(stall: Path) -> None:
    stall.chmod(0o444)
    assert refusal(stall) == (
        "stall.xlsx is read-only.",
        "Take that off in the file's properties, or name another file with --output.",
    )


def failing(number: int) -> Callable[..., Any]:
    def fail(*given: object, **more: object) -> None:
        raise OSError(number, os.strerror(number))

    return fail


def test_a_read_only_folder(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "mkdir", failing(errno.EACCES))
    assert refusal(stall) == (
        (
            f"costbook may not write in the folder {stall.parent}, or stall.xlsx is open in "
            "another program."
        ),
        (
            "Close it there; or copy the workbook to a folder of your own, or name another file "
            "with --output; nothing was changed."
        ),
    )


def test_a_full_disk(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", failing(errno.ENOSPC))
    assert refusal(stall) == (
        "There is no room left on the disk.",
        "Free some, then run costbook again; nothing was changed.",
    )


def test_a_workbook_that_would_not_be_sound(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        "costbook.write_back.graft", lambda theirs, *_, **how: WorkbookFile(theirs.content[:-30])
    )
    assert refusal(stall) == (
        (
            "The new workbook would not be sound (The workbook is damaged or is no .xlsx file.), "
            "so nothing was written."
        ),
        "Save your workbook once in your spreadsheet program and try again.",
    )


# ---------------------------------------------------------------- backups and outputs


def test_the_backup_is_named_and_the_last_ten_are_kept(stall: Path) -> None:
    before = stall.read_bytes()
    backups = stall.parent / "stall backups"
    backups.mkdir()
    for day in range(1, 12):
        (backups / f"stall (before 2026-01-{day:02} 1).xlsx").write_bytes(b"an earlier one")
    code, out, _ = run("cost", stall, *ON)
    assert code == 0
    kept = sorted(backups.iterdir())
    assert len(kept) == 10
    assert kept[0].name == "stall (before 2026-01-03 1).xlsx"
    assert f"Your workbook as it was: {kept[-1]}\n" in out
    assert kept[-1].read_bytes() == before


def test_output_to_the_workbook_itself_is_as_without_it(stall: Path) -> None:
    other = stall.with_name("copy.xlsx")
    other.write_bytes(stall.read_bytes())
    assert run("cost", stall, *ON, "--output", stall)[0] == 0
    assert run("cost", other, *ON)[0] == 0
    assert len(list((stall.parent / "stall backups").iterdir())) == 1
    sheets = [name for name in files(stall.parent) if name.endswith(".xlsx")]
    assert sorted(name.split("/")[0] for name in sheets) == [
        "copy backups",
        "copy.xlsx",
        "stall backups",
        "stall.xlsx",
    ]


def test_an_output_of_an_earlier_run_is_replaced_with_a_backup(stall: Path) -> None:
    other = stall.with_name("priced.xlsx")
    assert run("cost", stall, *ON, "--output", other)[0] == 0
    first = other.read_bytes()
    code, out, _ = run("cost", stall, *ON, "--output", other)
    assert (code, other.read_bytes(), " as it was: " in out) == (0, first, False)
    code, out, _ = run("cost", stall, "--on", "2026-12-01", "--output", other)
    backup = next((stall.parent / "priced backups").iterdir())
    assert (code, backup.read_bytes()) == (0, first)
    assert f"priced.xlsx as it was: {backup}\n" in out


def test_a_file_of_ones_own_is_no_output(stall: Path) -> None:
    own = stall.with_name("own.xlsx")
    own.write_bytes(stall.read_bytes())
    assert refusal(stall, "--output", own) == (
        "own.xlsx is already there, and costbook doesn't write over it.",
        "Give another name, or move that file away.",
    )
    own.write_text("a list, and no workbook")
    assert refusal(stall, "--output", own)[0] == (
        "own.xlsx is already there, and costbook doesn't write over it."
    )


# ---------------------------------------------------------------- files that only can be copied

WAY_OUT = {
    "open-xml-sdk__OLE-O12-XL-OLE": (
        "The workbook is saved as Strict Open XML, which costbook doesn't write into.",
        (
            "Save it as an ordinary Excel workbook (.xlsx) and use that, or let costbook write a "
            "workbook of its own, with copies of what you typed: costbook cost stall.xlsx --output "
            "NEW.xlsx."
        ),
    ),
    "poi__workbookProtection_workbook_revision_protected": (
        "The workbook is shared and tracks every change, so nothing can be added to it.",
        (
            "Stop sharing it (Review, Unshare Workbook), save it, and run costbook again, or let "
            "costbook write a workbook of its own, with copies of what you typed: costbook cost "
            "stall.xlsx --output NEW.xlsx."
        ),
    ),
}


@pytest.mark.parametrize("name", sorted(refused_files()))
def test_a_kind_that_only_can_be_copied_is_refused_with_the_way_out(stall: Path, name: str) -> None:
    stall.write_bytes(with_small(refused_files()[name]))
    assert refusal(stall) == WAY_OUT[name]
