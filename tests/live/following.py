"""One costed workbook open in a judge, edited, and compared with a new run after each edit."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from costbook.costing.result import answer
from costbook.writing.sheets import TITLES
from tests import helpers
from tests.comparing import differences as figures_that_differ
from tests.comparing import figures
from tests.helpers import run
from tests.judges import Document, Judge, Setting, Value, compare
from tests.judges.edits import Change, Copies, Edit
from tests.judges.inputs import Typed
from tests.judges.stored import with_wrong_stored_values
from tests.live.books import make
from tests.live.new_run import DATED, NewRun, Run
from tests.quickly import undrawn

__all__ = ["Costed", "Follower", "Tally", "cost_book", "costed", "differences", "typed"]

EVERYTHING_EVERY = 20
"""Workings are compared after every edit; after every twentieth every sheet, and the command line
is run on a real copy."""

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
    helpers.costed(book, *dated, out=out)
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
    """A costed workbook with wrong stored values, open in a judge."""

    def __init__(self, document: Document, day_zero: date) -> None:
        self._document, self._zero = document, day_zero
        self._done: Change = ()

    @classmethod
    @contextmanager
    def opened(cls, judge: Judge, book: Costed) -> Iterator[Follower]:
        """Open a costed workbook in a judge."""
        stale = book.costed.with_name("stale.xlsx")
        assert with_wrong_stored_values(book.costed, stale) > 300
        document = judge.open(stale)
        try:
            yield cls(document, book.new_run.first.book.day_zero)
        finally:
            document.close()

    def shown(self, change: Change, tabs: Iterable[str], everything: bool) -> Shown:
        """What sheets show once a change is made to the workbook as it was costed.

        As while a person types, or with every formula computed again.
        """
        undone = typed(self._done, self._zero, undone=True)
        self._document.set_many([*undone, *typed(change, self._zero)])
        self._done = change
        if everything:
            self._document.recalculate()
        else:
            self._document.follow()
        return {tab: self._document.values(tab) for tab in tabs}


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


def differences(judge: Judge, book: Costed, changes: Sequence[Change]) -> Tally:
    """Make each change, and compare every formula with a new run; the first is no change."""
    tally, copies = Tally(), Copies(book.book)
    with Follower.opened(judge, book) as follower:
        for number, change in enumerate(((), *changes)):
            everything = number % EVERYTHING_EVERY == 0
            one = _follows(book.new_run, follower, change, everything)
            if everything:
                one += Tally(tuple(_through_files(book, copies, change)))
            named = "; ".join(f"{e.sheet}!{e.cell} {e.old!r} → {e.new!r}" for e in change)
            tally += replace(one, wrong=tuple(f"[{named}] {each}" for each in one.wrong))
    return tally


def _follows(new: NewRun, follower: Follower, change: Change, everything: bool) -> Tally:
    """What the judge shows beside a new run in this process."""
    titles = [title for title in new.tabs if title not in DATED] if everything else ["Workings"]
    tabs = [new.tabs[title] for title in titles]
    shown = follower.shown(change, [*tabs, *new.own_formulas], everything)
    workings = shown[new.tabs["Workings"]]
    today = workings[new.at("settings", "today")]
    assert isinstance(today, float)
    # the day as the judge has it, since midnight may pass; the person's own formulas as well
    day = new.first.book.day_zero + timedelta(days=int(today))
    run_now = new.run((*change, *_own(new, change, shown)), day)
    if run_now.texts - new.first.texts:
        return _unknown_at_most(new, run_now, workings)
    expected = {new.tabs["Workings"]: new.workings(run_now)}
    if everything:
        expected[new.tabs["Trial workings"]] = new.workings(run_now, "Trial workings")
        expected |= new.pages(run_now)
    wrong = [f"{tab}!{each}" for tab in expected for each in compare(expected[tab], shown[tab])]
    pages = len(expected) if everything else 0
    return Tally(tuple(wrong), 1, 0, sum(map(len, expected.values())), pages)


def _own(new: NewRun, change: Change, shown: Shown) -> Iterator[Edit]:
    """What the person's own formulas come to after a change, as a saved workbook holds it."""
    changed = {(edit.sheet, edit.cell) for edit in change}
    for tab, cells in new.own_formulas.items():
        for cell in cells:
            value = shown[tab].get(cell)
            if isinstance(value, float) and (tab, cell) not in changed:
                yield Edit(tab, cell, None, value)


def _through_files(book: Costed, copies: Copies, change: Change) -> list[str]:
    """What the command line says of a real copy, beside the new run in this process."""
    copy = book.costed.with_name("copy.xlsx")
    copies.write(change, copy)
    with undrawn():  # the sheets of a first run have a test of their own
        code, out, said = run("cost", copy, "--json")
    if code not in (0, 1):
        return [said]
    here = answer(book.new_run.run(change, date.today()).costing, ())
    plain = json.loads(json.dumps(here, default=float))
    return figures_that_differ(figures(json.loads(out)), figures(plain))


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
