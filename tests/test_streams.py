"""Whatever becomes of what is printed, the run ends as the workbook is."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from costbook.keeping.replacing import replace_safely
from costbook.printing import Output
from costbook.streams import prepare, send
from tests.helpers import make_book, run
from tests.write_back.books import ON, SHEETS, small

HOUSE = Path(__file__).parent.parent
PROGRAM = (sys.executable, "-m", "costbook")
FULL = Path("/dev/full")
full = pytest.mark.skipif(not FULL.exists(), reason="a full disk, as Linux plays it")
unix = pytest.mark.skipif(sys.platform == "win32", reason="closes streams as Unix does")


@pytest.fixture
def stall(tmp_path: Path) -> Path:
    return small(tmp_path / "stall.xlsx")


def printed(code_page: str, *words: object) -> tuple[int, str, str]:
    """Status, output and messages of a run that prints in a code page."""
    done = subprocess.run(
        [*PROGRAM, *map(str, words)],
        capture_output=True, cwd=HOUSE, env={**os.environ, "PYTHONIOENCODING": code_page},
    )  # fmt: skip
    return done.returncode, done.stdout.decode(code_page), done.stderr.decode(code_page)


def backups(stall: Path) -> list[Path]:
    return list(stall.with_name("stall backups").glob("*"))


# ---------------------------------------------------------------- code pages


@pytest.mark.parametrize("code_page", ["cp1252", "latin-1", "cp437", "ascii", "utf-8"])
def test_cost_ends_well_in_any_code_page(code_page: str, stall: Path) -> None:
    code, out, err = printed(code_page, "cost", stall, *ON)
    dash = {"cp1252": "—", "utf-8": "—"}.get(code_page, "-")
    assert (code, err) == (0, "")
    # the roll costs 0.35; at 30 % that is 0.50
    assert f"Leek roll       {dash}  0.35  at least 0.50  30.0 %" in out
    assert f"Your workbook as it was: {backups(stall)[0]}" in out


@pytest.mark.parametrize(
    ("code_page", "line"),
    [
        ("cp1252", "Pay per hour: 15.0000  <- Settings!B3"),
        ("ascii", "Pay per hour: 15.0000  <- Settings!B3"),
        ("utf-8", "Pay per hour: 15.0000  ← Settings!B3"),
    ],
)
def test_explain_points_at_cells_in_any_code_page(code_page: str, line: str, stall: Path) -> None:
    code, out, err = printed(code_page, "explain", stall, "Leek roll", "--all", *ON)
    assert (code, err) == (0, "")
    assert line in [each.strip() for each in out.splitlines()]


def test_json_keeps_every_letter_in_any_code_page(tmp_path: Path) -> None:
    sheets = {**SHEETS, "Products": [*SHEETS["Products"][:1], ["Crêpe Ω", "Leek roll", 1]]}
    path = make_book(tmp_path / "stall.xlsx", sheets)
    for code_page in ("ascii", "cp1252", "utf-8"):
        code, out, _ = printed(code_page, "cost", path, "--json", *ON)
        assert code == 0
        assert [each["product"] for each in json.loads(out)["products"]] == ["Crêpe Ω"]


def test_letters_that_a_code_page_lacks_are_shown_bare(tmp_path: Path) -> None:
    sheets = {**SHEETS, "Products": [*SHEETS["Products"][:1], ["Crêpe 1½ Ω", "Leek roll", 1]]}
    path = make_book(tmp_path / "stall.xlsx", sheets)
    _, out, _ = printed("ascii", "cost", path, *ON)
    assert "\nCrepe 1 1/2 ?  " in out


def test_help_is_printed_in_any_code_page() -> None:
    code, out, _ = printed("ascii", "explain", "--help")
    assert (code, "price on step ..." in out) == (0, True)


# ---------------------------------------------------------------- full and closed

TOO_FULL = "costbook: the answer couldn't be printed in full (No space left on device). "


@full
@pytest.mark.parametrize("more", [(), ("--json",)])
def test_a_full_output_after_the_write_says_that_it_is_written(
    more: tuple[str, ...], stall: Path
) -> None:
    with FULL.open("w", encoding="utf-8") as out:
        done = subprocess.run(
            [*PROGRAM, "cost", stall, *ON, *more],
            stdout=out, stderr=subprocess.PIPE, text=True, cwd=HOUSE,
        )  # fmt: skip
    (backup,) = backups(stall)
    assert (done.returncode, done.stderr) == (
        0,
        f'{TOO_FULL}stall.xlsx is written, and whole; the one before it is kept as "{backup}".\n',
    )


@full
def test_a_full_output_is_no_fault_of_the_workbook(stall: Path) -> None:
    with FULL.open("w", encoding="utf-8") as out:
        done = subprocess.run(
            [*PROGRAM, "check", stall, *ON],
            stdout=out, stderr=subprocess.PIPE, text=True, cwd=HOUSE,
        )  # fmt: skip
    said = f"{TOO_FULL}That is no fault of the workbook.\n"
    assert (done.returncode, done.stderr) == (0, said)


@full
def test_help_and_wrong_use_end_quietly_where_nothing_can_be_printed() -> None:
    for words, status in ((["--help"], 0), (["csot"], 2)):
        with FULL.open("w", encoding="utf-8") as nowhere:
            done = subprocess.run([*PROGRAM, *words], stdout=nowhere, stderr=nowhere, cwd=HOUSE)
        assert done.returncode == status


@unix
@pytest.mark.parametrize("closed", [(1,), (2,), (1, 2), (0, 1, 2)])
def test_closed_streams_end_nothing(closed: tuple[int, ...], stall: Path) -> None:
    def close() -> None:
        for number in closed:
            os.close(number)

    done = subprocess.run(
        [*PROGRAM, "cost", stall, *ON], capture_output=True, text=True, cwd=HOUSE,
        preexec_fn=close,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert ("Written: " in done.stdout) == (1 not in closed)
    assert len(backups(stall)) == 1


@unix
def test_a_closed_stream_gives_its_number_to_no_file_of_the_person() -> None:
    """Else what is printed by a library would land in the new workbook."""
    child = os.fork()
    if child == 0:
        for number in (1, 2):
            os.close(number)
        prepare()
        os._exit(os.open(os.devnull, os.O_RDONLY) < 3)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


def test_a_stream_closed_meanwhile_takes_nothing(tmp_path: Path) -> None:
    stream = (tmp_path / "out").open("w", encoding="utf-8")
    stream.close()
    assert send(stream, "text") == ""


# ---------------------------------------------------------------- stopped, and broken off

Then = Callable[[], None]


def after_writing(monkeypatch: pytest.MonkeyPatch, then: Then) -> None:
    """Let something happen just after the new workbook stands there."""

    def replaced(*given: Any) -> None:
        replace_safely(*given)
        then()

    monkeypatch.setattr("costbook.write_back.replace_safely", replaced)


def interrupt() -> None:
    raise KeyboardInterrupt


def test_stopped_after_the_move_the_new_workbook_is_named(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = stall.read_bytes()
    after_writing(monkeypatch, interrupt)
    code, out, err = run("cost", stall, *ON)
    (backup,) = backups(stall)
    assert (code, out, backup.read_bytes()) == (2, "", before)
    assert stall.read_bytes() != before
    assert err == (
        f'Stopped. stall.xlsx is written, and whole; the one before it is kept as "{backup}".\n'
    )


def test_stopped_at_the_move_itself(stall: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.replace

    def moved(*given: Any) -> None:
        real(*given)
        interrupt()

    monkeypatch.setattr(os, "replace", moved)
    err = run("cost", stall, *ON)[2]
    (backup,) = backups(stall)
    assert err == (
        f'Stopped. stall.xlsx is written, and whole; the one before it is kept as "{backup}".\n'
    )


def test_stopped_while_it_starts(tmp_path: Path) -> None:
    """Before the command line is there to say it: an import stops, as Ctrl-C would stop it."""
    (tmp_path / "argparse.py").write_text("raise KeyboardInterrupt\n", encoding="utf-8")
    done = subprocess.run(
        [*PROGRAM, "--help"],
        capture_output=True, text=True, cwd=HOUSE, env={**os.environ, "PYTHONPATH": str(tmp_path)},
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (
        2, "", "Stopped. Your workbook is as it was.\n",
    )  # fmt: skip


def test_stopped_before_the_move_the_workbook_is_as_it_was(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = stall.read_bytes()
    monkeypatch.setattr(os, "replace", lambda *given: interrupt())
    assert run("cost", stall, *ON) == (2, "", "Stopped. Your workbook is as it was.\n")
    assert (stall.read_bytes(), list(stall.parent.iterdir())) == (before, [stall])


def test_stopped_after_a_new_file_it_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Output, "answer", lambda *given: interrupt())
    path = tmp_path / "stall.xlsx"
    assert run("new", path) == (2, "", "Stopped. stall.xlsx is written, and whole.\n")


def test_a_fault_of_our_own_after_the_write_says_that_it_is_written(
    stall: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail() -> None:
        raise ZeroDivisionError

    monkeypatch.delenv("COSTBOOK_DEBUG", raising=False)
    after_writing(monkeypatch, fail)
    code, _, err = run("cost", stall, *ON)
    (backup,) = backups(stall)
    assert (code, err) == (
        2,
        (
            "costbook: costbook met something that nobody foresaw (ZeroDivisionError), and "
            f'stopped. But stall.xlsx is written, and whole; the one before it is kept as "{backup}'
            '". To find out what it was, run the same command with COSTBOOK_DEBUG=1 set, and show '
            "what it prints to whoever looks after costbook.\n"
        ),
    )


@unix
@pytest.mark.usefixtures("hears_ctrl_c")
def test_ctrl_c_while_a_pager_holds_the_answer_tells_what_is_written(tmp_path: Path) -> None:
    """The answer doesn't fit into the pipe, and nobody reads on: the run waits there."""
    many = [[f"Roll number {n}", "Leek roll", 1] for n in range(150)]
    sheets = {**SHEETS, "Products": [*SHEETS["Products"][:1], *many]}
    stall = make_book(tmp_path / "stall.xlsx", sheets)
    with subprocess.Popen(
        [*PROGRAM, "cost", stall, "--json", *ON],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=HOUSE,
    ) as running:  # fmt: skip
        assert running.stdout
        assert running.stderr
        running.stdout.read(1)  # the answer has begun, so the workbook is written
        running.send_signal(signal.SIGINT)
        err = running.stderr.read().decode()
        assert running.wait() == 2
    assert err.splitlines()[-1].startswith("Stopped. stall.xlsx is written, and whole; ")
