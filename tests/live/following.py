"""One costed workbook open in a judge, edited, and compared with a new run after each edit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from costbook.writing.sheets import TITLES
from tests.helpers import run
from tests.judges import Document, Judge, Setting, Value, compare
from tests.judges.edits import Change
from tests.judges.inputs import Typed
from tests.judges.stored import with_wrong_stored_values
from tests.live.books import make
from tests.live.new_run import DATED, NewRun, Run

__all__ = ["Costed", "Follower", "Tally", "cost_book", "costed", "differences", "typed"]

ALL_SHEETS_EVERY = 10
"""Workings are compared after every edit, the pages that show them after every tenth."""

UNKNOWN = ("", "?")


@dataclass(frozen=True, slots=True)
class Costed:
    """A workbook as its person has it, and as `cost` left it."""

    book: Path
    costed: Path
    new_run: NewRun


def cost_book(book: Path, out: Path, on: date | None = None) -> Costed:
    """Cost a workbook with the command line into another file."""
    dated = ("--on", on.isoformat()) if on else ()
    code, _, said = run("cost", book, "--output", out, *dated)
    assert code in (0, 1), said
    return Costed(book, out, NewRun(book, out, {title: title for title in TITLES}, on))


def costed(name: str, folder: Path) -> Costed:
    """Make one of the books and cost it."""
    return cost_book(make(name, folder), folder / "costed.xlsx")


def typed(change: Change, day_zero: date, *, undone: bool = False) -> Iterator[Setting]:
    """A change as a judge takes it, dates as the workbook's serial numbers."""
    for edit in change:
        yield edit.sheet, edit.cell, _serial(edit.old if undone else edit.new, day_zero)


def _serial(content: Typed, day_zero: date) -> float | str | None:
    return (content - day_zero).days if isinstance(content, date) else content


Shown = Mapping[str, Mapping[str, Value]]


class Follower:
    """A costed workbook with wrong stored values, open in a judge.

    The judge works in a thread of its own, so that the new run is computed meanwhile.
    """

    def __init__(self, pool: ThreadPoolExecutor, judge: Judge, book: Costed) -> None:
        self._pool = pool
        self._zero = book.new_run.first.book.day_zero
        self._done: Change = ()
        stale = book.costed.with_name("stale.xlsx")
        assert with_wrong_stored_values(book.costed, stale) > 1000
        self._document: Document = pool.submit(judge.open, stale).result()

    @classmethod
    @contextmanager
    def opened(cls, judge: Judge, book: Costed) -> Iterator[Follower]:
        """Open a costed workbook in a judge."""
        with ThreadPoolExecutor(1) as pool:
            follower = cls(pool, judge, book)
            try:
                yield follower
            finally:
                pool.submit(follower.close).result()

    def shown(self, change: Change, tabs: Iterable[str]) -> Future[Shown]:
        """What sheets will show once a change is made to the workbook as it was costed."""
        return self._pool.submit(self._show, change, tuple(tabs))

    def _show(self, change: Change, tabs: tuple[str, ...]) -> Shown:
        undone = typed(self._done, self._zero, undone=True)
        self._document.set_many([*undone, *typed(change, self._zero)])
        self._done = change
        self._document.recalculate()
        return {tab: self._document.values(tab) for tab in tabs}

    def close(self) -> None:
        """Let the judge's document go."""
        self._document.close()
        del self._document


@dataclass(frozen=True, slots=True)
class Tally:
    """How many edits were followed, beside what went wrong, so that no test is empty."""

    wrong: tuple[str, ...] = ()
    exact: int = 0
    left_unknown: int = 0
    cells: int = 0
    pages: int = 0

    def __add__(self, other: Tally) -> Tally:
        return Tally(
            self.wrong + other.wrong,
            self.exact + other.exact,
            self.left_unknown + other.left_unknown,
            self.cells + other.cells,
            self.pages + other.pages,
        )


def differences(judge: Judge, book: Costed, changes: list[Change]) -> Tally:
    """Make each change, and compare every formula with a new run; the first is no change."""
    tabs, every = book.new_run.tabs, [(), *changes]
    pages = [tab for title, tab in tabs.items() if title not in DATED and title != "Workings"]
    wanted = [pages if number % ALL_SHEETS_EVERY == 0 else [] for number in range(len(every))]
    tally = Tally()
    with Follower.opened(judge, book) as follower:
        asked = [
            follower.shown(change, [tabs["Workings"], *more])
            for change, more in zip(every, wanted, strict=True)
        ]
        for change, more, shown in zip(every, wanted, asked, strict=True):
            one = _compared(book.new_run, change, shown, whole=bool(more))
            named = "; ".join(f"{e.sheet}!{e.cell} {e.old!r} → {e.new!r}" for e in change)
            tally += replace(one, wrong=tuple(f"[{named}] {each}" for each in one.wrong))
    return tally


def _compared(new: NewRun, change: Change, future: Future[Shown], *, whole: bool) -> Tally:
    run_now = new.run(change, date.today())
    shown = future.result()
    workings = shown[new.tabs["Workings"]]
    today = workings[new.at("settings", "today")]
    if today != run_now.costing.one("settings")["today"]:  # midnight has passed meanwhile
        assert isinstance(today, float)
        run_now = new.run(change, new.first.book.day_zero + timedelta(days=int(today)))
    if run_now.texts - new.first.texts:
        return _unknown_at_most(new, run_now, workings)
    expected = {new.tabs["Workings"]: new.workings(run_now)}
    if whole:
        expected[new.tabs["Trial workings"]] = new.workings(run_now, "Trial workings")
        expected |= new.pages(run_now)
    wrong = [f"{tab}!{each}" for tab in expected for each in compare(expected[tab], shown[tab])]
    cells = sum(map(len, expected.values()))
    return Tally(tuple(wrong), 1, 0, cells, len(expected) if whole else 0)


def _unknown_at_most(new: NewRun, run_now: Run, shown: Mapping[str, Value]) -> Tally:
    """After an edit of a quantity typed as text: nothing but what is true is shown, or a `?`.

    And a new run is asked for. A text is read by a run, with the cells that say how.
    """
    expected = new.money(run_now)
    wrong = [each for each in compare(expected, shown) if not _is_unknown(shown, each)]
    if not shown[new.at("since", "to_cost_again")]:
        wrong.append("a text can't be read, and nobody asks for a new run")
    return Tally(tuple(wrong), 0, 1, len(expected))


def _is_unknown(shown: Mapping[str, Value], difference: str) -> bool:
    return shown.get(difference.partition(":")[0], "") in UNKNOWN
