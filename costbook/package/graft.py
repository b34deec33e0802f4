"""Our sheets put into the person's own workbook, and nothing else of it touched.

A workbook file is a package of parts. Ours is made apart, then its sheets, with the charts and
notes they hold, are carried over. Four of the person's parts gain entries: the content types,
the workbook, its relations and the styles. The calculation chain, which a program rebuilds, is
dropped. Every other part is copied as the bytes it was.

    tab_names -> (make our sheets) -> graft -> validity.faults -> keeping.replace_safely
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from costbook.package.charts import spelled_out
from costbook.package.listing import declared, linked, listed, relative
from costbook.package.marks import is_ours
from costbook.package.members import Member, fresh, key, pack, read
from costbook.package.padding import Used, used_in
from costbook.package.plan import GraftPlan, beside, planned, still_needed
from costbook.package.pointing import formulas_point, names_point
from costbook.package.relations import CONTENT_TYPES, relations, rels_name, resolved
from costbook.package.styles import BLANK, Numbers, with_styles
from costbook.package.tabs import Opened, names_in, opened, table_names
from costbook.package.transplant import shared_strings, sheet, table, tables_renamed
from costbook.package.workbook_file import WorkbookFile
from costbook.package.xml import children, local, parse, serialise, whole

__all__ = ["graft", "still_pointed_at", "with_sheets"]

_RELATIONS: Final = "application/vnd.openxmlformats-package.relationships+xml"
_STYLES: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"


def graft(
    theirs: WorkbookFile, ours: bytes, titles: Mapping[str, str], *, in_front: bool = False
) -> WorkbookFile:
    """The person's workbook with our sheets in it.

    `ours` holds our sheets alone, under the tab names that `tab_names` gave; `titles`: tab name
    -> our title, which the mark remembers. Our sheets of an earlier run are replaced where they
    stand, and those no longer made are removed, unless something of the person's points there.
    `in_front`: the first of ours comes before all tabs, if it wasn't there yet.
    The same workbooks give the same bytes. Raises Refused (theirs can't be read) and ValueError
    (ours isn't what a graft can take).
    """
    plan = planned(_of_its_own(theirs), opened(read(ours)), titles, in_front=in_front)
    return _merged(plan)


def with_sheets(theirs: WorkbookFile, sheets: bytes) -> WorkbookFile:
    """The person's workbook with further sheets of its own, before ours; nothing else changes.

    Raises Refused (theirs can't be read) and ValueError (a tab of theirs bears the name).
    """
    book, made = _of_its_own(theirs), opened(read(sheets))
    there = {tab.name.casefold() for tab in book.tabs}
    if there & {tab.name.casefold() for tab in made.tabs}:
        raise ValueError("a tab bears the name of a sheet that is to be added")
    return _merged(beside(book, made))


def _of_its_own(theirs: WorkbookFile) -> Opened:
    """The workbook with a list of sheets that only this graft sees, as it puts ours into it."""
    return opened(theirs.package)


def _merged(plan: GraftPlan) -> WorkbookFile:
    where, promised = plan.book.related("styles"), plan.book.promised("styles")
    theirs_styles = plan.book.package.data(where) if where else BLANK
    styles, numbers = with_styles(
        theirs_styles,
        plan.made.package.data(plan.made.related("styles")),
        _used(plan, theirs_styles),
    )
    parts = _parts(plan, numbers)
    if not where:
        where = promised or _free_styles(plan)
        parts = {where: (styles, _STYLES), **parts}
    links, ids = linked(plan, where if where in parts and not promised else "")
    chain = plan.book.related("calcChain")
    changed = {
        CONTENT_TYPES: declared(plan, {name: kind for name, (_, kind) in parts.items()}, [chain]),
        rels_name(plan.book.part): links,
        plan.book.part: listed(plan, ids, _recalculated(plan)),
        where: styles,
    }
    away = plan.leaving | ({key(chain)} if chain else set())
    new = [fresh(name, data) for name, (data, _) in parts.items()]
    return WorkbookFile(pack([*_theirs(plan, changed, away), *new]), made=True)


def _theirs(plan: GraftPlan, changed: Mapping[str, bytes], away: Iterable[str]) -> list[Member]:
    """The person's members in their order: as they are, or with their new contents."""
    new = {key(name): data for name, data in changed.items()}
    gone = set(away)
    members = (each for each in plan.book.package.members if key(each.name) not in gone)
    return [
        _renewed(each, new[key(each.name)]) if key(each.name) in new else each for each in members
    ]


def _renewed(member: Member, data: bytes) -> Member:
    if data == member.data:
        return member
    return replace(fresh(member.name, data), when=member.when, flags=member.flags & 0x800)


def _used(plan: GraftPlan, styles: bytes) -> Used:
    """How many formats the person's own parts take to be there."""
    ours = {key(tab.part) for tab in plan.ours} | plan.leaving
    parts = (each for each in plan.book.package.members if key(each.name) not in ours)
    listed = [each for group in children(parse(styles), "cellXfs") for each in children(group)]
    return used_in(plan.their_sheets(), parts, len(listed))


def _free_styles(plan: GraftPlan) -> str:
    """A free name for a styles part, beside the workbook."""
    taken = {*plan.book.types.parts, *plan.book.package.by_key}
    names = (resolved(plan.book.part, f"styles{number}.xml") for number in ("", *range(1, 99)))
    return next(name for name in names if key(name) not in taken)


def _recalculated(plan: GraftPlan) -> bool:
    """Whether formulas of the person's look at our sheets: their stored results are now old."""
    tabs = list(plan.titles)
    written = {each.get("name", "") for each in names_in(plan.made)}
    own = {name for each in names_in(plan.book) if is_ours(name := each.get("name", ""))}
    tables = table_names(plan.made)
    return formulas_point(plan.their_sheets(), tabs, tables) or names_point(
        plan.book, tabs, own | written
    )


def _parts(plan: GraftPlan, numbers: Numbers) -> dict[str, tuple[bytes, str]]:
    """Our parts and their relations as they are in the merged package: name -> bytes, type."""
    texts = _texts(plan.made)
    tables, first = _table_names(plan)
    sheets = {tab.part for tab in plan.made.tabs}
    parts: dict[str, tuple[bytes, str]] = {}
    for own, name in plan.brought.items():
        data, kind = plan.made.package.data(own), plan.made.types.of(own)
        if own in sheets:
            data = tables_renamed(sheet(data, texts, numbers), tables)
        elif kind.endswith("spreadsheetml.table+xml"):
            data = table(data, first, tables, numbers)
            first += 1
        elif kind.endswith("drawingml.chart+xml"):
            data = spelled_out(data)
        parts[name] = data, kind
        if rels_name(own) in plan.made.package:
            parts[rels_name(name)] = _relations(plan, own, name), _RELATIONS
    return parts


def _texts(made: Opened) -> tuple[bytes, ...]:
    part = made.related("sharedStrings")
    return shared_strings(made.package.data(part)) if part else ()


def _relations(plan: GraftPlan, own: str, name: str) -> bytes:
    """A part's relations with their targets under the names they have in the merged package."""
    original = plan.made.package.data(rels_name(own))
    root = parse(original)
    for element, each in zip(children(root), relations(plan.made.package, own), strict=True):
        if not each.outside:
            element.set("Target", relative(name, plan.brought[each.target]))
    return serialise(root, original)


def _table_names(plan: GraftPlan) -> tuple[dict[str, str], int]:
    """New names for those of our tables whose name is taken, and the first free number."""
    package = plan.book.package
    others = [
        parse(each.data)
        for each in package.members
        if key(each.name) not in plan.leaving
        and plan.book.types.of(each.name).endswith("spreadsheetml.table+xml")
    ]
    taken = {each.get("displayName", "").casefold() for each in others if local(each) == "table"}
    taken |= {each.get("name", "").casefold() for each in names_in(plan.book)}
    renamed: dict[str, str] = {}
    for name in sorted(table_names(plan.made)):
        if name.casefold() in taken:
            free = (f"{name}_{number}" for number in range(2, 10_000))
            renamed[name] = next(each for each in free if each.casefold() not in taken)
        taken.add(renamed.get(name, name).casefold())
    return renamed, max((whole(each.get("id")) for each in others), default=0) + 1


def still_pointed_at(theirs: WorkbookFile, titles: Iterable[str]) -> list[str]:
    """The tabs of ours that are made no more but stay, since the person's cells point at them.

    `titles`: what is made now. They keep their last figures, so the caller says which they are.
    """
    made = set(titles)
    return [
        tab.name
        for title, tab in theirs.ours.items()
        if title not in made and still_needed(theirs.book, tab, theirs.ours)
    ]
