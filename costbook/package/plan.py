"""What goes where in a graft: which of our sheets stand there, which parts leave, what ours are
called in the merged package."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import count
from typing import Final

from costbook.package.marks import is_ours, marked
from costbook.package.members import Member, key
from costbook.package.pointing import mentioned, names_point
from costbook.package.relations import ROOT, reached, relations, rels_name
from costbook.package.tabs import Opened, Tab, names_in

__all__ = ["GraftPlan", "beside", "planned", "still_needed"]

_NUMBERED: Final = re.compile(r"(.*?)([0-9]*)(\.[^./]*)?\Z", re.DOTALL)
_NOT_TAKEN_OVER: Final = frozenset({"worksheet", "theme", "styles", "sharedStrings"})


@dataclass(frozen=True, slots=True)
class GraftPlan:
    """The two workbooks and what is to become of their sheets and parts.

    `titles`: tab name -> our title, for those that are marked as ours.
    `standing`: tab name -> the sheet of ours there that it replaces. `gone`: our sheets there
    that are made no more. `kept`: such sheets that something of the person's still points at.
    `leaving`: keys of parts that only sheets replaced or gone hold. `brought`: name of a part of
    ours -> its name in the merged package, in the order they are written.
    """

    book: Opened
    made: Opened
    titles: Mapping[str, str]
    standing: Mapping[str, Tab]
    gone: tuple[Tab, ...]
    kept: tuple[Tab, ...]
    leaving: frozenset[str]
    brought: Mapping[str, str]
    in_front: bool = False
    """Whether the first of ours, where it is new, comes before all that stands there."""

    @property
    def ours(self) -> tuple[Tab, ...]:
        """Our sheets that stand there now and won't stay as they are."""
        return (*self.standing.values(), *self.gone)

    def their_sheets(self) -> Iterator[Member]:
        """The person's own sheets, as members of the package."""
        own = {key(tab.part) for tab in (*self.ours, *self.kept)}
        parts = (tab.part for tab in self.book.tabs if tab.part in self.book.package)
        return (self.book.package.by_key[key(part)] for part in parts if key(part) not in own)


def planned(
    book: Opened, made: Opened, titles: Mapping[str, str], *, in_front: bool = False
) -> GraftPlan:
    """The plan. Raises ValueError when `made` isn't what a graft can take (a mistake in the
    caller: names not from `tab_names`, or parts that no sheet holds)."""
    there = marked(book)
    standing = {name: there[title] for name, title in titles.items() if title in there}
    unmade = [tab for title, tab in there.items() if title not in titles.values()]
    _refuse_misuse(book, made, titles, standing)
    kept = tuple(tab for tab in unmade if still_needed(book, tab, there))
    gone = tuple(tab for tab in unmade if tab not in kept)
    old = [tab.part for tab in (*standing.values(), *gone)]
    theirs = reached(book.package, [ROOT], never=old)
    alone = (reached(book.package, old) if old else set()) - theirs
    leaving = frozenset(alone | {key(rels_name(part)) for part in alone})
    taken = _taken(book, theirs, leaving)
    brought = _brought(made, standing, taken)
    return GraftPlan(book, made, titles, standing, gone, kept, leaving, brought, in_front)


def beside(book: Opened, made: Opened) -> GraftPlan:
    """The plan for new sheets that become the person's own: all that stands there stays."""
    kept = sorted(marked(book).values(), key=book.tabs.index)
    taken = _taken(book, reached(book.package, [ROOT]), frozenset())
    return GraftPlan(book, made, {}, {}, (), tuple(kept), frozenset(), _brought(made, {}, taken))


def _refuse_misuse(
    book: Opened, made: Opened, titles: Mapping[str, str], standing: Mapping[str, Tab]
) -> None:
    if {tab.name for tab in made.tabs} != set(titles):
        raise ValueError("titles must name each sheet of ours, and no other")
    strange = {each.kind for each in made.relations} - _NOT_TAKEN_OVER
    if strange:
        raise ValueError(f"our workbook holds what can't be grafted: {sorted(strange)}")
    theirs = {tab.name.casefold() for tab in book.tabs}
    for name in titles:
        present = standing.get(name)
        right = present.name.casefold() == name.casefold() if present else True
        if not right or (present is None and name.casefold() in theirs):
            raise ValueError(f"{name!r} isn't the name that tab_names gives")


def still_needed(book: Opened, tab: Tab, there: Mapping[str, Tab]) -> bool:
    """Whether something that isn't ours points at a sheet that we make no more."""
    ours = [each.part for each in there.values()]
    others = reached(book.package, [ROOT], never=ours) - {key(book.part)}
    members = (each for each in book.package.members if key(each.name) in others)
    ignored = [name for each in names_in(book) if is_ours(name := each.get("name", ""))]
    return mentioned(members, tab.name) or names_point(book, [tab.name], ignored)


def _taken(book: Opened, theirs: set[str], leaving: frozenset[str]) -> set[str]:
    """The part names that ours may not take: present, promised by a relation, or declared."""
    present = {key(each.name) for each in book.package.members}
    return (present | theirs | set(book.types.parts)) - leaving


def _brought(made: Opened, standing: Mapping[str, Tab], taken: set[str]) -> dict[str, str]:
    """Our parts -> their names there, each sheet followed by what it holds."""
    names = {tab.part: standing[tab.name].part for tab in made.tabs if tab.name in standing}
    used = taken | {key(name) for name in names.values()}
    brought: dict[str, str] = {}
    for tab in made.tabs:
        for part in _held(made, tab.part):
            if part not in brought:
                brought[part] = names.get(part) or _free(part, used)
                used.add(key(brought[part]))
    return brought


def _held(made: Opened, part: str) -> list[str]:
    """A part of ours and all that hangs on it, in the order of the relations."""
    found = [part]
    for each in found:
        further = (other.target for other in relations(made.package, each) if not other.outside)
        found += [target for target in further if target not in found]
    return found


def _free(part: str, used: set[str]) -> str:
    """The part's name with the lowest number that nothing there bears."""
    whole = _NUMBERED.match(part)
    base, _, ending = whole.groups() if whole else (part, "", "")
    names = (f"{base}{number}{ending or ''}" for number in count(1))
    return next(name for name in names if not {key(name), key(rels_name(name))} & used)
