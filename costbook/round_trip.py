"""Read and cost a workbook: what the commands share."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from costbook.arranging import arranged
from costbook.costing.engine import Costing
from costbook.costing.engine import cost as cost_structure
from costbook.costing.findings import Finding, find
from costbook.costing.result import currency_of
from costbook.costing.result_findings import costs_far_from_the_last
from costbook.costing.since_rows import costing_date
from costbook.costing.structure import lay_out
from costbook.definitions.currencies import minor_unit
from costbook.files import refuse_no_file
from costbook.ours.kept import NOTHING_REMEMBERED, Remembered, remembered
from costbook.package.bounds import within_bounds
from costbook.package.limits import MEGABYTE, MOST_BYTES
from costbook.package.lookover import OnlyCopies, look_over
from costbook.package.workbook_file import WorkbookFile
from costbook.printing import Tell, quietly
from costbook.problems import Problem, Refused, Severity
from costbook.reading.workbook import read_book
from costbook.started import command

__all__ = ["Costed", "file_at", "file_if_any", "read_and_cost"]


@dataclass(frozen=True, slots=True)
class Costed:
    """A workbook's file, read and costed."""

    path: Path
    file: WorkbookFile
    costing: Costing
    problems: tuple[Problem, ...]
    remembered: Remembered
    closed: OnlyCopies | None
    """Why the file can't be written into, where that is so."""

    @property
    def status(self) -> int:
        """0 where nothing is wrong, else 1."""
        return int(any(each.severity is Severity.WRONG for each in self.problems))

    @property
    def places(self) -> int:
        """Decimal places of money."""
        places = minor_unit(currency_of(self.costing))
        return 2 if places is None else places

    def answered_in(self, other: Path | None) -> Path:
        """The file that our sheets go into. Raises OnlyCopies where one must be named."""
        if self.closed is None:
            return other or self.path
        if other is not None and other.resolve() != self.path.resolve():
            return other
        if self.closed.open_document and other is None:
            return self.path.with_suffix(".xlsx")
        raise self.closed


def read_and_cost(
    path: Path,
    on: date | None,
    since: date | None = None,
    step: Tell = quietly,
    other: Path | None = None,
    leave_out: Collection[Finding] = (),
) -> Costed:
    """Read a workbook and cost it. Raises Refused where it can't be read or trusted.

    What earlier runs found and what was typed as a trial are taken from the workbook, or from
    ``other``, which they were written to, where the workbook has no sheets of ours. Findings that
    don't concern the command are left out.
    """
    step(f"Reading {path.name}")
    file = file_at(path)
    with within_bounds():
        warnings, closed = _looked_over(file)
        book = read_book(file)
        if closed is not None and closed.open_document and other is None:
            other = path.with_suffix(".xlsx")
        memory = _remembered_in(file, file_if_any(other))
    today = date.today()
    since = since or memory.last_before(costing_date(book, today, on))
    step("Costing")
    costing = cost_structure(lay_out(book, today, on, since))
    tabs = [*book.other_tabs, *(sheet.tab for sheet in book.sheets.values())]
    found = (*find(costing, leave_out), *_since_the_last(costing, memory))
    problems = arranged((*warnings, *book.problems, *found), tabs)
    return Costed(path, file, costing, problems, memory, closed)


def _since_the_last(costing: Costing, memory: Remembered) -> Iterator[Problem]:
    """What is far from what the last costing before this one found."""
    day = memory.last_before(costing.structure.costed_on)
    if day is not None:
        last = {each: past.total for each, past in memory.on(day).items()}
        yield from costs_far_from_the_last(costing, last, day)


def _looked_over(file: WorkbookFile) -> tuple[list[Problem], OnlyCopies | None]:
    try:
        return look_over(file), None
    except OnlyCopies as closed:
        return [], closed


def _remembered_in(*files: WorkbookFile | None) -> Remembered:
    """What is remembered in the first of some files that has sheets of ours."""
    ours = (each for each in files if each and each.ours)
    return next(map(remembered, ours), NOTHING_REMEMBERED)


def file_if_any(path: Path | None) -> WorkbookFile | None:
    """The file there, if there is one that can be read."""
    try:
        return WorkbookFile(path.read_bytes(), path.name) if path and path.is_file() else None
    except OSError:
        return None


def file_at(path: Path) -> WorkbookFile:
    """A workbook's file. Raises Refused where it can't be read, or is too large."""
    refuse_no_file(path)
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _too_large(path)
        return WorkbookFile(path.read_bytes(), path.name)
    except FileNotFoundError:
        raise Refused(
            f"There is no file {path}.",
            f"Check its name, or make a blank workbook: {command('new', path.name)}",
        ) from None
    except OSError as error:
        raise Refused(f"{path} can't be read ({error.strerror}).", "Check the file.") from error


def _too_large(path: Path) -> Refused:
    return Refused(
        f"{path.name} is larger than {MOST_BYTES // MEGABYTE} MB.",
        "Take pictures and sheets out of it that costbook need not read, or start a new workbook "
        "for the new year.",
    )
