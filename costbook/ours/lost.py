"""What our sheets held that was the person's, and is not there any more once they are written anew.

Nothing is thrown away in silence: each thing is said with the cell it stood in and the file that
still has it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final

from costbook.ours.imprint import of_number, short, unfolded
from costbook.ours.kept import Remembered
from costbook.ours.typed import NOTE, PICTURE, Typed, hash_of_theirs, typed_on_ours
from costbook.package.workbook_file import WorkbookFile
from costbook.problems import Place, Problem, Severity
from costbook.writing.description import SheetDescription
from costbook.writing.layout import column_letters

__all__ = ["MOST_SAID", "in_backup", "lost", "saved_since", "say_lost"]

MOST_SAID: Final = 20
"""Things on one sheet of ours that are said one by one; the rest is counted."""
_LONGEST: Final = 60
_REMEDY: Final = "Put notes on a sheet of your own, or in a Note column."


def lost(
    old: WorkbookFile,
    came_back: Remembered,
    new: WorkbookFile,
    sheets: Sequence[SheetDescription],
    *,
    boxes: bool,
) -> list[Typed]:
    """What the person put on our sheets in the old workbook and isn't on them in the new one.

    `came_back`: what is remembered there. `boxes`: also what was typed into a box, where the boxes
    are not kept.
    """
    by_title = {sheet.title: sheet for sheet in sheets}
    found = typed_on_ours(old, unfolded(came_back.left), new, boxes=boxes)
    return [each for each in found if not _stands_again(by_title.get(each.title), each)]


def _stands_again(sheet: SheetDescription | None, typed: Typed) -> bool:
    row = typed.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    if sheet is None or not row:
        return False
    return any(
        f"{column_letters(cell.column)}{row}" == typed.cell
        and not cell.formula
        and cell.value is not None
        and short(_text(cell.value)) == short(typed.text)
        for cell in sheet.rows.get(int(row) - 1, {}).values()
    )


def _text(value: object) -> str:
    return value if isinstance(value, str) else of_number(float(str(value)))


def saved_since(file: WorkbookFile, came_back: Remembered) -> bool:
    """Whether a program saved an output of ours after it was written."""
    return unfolded(came_back.left).beside not in ("", hash_of_theirs(file))


def say_lost(found: Iterable[Typed], where: str) -> Iterator[Problem]:
    """A doubt for each thing; ``where`` names the file that still has it."""
    said: Counter[str] = Counter()
    for each in found:
        said[each.tab] += 1
        if said[each.tab] <= MOST_SAID:
            yield _doubt(Place(each.tab, each.cell), f"{_what(each)}{_only(where)}")
    for tab, count in said.items():
        if count > MOST_SAID:
            yield _doubt(
                Place(tab), f"{count - MOST_SAID} more cells hold what you typed{_only(where)}"
            )


def _doubt(place: Place, what: str) -> Problem:
    return Problem(Severity.DOUBTFUL, place, what, _REMEDY)


def _only(where: str) -> str:
    return f"; this sheet is written anew, so it stands only in {where}."


def _what(typed: Typed) -> str:
    text = " ".join(typed.text.split())
    shown = text if len(text) <= _LONGEST else f"{text[:_LONGEST].rstrip()}…"
    if typed.what == PICTURE:
        return "a picture, chart or shape of yours is here"
    return f'your note "{shown}" is here' if typed.what == NOTE else f'you typed "{shown}" here'


def in_backup(backup: Path | None) -> str:
    """Where a backup lies, as sentences say it."""
    return f"{backup.parent.name}/{backup.name}" if backup else "the file as it was"
