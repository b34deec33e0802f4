"""The person's workbook survives whatever happens while it is replaced."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from costbook.keeping import alone as alone_module
from costbook.keeping import backups as backups_module
from costbook.keeping.alone import alone
from costbook.keeping.disk import unfinished
from costbook.keeping.replacing import (
    Fingerprint,
    create,
    fingerprint,
    fingerprint_of,
    replace_safely,
)
from costbook.problems import Refused

SHARED = tempfile.gettempdir()  # whose folders anybody may enter
TODAY = date(2026, 11, 25)
OLD, NEW = b"the old workbook" * 700, b"the new workbook, longer" * 900
# Every step by which the module touches the disk.
STEPS = ("open", "write", "fsync", "close", "link", "replace", "mkdir", "unlink", "chmod", "utime")
unix = pytest.mark.skipif(sys.platform == "win32", reason="forks, and rights as Unix has them")


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    path = tmp_path / "market" / "stall.xlsx"
    path.parent.mkdir()
    path.write_bytes(OLD)
    return path


@pytest.fixture(autouse=True)
def locks(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """The locks' files in a folder of the tests' own."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path_factory.mktemp("locks")))


def run(path: Path, new: bytes = NEW) -> Path | None:
    return replace_safely(path, new, fingerprint(path), TODAY)


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def refusal(path: Path, new: bytes = NEW, read_as: Fingerprint | None = None) -> str:
    with pytest.raises(Refused) as refused:
        replace_safely(path, new, read_as or fingerprint_of(OLD), TODAY)
    return str(refused.value)


def test_the_new_workbook_takes_the_place_and_the_old_one_is_kept(stall: Path) -> None:
    backup = run(stall)
    assert stall.read_bytes() == NEW
    assert backup == stall.parent / "stall backups" / "stall (before 2026-11-25 1).xlsx"
    assert backup.read_bytes() == OLD
    assert names(stall.parent) == ["stall backups", "stall.xlsx"]
    assert names(backup.parent) == [backup.name]


def test_a_run_that_changes_nothing_writes_nothing(stall: Path) -> None:
    before = stall.stat()
    assert run(stall, OLD) is None
    assert names(stall.parent) == ["stall.xlsx"]
    assert stall.stat() == before


def test_the_backup_keeps_the_date_of_the_workbook(stall: Path) -> None:
    os.utime(stall, (1_700_000_000, 1_700_000_000))
    backup = run(stall)
    assert backup is not None
    assert backup.stat().st_mtime == 1_700_000_000
    assert stall.stat().st_mtime > 1_700_000_000


@unix
@pytest.mark.parametrize("rights", [0o600, 0o640, 0o664, 0o755])
def test_rights_are_kept(stall: Path, rights: int) -> None:
    stall.chmod(rights)
    backup = run(stall)
    assert backup is not None
    assert stall.stat().st_mode & 0o777 == rights
    assert backup.stat().st_mode & 0o777 == rights


@unix
def test_a_link_stays_a_link_and_what_it_leads_to_is_replaced(stall: Path, tmp_path: Path) -> None:
    link = tmp_path / "today.xlsx"
    link.symlink_to(stall)
    run(link)
    assert link.is_symlink()
    assert stall.read_bytes() == NEW


def test_the_last_ten_backups_are_kept_and_none_is_written_over(stall: Path) -> None:
    for number in range(13):
        run(stall, b"run %d" % number)
    kept = names(stall.parent / "stall backups")
    assert kept == sorted(f"stall (before 2026-11-25 {number}).xlsx" for number in range(4, 14))
    last = stall.parent / "stall backups" / "stall (before 2026-11-25 13).xlsx"
    assert last.read_bytes() == b"run 11"


def test_backups_are_counted_by_day_and_others_files_are_let_be(stall: Path) -> None:
    folder = stall.parent / "stall backups"
    folder.mkdir()
    for day in range(10, 22):
        (folder / f"stall (before 2026-11-{day} 1).xlsx").write_bytes(b"old")
    (folder / "stall (before the fair).xlsx").write_bytes(b"mine")
    (folder / "cafe (before 2026-01-01 1).xlsx").write_bytes(b"another workbook's")
    run(stall)
    assert names(folder) == sorted(
        [
            "cafe (before 2026-01-01 1).xlsx",
            "stall (before the fair).xlsx",
            "stall (before 2026-11-25 1).xlsx",
            *(f"stall (before 2026-11-{day} 1).xlsx" for day in range(13, 22)),
        ]
    )


@pytest.mark.parametrize(
    ("lock", "program"), [("~$stall.xlsx", "Excel"), (".~lock.stall.xlsx#", "LibreOffice")]
)
def test_open_in_another_program(stall: Path, lock: str, program: str) -> None:
    (stall.parent / lock).touch()
    assert refusal(stall) == (
        f"stall.xlsx is open in {program}, which would write over what costbook writes. Save and"
        f" close it there, then run costbook again. If it is open nowhere, delete the file {lock}"
        f" beside it, which {program} left behind."
    )
    assert stall.read_bytes() == OLD
    assert names(stall.parent) == sorted([lock, "stall.xlsx"])


CHANGED = (
    "stall.xlsx was changed by another program while costbook was working on it. Nothing was"
    " written. Run costbook again, so that it costs what is there now."
)


def test_changed_since_it_was_read(stall: Path) -> None:
    read_as = fingerprint(stall)
    stall.write_bytes(b"saved in Excel meanwhile")
    assert refusal(stall, read_as=read_as) == CHANGED
    assert stall.read_bytes() == b"saved in Excel meanwhile"
    assert names(stall.parent) == ["stall.xlsx"]


def test_changed_while_the_new_file_was_being_written(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def changing(source: Path, path: Path) -> None:
        stall.write_bytes(b"saved in Excel just now")

    monkeypatch.setattr("costbook.keeping.replacing.take_over_rights", changing)
    assert refusal(stall) == CHANGED
    assert stall.read_bytes() == b"saved in Excel just now"
    (backup,) = (stall.parent / "stall backups").iterdir()
    assert backup.read_bytes() == OLD  # the only copy of it now
    assert names(stall.parent) == ["stall backups", "stall.xlsx"]


def test_gone_since_it_was_read(stall: Path) -> None:
    stall.unlink()
    assert refusal(stall) == (f"There is no file stall.xlsx in {stall.parent}. Check the name.")


def test_a_folder_is_no_workbook(stall: Path) -> None:
    assert refusal(stall.parent).startswith("market can't be read: ")


@unix
def test_read_only_by_its_rights(stall: Path) -> None:
    stall.chmod(0o444)
    assert refusal(stall) == (
        "stall.xlsx is read-only. Take that off in the file's properties, or name another file"
        " with --output."
    )
    assert names(stall.parent) == ["stall.xlsx"]


def failing(monkeypatch: pytest.MonkeyPatch, step: str, number: int, when: int = 1) -> None:
    """Let a step of the system fail with this error, from its `when`-th call on."""
    real, calls = getattr(os, step), iter(range(1, 10_000))

    def fail(*arguments: Any, **more: Any) -> Any:
        if next(calls) >= when:
            raise OSError(number, os.strerror(number), str(arguments[0]))
        return real(*arguments, **more)

    monkeypatch.setattr(os, step, fail)


@pytest.mark.parametrize(("step", "when"), [("write", 1), ("write", 2), ("fsync", 1), ("mkdir", 1)])
def test_a_full_disk(stall: Path, monkeypatch: pytest.MonkeyPatch, step: str, when: int) -> None:
    failing(monkeypatch, step, errno.ENOSPC, when)
    assert refusal(stall) == (
        "There is no room left on the disk. Free some, then run costbook again; nothing was"
        " changed."
    )
    assert stall.read_bytes() == OLD
    assert names(stall.parent) == ["stall.xlsx"]


def test_a_full_disk_leaves_the_folder_of_earlier_backups(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    earlier = stall.parent / "stall backups" / "stall (before 2026-11-24 1).xlsx"
    earlier.parent.mkdir()
    earlier.write_bytes(b"older")
    failing(monkeypatch, "fsync", errno.ENOSPC)
    assert "no room left" in refusal(stall)
    assert names(earlier.parent) == [earlier.name]


def test_tidying_that_fails_after_the_move_is_no_failure(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_target: Path) -> list[Any]:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    real = backups_module._kept
    calls = iter((real, fail))  # once to count the backups there, once to forget the oldest

    def kept(target: Path) -> list[Any]:
        return next(calls)(target)

    monkeypatch.setattr(backups_module, "_kept", kept)
    backup = run(stall)
    assert backup is not None
    assert (stall.read_bytes(), backup.read_bytes()) == (NEW, OLD)


@pytest.mark.parametrize("number", [errno.EACCES, errno.EPERM, errno.EROFS])
def test_a_folder_that_may_not_be_written_in(
    stall: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    failing(monkeypatch, "mkdir", number)
    assert refusal(stall) == (
        f"costbook may not write in the folder {stall.parent}, or stall.xlsx is open in another"
        " program. Close it there; or copy the workbook to a folder of your own, or name another"
        " file with --output; nothing was changed."
    )
    assert names(stall.parent) == ["stall.xlsx"]


@contextlib.contextmanager
def as_somebody() -> Iterator[None]:
    """As a person without special rights, since nothing stops the machine's owner."""
    if os.geteuid() == 0:
        os.seteuid(65534)
        try:
            yield
        finally:
            os.seteuid(0)
    else:
        yield


@unix
def test_a_folder_really_read_only() -> None:
    with tempfile.TemporaryDirectory(dir=SHARED) as place:
        folder = Path(place)
        stall = folder / "stall.xlsx"
        stall.write_bytes(OLD)
        folder.chmod(0o555)
        with as_somebody():
            told = refusal(stall)
        folder.chmod(0o755)
        assert told.startswith(f"costbook may not write in the folder {folder.resolve()}, or ")
        assert names(folder) == ["stall.xlsx"]


@unix
def test_a_folder_for_backups_that_belongs_to_somebody_else() -> None:
    with tempfile.TemporaryDirectory(dir=SHARED) as place:
        folder = Path(place).resolve()
        stall, backups = folder / "stall.xlsx", folder / "stall backups"
        stall.write_bytes(OLD)
        backups.mkdir()
        for each, rights in ((folder, 0o777), (stall, 0o666), (backups, 0o555)):
            each.chmod(rights)
        with as_somebody():
            told = refusal(stall)
        assert told == (
            f"costbook may not write in the folder {backups}, where the copy of your workbook as "
            "it was belongs. Give that folder another name, so that a new one is made, or get the "
            "right to write in it; nothing was changed."
        )
        assert (stall.read_bytes(), names(folder)) == (OLD, ["stall backups", "stall.xlsx"])


LONG = "Grandmother's rolls at the market, " * 9  # 315 letters


@pytest.mark.parametrize("letters", [200, 205, 230, 250])
def test_long_names_have_backups_too(tmp_path: Path, letters: int) -> None:
    """255 bytes is what disks take; a date is added to the backup's name."""
    stall = tmp_path / f"{LONG[:letters]}.xlsx"
    stall.write_bytes(OLD)
    first, second = run(stall), run(stall, b"newer")
    assert first is not None
    assert second is not None
    assert (stall.read_bytes(), first.read_bytes(), second.read_bytes()) == (b"newer", OLD, NEW)
    assert first.parent == second.parent
    assert (" (before 2026-11-25 1)" in first.name, " (before 2026-11-25 2)" in second.name) == (
        True,
        True,
    )
    assert names(first.parent) == [first.name, second.name]


def test_long_names_that_begin_alike_have_backups_of_their_own(tmp_path: Path) -> None:
    places = set()
    for end in ("one", "two"):
        stall = tmp_path / f"{LONG[:245]}{end}.xlsx"
        stall.write_bytes(OLD)
        backup = run(stall)
        assert backup is not None
        places.add(backup.parent)
    assert len(places) == 2


def test_letters_of_several_bytes_are_not_cut_in_two(tmp_path: Path) -> None:
    stall = tmp_path / f"{'é' * 124}.xlsx"  # 253 bytes
    stall.write_bytes(OLD)
    backup = run(stall)
    assert backup is not None
    assert re.fullmatch(r"é+~[0-9a-f]{8} \(before 2026-11-25 1\)\.xlsx", backup.name)


def test_what_a_killed_run_left_of_a_long_name_is_cleared(tmp_path: Path) -> None:
    stall = tmp_path / f"{LONG[:250]}.xlsx"
    stall.write_bytes(OLD)
    with Steps(4, interrupt, "before").watching(), pytest.raises(KeyboardInterrupt):
        run(stall)
    with unfinished(stall, b"half") as left:
        kept = left.read_bytes()
        name = left.name
    (tmp_path / name).write_bytes(kept)
    run(stall)
    assert len(names(tmp_path)) == 2


def test_a_name_that_the_disk_does_not_take(tmp_path: Path) -> None:
    name = f"{LONG[:300]}.xlsx"
    assert created(tmp_path / name) == (
        f"The name {name} is too long for this disk. Give the workbook a shorter one, then run "
        "costbook again; nothing was changed."
    )
    assert names(tmp_path) == []


def test_a_move_that_is_refused_leaves_all_as_it_was(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    failing(monkeypatch, "replace", errno.EACCES)
    assert "or stall.xlsx is open in another program" in refusal(stall)
    assert stall.read_bytes() == OLD
    assert names(stall.parent) == ["stall.xlsx"]


def test_what_cannot_be_read_is_not_written_over(stall: Path) -> None:
    stall.unlink()
    stall.mkdir()
    assert refusal(stall) == (
        "stall.xlsx can't be read: Is a directory. If it is open in another program, close it "
        "there and run costbook again."
    )
    assert stall.is_dir()


def test_a_disk_that_gives_back_other_bytes(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, bytes(len(data))))
    assert refusal(stall) == (
        "stall.xlsx couldn't be written: the disk gave back other bytes than it was given. Run"
        " again; nothing was changed."
    )
    assert stall.read_bytes() == OLD


def test_something_else_under_the_backups_name(stall: Path) -> None:
    (stall.parent / "stall backups").write_bytes(b"a file")
    assert refusal(stall) == (
        "stall backups is already there, and costbook doesn't write over it. Give another name, or"
        " move that file away."
    )
    assert stall.read_bytes() == OLD


def test_a_second_run_meanwhile_is_told_to_wait(stall: Path) -> None:
    with alone(stall.resolve()):
        assert refusal(stall) == (
            "Another run of costbook is writing stall.xlsx. Wait until it has finished, then run"
            " this one again."
        )
    assert run(stall) is not None


def test_without_a_folder_for_locks_the_run_goes_on(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(alone_module, "_lock_of", lambda target: stall.parent / "no" / "lock")
    assert run(stall) is not None
    assert stall.read_bytes() == NEW


def test_of_two_runs_at_once_one_writes_and_nothing_is_lost(stall: Path) -> None:
    read_as, gate = fingerprint(stall), threading.Barrier(6)
    told: list[str] = []
    wrote: list[bytes] = []

    def one(contents: bytes) -> None:
        gate.wait()
        try:
            replace_safely(stall, contents, read_as, TODAY)
            wrote.append(contents)
        except Refused as refused:
            told.append(refused.reason)

    runs = [threading.Thread(target=one, args=(b"by run %d" % n,)) for n in range(6)]
    for each in runs:
        each.start()
    for each in runs:
        each.join()
    assert [stall.read_bytes()] == wrote
    assert len(told) == 5
    assert set(told) <= {
        "Another run of costbook is writing stall.xlsx.",
        "stall.xlsx was changed by another program while costbook was working on it.",
    }
    (backup,) = (stall.parent / "stall backups").iterdir()
    assert backup.read_bytes() == OLD


class Steps:
    """Counts the steps, and at the one asked for does something instead: before, in or after."""

    def __init__(self, at: int, end: Callable[[], None], moment: str) -> None:
        self.at, self.end, self.moment, self.done = at, end, moment, 0

    def wrapped(self, name: str) -> Callable[..., Any]:
        real = getattr(os, name)

        def step(*arguments: Any, **more: Any) -> Any:
            self.done += 1
            if self.done != self.at:
                return real(*arguments, **more)
            if self.moment == "in" and name == "write":
                real(arguments[0], bytes(arguments[1])[: len(arguments[1]) // 2])
            try:
                return real(*arguments, **more) if self.moment == "after" else None
            finally:
                self.end()

        return step

    @contextlib.contextmanager
    def watching(self) -> Iterator[None]:
        with pytest.MonkeyPatch.context() as patch:
            for name in STEPS:
                patch.setattr(os, name, self.wrapped(name))
            yield


def steps_of(stall: Path) -> int:
    """How many steps a whole run takes."""
    steps = Steps(0, lambda: None, "before")
    with steps.watching():
        run(stall)
    return steps.done


def killed(work: Callable[[], object], at: int, moment: str) -> None:
    """Do the work in a process of its own that is killed at this step."""
    child = os.fork()
    if child == 0:
        with contextlib.suppress(BaseException), Steps(at, lambda: os._exit(9), moment).watching():
            work()
        os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9


@unix
@pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")
@pytest.mark.parametrize("moment", ["before", "in", "after"])
def test_killed_at_any_step_the_old_or_the_new_workbook_stands_whole(
    stall: Path, moment: str
) -> None:
    total = steps_of(stall)
    assert total > 15
    seen = set()
    for at in range(1, total + 1):
        stall.write_bytes(OLD)
        killed(lambda: run(stall), at, moment)
        seen.add(stall.read_bytes())
        for backup in (stall.parent / "stall backups").glob("stall (*.xlsx"):
            assert backup.read_bytes() == OLD
    assert seen == {OLD, NEW}
    stall.write_bytes(OLD)
    run(stall)  # what killed runs left behind is cleared away, and keeps nobody out
    assert names(stall.parent) == ["stall backups", "stall.xlsx"]
    assert stall.read_bytes() == NEW
    kept = names(stall.parent / "stall backups")
    assert len(kept) <= 10
    assert not [name for name in kept if name.startswith(".")]


def interrupt() -> None:
    raise KeyboardInterrupt


def noted(told: list[tuple[Path, Path | None]], path: Path, backup: Path | None) -> None:
    told.append((path, backup))


def test_interrupted_at_any_step_nothing_is_lost(stall: Path) -> None:
    """Ctrl-C, which unlike a kill still lets the program tidy up, and must not tidy too much."""

    total = steps_of(stall)
    seen = set()
    for at in range(1, total + 1):
        stall.write_bytes(OLD)
        for backup in (stall.parent / "stall backups").glob("*"):
            backup.unlink()
        told: list[tuple[Path, Path | None]] = []
        with Steps(at, interrupt, "after").watching(), contextlib.suppress(KeyboardInterrupt):
            replace_safely(stall, NEW, fingerprint(stall), TODAY, partial(noted, told))
        seen.add(stall.read_bytes())
        kept = [path.read_bytes() for path in (stall.parent / "stall backups").glob("stall (*")]
        assert stall.read_bytes() == OLD or kept == [OLD]
        # which of the two stands there is known, since the person is told
        assert [backup.read_bytes() for _, backup in told if backup] == (
            [OLD] if stall.read_bytes() == NEW else []
        )
    assert seen == {OLD, NEW}


def test_a_new_file_is_written_whole(tmp_path: Path) -> None:
    create(tmp_path / "new.xlsx", NEW)
    assert (tmp_path / "new.xlsx").read_bytes() == NEW
    assert names(tmp_path) == ["new.xlsx"]


@unix
def test_a_new_file_has_the_rights_of_new_files(tmp_path: Path) -> None:
    (tmp_path / "other").write_bytes(b"")
    create(tmp_path / "new.xlsx", NEW)
    assert (tmp_path / "new.xlsx").stat().st_mode == (tmp_path / "other").stat().st_mode


def created(path: Path) -> str:
    with pytest.raises(Refused) as refused:
        create(path, NEW)
    return str(refused.value)


THERE = (
    "stall.xlsx is already there, and costbook doesn't write over it. Give another name, or move"
    " that file away."
)


def test_a_new_file_never_replaces_another(stall: Path) -> None:
    assert created(stall) == THERE
    assert stall.read_bytes() == OLD


def test_nor_one_that_came_meanwhile(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("costbook.keeping.replacing._refuse_present", lambda path: None)
    assert created(stall) == THERE
    failing(monkeypatch, "link", errno.EPERM)
    assert created(stall) == THERE
    assert stall.read_bytes() == OLD
    assert names(stall.parent) == ["stall.xlsx"]


def test_a_disk_without_links_takes_a_new_file_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    failing(monkeypatch, "link", errno.EPERM)
    create(tmp_path / "new.xlsx", NEW)
    assert names(tmp_path) == ["new.xlsx"]
    assert (tmp_path / "new.xlsx").read_bytes() == NEW


def test_a_new_file_in_a_folder_that_is_not_there(tmp_path: Path) -> None:
    assert created(tmp_path / "nowhere" / "new.xlsx") == (
        f"There is no folder {tmp_path / 'nowhere'}. Make it, or name another."
    )


@unix
@pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")
def test_a_new_file_killed_at_any_step_is_whole_or_not_there(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    steps = Steps(0, lambda: None, "before")
    with steps.watching():
        create(tmp_path / "first.xlsx", NEW)
    for at in range(1, steps.done + 1):
        path.unlink(missing_ok=True)
        killed(lambda: create(path, NEW), at, "after")
        assert not path.exists() or path.read_bytes() == NEW


def test_a_new_file_interrupted_at_any_step_is_told_of_if_it_is_there(tmp_path: Path) -> None:
    steps = Steps(0, lambda: None, "before")
    with steps.watching():
        create(tmp_path / "first.xlsx", NEW)
    path, ends = tmp_path / "new.xlsx", set()
    for at in range(1, steps.done + 1):
        path.unlink(missing_ok=True)
        told: list[tuple[Path, Path | None]] = []
        with Steps(at, interrupt, "after").watching(), contextlib.suppress(KeyboardInterrupt):
            create(path, NEW, partial(noted, told))
        assert set(told) == ({(path, None)} if path.exists() else set())
        ends.add(path.exists())
    assert ends == {True, False}


def test_a_day_of_many_savings_leaves_a_copy_of_each_day_before_it(stall: Path) -> None:
    """As under `watch`: three days of three copies, then twelve savings on one day."""
    place = stall.parent / "stall backups"
    place.mkdir()
    for day in (20, 21, 22):
        for number in (1, 2, 3):
            (place / f"stall (before 2026-11-{day} {number}).xlsx").write_bytes(b"old")
    for number in range(12):
        replace_safely(stall, f"new {number}".encode(), fingerprint(stall), TODAY)
    assert sorted(path.name for path in place.iterdir()) == sorted(
        [
            *(f"stall (before 2026-11-{day} 1).xlsx" for day in (20, 21, 22)),
            *(f"stall (before 2026-11-25 {number}).xlsx" for number in range(6, 13)),
        ]
    )
