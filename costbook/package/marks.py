"""How our sheets are known again in a workbook that other programs have saved since.

Each of our sheets has a hidden defined name of its own scope. The name carries our title, and
its value is the sheet's own first cell:

    costbook_sheet_Prices = 'Prices (costbook)'!$A$1

Programs keep such a reference right when the person renames or moves the tab. Some of them
drop `hidden`, and some number the sheets anew without correcting `localSheetId`; so the sheet
is found by the reference, and by the number only where the reference leads nowhere.

A tab that the person copied carries a copy of the mark. Only one sheet a title is ours: the one
still called by the title, else the shortest name (copies get longer ones), else the oldest. The
others are the person's record of an earlier day, and lose the mark when we next write.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import chain, count
from typing import Final

from costbook.package.tabs import Opened, Tab, names_in, sheet_named, table_names
from costbook.package.xml import Element

__all__ = [
    "is_mark",
    "is_ours",
    "mark",
    "marked",
    "quoted",
    "tab_marked",
    "tab_names",
]

_OURS: Final = "costbook_"
_MARK: Final = "costbook_sheet_"
_LONGEST: Final = 31  # characters a tab's name may have
_CODED: Final = re.compile(r"\.([0-9a-f]+)\.")


def mark(title: str) -> str:
    """The defined name that marks the sheet with that title; spaces become underscores."""
    return _MARK + "".join(map(_code, title))


def _code(letter: str) -> str:
    plain = letter.isascii() and letter.isalnum()
    return letter if plain else "_" if letter == " " else f".{ord(letter):x}."


def _title(name: str) -> str:
    """The title that a mark carries."""
    spaced = name[len(_MARK) :].replace("_", " ")
    return _CODED.sub(lambda found: chr(int(found[1], 16)), spaced)


def is_mark(name: str) -> bool:
    """Whether a defined name marks a sheet of ours."""
    return name.startswith(_MARK) and len(name) > len(_MARK)


def is_ours(name: str) -> bool:
    """Whether a defined name of a sheet of ours is one that we write (marks, print areas ...)."""
    return name.startswith((_OURS, "_xlnm."))


def quoted(tab: str) -> str:
    """The tab's name as a formula writes it."""
    return "'" + tab.replace("'", "''") + "'"


def marked(book: Opened) -> dict[str, Tab]:
    """Our sheets in the workbook, by title."""
    claims: dict[str, list[Tab]] = {}
    for element in names_in(book):
        name = element.get("name", "")
        tab = tab_marked(book, element) if is_mark(name) else None
        if tab is not None and tab.kind == "worksheet" and tab.part in book.package:
            claims.setdefault(_title(name), []).append(tab)
    winners: dict[str, Tab] = {}
    for title, tabs in claims.items():
        best = min(tabs, key=lambda tab: _rank(title, tab))
        if all(best.element is not other.element for other in winners.values()):
            winners[title] = best
    return winners


def _rank(title: str, tab: Tab) -> tuple[bool, int, int]:
    return tab.name.casefold() != title.casefold(), len(tab.name), tab.sheet_id


def tab_marked(book: Opened, element: Element) -> Tab | None:
    """The sheet that a mark means: by its reference, else by its number."""
    wanted = sheet_named(element.text or "").casefold()
    by_name = next((tab for tab in book.tabs if tab.name.casefold() == wanted), None)
    number = element.get("localSheetId", "")
    known = number.isdecimal() and int(number) < len(book.tabs)
    return by_name or (book.tabs[int(number)] if known else None)


def tab_names(book: Opened, wanted: Sequence[str]) -> dict[str, str]:
    """The tab name to use for each of our titles.

    It is the present name of our sheet if one is there, even if the person renamed the tab; else
    the title; else, when a sheet, table or defined name of theirs bears it, a free variation.
    """
    standing = {title: tab.name for title, tab in marked(book).items() if title in wanted}
    taken = {_plain(tab.name) for tab in book.tabs}
    taken |= {_plain(name) for name in table_names(book)}
    taken |= {_plain(each.get("name", "")) for each in names_in(book)}
    chosen = dict(standing)
    for title in wanted:
        if title not in chosen:
            chosen[title] = next(name for name in _variations(title) if _plain(name) not in taken)
            taken.add(_plain(chosen[title]))
    return {title: chosen[title] for title in wanted}


def _plain(name: str) -> str:
    """A name as it is compared: a defined name has `_` where a title has a space."""
    return name.casefold().replace(" ", "_")


def _variations(title: str) -> chain[str]:
    endings = chain(["", " (costbook)"], (f" (costbook {number})" for number in count(2)))
    return chain.from_iterable([title[: _LONGEST - len(end)].rstrip() + end] for end in endings)
