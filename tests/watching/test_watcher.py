"""A saved workbook is priced once, whole, and never while another program has it open.

Programs save in ways of their own. Excel writes a new file and renames it over the old one, which
it renames away first, and keeps `~$NAME` beside it while it is open; LibreOffice keeps
`.~lock.NAME#` and writes in place or renames; others write in place, bit by bit.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from costbook.watching import held, watcher
from costbook.watching.held import beside, held_by, whole
from costbook.watching.pricing import Priced
from costbook.watching.watcher import Watcher
from tests.helpers import make_book, read_back
from tests.tables import sheets
from tests.writing.test_ladder import BOOK


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(held, "_SETTLED", 0.01)


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return make_book(tmp_path / "stall.xlsx", sheets(BOOK))


def flour(path: Path, price: float) -> bytes:
    """The workbook as a program holds it after another price was typed."""
    book = openpyxl.load_workbook(path)
    book["Purchases"]["E2"] = price
    book.save(path.with_suffix(".typed"))
    return path.with_suffix(".typed").read_bytes()


def charged(path: Path) -> Any:
    """The price to charge for a flatbread at the market."""
    glance = read_back(path, data_only=True)["Prices"]
    rows = list(glance.iter_rows(values_only=True))
    first = next(at for at, row in enumerate(rows) if row[:2] == ("Product", "CHARGE"))
    return rows[first + 1][1]


def look(watcher: Watcher, *changed: Path) -> list[str]:
    return [run.in_words for run in watcher.look(changed)]


def as_excel_saves(path: Path, content: bytes) -> list[Path]:
    new, old = path.with_name("A1B2C300"), path.with_name("D4E5F600.tmp")
    new.write_bytes(content)
    path.rename(old)
    new.rename(path)
    old.unlink()
    return [new, old, path]


def as_libreoffice_saves(path: Path, content: bytes) -> list[Path]:
    new = path.with_name("lu123abc.tmp")
    new.write_bytes(content)
    new.replace(path)
    return [new, path]


def in_place(path: Path, content: bytes) -> list[Path]:
    path.write_bytes(content)
    return [path]


PRICED = "stall.xlsx: priced, in stall.xlsx. 0 wrong, 0 to check."


@pytest.mark.parametrize("save", [as_excel_saves, as_libreoffice_saves, in_place])
def test_what_any_program_saved_is_priced_once(
    stall: Path, save: Callable[[Path, bytes], list[Path]]
) -> None:
    """10 of 5 kg at 2.00 cost 1.00 each, 2.00 at a half; at 3.00 they cost 1.50, so 3.00."""
    seen = Watcher(stall.parent)
    assert look(seen, stall) == [PRICED]
    assert charged(stall) == 2
    assert look(seen, stall, stall.with_name("stall.xlsx.new")) == []  # our own writing
    changed = save(stall, flour(stall, 3))
    assert look(seen, *changed) == [PRICED]
    assert charged(stall) == 3
    assert look(seen, *changed) == []
    assert look(seen) == []


@pytest.mark.parametrize(
    ("lock", "program"), [("~$stall.xlsx", "Excel"), (".~lock.stall.xlsx#", "LibreOffice")]
)
def test_what_is_open_is_priced_beside_and_into_once_it_is_closed(
    stall: Path, lock: str, program: str
) -> None:
    seen = Watcher(stall.parent)
    held_file = stall.with_name(lock)
    held_file.write_bytes(b"somebody")
    typed = stall.read_bytes()
    copy = stall.with_name("stall - priced while open.xlsx")
    said = (
        f"stall.xlsx is open in {program}, so its prices stand beside it for now, in "
        f"{copy.name}. 0 wrong, 0 to check."
    )
    assert look(seen, held_file) == []  # opened, and not saved
    assert look(seen, stall) == [said]
    assert stall.read_bytes() == typed
    assert charged(copy) == 2
    assert look(seen, copy) == look(seen) == []  # neither again, nor the copy for itself
    stall.write_bytes(flour(stall, 3))  # saved again, and still open
    assert look(seen, stall) == [said]
    assert charged(copy) == 3
    held_file.unlink()
    assert look(seen, held_file) == [PRICED]
    assert charged(stall) == 3
    assert look(seen, stall, copy) == []
    left = {path.name for path in stall.parent.iterdir() if path.suffix != ".typed"}
    assert left == {"stall.xlsx", "stall backups"}  # nothing of the copy, nor of one before it


def test_a_copy_that_somebody_changed_stays(stall: Path) -> None:
    seen, lock = Watcher(stall), stall.with_name("~$stall.xlsx")
    lock.touch()
    look(seen, stall)
    mine = flour(beside(stall), 9)
    beside(stall).write_bytes(mine)
    lock.unlink()
    assert look(seen, lock) == [PRICED]
    assert beside(stall).read_bytes() == mine


def test_a_half_saved_file_waits_until_it_is_whole(stall: Path) -> None:
    content = stall.read_bytes()
    seen = Watcher(stall)
    stall.write_bytes(content[: len(content) // 2])
    assert look(seen, stall) == []
    assert look(seen) == []
    stall.write_bytes(content)
    assert look(seen) == [PRICED]


def test_a_file_that_grows_is_not_whole(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def meanwhile(_seconds: float) -> None:
        with stall.open("ab") as file:
            file.write(b"more")

    monkeypatch.setattr("costbook.watching.held.time.sleep", meanwhile)
    assert whole(stall) is None


def test_what_never_becomes_a_workbook_is_said_once_and_the_next_save_goes_on(
    stall: Path,
) -> None:
    content = stall.read_bytes()
    seen = Watcher(stall.parent)
    stall.write_bytes(b"no workbook at all")
    said = [line for _ in range(watcher._PATIENCE + 3) for line in look(seen, stall)]
    assert len(said) == 1
    assert said[0].startswith("stall.xlsx: ")
    stall.write_bytes(content)
    assert look(seen, stall) == [PRICED]


def test_an_error_nobody_foresaw_is_said_and_ends_nothing(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    seen = Watcher(stall)
    with monkeypatch.context() as patch:
        patch.setattr("costbook.watching.pricing.write", fails)
        [said] = look(seen, stall)
        assert said == (
            "stall.xlsx: costbook met something that nobody foresaw (ZeroDivisionError). "
            "Nothing was half written."
        )
    stall.write_bytes(flour(stall, 3))
    assert look(seen, stall) == [PRICED]


def test_what_is_no_workbook_of_the_persons_is_left_alone(stall: Path) -> None:
    seen = Watcher(stall.parent)
    names = ("notes.txt", ".hidden.xlsx", "~$other.xlsx", "other - priced while open.xlsx")
    for name in names:
        shutil.copy(stall, stall.with_name(name))
    assert look(seen, *(stall.with_name(name) for name in names)) == []
    alone = Watcher(stall)
    shutil.copy(stall, stall.with_name("another.xlsx"))
    assert look(alone, stall.with_name("another.xlsx")) == []
    assert look(seen, stall.with_name("another.xlsx")) != []


def test_one_that_was_taken_away_is_forgotten(stall: Path) -> None:
    seen = Watcher(stall)
    stall.unlink()
    assert look(seen, stall) == look(seen) == []


def test_what_windows_does_not_share_is_held(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def not_shared(*_: object, **__: object) -> None:
        error = PermissionError("used by another process")
        error.winerror = 32  # type: ignore[attr-defined]
        raise error

    assert held_by(stall) == ""
    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", not_shared)
        assert held_by(stall) == "another program"
    stall.chmod(0o444)  # read-only is not held: what is wrong is said when it is written
    assert held_by(stall) == ""


def test_a_run_in_data(stall: Path) -> None:
    lost = Priced(stall, refused="It can't be read.")
    assert (lost.status, lost.as_data()["refused"]) == (2, "It can't be read.")
    fine = Priced(stall, stall)
    assert (fine.status, fine.as_data()["written"], fine.as_data()["wrong"]) == (0, str(stall), 0)
