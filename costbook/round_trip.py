"""Read and cost a workbook, and write our sheets back into it: what the commands share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from costbook.arranging import arranged
from costbook.costing.engine import Costing
from costbook.costing.engine import cost as cost_structure
from costbook.costing.findings import find
from costbook.costing.result import currency_of
from costbook.costing.since_rows import costing_date
from costbook.costing.structure import lay_out
from costbook.definitions.currencies import minor_unit
from costbook.package.lookover import look_over
from costbook.package.marks import ours_in
from costbook.printing import Tell, quietly
from costbook.problems import Place, Problem, Refused, Severity
from costbook.reading.ours import remembered
from costbook.reading.workbook import read_book
from costbook.remembered import Remembered

if TYPE_CHECKING:
    from costbook.writing.description import SheetDescription
    from costbook.writing.typed_over import TypedOver

__all__ = ["Costed", "read_and_cost", "write"]


@dataclass(frozen=True, slots=True)
class Costed:
    """A workbook's file, read and costed."""

    path: Path
    content: bytes
    costing: Costing
    problems: tuple[Problem, ...]
    remembered: Remembered

    @property
    def status(self) -> int:
        """0 where nothing is wrong, else 1."""
        return int(any(each.severity is Severity.WRONG for each in self.problems))

    @property
    def places(self) -> int:
        """Decimal places of money."""
        places = minor_unit(currency_of(self.costing))
        return 2 if places is None else places


def read_and_cost(
    path: Path, on: date | None, since: date | None = None, step: Tell = quietly
) -> Costed:
    """Read a workbook and cost it. Raises Refused where it can't be read or trusted."""
    step(f"Reading {path.name}")
    content = _content(path)
    warnings = look_over(content, path.name)
    book = read_book(content, path)
    memory = remembered(content, ours_in(content), path.name)
    today = date.today()
    since = since or memory.last_before(costing_date(book, today, on))
    step("Costing")
    costing = cost_structure(lay_out(book, today, on, since))
    tabs = [sheet.tab for sheet in book.sheets.values()]
    problems = arranged((*warnings, *book.problems, *find(costing)), tabs)
    return Costed(path, content, costing, problems, memory)


def _content(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise Refused(
            f"There is no file {path}.",
            f"Check its name, or make a blank workbook: costbook new {path.name}",
        ) from None
    except OSError as error:
        raise Refused(f"{path} can't be read ({error.strerror}).", "Check the file.") from error


def write(
    costed: Costed,
    other: Path | None,
    more: Mapping[str, Any] = MappingProxyType({}),
    step: Tell = quietly,
) -> tuple[Path, Path | None, list[Problem]]:
    """Write our sheets into the workbook, or into another file; and what is to be said of it.

    ``more`` describes further sheets by their titles. Raises Refused where nothing was written.
    """
    from costbook.keeping.replacing import fingerprint_of, replace_safely
    from costbook.package.graft import graft
    from costbook.package.marks import tab_names
    from costbook.package.validity import new_faults
    from costbook.writing.sheets import TITLES, describe, drawn

    step("Writing the sheets")
    tabs = tab_names(costed.content, (*TITLES, *more))
    sheets = describe(
        costed.costing, costed.problems, tabs, costed.remembered, tuple(more.values())
    )
    ours = drawn(costed.costing, sheets)
    new_content = graft(costed.content, ours, {tab: title for title, tab in tabs.items()})
    step("Checking what was written")
    # what was odd in the person's own sheets before is not ours to refuse
    wrong = new_faults(costed.content, new_content)
    if wrong:
        raise Refused(
            f"The new workbook would not be sound ({wrong[0]}), so nothing was written.",
            "Save your workbook once in your spreadsheet program and try again.",
        )
    if other is not None and other.resolve() != costed.path.resolve():
        return other, _write_other(other, new_content), []
    backup = replace_safely(costed.path, new_content, fingerprint_of(costed.content), date.today())
    typed = typed_on_ours(costed.content, sheets)
    return costed.path, backup, [_say_typed(each, backup) for each in typed]


def _write_other(other: Path, content: bytes) -> Path | None:
    """Write a new file, or one that an earlier run wrote; and where that one's copy is.

    Raises Refused where a file of the person's own bears the name.
    """
    from costbook.keeping.replacing import create, fingerprint_of, replace_safely
    from costbook.package.marks import ours_in

    try:
        there = other.read_bytes()
        written_by_us = bool(ours_in(there))
    except (OSError, Refused):
        written_by_us = False
    if not written_by_us:
        create(other, content)
        return None
    return replace_safely(other, content, fingerprint_of(there), date.today())


def typed_on_ours(content: bytes, sheets: Sequence[SheetDescription]) -> list[TypedOver]:
    """What the person typed on our sheets since the last run."""
    from costbook.package.typed import constants_on_ours
    from costbook.writing.typed_over import Stands, typed_over

    stood = {
        title: Stands(
            each.tab, each.formulas, tuple((c.cell, c.text, c.styled) for c in each.constants)
        )
        for title, each in constants_on_ours(content).items()
    }
    return list(typed_over(stood, sheets))


def _say_typed(typed: TypedOver, backup: Path | None) -> Problem:
    where = f"in {backup.parent.name}/{backup.name}" if backup else "where it was"
    return Problem(
        Severity.DOUBTFUL,
        Place(typed.tab, typed.cell),
        f'you typed "{typed.text}" here; this sheet is written anew, so it stands only {where}.',
        "Put notes on a sheet of your own, or in a Note column.",
    )
