"""One costed workbook open in a judge, edited, and compared with a new run after each edit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial
from pathlib import Path

from costbook.writing.sheets import TITLES
from tests.helpers import run
from tests.judges import CannotJudge, Cell, Judge, Setting, Value, compare
from tests.judges.edits import Change, Edit
from tests.judges.inputs import Typed
from tests.judges.stored import with_wrong_stored_values
from tests.live.books import make
from tests.live.new_run import Cells, NewRun

__all__ = ["Costed", "Following", "cost_book", "costed", "settings"]

UNKNOWN = ("", "?")


@dataclass(frozen=True, slots=True)
class Costed:
    """A workbook as its person has it, and as `cost` left it."""

    book: Path
    costed: Path
    tabs: Mapping[str, str]
    new_run: NewRun


def cost_book(book: Path, out: Path, on: date | None = None) -> Costed:
    """Cost a workbook with the command line into another file."""
    dated = ("--on", on.isoformat()) if on else ()
    code, _, said = run("cost", book, "--output", out, *dated)
    assert code in (0, 1), said
    tabs = {title: title for title in TITLES}
    return Costed(book, out, tabs, NewRun(book, out, tabs, on))


def costed(name: str, folder: Path) -> Costed:
    """Make one of the books and cost it."""
    return cost_book(make(name, folder), folder / "costed.xlsx")


def settings(change: Change, day_zero: date, *, undone: bool = False) -> Iterator[Setting]:
    """A change as a judge takes it, dates as the workbook's serial numbers."""
    for edit in change:
        yield edit.sheet, edit.cell, _serial(edit.old if undone else edit.new, day_zero)


def _serial(typed: Typed, day_zero: date) -> float | str | None:
    return (typed - day_zero).days if isinstance(typed, date) else typed


class Following:
    """A costed workbook, opened with wrong stored values, that follows edits."""

    def __init__(self, judge: Judge, book: Costed) -> None:
        self.book = book
        stale = book.costed.with_name("stale.xlsx")
        assert with_wrong_stored_values(book.costed, stale) > 1000
        self.document = judge.open(stale)
        self.document.recalculate()
        self.done: Change = ()

    def show(self, change: Change, tabs: tuple[str, ...]) -> dict[str, Cells]:
        """What the sheets show once a change is made to the workbook as it was costed."""
        zero = self.book.new_run.first.book.day_zero
        self.document.set_many(
            [*settings(self.done, zero, undone=True), *settings(change, zero)]
        )
        self.done = change
        self.document.recalculate()
        return {tab: self.document.values(tab) for tab in tabs}
