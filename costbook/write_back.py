"""Our sheets written into the person's workbook or another, and what is to be said of that."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

from costbook.book import as_key
from costbook.files import refuse_other_ending
from costbook.keeping.replacing import (
    Wrote,
    create,
    fingerprint_of,
    other_names,
    replace_safely,
    unheard,
)
from costbook.ours.kept import TRIAL_PRICES, remembered
from costbook.ours.lost import in_backup, lost, saved_since, say_lost
from costbook.ours.typed import hash_of_theirs
from costbook.package.graft import graft, still_pointed_at
from costbook.package.kinds import ending_of
from costbook.package.marks import mark, tab_names
from costbook.package.validity import new_faults
from costbook.package.workbook_file import WorkbookFile
from costbook.printing import Tell, quietly
from costbook.problems import Place, Problem, Refused, Severity
from costbook.reading.copied import cells_to_copy
from costbook.round_trip import Costed, file_if_any
from costbook.writing.blank import HOW_TO_START
from costbook.writing.copies import copied_workbook
from costbook.writing.description import SheetDescription
from costbook.writing.pages.page import Context
from costbook.writing.sheets import describe, drawable, drawn, titles_for

__all__ = ["Written", "described", "sheets_for", "write"]


@dataclass(frozen=True, slots=True)
class Written:
    """Which file was written, where the one before it lies, and what the person should know."""

    path: Path
    backup: Path | None
    problems: tuple[Problem, ...]


def write(
    costed: Costed,
    other: Path | None,
    more: Mapping[str, Callable[[Context], SheetDescription]] = MappingProxyType({}),
    step: Tell = quietly,
    wrote: Wrote = unheard,
) -> Written:
    """Write our sheets into the workbook; or leave that alone, and write another.

    ``more`` describes further sheets by their titles; ``wrote`` is told as soon as the new file
    stands there. Raises Refused where nothing was written.
    """
    target = costed.answered_in(other)
    base = _base(costed)
    if target.resolve() != costed.path.resolve():
        refuse_other_ending(target, ending_of(base.book))
    step("Writing the sheets")
    made = _made(costed, base, hash_of_theirs(base), more)
    step("Checking what was written")
    _refuse_unsound(base, made.file)
    said = (*_copied(costed, target), *made.said(base, costed))
    if target.resolve() == costed.path.resolve():
        written = _into_theirs(costed, target, made, wrote)
    else:
        written = _into_another(costed, target, made, wrote)
    return Written(target, written.backup, (*said, *written.problems))


def described(costed: Costed) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """Our sheets as data, for a program that has the workbook open and draws them into it.

    As ``writing.plain`` has them, and which tab each sheet is, if it stands there (``standing``);
    the ``mark`` by which each is known again; all tabs in their ``order``; and those that are to
    go (``leaving``). With it, what is to be said, as ``write`` says it. Raises OnlyCopies.
    """
    if costed.closed is not None:
        raise costed.closed
    made = _made(costed, costed.file, beside="")  # the copy that was costed is nobody's file
    gone = lost(costed.file, costed.remembered, made.file, made.sheets, boxes=False)
    before, after = ([tab.name for tab in each.book.tabs] for each in (costed.file, made.file))
    data = drawable(costed.costing, made.sheets) | {
        "tabs_before": before,
        "order": after,
        "leaving": [tab for tab in before if tab not in after],
        "tab_marks": {tab: mark(title) for title, tab in made.tabs.items()},
    }
    return data, (*made.said(costed.file, costed), *say_lost(gone, "what Undo brings back"))


@dataclass(frozen=True, slots=True)
class _Made:
    """Our sheets described, the tab that each title gets, and the workbook with them in it."""

    tabs: Mapping[str, str]
    sheets: Sequence[SheetDescription]
    file: WorkbookFile

    def said(self, base: WorkbookFile, costed: Costed) -> Iterator[Problem]:
        """What to say of sheets that stay, and of trials that went."""
        yield from _left_standing(base, self.tabs)
        yield from _trials_gone(costed, self.tabs)


def _made(
    costed: Costed,
    base: WorkbookFile,
    beside: str,
    more: Mapping[str, Callable[[Context], SheetDescription]] = MappingProxyType({}),
) -> _Made:
    tabs, sheets = sheets_for(costed, base, beside, more)
    new = graft(
        base,
        drawn(costed.costing, sheets),
        {tab: each for each, tab in tabs.items()},
        in_front=HOW_TO_START in costed.costing.structure.book.other_tabs,
    )
    return _Made(tabs, sheets, new)


def sheets_for(
    costed: Costed,
    base: WorkbookFile,
    beside: str = "",
    more: Mapping[str, Callable[[Context], SheetDescription]] = MappingProxyType({}),
) -> tuple[Mapping[str, str], Sequence[SheetDescription]]:
    """The tab that each title gets in a workbook, and our sheets described for it."""
    tabs = tab_names(base.book, (*titles_for(costed.costing.structure.book), *more))
    problems, back = costed.problems, costed.remembered
    return tabs, describe(costed.costing, problems, tabs, back, tuple(more.values()), beside)


def _base(costed: Costed) -> WorkbookFile:
    """The workbook that our sheets are put into: the person's, or copies of its cells."""
    if costed.closed is None:
        return costed.file
    book = costed.costing.structure.book
    tabs = [sheet.tab for sheet in book.sheets.values()]
    copied = copied_workbook(cells_to_copy(costed.file, tabs), book.day_zero)
    return WorkbookFile(copied, made=True)


def _refuse_unsound(before: WorkbookFile, after: WorkbookFile) -> None:
    # what was odd in the person's own sheets before is not ours to refuse
    wrong = new_faults(before, after)
    if wrong:
        raise Refused(
            f"The new workbook would not be sound ({wrong[0]}), so nothing was written.",
            "Save your workbook once in your spreadsheet program and try again.",
        )


def _into_theirs(
    costed: Costed,
    target: Path,
    made: _Made,
    wrote: Wrote,
) -> Written:
    gone = lost(costed.file, costed.remembered, made.file, made.sheets, boxes=False)
    linked, before = other_names(target), fingerprint_of(costed.file.content)
    backup = replace_safely(target, made.file.content, before, date.today(), wrote)
    said = (_say_linked(target, linked),) if linked and backup else ()
    return Written(target, backup, (*said, *say_lost(gone, in_backup(backup))))


def _into_another(
    costed: Costed,
    target: Path,
    made: _Made,
    wrote: Wrote,
) -> Written:
    """Write a new file, or replace one that an earlier run wrote.

    Raises Refused where a file of the person's own bears the name.
    """
    gone = lost(costed.file, costed.remembered, made.file, made.sheets, boxes=False)
    staying = tuple(say_lost(gone, costed.path.name))
    there = file_if_any(target)
    if there is None or not there.ours:
        create(target, made.file.content, wrote)
        return Written(target, None, staying)
    came_back, before = remembered(there), fingerprint_of(there.content)
    gone = lost(there, came_back, made.file, made.sheets, boxes=bool(costed.file.ours))
    saved, linked = saved_since(there, came_back), other_names(target)
    backup = replace_safely(target, made.file.content, before, date.today(), wrote)
    said = [_say_saved(costed, target, backup)] if saved and backup else []
    said += [_say_linked(target, linked)] if linked and backup else []
    return Written(target, backup, (*staying, *said, *say_lost(gone, in_backup(backup))))


def _say_saved(costed: Costed, target: Path, backup: Path) -> Problem:
    return Problem(
        Severity.DOUBTFUL,
        Place(),
        f"{target.name} was saved by another program since costbook wrote it. It is written anew "
        f"from {costed.path.name}, so what you changed there stands only in {in_backup(backup)}.",
        f"Type receipts and recipes into {costed.path.name}, or cost {target.name} itself.",
    )


def _say_linked(target: Path, linked: int) -> Problem:
    names = "another name" if linked == 1 else f"{linked} other names"
    return Problem(
        Severity.DOUBTFUL,
        Place(),
        f"{target.name} also stood under {names} on this disk (a hard link). What was written "
        f"stands under {target.name} alone; the workbook as it was is still under {names}.",
        f"If you use it under {names} too, copy {target.name} there.",
    )


def _copied(costed: Costed, target: Path) -> Iterator[Problem]:
    if costed.closed is not None:
        yield Problem(
            Severity.DOUBTFUL,
            Place(),
            f"{costed.closed.reason} So {target.name} holds copies of the sheets that were read, "
            "as plain values, without their looks and formulas.",
            f"Change figures in {costed.path.name} and run this again, or go on in {target.name}.",
        )


def _left_standing(base: WorkbookFile, tabs: Mapping[str, str]) -> Iterator[Problem]:
    for tab in still_pointed_at(base, tabs):
        yield Problem(
            Severity.DOUBTFUL,
            Place(tab),
            "this sheet is not made any more, and keeps its last figures, since formulas, names or "
            "charts of yours look at it.",
            "Point them elsewhere, and the next run takes it away.",
        )


def _trials_gone(costed: Costed, tabs: Mapping[str, str]) -> Iterator[Problem]:
    items = {row.fixed["item_key"] for row in costed.costing.structure.rows["prices_now"]}
    for key, typed in costed.remembered.trial_prices.items():
        if key not in items:
            yield Problem(
                Severity.DOUBTFUL,
                Place(tabs[TRIAL_PRICES.sheet]),
                f'your trial price {typed} for "{key.removeprefix(as_key(""))}" was taken away, as '
                "no item is called so any more.",
                "Type it again beside the item's new name.",
            )
