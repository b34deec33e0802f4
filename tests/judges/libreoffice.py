"""LibreOffice as a judge: a private, watched instance that recalculates workbooks.

soffice exits 0 on junk, on no output, and on a second start in a profile that is in use; it may
hang. So each instance has its own profile and pipe, is the head of its own process group, every
request has a time limit after which the group is killed, and every result is checked to exist.
"""

from __future__ import annotations

import itertools
import json
import os
import shutil
import signal
import subprocess
import tempfile
import threading
import uuid
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tests.judges import (
    CannotJudge,
    Cell,
    ErrorValue,
    Setting,
    Value,
    address,
    position,
)
from tests.judges.package import Package

__all__ = ["LibreOffice", "OfficeDocument", "find_python_with_uno", "find_soffice"]

HOW_TO_GET_IT = "sudo apt-get install libreoffice-calc-nogui python3-uno"
START_SECONDS = 90.0
REQUEST_SECONDS = 120.0

# Debian, Fedora and macOS keep the program in LibreOffice's own folder, often not on PATH.
PROGRAMS = (
    "/usr/lib/libreoffice/program/soffice",
    "/usr/lib64/libreoffice/program/soffice",
    "/opt/libreoffice/program/soffice",
    "/Applications/LibreOffice.app/Contents/MacOS/soffice",
)

# 0 is "always": LibreOffice otherwise trusts the values stored in the file.
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">\
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Setup/L10N">\
<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>en-US</value></prop></item>
</oor:items>
"""


def find_soffice() -> Path | None:
    """The program, from PATH or from the folders where it is put without being on PATH."""
    for name in ("soffice", "libreoffice"):
        if found := shutil.which(name):
            return Path(found).resolve()
    return next((Path(place) for place in PROGRAMS if Path(place).exists()), None)


def find_python_with_uno(soffice: Path) -> Path | None:
    """A Python that can import `uno`: the system's, or the one LibreOffice brings along."""
    beside = soffice.parent
    candidates = (Path("/usr/bin/python3"), beside / "python", beside / "python3")
    return next((one for one in candidates if one.exists() and _imports_uno(one)), None)


def _imports_uno(python: Path) -> bool:
    try:
        run = subprocess.run(
            [python, "-c", "import uno"], capture_output=True, timeout=30, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return run.returncode == 0


class LibreOffice:
    """A running LibreOffice, as a context manager.

    Raises CannotJudge where it is missing, can't be started, stops, or takes too long.
    """

    bridge = Path(__file__).with_name("bridge.py")
    """What talks to it, in the Python that has `uno`."""

    def __init__(self, request_seconds: float = REQUEST_SECONDS) -> None:
        self._seconds = request_seconds
        self._counter = itertools.count(1)
        self._groups: list[subprocess.Popen[str]] = []
        self._timed_out = False

    def __enter__(self) -> Self:
        soffice = find_soffice()
        if soffice is None:
            raise CannotJudge(f"LibreOffice is missing. Get it with: {HOW_TO_GET_IT}")
        python = find_python_with_uno(soffice)
        if python is None:
            raise CannotJudge(f"No Python here can import uno. Get it with: {HOW_TO_GET_IT}")
        self._folder = Path(tempfile.mkdtemp(prefix="costbook-office-"))
        try:
            self._start(soffice, python)
        except BaseException:
            self._end()
            raise
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end()

    def open(self, path: Path) -> OfficeDocument:
        """Open a copy in a private folder, since a stale lock beside a book loads as nothing."""
        expected = Package(path).sheets
        folder = self._folder / f"book-{next(self._counter)}"
        folder.mkdir()
        copy = folder / "book.xlsx"
        shutil.copyfile(path, copy)
        opened = self.ask("open", path=str(copy))
        if not expected or not set(expected) <= set(opened["sheets"]):
            self.ask("close", document=opened["document"])
            raise CannotJudge(f"{path.name}: LibreOffice sees {opened['sheets']}, not {expected}")
        return OfficeDocument(self, opened["document"], opened["sheets"])

    def to_pdf(self, path: Path, folder: Path) -> Path:
        """Print a workbook into a folder; raises CannotJudge if no PDF came of it."""
        target = folder / f"{path.stem}.pdf"
        target.unlink(missing_ok=True)
        document = self.open(path)
        try:
            document.export(target, "calc_pdf_Export")
        finally:
            document.close()
        if not target.read_bytes().startswith(b"%PDF"):
            raise CannotJudge(f"{target.name}: LibreOffice wrote something that is no PDF")
        return target

    def ask(self, do: str, **arguments: Any) -> Any:
        """One request to the bridge; the whole group is killed if no answer comes in time."""
        return self._exchange({"do": do, **arguments}, self._seconds)

    def groups(self) -> list[int]:
        """The process groups it started: LibreOffice's and the bridge's."""
        return [process.pid for process in self._groups]

    def _exchange(self, request: dict[str, Any] | None, seconds: float) -> Any:
        watchdog = threading.Timer(seconds, self._kill, kwargs={"late": True})
        watchdog.start()
        try:
            line = self._talk("" if request is None else json.dumps(request) + "\n")
        finally:
            watchdog.cancel()
        if self._timed_out:
            raise CannotJudge(f"LibreOffice gave no answer in {seconds:g} s and was stopped")
        if not line:
            raise CannotJudge("LibreOffice stopped by itself")
        reply = json.loads(line)
        if "problem" in reply:
            raise CannotJudge(f"LibreOffice refused: {reply['problem']}")
        return reply["result"]

    def _talk(self, line: str) -> str:
        stdin, stdout = self._bridge.stdin, self._bridge.stdout
        assert stdin is not None
        assert stdout is not None
        try:
            stdin.write(line)
            stdin.flush()
            return stdout.readline()
        except (BrokenPipeError, ValueError):
            return ""

    def _start(self, soffice: Path, python: Path) -> None:
        profile, pipe = self._folder / "profile", f"costbook-{uuid.uuid4().hex}"
        (profile / "user").mkdir(parents=True)
        (profile / "user" / "registrymodifications.xcu").write_text(PROFILE, encoding="utf-8")
        quiet = ["--headless", "--invisible", "--norestore", "--nologo", "--nodefault"]
        where = [f"-env:UserInstallation={profile.as_uri()}", f"--accept=pipe,name={pipe};urp;"]
        self._spawn([str(soffice), *quiet, *where], subprocess.DEVNULL)
        bridge = [str(python), str(self.bridge), pipe]
        self._bridge = self._spawn([*bridge, str(START_SECONDS)], subprocess.PIPE)
        self._exchange(None, START_SECONDS + 10)

    def _spawn(self, command: list[str], ends: int) -> subprocess.Popen[str]:
        # A venv's own variables would lead LibreOffice's Python to the wrong libraries,
        # and so would another Python in front on its path.
        apart = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "VIRTUAL_"))}
        apart["PATH"] = os.defpath
        process = subprocess.Popen(
            command,
            stdin=ends,
            stdout=ends,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            env=apart,
            start_new_session=True,
        )
        self._groups.append(process)
        return process

    def _kill(self, late: bool = False) -> None:
        self._timed_out = self._timed_out or late
        for process in self._groups:
            try:
                os.killpg(process.pid, signal.SIGKILL)
            except (ProcessLookupError, PermissionError):
                continue
        for process in self._groups:
            process.wait()

    def _end(self) -> None:
        # Asked first: what LibreOffice's starter does not collect itself is left as a zombie.
        with suppress(CannotJudge, AttributeError, subprocess.TimeoutExpired):
            self.ask("stop")
            self._groups[0].wait(timeout=10)
        self._kill()
        for process in self._groups:
            for stream in (process.stdin, process.stdout):
                if stream is not None:
                    # A request that no longer went out would be written while closing.
                    with suppress(BrokenPipeError):
                        stream.close()
        shutil.rmtree(self._folder, ignore_errors=True)


class OfficeDocument:
    """One workbook open in LibreOffice."""

    def __init__(self, office: LibreOffice, number: int, sheets: list[str]) -> None:
        self._office = office
        self._number = number
        self._sheets = sheets
        self._rows: dict[str, dict[int, dict[Cell, Value]]] = {}
        self._kept: dict[str, tuple[list[list[int]], dict[int, list[Cell]]]] = {}

    def sheets(self) -> list[str]:
        """The names of the sheets, in their order."""
        return list(self._sheets)

    def set(self, sheet: str, cell: Cell, value: float | str | None) -> None:
        """Type a number or a text into a cell, or clear it with None."""
        self.set_many([(sheet, cell, value)])

    def set_many(self, settings: Iterable[Setting]) -> None:
        """Type into several cells; nothing is computed until `recalculate`."""
        rows = [[sheet, *position(cell), value] for sheet, cell, value in settings]
        self._office.ask("set_many", document=self._number, settings=rows)

    def remove(self, sheet: str) -> None:
        """Delete a sheet."""
        self._office.ask("remove", document=self._number, sheet=sheet)
        self._sheets.remove(sheet)

    def recalculate(self) -> None:
        """Compute every formula again, also those that LibreOffice holds for clean."""
        self._office.ask("recalculate", document=self._number)

    def follow(self) -> None:
        """Compute what was typed since, and what depends on it."""
        self._office.ask("follow", document=self._number)

    def values(self, sheet: str) -> dict[Cell, Value]:
        """Every cell that holds a formula, a number or a text. A truth comes as 1 or 0."""
        got = self._office.ask("values", document=self._number, sheet=sheet)
        rows = self._rows.setdefault(sheet, {})
        formulas = self._formulas(sheet, got["formulas"])
        for at in [at for at in rows if at >= got["rows"]]:
            del rows[at]
        for at, line in got["changed"]:
            row = rows[at] = dict.fromkeys(formulas.get(at, ()), "")
            for column, value in enumerate(line, 1):
                if value != "" and value is not None:
                    row[address(at + 1, column)] = value
        found: dict[Cell, Value] = {}
        for row in rows.values():
            found.update(row)
        for at, column, code in got["errors"]:
            found[address(at + 1, column + 1)] = ErrorValue(code)
        return found

    def _formulas(self, sheet: str, areas: list[list[int]]) -> dict[int, list[Cell]]:
        """The addresses of a sheet's formulas by row; kept, since edits seldom move them."""
        known, by_row = self._kept.get(sheet, ([], {}))
        if known != areas:
            by_row = {}
            for top, left, bottom, right in areas:
                for row in range(top, bottom + 1):
                    names = (address(row + 1, column + 1) for column in range(left, right + 1))
                    by_row.setdefault(row, []).extend(names)
            self._kept[sheet] = areas, by_row
            for row, cells in self._rows[
                sheet
            ].items():  # a formula more, or one less, in a row told
                self._rows[sheet][row] = {
                    cell: value for cell, value in cells.items() if value != ""
                } | {cell: cells.get(cell, "") for cell in by_row.get(row, ())}
        return by_row

    def formulas(self, sheet: str) -> dict[Cell, str]:
        """Every formula as LibreOffice spells it: `;` between arguments, `$Sheet.A1`."""
        lines = self._office.ask("formulas", document=self._number, sheet=sheet)
        return {
            address(row, column): text
            for row, line in enumerate(lines, 1)
            for column, text in enumerate(line, 1)
            if text.startswith("=")
        }

    def save_as(self, path: Path) -> None:
        """Write the workbook as xlsx."""
        self.export(path, "Calc MS Excel 2007 XML")

    def export(self, path: Path, kind: str) -> None:
        """Write the workbook through one of LibreOffice's filters, and see that it is there."""
        self._office.ask("save_as", document=self._number, path=str(path.resolve()), kind=kind)
        if not path.exists() or path.stat().st_size == 0:
            raise CannotJudge(f"{path.name}: LibreOffice said it was written, but it is not there")

    def close(self) -> None:
        """Let the workbook go."""
        self._office.ask("close", document=self._number)
